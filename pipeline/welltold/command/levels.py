"""``welltold levels``: the levels used, with their citation."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import typer

from .console import parse_date
from .options import AsOf, Packs


def levels(
    analyte: Annotated[
        str | None, typer.Argument(help="An analyte, as a lab prints it or as welltold names it.")
    ] = None,
    as_of: AsOf = None,
    packs: Packs = None,
) -> None:
    """Show the published levels that results are compared with, and where they are published.

    Example:  welltold levels arsenic
    """
    from ..analytes import analyte as lookup
    from ..analytes import identify, registry
    from ..levels import load_levels
    from .tables import print_levels

    day = parse_date(as_of) or date.today()  # noqa: DTZ011 - the user's own calendar day
    known = load_levels(tuple(packs or ("us_federal",)), day)
    if analyte is None:
        print_levels([(a.name, level) for a in registry().values() for level in known.of(a.slug)])
        return
    match = identify(analyte)
    found = lookup(match.slug if match else analyte)
    table = known.of(found.slug)
    if not table:
        typer.echo(f"{found.name}: no federal level is published.")
        return
    print_levels([(found.name, level) for level in table])

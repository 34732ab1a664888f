"""``welltold levels``: the levels used, with their citation, and the packs to choose from."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Annotated

import typer

from .console import note, parse_date
from .options import AsOf, Packs


def levels(
    analyte: Annotated[
        str | None, typer.Argument(help="An analyte, as a lab prints it or as welltold names it.")
    ] = None,
    as_of: AsOf = None,
    packs: Packs = None,
    names: Annotated[
        bool, typer.Option("--list", help="Name the packs, whose they are and of which date.")
    ] = False,
) -> None:
    """Show the published levels that results are compared with, and where they are published.

    Example:  welltold levels arsenic

    Example:  welltold levels --levels new_jersey --levels who arsenic
    """
    day = parse_date(as_of) or date.today()  # noqa: DTZ011 - the user's own calendar day
    if names:
        _list(packs or [])
        return
    _show(analyte, tuple(packs or ()), day)


def _list(packs: list[str]) -> None:
    """Print the packs that come with welltold, and the files that are named."""
    from ..levels import find_pack, known_packs
    from .level_table import print_packs

    named = [find_pack(name) for name in packs if name not in known_packs()]
    print_packs([*known_packs().values(), *named])


def _show(analyte: str | None, packs: tuple[str, ...], day: date) -> None:
    from ..analytes import analyte as lookup
    from ..analytes import identify, registry
    from ..levels import load_levels
    from .level_table import print_levels

    known = load_levels(packs, day)
    if analyte is None:
        print_levels([(a.name, level) for a in registry().values() for level in known.of(a.slug)])
        _tell(message.text for message in known.notes())
        return
    match = identify(analyte)
    found = lookup(match.slug if match else analyte)
    table = known.of(found.slug)
    if table:
        print_levels([(found.name, level) for level in table])
    else:
        typer.echo(f"{found.name}: no level is published in {', '.join(known.packs)} on {day}.")
    _tell(message.text for message in known.notes(found.slug))


def _tell(texts: Iterable[str]) -> None:
    for text in texts:
        note(text)

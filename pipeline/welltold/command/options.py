"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..face import FORMATS

if TYPE_CHECKING:
    from ..site import Site

SiteFile = Annotated[
    Path | None,
    typer.Option(
        "--site",
        metavar="FILE",
        help="What is known of the home and the well; `welltold template site` writes one.",
    ),
]
AsOf = Annotated[
    str | None,
    typer.Option("--as-of", metavar="DATE", help="Compare with the levels of this date (today's)."),
]
Packs = Annotated[
    list[str] | None,
    typer.Option(
        "--levels",
        metavar="PACK",
        help=(
            "Levels to compare with beside the federal ones: a pack (`welltold levels --list`) or "
            "a file of your own (`welltold template levels`); may be given several times."
        ),
    ),
]
Formats = Annotated[
    list[str] | None,
    typer.Option("--format", help=f"One of {', '.join(FORMATS)}; may be given several times."),
]


def formats_of(asked: list[str] | None) -> tuple[str, ...]:
    """Return the formats asked for; all of them when none is named."""
    for name in asked or ():
        if name not in FORMATS:
            raise typer.BadParameter(f"{name!r} is not one of {', '.join(FORMATS)}")
    return tuple(dict.fromkeys(asked or FORMATS))


def load_site(path: Path | None) -> Site | None:
    """Load the site file, if one is named."""
    if path is None:
        return None
    from ..site import load_site as load

    return load(path)

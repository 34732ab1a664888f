"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from ..face import FORMATS
from ..look import PAPERS, Paper
from ..messages import LANGUAGES, Language

SiteFile = Annotated[
    Path | None,
    typer.Option(
        "--site",
        metavar="FILE",
        help="What is known of the home and the well; `welltold template site` writes one.",
    ),
]
ShelfFile = Annotated[
    Path | None,
    typer.Option(
        "--shelf",
        metavar="FILE",
        help=(
            "What you sell, to pick sizes from; `welltold template shelf` writes one. "
            "Sought beside the site file too."
        ),
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
Notes = Annotated[
    Path | None,
    typer.Option(
        "--notes",
        metavar="DIR",
        help=(
            "Lab notes, which tell how one lab's sheets are to be read; `welltold template lab` "
            "writes one. Else WELLTOLD_LABS, else the folder `labs` of your settings."
        ),
    ),
]

Jobs = Annotated[
    int | None,
    typer.Option(
        "--jobs",
        help="Pages of a scan at the same time (as many as there are cores and memory for).",
        min=1,
    ),
]


def _language_of(asked: str) -> str:
    return _choice(asked, LANGUAGES)


def _choice(asked: str, known: Sequence[str]) -> str:
    """Return one of the known words, in whatever capitals it was typed."""
    word = asked.lower()
    if word not in known:
        raise typer.BadParameter(f"{asked!r} is not one of {', '.join(known)}")
    return word


Tongue = Annotated[
    Language | None,
    typer.Option(
        "--language",
        metavar="LANGUAGE",
        parser=_language_of,
        help="Of the sentences: en or es. Else that of the site file, else English.",
    ),
]


def _paper_of(asked: str) -> str:
    return _choice(asked, PAPERS)


LetterheadFile = Annotated[
    Path | None,
    typer.Option(
        "--letterhead",
        metavar="FILE",
        help="Who hands the report over; `welltold template letterhead` writes one.",
    ),
]
PaperSize = Annotated[
    Paper,
    typer.Option(
        "--paper", metavar="PAPER", parser=_paper_of, help="That the pages are for: letter or a4."
    ),
]

Earlier = Annotated[
    list[Path] | None,
    typer.Option(
        "--earlier",
        metavar="FILE",
        help="An earlier sheet of the same well, to show beside; may be given several times.",
    ),
]
After = Annotated[
    list[Path] | None,
    typer.Option(
        "--after",
        metavar="FILE",
        help="A later sheet from behind the equipment, to compare with what was predicted.",
    ),
]
Explain = Annotated[
    str | None,
    typer.Option(
        "--explain",
        metavar="WHAT",
        help="Print why: for an analyte, or for a stage (or size) how each figure is reached.",
    ),
]
MeasureFirst = Annotated[
    bool,
    typer.Option(
        "--measure-first",
        help="Rank the cheap tests that could change the first choice of stages; takes seconds.",
    ),
]


def formats_of(asked: list[str] | None) -> tuple[str, ...]:
    """Return the formats asked for; all of them when none is named."""
    named = [_choice(name, FORMATS) for name in asked or ()]
    return tuple(dict.fromkeys(named or FORMATS))

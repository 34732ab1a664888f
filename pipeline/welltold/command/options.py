"""Options that several commands share."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..face import FORMATS
from ..look import PAPERS, Look, Paper
from ..messages import LANGUAGES, Language
from .console import note

if TYPE_CHECKING:
    from ..site import Site
    from ..sizing import Shelf

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

MeasureFirst = Annotated[
    bool,
    typer.Option(
        "--measure-first",
        help="Rank the cheap tests that could change the first choice of stages; takes seconds.",
    ),
]


def look_of(letterhead: Path | None, paper: Paper) -> Look:
    """Return how the pages look; LetterheadError."""
    if letterhead is None:
        return Look(paper=paper)
    from ..letterhead import load_letterhead

    return Look(load_letterhead(letterhead), paper)


def notes_folder(asked: Path | None) -> Path | None:
    """Return the folder of lab notes: the one asked for, else the user's own, if there is one.

    The folder named by WELLTOLD_LABS must be there; empty, it says that there are no notes.
    """
    named = os.environ.get("WELLTOLD_LABS")
    if asked is not None or named is not None:
        return asked or (Path(named) if named else None)
    usual = Path(typer.get_app_dir("welltold")) / "labs"
    return usual if usual.is_dir() else None


def formats_of(asked: list[str] | None) -> tuple[str, ...]:
    """Return the formats asked for; all of them when none is named."""
    named = [_choice(name, FORMATS) for name in asked or ()]
    return tuple(dict.fromkeys(named or FORMATS))


def load_site(path: Path | None) -> Site | None:
    """Load the site file, if one is named."""
    if path is None:
        return None
    from ..site import load_site as load

    return load(path)


def shelf_path(path: Path | None, site: Path | None) -> Path | None:
    """Return where the shelf file is: as named, else beside the site file."""
    if path is None or path.exists() or site is None:
        return path
    beside = site.parent / path
    return beside if beside.exists() else path


def load_shelf(path: Path | None) -> Shelf | None:
    """Load a shelf file, if one is named, and tell of its bad rows; ShelfFileError."""
    if path is None:
        return None
    from ..sizing import load_shelf as load

    shelf = load(path)
    for problem in shelf.problems:
        note(f"{path}: {problem.text}")
    return shelf

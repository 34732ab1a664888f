"""What stands beside the sheets of one command: site, shelf, lab notes, letterhead, language."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict

import typer

from ..look import Look, Paper
from ..messages import Language, speaking
from .console import note

if TYPE_CHECKING:
    from ..site import Site
    from ..sizing import Shelf


class Paths(TypedDict):
    """The files and folders as a batch hands them to its workers."""

    site: str | None
    shelf: str | None
    notes: str | None
    letterhead: str | None


@dataclass(frozen=True, slots=True)
class Beside:
    """What was loaded, with the file that each came from; None for what was not given."""

    site: Site | None
    site_file: Path | None
    shelf: Shelf | None
    shelf_file: Path | None
    notes: Path | None
    """The folder of lab notes."""
    letterhead: Path | None
    look: Look
    language: Language | None
    """Of the sentences: as asked, else as the site file says."""

    @property
    def shelf_looks(self) -> bool:
        """Whether a row of the shelf needs a look."""
        return self.shelf is not None and bool(self.shelf.problems)

    def paths(self) -> Paths:
        """Return where everything was found."""
        return Paths(
            site=_text(self.site_file),
            shelf=_text(self.shelf_file),
            notes=_text(self.notes),
            letterhead=_text(self.letterhead),
        )

    def inputs(self, levels: Sequence[str]) -> tuple[str, ...]:
        """Return the files that shape every report: a change in one makes every report old.

        ``levels`` are the packs that were asked for; a mistake in a lab note is told here.
        """
        packs = (*levels, *(self.site.levels.packs or () if self.site else ()))
        files = (self.site_file, *map(Path, packs), self.shelf_file)
        mine = [str(path) for path in files if path and path.is_file()]
        return (*mine, *_note_files(self.notes), *_letter_files(self.letterhead))


def load_beside(
    site: Path | None,
    shelf: Path | None,
    *,
    notes: Path | None,
    letterhead: Path | None,
    paper: Paper,
    language: Language | None,
) -> Beside:
    """Load what the options name, and tell of the bad rows of a shelf.

    Raises SiteFileError, ShelfFileError, LetterheadError, FileMissingError.
    """
    with speaking(language):
        facts = load_site(site)
    tongue = language or (facts.home.language if facts else None)
    sold = shelf_path(shelf, site)
    with speaking(tongue):
        return Beside(
            site=facts,
            site_file=site,
            shelf=load_shelf(sold),
            shelf_file=sold,
            notes=notes_folder(notes),
            letterhead=letterhead,
            look=look_of(letterhead, paper),
            language=tongue,
        )


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


def _note_files(folder: Path | None) -> tuple[str, ...]:
    if folder is None:
        return ()
    from welltold_parsers.notes import load_notes

    return tuple(found.path for found in load_notes(folder))


def _letter_files(letterhead: Path | None) -> tuple[str, ...]:
    """Return the files that the letterhead is made of."""
    from ..letterhead import logo_file

    if letterhead is None:
        return ()
    logo = logo_file(letterhead)
    return (str(letterhead), *((str(logo),) if logo else ()))


def _text(path: Path | None) -> str | None:
    return str(path) if path else None

"""``welltold read``: what the lab reported, and where it stands on the sheet."""

from __future__ import annotations

import json as jsonlib
from pathlib import Path
from typing import Annotated

import typer

from .. import face
from ..errors import NoResultError, OutputError
from ..jsonform import to_jsonable
from ..messages import say, speaking
from ..reading import Reading
from .beside import notes_folder
from .console import claim_name, each_file, make_folder, note, note_written, outcome, write_text
from .options import Jobs, Notes, Tongue

Files = Annotated[
    list[Path],
    typer.Argument(
        metavar="FILE...",
        help="Lab sheets: PDF, pictures and scans, XLSX, XLS, ODS, CSV, TSV, HTML, text.",
    ),
]
AsJson = Annotated[
    bool, typer.Option("--json", help="Print the whole reading as JSON, one line a file.")
]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print one line a result, for a spreadsheet.")]
Out = Annotated[
    Path | None,
    typer.Option("--out", metavar="DIR", help="Write NAME.json (NAME.csv) for each file there."),
]
Show = Annotated[
    Path | None,
    typer.Option(
        "--show",
        metavar="DIR",
        help="Write NAME.html there: each page with a frame round every value read.",
    ),
]
MaxPages = Annotated[
    int | None, typer.Option(help="Refuse a PDF with more pages than this (500).", min=1)
]


def read(
    files: Files,
    json: AsJson = False,
    csv: AsCsv = False,
    out: Out = None,
    show: Show = None,
    max_pages: MaxPages = None,
    jobs: Jobs = None,
    notes: Notes = None,
    language: Tongue = None,
) -> None:
    """Show what the lab reported, and where each value stands on the sheet.

    Example:  welltold read sheet.pdf

    Example:  welltold read *.pdf --json --out readings

    Example:  welltold read sheet.pdf --show pictures
    """
    if json and csv:
        raise typer.BadParameter("--json and --csv exclude each other")
    plan = Plan(
        folder=make_folder(out) if out else None,
        pictures=make_folder(show) if show else None,
        as_json=json,
        as_csv=csv,
        alone=len(files) == 1,
        max_pages=max_pages,
        notes=notes_folder(notes),
    )
    with speaking(language):
        readings, errors = each_file(files, say("table.bar_reading").text, plan.do, jobs)
        if out:
            note(say("table.read_into", n=len(readings), files=len(files), folder=out).text)
        if plan.pages:
            note_written(index_of(plan.pages))
    raise typer.Exit(outcome(readings, errors))


class Plan:
    """What is done with each file, and what it has come to so far."""

    def __init__(
        self,
        *,
        folder: Path | None,
        pictures: Path | None,
        as_json: bool,
        as_csv: bool,
        alone: bool,
        max_pages: int | None,
        notes: Path | None,
    ) -> None:
        self.notes = notes
        self.folder, self.pictures = folder, pictures
        self.as_json, self.as_csv = as_json, as_csv
        self.alone, self.max_pages = alone, max_pages
        self.pages: list[tuple[Reading, Path]] = []
        self._owners: dict[str, Path] = {}
        self._told = 0
        if pictures and not alone:
            self._owners["index"] = pictures / "index.html"

    def do(self, path: Path) -> Reading:
        """Read one file and give it out as was asked."""
        name = claim_name(path, self._owners) if self.folder or self.pictures else ""
        spare(path, self.folder, name, as_csv=self.as_csv)
        try:
            reading = read_one(path, self.max_pages, self.notes)
        except NoResultError as error:
            if error.reading is not None and error.reading.unread:
                self._give(error.reading, path, name)  # nothing that looks like a result is lost
            raise
        self._give(reading, path, name)
        return reading

    def _give(self, reading: Reading, path: Path, name: str) -> None:
        if self.pictures:
            page = draw(reading, path, self.pictures / name, self.max_pages)
            self.pages.append((reading, page))
        if self.folder:
            save(reading, self.folder / name, as_csv=self.as_csv)
        else:
            first = self._told == 0
            form = {"as_json": self.as_json, "as_csv": self.as_csv}
            tell(reading, **form, pretty=self.alone, first=first)
            self._told += 1


def draw(reading: Reading, path: Path, stem: Path, max_pages: int | None) -> Path:
    """Write the page that shows a reading, and return it."""
    from welltold_parsers.limits import Limits
    from welltold_parsers.showing import show

    limits = Limits() if max_pages is None else Limits(pages=max_pages)
    return show(reading, path, stem.parent, stem.name, limits)


def index_of(pages: list[tuple[Reading, Path]]) -> Path:
    """Return the page to open first: the only one, or an index of all."""
    from welltold_parsers.showing import write_index

    first = pages[0][1]
    return first if len(pages) == 1 else write_index(first.parent, pages)


def read_one(path: Path, max_pages: int | None, notes: Path | None) -> Reading:
    """Read one file within the limits given on the command line."""
    if max_pages is None:
        return face.read(path, notes=notes)
    from welltold_parsers.limits import Limits

    return face.read(path, limits=Limits(pages=max_pages), notes=notes)


def spare(path: Path, folder: Path | None, name: str, *, as_csv: bool) -> None:
    """Raise OutputError when the reading would be written over the sheet itself."""
    target = folder / f"{name}.{'csv' if as_csv else 'json'}" if folder else None
    if target and target.exists() and path.exists() and target.samefile(path):
        raise OutputError(str(target), "this is the file that was read")


def save(reading: Reading, stem: Path, *, as_csv: bool) -> None:
    """Write one reading beside the others, as JSON or as one line a result."""
    if as_csv:
        from ..correction_sheet import to_csv

        # With the mark at its front, spreadsheet programs take the file for UTF-8.
        write_text(stem.with_name(stem.name + ".csv"), "\ufeff" + to_csv([reading]))
    else:
        text = jsonlib.dumps(to_jsonable(reading), ensure_ascii=False, indent=1)
        write_text(stem.with_name(stem.name + ".json"), text + "\n")


def tell(reading: Reading, *, as_json: bool, as_csv: bool, pretty: bool, first: bool) -> None:
    """Print one reading on stdout in the form that was asked for; only the first has a head."""
    if as_json:
        indent = 1 if pretty else None
        typer.echo(jsonlib.dumps(to_jsonable(reading), ensure_ascii=False, indent=indent))
    elif as_csv:
        from ..correction_sheet import to_csv

        typer.echo(to_csv([reading], head=first), nl=False)
    else:
        from .tables import print_reading

        print_reading(reading)

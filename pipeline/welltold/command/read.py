"""``welltold read``: what the lab reported, and where it stands on the sheet."""

from __future__ import annotations

import json as jsonlib
from pathlib import Path
from typing import Annotated

import typer

from .. import face
from ..errors import OutputError, WelltoldError
from ..jsonform import to_jsonable
from ..reading import Reading
from .console import claim_name, complain, make_folder, note, outcome, progress, write_text

Files = Annotated[
    list[Path],
    typer.Argument(
        metavar="FILE...", help="Lab sheets: PDF, XLSX, XLS, ODS, CSV, TSV, HTML, text."
    ),
]


def read(
    files: Files,
    json: Annotated[
        bool, typer.Option("--json", help="Print the whole reading as JSON, one line a file.")
    ] = False,
    csv: Annotated[
        bool, typer.Option("--csv", help="Print one line a result, for a spreadsheet.")
    ] = False,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="DIR", help="Write NAME.json (NAME.csv) for each file there."
        ),
    ] = None,
    show: Annotated[
        Path | None,
        typer.Option(
            "--show",
            metavar="DIR",
            help="Write NAME.html there: each page with a frame round every value read.",
        ),
    ] = None,
    max_pages: Annotated[
        int | None, typer.Option(help="Refuse a PDF with more pages than this (500).", min=1)
    ] = None,
) -> None:
    """Show what the lab reported, and where each value stands on the sheet.

    Example:  welltold read sheet.pdf

    Example:  welltold read *.pdf --json --out readings

    Example:  welltold read sheet.pdf --show pictures
    """
    owners: dict[str, Path] = {}
    folder = make_folder(out) if out else None
    pictures = make_folder(show) if show else None
    if pictures and len(files) > 1:
        owners["index"] = pictures / "index.html"
    readings: list[Reading] = []
    pages: list[tuple[Reading, Path]] = []
    errors: list[WelltoldError] = []
    with progress("Reading", len(files)) as advance:
        for path in files:
            try:
                name = claim_name(path, owners) if folder or pictures else ""
                spare(path, folder, name, as_csv=csv)
                reading = read_one(path, max_pages)
                if pictures:
                    pages.append((reading, draw(reading, path, pictures / name, max_pages)))
            except WelltoldError as error:
                complain(error)
                errors.append(error)
            else:
                readings.append(reading)
                if folder:
                    save(reading, folder / name, as_csv=csv)
                else:
                    first = len(readings) == 1
                    tell(reading, as_json=json, as_csv=csv, pretty=len(files) == 1, first=first)
            advance()
    if folder:
        note(f"{len(readings)} of {len(files)} file(s) read into {folder}.")
    if pages:
        note(f"written: {index_of(pages)}")
    raise typer.Exit(outcome(readings, errors))


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


def read_one(path: Path, max_pages: int | None) -> Reading:
    """Read one file within the limits given on the command line."""
    if max_pages is None:
        return face.read(path)
    from welltold_parsers.limits import Limits

    return face.read(path, limits=Limits(pages=max_pages))


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

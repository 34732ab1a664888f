"""``welltold report``: the homeowner's report and the dealer's work sheet."""

from __future__ import annotations

import json as jsonlib
from pathlib import Path
from typing import Annotated, Any

import typer

from .. import face
from ..errors import NameTakenError
from ..interpretation import Interpretation
from ..jsonform import to_jsonable
from ..look import Look
from ..messages import speaking
from ..reading import Reading
from .console import each_file, make_folder, note, outcome, parse_date
from .options import (
    AsOf,
    Formats,
    LetterheadFile,
    Notes,
    Packs,
    PaperSize,
    SiteFile,
    Tongue,
    formats_of,
    load_site,
    look_of,
    notes_folder,
)

DEFAULT_OUT = Path("welltold-reports")


def report(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE...", help="Lab sheets, typed tables or readings.")
    ],
    site: SiteFile = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Where to write (./welltold-reports)."),
    ] = None,
    json: Annotated[
        bool, typer.Option("--json", help="The report as JSON; on stdout unless --out is given.")
    ] = False,
    formats: Formats = None,
    as_of: AsOf = None,
    levels: Packs = None,
    notes: Notes = None,
    language: Tongue = None,
    earlier: Annotated[
        list[Path] | None,
        typer.Option(
            "--earlier",
            metavar="FILE",
            help="An earlier sheet of the same well, to show beside; may be given several times.",
        ),
    ] = None,
    letterhead: LetterheadFile = None,
    paper: PaperSize = "letter",
    explain: Annotated[
        str | None,
        typer.Option(
            "--explain", metavar="ANALYTE", help="Print why, for one analyte; nothing is written."
        ),
    ] = None,
) -> None:
    """Write the homeowner's report and the dealer's work sheet.

    Example:  welltold report sheet.pdf

    Example:  welltold report sheet.pdf --site site.toml --format pdf --out reports

    Example:  welltold report sheet.pdf --explain nitrate

    Example:  welltold report sheet.pdf --language es

    Example:  welltold report sheet.pdf --earlier 2024.pdf --earlier 2021.pdf
    """
    if json and formats:
        raise typer.BadParameter("--json and --format exclude each other")
    slug = None if explain is None else slug_of(explain)
    facts = load_site(site)
    look = look_of(letterhead, paper)
    tongue = language or (facts.home.language if facts else None)
    day = parse_date(as_of)
    wanted = ("json",) if json else formats_of(formats)
    printed = (json and out is None) or slug is not None
    folder = None if printed else make_folder(out or DEFAULT_OUT)
    owners: dict[str, Path] = {}
    labs = notes_folder(notes)

    before = [face.read(path, notes=labs, language=tongue) for path in earlier or ()]
    about: dict[str, Any] = {"site": facts, "as_of": day, "packs": levels, "earlier": before}

    def do(path: Path) -> Reading:
        reading = face.read(path, notes=labs, language=tongue)
        view = face.interpret(reading, language=tongue, **about)
        if slug is not None:
            print_why(view, slug)
        elif folder is None:
            print_json(view, alone=len(files) == 1)
        else:
            claim_outputs(path, view, owners)
            deliver(view, folder, path.stem, wanted, look, alone=len(files) == 1)
        return view.reading

    with speaking(tongue):
        readings, errors = each_file(files, "Reporting", do)
    raise typer.Exit(outcome(readings, errors))


def claim_outputs(path: Path, view: Interpretation, owners: dict[str, Path]) -> None:
    """Claim the names of all files that a report writes; NameTakenError before any is written.

    A sheet ``a.csv`` with a sample X1 and a sheet ``a.X1.csv`` would share a file.
    """
    from welltold_reports.names import stems

    for name in {path.stem, *stems(path.stem, view.samples)}:
        owner = owners.setdefault(name.casefold(), path)
        if owner is not path:
            raise NameTakenError(str(owner), str(path), name)


def slug_of(name: str) -> str:
    """Return the analyte that a person names; UnknownAnalyteError."""
    from ..analytes import analyte, identify

    match = identify(name)
    return analyte(match.slug if match else name).slug


def print_why(view: Interpretation, slug: str) -> None:
    """Print the chain from the printed text to the verdict, for every sample of the sheet."""
    from ..explain import explain

    typer.echo(f"{view.reading.source.file}:")
    for index, sample in enumerate(view.samples):
        if len(view.samples) > 1:
            typer.echo(f"\n{sample.id or sample.point or index + 1}:")
        for message in explain(view, index, slug):
            typer.echo(f"  {message.text}")


def print_json(view: Interpretation, *, alone: bool) -> None:
    """Print the report as JSON: indented when it is the only one, else on one line."""
    indent = 1 if alone else None
    typer.echo(jsonlib.dumps(to_jsonable(view), ensure_ascii=False, indent=indent))


def deliver(
    view: Interpretation,
    folder: Path,
    name: str,
    formats: tuple[str, ...],
    look: Look,
    *,
    alone: bool,
) -> None:
    """Write the report files and name them; on the terminal, show the first page too."""
    written = face.write(view, folder, formats, name=name, look=look)
    if alone and formats != ("json",):
        from welltold_reports import print_terminal

        print_terminal(view)
    for path in written:
        note(f"written: {path}")

"""``welltold report``: the homeowner's report and the dealer's work sheet."""

from __future__ import annotations

import json as jsonlib
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer

from .. import face
from ..errors import NameTakenError, SheetsSeveralError, UnknownAnalyteError
from ..interpretation import Interpretation
from ..jsonform import to_jsonable
from ..look import Look
from ..messages import Message, say, speaking
from ..reading import Reading
from .bars import pages_shown
from .console import each_file, make_folder, note, outcome, parse_date
from .options import (
    AsOf,
    Formats,
    Jobs,
    LetterheadFile,
    MeasureFirst,
    Notes,
    Packs,
    PaperSize,
    ShelfFile,
    SiteFile,
    Tongue,
    formats_of,
    load_shelf,
    load_site,
    look_of,
    notes_folder,
    shelf_path,
)

Why = Callable[[Interpretation, int], tuple[Message, ...]]
"""Tells why, for one sample of a report."""
DEFAULT_OUT = Path("welltold-reports")


def report(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE...", help="Lab sheets, typed tables or readings.")
    ],
    site: SiteFile = None,
    shelf: ShelfFile = None,
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
    after: Annotated[
        list[Path] | None,
        typer.Option(
            "--after",
            metavar="FILE",
            help="A later sheet from behind the equipment, to compare with what was predicted.",
        ),
    ] = None,
    letterhead: LetterheadFile = None,
    paper: PaperSize = "letter",
    measure_first: MeasureFirst = False,
    jobs: Jobs = None,
    explain: Annotated[
        str | None,
        typer.Option(
            "--explain",
            metavar="WHAT",
            help="Print why: for an analyte, or for a stage (or size) how each figure is reached.",
        ),
    ] = None,
) -> None:
    """Write the homeowner's report and the dealer's work sheet.

    Example:  welltold report sheet.pdf

    Example:  welltold report sheet.pdf --site site.toml --format pdf --out reports

    Example:  welltold report sheet.pdf --explain nitrate

    Example:  welltold report sheet.pdf --site site.toml --shelf shelf.csv --explain size

    Example:  welltold report sheet.pdf --site site.toml --measure-first

    Example:  welltold report sheet.pdf --language es

    Example:  welltold report sheet.pdf --earlier 2024.pdf --earlier 2021.pdf

    Example:  welltold report raw.pdf --site site.toml --after later.pdf
    """
    if json and formats:
        raise typer.BadParameter("--json and --format exclude each other")
    facts = load_site(site)
    look = look_of(letterhead, paper)
    tongue = language or (facts.home.language if facts else None)
    with speaking(tongue):
        one_well(files, earlier=earlier, after=after)
        why = None if explain is None else asked_for(explain)
    day = parse_date(as_of)
    wanted = ("json",) if json else formats_of(formats)
    printed = (json and out is None) or why is not None
    folder = None if printed else make_folder(out or DEFAULT_OUT)
    owners: dict[str, Path] = {}
    labs = notes_folder(notes)

    with pages_shown(jobs):
        before = [face.read(path, notes=labs, language=tongue) for path in earlier or ()]
        behind = [face.read(path, notes=labs, language=tongue) for path in after or ()]
    about: dict[str, Any] = {"site": facts, "as_of": day, "packs": levels, "earlier": before}
    with speaking(tongue):
        stock = load_shelf(shelf_path(shelf, site))
    about["shelf"] = stock
    about["measure_first"] = measure_first
    about["after"] = behind

    def do(path: Path) -> Reading:
        reading = face.read(path, notes=labs, language=tongue)
        view = face.interpret(reading, language=tongue, **about)
        if why is not None:
            print_why(view, why)
        elif folder is None:
            print_json(view, alone=len(files) == 1)
        else:
            claim_outputs(path, view, owners)
            deliver(view, folder, path.stem, wanted, look, alone=len(files) == 1)
        return view.reading

    with speaking(tongue):
        readings, errors = each_file(files, "Reporting", do, jobs)
    look_at_shelf = stock is not None and bool(stock.problems)
    raise typer.Exit(outcome(readings, errors, look=look_at_shelf))


def one_well(files: list[Path], **beside: list[Path] | None) -> None:
    """Refuse several sheets beside sheets of one well: SheetsSeveralError.

    Nobody could tell which of them the others belong to, and another house's equipment or past
    would get into a report.
    """
    given = next((name for name, paths in beside.items() if paths), None)
    if given and len(files) > 1:
        raise SheetsSeveralError(f"--{given}", str(files[0]), str(files[1]))


def claim_outputs(path: Path, view: Interpretation, owners: dict[str, Path]) -> None:
    """Claim the names of all files that a report writes; NameTakenError before any is written.

    A sheet ``a.csv`` with a sample X1 and a sheet ``a.X1.csv`` would share a file.
    """
    from welltold_reports.names import stems

    for name in {path.stem, *stems(path.stem, view.samples)}:
        owner = owners.setdefault(name.casefold(), path)
        if owner is not path:
            raise NameTakenError(str(owner), str(path), name)


def asked_for(name: str) -> Why:
    """Return what tells why: of an analyte, of a stage or of all sizes; UnknownAnalyteError."""
    from ..analytes import analyte, identify
    from ..explain import explain
    from ..explain_sizes import explain_sizes, nearest_asked, stage_asked

    what = stage_asked(name)
    if what is not None:
        return lambda view, index: explain_sizes(view, index, what)
    match = identify(name)
    try:
        slug = analyte(match.slug if match else name).slug
    except UnknownAnalyteError as error:
        # what is no analyte may be meant for a stage
        names = ", ".join(nearest_asked(name)) or error.args[1]
        raise UnknownAnalyteError(name, say("explain.nearest", names=names).text) from None
    return lambda view, index: explain(view, index, slug)


def print_why(view: Interpretation, why: Why) -> None:
    """Print the chain that leads to what is said, for every sample of the sheet."""
    typer.echo(f"{view.reading.source.file}:")
    for index, sample in enumerate(view.samples):
        if len(view.samples) > 1:
            typer.echo(f"\n{sample.id or sample.point or index + 1}:")
        for message in why(view, index):
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

"""``welltold report``: the homeowner's report and the dealer's work sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .. import face
from ..errors import SheetsSeveralError
from ..messages import say, speaking
from ..reading import Reading
from .bars import pages_shown
from .beside import load_beside
from .console import each_file, make_folder, outcome, parse_date
from .delivery import Delivery, asked_for
from .options import (
    After,
    AsOf,
    Earlier,
    Explain,
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
)

DEFAULT_OUT = Path("welltold-reports")


Files = Annotated[
    list[Path], typer.Argument(metavar="FILE...", help="Lab sheets, typed tables or readings.")
]
Out = Annotated[
    Path | None, typer.Option("--out", metavar="DIR", help="Where to write (./welltold-reports).")
]
AsJson = Annotated[
    bool, typer.Option("--json", help="The report as JSON; on stdout unless --out is given.")
]


def report(
    files: Files,
    site: SiteFile = None,
    shelf: ShelfFile = None,
    out: Out = None,
    json: AsJson = False,
    formats: Formats = None,
    as_of: AsOf = None,
    levels: Packs = None,
    notes: Notes = None,
    language: Tongue = None,
    earlier: Earlier = None,
    after: After = None,
    letterhead: LetterheadFile = None,
    paper: PaperSize = "letter",
    measure_first: MeasureFirst = False,
    jobs: Jobs = None,
    explain: Explain = None,
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
    beside = load_beside(
        site, shelf, notes=notes, letterhead=letterhead, paper=paper, language=language
    )
    with speaking(beside.language):
        one_well(files, earlier=earlier, after=after)
        why = None if explain is None else asked_for(explain)
    day = parse_date(as_of)
    printed = (json and out is None) or why is not None
    delivery = Delivery(
        folder=None if printed else make_folder(out or DEFAULT_OUT),
        formats=("json",) if json else formats_of(formats),
        look=beside.look,
        why=why,
        alone=len(files) == 1,
    )

    def read(path: Path) -> Reading:
        return face.read(path, notes=beside.notes, language=beside.language)

    with pages_shown(jobs):
        one_house = {"earlier": [*map(read, earlier or ())], "after": [*map(read, after or ())]}

    def do(path: Path) -> Reading:
        view = face.interpret(
            read(path),
            site=beside.site,
            shelf=beside.shelf,
            as_of=day,
            packs=levels,
            measure_first=measure_first,
            language=beside.language,
            **one_house,
        )
        delivery.give(path, view)
        return view.reading

    with speaking(beside.language):
        readings, errors = each_file(files, say("table.bar_reporting").text, do, jobs)
    raise typer.Exit(outcome(readings, errors, look=beside.shelf_looks))


def one_well(files: list[Path], **beside: list[Path] | None) -> None:
    """Refuse several sheets beside sheets of one well: SheetsSeveralError.

    Nobody could tell which of them the others belong to, and another house's equipment or past
    would get into a report.
    """
    given = next((name for name, paths in beside.items() if paths), None)
    if given and len(files) > 1:
        raise SheetsSeveralError(f"--{given}", str(files[0]), str(files[1]))

"""``welltold report``: the homeowner's report and the dealer's work sheet."""

from __future__ import annotations

import json as jsonlib
from pathlib import Path
from typing import Annotated

import typer

from .. import face
from ..errors import WelltoldError
from ..interpretation import Interpretation
from ..jsonform import to_jsonable
from ..reading import Reading
from .console import claim_name, complain, make_folder, note, outcome, parse_date, progress
from .options import AsOf, Formats, Packs, SiteFile, formats_of, load_site

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
    """
    slug = None if explain is None else slug_of(explain)
    facts = load_site(site)
    day = parse_date(as_of)
    wanted = ("json",) if json else formats_of(formats)
    printed = (json and out is None) or slug is not None
    folder = None if printed else make_folder(out or DEFAULT_OUT)
    owners: dict[str, Path] = {}
    readings: list[Reading] = []
    errors: list[WelltoldError] = []
    with progress("Reporting", len(files)) as advance:
        for path in files:
            try:
                name = claim_name(path, owners) if folder else ""
                view = face.interpret(face.read(path), site=facts, as_of=day, packs=levels)
                if slug is not None:
                    print_why(view, slug)
                else:
                    deliver(view, folder, name, wanted, alone=len(files) == 1)
            except WelltoldError as error:
                complain(error)
                errors.append(error)
            else:
                readings.append(view.reading)
            advance()
    raise typer.Exit(outcome(readings, errors))


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


def deliver(
    view: Interpretation, folder: Path | None, name: str, formats: tuple[str, ...], *, alone: bool
) -> None:
    """Write the report files, or print the JSON when there is no folder to write to."""
    if folder is None:
        indent = 1 if alone else None
        typer.echo(jsonlib.dumps(to_jsonable(view), ensure_ascii=False, indent=indent))
        return
    written = face.write(view, folder, formats, name=name)
    if alone and formats != ("json",):
        from welltold_reports import print_terminal

        print_terminal(view)
    for path in written:
        note(f"written: {path}")

"""``welltold batch``: many files, one summary, one report each, failures set aside."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..errors import ExitCode
from ..messages import LANGUAGE, say, speaking
from .bars import bars
from .beside import load_beside
from .console import make_folder, note, parse_date
from .options import (
    AsOf,
    Formats,
    LetterheadFile,
    Notes,
    Packs,
    PaperSize,
    ShelfFile,
    SiteFile,
    Tongue,
    formats_of,
)

if TYPE_CHECKING:
    from ..batch import Options, Outcome


Folder = Annotated[Path, typer.Argument(metavar="FOLDER", help="The folder of lab sheets.")]
Out = Annotated[
    Path, typer.Option("--out", metavar="DIR", help="Where the reports and the summary go.")
]
Jobs = Annotated[int, typer.Option("--jobs", help="Files at the same time.", min=1)]
Memory = Annotated[int, typer.Option(help="Memory that one file may take, in MB.", min=256)]
Seconds = Annotated[int, typer.Option(help="Time that one file may take.", min=1)]
DEFAULT_OUT = Path("welltold-batch")


def batch(
    folder: Folder,
    out: Out = DEFAULT_OUT,
    jobs: Jobs = 2,
    site: SiteFile = None,
    shelf: ShelfFile = None,
    formats: Formats = None,
    as_of: AsOf = None,
    levels: Packs = None,
    notes: Notes = None,
    language: Tongue = None,
    letterhead: LetterheadFile = None,
    paper: PaperSize = "letter",
    memory_mb: Memory = 2048,
    seconds: Seconds = 120,
) -> None:
    """Report on every sheet in a folder; a bad file never stops or hides another.

    Writes the reports, summary.csv and summary.xlsx (one row a sample, people to call today
    first), urgent.html (whom to call today), and set-aside.csv (files that could not be read,
    and why). Run again, it goes on where it stopped.

    Example:  welltold batch inbox --out reports --jobs 4
    """
    from .. import batch as engine
    from ..batch.tables import write_set_aside, write_summary, write_urgent

    # a mistake in what stands beside the sheets is told once, before the work begins
    beside = load_beside(
        site, shelf, notes=notes, letterhead=letterhead, paper=paper, language=language
    )
    asked = parse_date(as_of) or (beside.site.levels.as_of if beside.site else None)
    options = engine.Options(
        out=str(make_folder(out)),
        formats=formats_of(formats),
        as_of=(asked or date.today()).isoformat(),  # noqa: DTZ011 - the user's own calendar day
        as_of_asked=asked is not None,
        packs=tuple(levels) if levels else None,
        **beside.paths(),
        language=beside.language,
        paper=paper,
        inputs=beside.inputs(levels or ()),
        jobs=jobs,
        memory_mb=memory_mb,
        seconds=seconds,
    )
    done = run_with_bar(folder, options)
    with speaking(options.language):
        write_summary(out, done)
        write_set_aside(out, done.set_aside)
        write_urgent(out, done, options.language or LANGUAGE)
        note(in_words(done, out / "summary.csv"))
    raise typer.Exit(exit_code(done, look=beside.shelf_looks))


def run_with_bar(folder: Path, options: Options) -> Outcome:
    """Run a batch in its language, with a bar of the files; tell why all is done anew."""
    from ..batch import run, why_anew

    with speaking(options.language), bars() as shown:
        if (differs := why_anew(options)) is not None:
            what = ", ".join(differs)
            note((say("batch.anew", what=what) if what else say("batch.anew_unknown")).text)

        def tell(total: int) -> Callable[[], None]:
            counted, title = count(1), say("table.bar_files").text
            shown.files(title, 0, total)
            return lambda: shown.files(title, next(counted), total)

        return run(folder, options, tell)


def in_words(done: Outcome, summary: Path) -> str:
    """Return the counts of a batch; they add up to the files given."""
    counts = {
        "files": done.files,
        "reported": done.reported,
        "resumed": done.resumed,
        "aside": len(done.set_aside),
        "samples": len(done.rows),
        "urgent": sum(row["phone_first"] == "yes" for row in done.rows),
        "held": sum(row["outcome"] != "made" for row in done.rows),
        "summary": summary,
    }
    if done.left:
        return say("batch.done_left", left=done.left, **counts).text
    return say("batch.done", **counts).text


def exit_code(done: Outcome, *, look: bool = False) -> ExitCode:
    """Return what the exit status says about a batch; ``look``: so does a row of the shelf."""
    if done.left:
        return ExitCode.stopped
    if done.set_aside:
        return ExitCode.set_aside
    held = look or any(row["outcome"] != "made" for row in done.rows)
    return ExitCode.doubts if held else ExitCode.ok

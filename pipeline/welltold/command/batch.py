"""``welltold batch``: many files, one summary, one report each, failures set aside."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from ..errors import ExitCode
from .console import make_folder, note, parse_date, progress
from .options import AsOf, Formats, Packs, SiteFile, formats_of, load_site


def batch(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The folder of lab sheets.")],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Where the reports and the summary go.")
    ] = Path("welltold-batch"),
    jobs: Annotated[int, typer.Option("--jobs", help="Files at the same time.", min=1)] = 2,
    site: SiteFile = None,
    formats: Formats = None,
    as_of: AsOf = None,
    levels: Packs = None,
    memory_mb: Annotated[
        int, typer.Option(help="Memory that one file may take, in MB.", min=256)
    ] = 2048,
    seconds: Annotated[int, typer.Option(help="Time that one file may take.", min=1)] = 120,
) -> None:
    """Report on every sheet in a folder; a bad file never stops or hides another.

    Writes the reports, summary.csv and summary.xlsx (one row a sample, people to call today
    first), and set-aside.csv (files that could not be read, and why). Run again, it goes on
    where it stopped.

    Example:  welltold batch inbox --out reports --jobs 4
    """
    from .. import batch as engine
    from ..batch_tables import write_set_aside, write_summary

    load_site(site)  # a mistake in the site file is told once, before the work begins
    day = parse_date(as_of) or date.today()  # noqa: DTZ011 - the user's own calendar day
    wanted = formats_of(formats)
    options = engine.Options(
        out=str(make_folder(out)),
        formats=wanted,
        as_of=day.isoformat(),
        packs=tuple(levels) if levels else None,
        site=str(site) if site else None,
        memory_mb=memory_mb,
        seconds=seconds,
    )
    with ExitStack() as stack:

        def tell(total: int) -> Callable[[], None]:
            return stack.enter_context(progress("Files", total))

        done = engine.run(folder, options, jobs, tell)
    write_summary(out, done)
    write_set_aside(out, done.set_aside)
    reported = done.files - len(done.set_aside)
    urgent = sum(row["phone_first"] == "yes" for row in done.rows)
    held = sum(row["outcome"] != "made" for row in done.rows)
    note(
        f"{done.files} file(s): {reported} reported ({done.resumed} from an earlier run), "
        f"{len(done.set_aside)} set aside. {len(done.rows)} sample(s): {urgent} to call today, "
        f"{held} held for review. See {out / 'summary.csv'}."
    )
    if done.set_aside:
        raise typer.Exit(ExitCode.set_aside)
    raise typer.Exit(ExitCode.doubts if held else ExitCode.ok)

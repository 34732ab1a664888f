"""``welltold demo``: the main job on the invented samples."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ..errors import ExitCode, FileMissingError
from ..messages import say, speaking
from . import batch
from .console import note
from .options import Tongue


def demo(
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Where the reports go.")] = Path(
        "demo-out"
    ),
    jobs: Annotated[int, typer.Option("--jobs", help="Files at the same time.", min=1)] = 2,
    language: Tongue = None,
) -> None:
    """Report on the invented sample sheets; three are bad, or no lab sheets, on purpose.

    Example:  welltold demo --out demo
    """
    try:
        batch.batch(folder=sample_folder(), out=out, jobs=jobs, language=language)
    except typer.Exit as done:
        if done.exit_code not in {ExitCode.ok, ExitCode.doubts, ExitCode.set_aside}:
            raise
    with speaking(language):
        note(say("batch.demo_done", out=out).text)


def sample_folder() -> Path:
    """Return the folder of sample sheets: in the package, or in a source checkout."""
    package = Path(__file__).parents[1]
    for folder in (package / "samples", package.parents[1] / "samples" / "sheets"):
        if folder.is_dir():
            return folder
    raise FileMissingError("samples/sheets", "the samples are not installed")

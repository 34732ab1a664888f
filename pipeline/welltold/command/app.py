"""The application that holds the commands."""

from __future__ import annotations

import io
import sys
import warnings

import typer

from .. import __version__
from ..errors import ExitCode, OutputError, WelltoldError
from ..messages import UntranslatedWarning
from . import batch, demo, levels, read, report, template
from .console import complain

app = typer.Typer(
    name="welltold",
    help=(
        "Reads a private well's lab sheet, says what is a health concern and what is only a "
        "nuisance, and writes the report."
    ),
    no_args_is_help=True,
    rich_markup_mode="rich",
    pretty_exceptions_enable=False,
    epilog="Example:  welltold report sheet.pdf --out reports",
)
app.command("read")(read.read)
app.command("report")(report.report)
app.command("batch")(batch.batch)
app.command("levels")(levels.levels)
app.add_typer(template.app, name="template")
app.command("demo")(demo.demo)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"welltold {__version__}")
        raise typer.Exit


@app.callback()
def main(
    version: bool = typer.Option(
        False,
        "--version",
        help="Print the version and stop.",
        callback=_print_version,
        is_eager=True,
    ),
) -> None:
    """Hold the options that go before the command's name."""


def run() -> None:
    """Run the command and turn welltold's own errors into one line and an exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper) and not stream.isatty():
            # Another program reads UTF-8 whatever this computer's own habit is.
            stream.reconfigure(encoding="utf-8")
    warnings.simplefilter("ignore", UntranslatedWarning)  # the report itself says so
    try:
        app()
    except WelltoldError as error:
        complain(error)
        sys.exit(error.exit_code)
    except BrokenPipeError:
        # The reader of our output went away (``welltold read ... | head``); that is no failure.
        sys.stderr.close()
        sys.exit(ExitCode.ok)
    except OSError as error:
        complain(OutputError("the screen or pipe", error.strerror or str(error)))
        sys.exit(ExitCode.output_unwritable)

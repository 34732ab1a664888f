"""What the commands share: complaints, exit codes, file names, progress."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

import typer

from ..errors import (
    ExitCode,
    FolderGivenError,
    InternalFaultError,
    NameTakenError,
    OutputError,
    WelltoldError,
)
from ..messages import say
from ..reading import Reading
from .bars import pages_shown


def complain(error: WelltoldError) -> None:
    """Print an error and its next step on stderr, in one line."""
    note(f"{error} {error.hint}")


def note(text: str) -> None:
    """Print a remark on stderr; a file's name must not command the terminal."""
    shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)
    typer.echo(f"welltold: {shown}", err=True)


def note_written(path: Path) -> None:
    """Print on stderr which file was written, in the language that is spoken."""
    note(say("table.written", path=path).text)


def each_file(
    files: Sequence[Path], title: str, do: Callable[[Path], Reading], jobs: int | None = None
) -> tuple[list[Reading], list[WelltoldError]]:
    """Do something with every file, with a progress bar; one file never stops another.

    ``jobs`` pages of a scan are read at the same time; None: what the machine has room for.
    Returns the readings of those that went well, and the errors of the others, already told.
    """
    readings: list[Reading] = []
    errors: list[WelltoldError] = []
    with pages_shown(jobs) as shown:
        for done, path in enumerate(files):
            shown.files(title, done, len(files))
            try:
                if path.is_dir():
                    raise FolderGivenError(str(path))
                readings.append(do(path))
            except WelltoldError as error:
                errors.append(error)
            except (OSError, typer.Exit):
                raise
            except Exception as error:  # noqa: BLE001 - our fault with one file is that file's alone
                errors.append(InternalFaultError(str(path), repr(error)))
            else:
                continue
            complain(errors[-1])
    return readings, errors


def make_folder(path: Path) -> Path:
    """Create an output folder; OutputError when it cannot be written."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(str(path), error.strerror or "cannot be created") from error
    if not os.access(path, os.W_OK):
        raise OutputError(str(path), "no permission to write")
    return path


def write_text(path: Path, text: str) -> None:
    """Write a text file; OutputError when it cannot be written."""
    try:
        path.write_text(text, "utf-8")
    except OSError as error:
        raise OutputError(str(path), error.strerror or "cannot be written") from error


def claim_name(path: Path, owners: dict[str, Path]) -> str:
    """Return the file's name without its last suffix; NameTakenError when another file has it.

    Two outputs of one name would overwrite each other, and results would be lost.
    """
    owner = owners.setdefault(path.stem.casefold(), path)
    if owner is not path:
        raise NameTakenError(str(owner), str(path), path.stem)
    return path.stem


def outcome(
    readings: Sequence[Reading], errors: Sequence[WelltoldError], *, look: bool = False
) -> ExitCode:
    """Return what the exit status should say about several files.

    ``look``: something beside the files needs a look, such as a row of the shelf.
    """
    if errors:
        return ExitCode.set_aside if readings else errors[0].exit_code
    doubts = look or any(reading.doubts for reading in readings)
    return ExitCode.doubts if doubts else ExitCode.ok


def parse_date(text: str | None) -> date | None:
    """Return an ISO 8601 date typed on the command line."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise typer.BadParameter(f"{text!r} is not a date like 2026-11-25") from None

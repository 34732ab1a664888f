"""Which files a batch reads, and where the reports of each of them go."""

from __future__ import annotations

import hashlib
from pathlib import Path

from ..errors import EmptyFolderError, FileMissingError

REPORTS = "reports"
"""Everything about one sheet is in ``reports/NAME-ENDING/``: two sheets never share a file,
whatever they are called, and a sheet keeps its place when others come or go."""


def find_files(folder: Path, out: Path) -> list[Path]:
    """Return the files below a folder in order of name, hidden ones and the output left out.

    Raises FileMissingError where it is no folder of sheets, and EmptyFolderError.
    """
    if not folder.exists():
        raise FileMissingError(str(folder), "no such folder")
    if not folder.is_dir():
        raise FileMissingError(str(folder), "this is a file, not a folder")
    if folder.resolve() == out.resolve():
        raise FileMissingError(str(folder), "the reports cannot go into the folder of the sheets")
    skipped = out.resolve()
    found = [
        path
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
        and skipped not in path.resolve().parents
    ]
    if not found:
        raise EmptyFolderError(str(folder))
    return found


def report_folder(out: Path, inside: Path) -> Path:
    """Return where the reports of a sheet go; ``inside`` is its path below the batch's folder."""
    name, dot, ending = inside.name.rpartition(".")
    # a desktop may take a folder well.pages for one document
    folder = f"{name}-{ending}" if dot else f"{ending}.sheet"
    return out / REPORTS / inside.parent / folder


def digest(path: Path) -> str:
    """Return the SHA-256 of a file; OSError when it cannot be read."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()

"""Lab notes: what no engine could know of one lab's sheets, told once in a TOML file.

A note is no parser. It puts the lab's private words into plain ones before the layout engine reads
the sheet, and gives the printed words back afterwards.

    note       what a note says              loading    a TOML file to a note, strictly
    choosing   which note claims a file      applying   private words to plain ones; flags, changes
    restoring  the printed words again       writing    a proposal as a commented TOML file
    finding    what a note could explain on a file; heads_found
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from welltold.errors import LabNoteError

from .choosing import claiming, note_for, read_with
from .loading import load_note, load_notes
from .note import Note

__all__ = ["Note", "claimed_by", "load_note", "load_notes", "note_for", "propose", "read_with"]


def claimed_by(path: Path, files: Iterable[Path]) -> tuple[Note, ...]:
    """Return the notes among these files that claim a sheet already.

    A file that is no note, or a wrong one, is passed over: it is told when a sheet is read with it.
    Raises the errors of the doors where the sheet cannot be opened.
    """
    from ..doors import open_document
    from ..limits import Limits

    notes: list[Note] = []
    for file in files:
        with suppress(LabNoteError):
            notes.append(load_note(file))
    return claiming(open_document(path, Limits()), notes) if notes else ()


def propose(path: Path) -> str:
    """Return the text of a lab note for the sheets that look like this one.

    Raises the errors of the doors where the file cannot be opened.
    """
    from ..collecting import rarely
    from ..doors import open_document
    from ..limits import Limits
    from .finding import find
    from .writing import write_note

    with rarely():
        return write_note(find(open_document(path, Limits())), path.name)

"""What can go wrong, one small class per situation.

Every error carries fields, not sentences; its text is made from them, so it survives a worker
process unchanged. Every class names an exit code, which is a promise to scripts. What it says, and
the next step, stand in ``data/messages/LANGUAGE/error.toml``.
"""

from __future__ import annotations

import re
from enum import IntEnum
from typing import TYPE_CHECKING, ClassVar

from .messages import catalogue, spoken

if TYPE_CHECKING:
    from .reading import Reading

_CAPITAL = re.compile(r"(?<!^)(?=[A-Z])")


class ExitCode(IntEnum):
    """What the command's exit status means; the numbers never change once released."""

    ok = 0
    """Everything was read and every value can be used as it is."""
    internal = 1
    """A fault of welltold itself."""
    usage = 2
    """The command line was not understood."""
    doubts = 10
    """Done, but some values need a look, or some lines could not be read."""
    set_aside = 11
    """A batch is done, but some files were set aside."""
    stopped = 12
    """A batch was stopped; what is done is kept, and the next run goes on."""
    file_missing = 20
    file_empty = 21
    file_unknown = 22
    """Nobody recognises the file as a sheet that can be read."""
    file_damaged = 23
    file_password = 24
    pictures_only = 25
    too_large = 26
    no_result = 27
    """The file could be read, but no result of a water test was found in it."""
    folder_empty = 28
    output_unwritable = 29
    name_taken = 30
    reader_died = 31
    """The process that read the file died."""
    out_of_time = 32
    out_of_memory = 33
    picture_poor = 34
    """A picture that is too poor, too small, or no sheet at all."""
    folder_given = 35
    site_invalid = 40
    reading_invalid = 41
    analyte_unknown = 42
    levels_unknown = 43
    data_invalid = 44
    unit_mismatch = 45
    levels_invalid = 46
    note_invalid = 47
    notes_clash = 48
    """Two lab notes claim one file."""
    letterhead_invalid = 49
    shelf_invalid = 50
    sheets_several = 51
    """Several sheets where all that is given beside belongs to one well."""


class WelltoldError(Exception):
    """Base of all errors that a user can meet.

    Subclasses list their fields in ``__init__`` and hand them on by position to ``super()``,
    which keeps them picklable.
    """

    exit_code: ClassVar[ExitCode] = ExitCode.internal

    def __init__(self, *fields: object) -> None:
        super().__init__(*fields)
        self.language = spoken()
        """Of its sentences: that which was spoken when it was raised."""

    def __str__(self) -> str:
        """Return the message made from the fields, in one line."""
        return " ".join(self._sentence("").format(*self.args).split())

    @property
    def hint(self) -> str:
        """What to do next."""
        return self._sentence("_hint")

    def _sentence(self, ending: str) -> str:
        """Return a sentence of the catalogue: that of ``FileMissingError`` is ``file_missing``."""
        name = _CAPITAL.sub("_", type(self).__name__.removesuffix("Error")).lower()
        return catalogue("error", self.language)[f"{name}{ending}"]


class FileMissingError(WelltoldError, FileNotFoundError):
    """The named file is not there or may not be read. Fields: path, reason."""

    exit_code = ExitCode.file_missing

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)


class FolderGivenError(WelltoldError, IsADirectoryError):
    """A folder stands where a file is wanted. Fields: path."""

    exit_code = ExitCode.folder_given

    def __init__(self, path: str) -> None:
        super().__init__(path)


class EmptyFileError(WelltoldError, ValueError):
    """The file has no content. Fields: path."""

    exit_code = ExitCode.file_empty

    def __init__(self, path: str) -> None:
        super().__init__(path)


class UnknownFileError(WelltoldError, ValueError):
    """No reader recognises the file. Fields: path, what its first bytes look like."""

    exit_code = ExitCode.file_unknown

    def __init__(self, path: str, looks_like: str) -> None:
        super().__init__(path, looks_like)


class DamagedFileError(WelltoldError, ValueError):
    """The file is broken. Fields: path, kind, reason."""

    exit_code = ExitCode.file_damaged

    def __init__(self, path: str, kind: str, reason: str) -> None:
        super().__init__(path, kind, reason)


class PasswordError(WelltoldError, PermissionError):
    """The file is locked with a password. Fields: path, kind."""

    exit_code = ExitCode.file_password

    def __init__(self, path: str, kind: str) -> None:
        super().__init__(path, kind)


class PicturesOnlyError(WelltoldError, ValueError):
    """Only pictures, and the parts that read pictures are not installed. Fields: path, pages."""

    exit_code = ExitCode.pictures_only

    def __init__(self, path: str, pages: int) -> None:
        super().__init__(path, pages)


class PoorPictureError(WelltoldError, ValueError):
    """A picture that cannot be read. Fields: path, what is wrong with it in words."""

    exit_code = ExitCode.picture_poor

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)


class TooLargeError(WelltoldError, ValueError):
    """The file passes a stated limit. Fields: path, what, found, limit, option to change it."""

    exit_code = ExitCode.too_large

    def __init__(self, path: str, what: str, found: int, limit: int) -> None:
        super().__init__(path, what, found, limit)

    @property
    def hint(self) -> str:
        """What to do next: a picture is not split, but scanned with fewer dots."""
        return self._sentence("_picture_hint" if self.args[1] == "pixels" else "_hint")


class NoResultError(WelltoldError, ValueError):
    """The file was read, but holds no result of a water test. Fields: path, unread lines.

    ``reading`` has the lines that look like results and were not understood, for a person to read.
    """

    exit_code = ExitCode.no_result

    def __init__(self, path: str, unread: int, reading: Reading | None = None) -> None:
        super().__init__(path, unread)
        self.reading = reading


class EmptyFolderError(WelltoldError, ValueError):
    """A folder without a single file to read. Fields: path."""

    exit_code = ExitCode.folder_empty

    def __init__(self, path: str) -> None:
        super().__init__(path)


class OutputError(WelltoldError, OSError):
    """An output file or folder cannot be written. Fields: path, reason."""

    exit_code = ExitCode.output_unwritable

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)


class NameTakenError(WelltoldError, ValueError):
    """Two inputs would write the same output. Fields: first, second, output."""

    exit_code = ExitCode.name_taken

    def __init__(self, first: str, second: str, output: str) -> None:
        super().__init__(first, second, output)


class SheetsSeveralError(WelltoldError, ValueError):
    """Several sheets with an option that belongs to one well. Fields: option, first, second."""

    exit_code = ExitCode.sheets_several

    def __init__(self, option: str, first: str, second: str) -> None:
        super().__init__(option, first, second)


class ReaderDiedError(WelltoldError, RuntimeError):
    """The child process that read the file died. Fields: path."""

    exit_code = ExitCode.reader_died

    def __init__(self, path: str) -> None:
        super().__init__(path)


class OutOfTimeError(WelltoldError, RuntimeError):
    """Reading a file took longer than it may. Fields: path."""

    exit_code = ExitCode.out_of_time

    def __init__(self, path: str) -> None:
        super().__init__(path)


class OutOfMemoryError(WelltoldError, RuntimeError):
    """Reading a file needed more memory than it may. Fields: path."""

    exit_code = ExitCode.out_of_memory

    def __init__(self, path: str) -> None:
        super().__init__(path)


class InternalFaultError(WelltoldError, RuntimeError):
    """A fault of welltold itself while it worked on a file. Fields: path, what went wrong."""

    exit_code = ExitCode.internal

    def __init__(self, path: str, fault: str) -> None:
        super().__init__(path, fault)


class SiteFileError(WelltoldError, ValueError):
    """The site file has an error. Fields: path, key, problem, what is known."""

    exit_code = ExitCode.site_invalid

    def __init__(self, path: str, key: str, problem: str, known: str) -> None:
        super().__init__(path, key, problem, known)


class ReadingFileError(WelltoldError, ValueError):
    """A reading given as JSON or as a typed table has an error. Fields: path, place, problem."""

    exit_code = ExitCode.reading_invalid

    def __init__(self, path: str, place: str, problem: str) -> None:
        super().__init__(path, place, problem)


class UnknownAnalyteError(WelltoldError, KeyError):
    """An analyte name that is not in the registry. Fields: name, nearest names."""

    exit_code = ExitCode.analyte_unknown

    def __init__(self, name: str, nearest: str) -> None:
        super().__init__(name, nearest)


class UnknownLevelsError(WelltoldError, KeyError):
    """A levels pack, or a date, for which there are no levels. Fields: asked, known."""

    exit_code = ExitCode.levels_unknown

    def __init__(self, asked: str, known: str) -> None:
        super().__init__(asked, known)


class LevelsFileError(WelltoldError, ValueError):
    """A user's own file of levels has an error. Fields: path, place, problem, what is known."""

    exit_code = ExitCode.levels_invalid

    def __init__(self, path: str, place: str, problem: str, known: str) -> None:
        super().__init__(path, place, problem, known)


class ShelfFileError(WelltoldError, ValueError):
    """A dealer's shelf file cannot be used at all. Fields: path, problem, what is known."""

    exit_code = ExitCode.shelf_invalid

    def __init__(self, path: str, problem: str, known: str) -> None:
        super().__init__(path, problem, known)


class LabNoteError(WelltoldError, ValueError):
    """A lab note has an error. Fields: path, place, problem, what is known."""

    exit_code = ExitCode.note_invalid

    def __init__(self, path: str, place: str, problem: str, known: str) -> None:
        super().__init__(path, place, problem, known)


class NotesClashError(WelltoldError, ValueError):
    """Two lab notes claim one file. Fields: file, first note, second note."""

    exit_code = ExitCode.notes_clash

    def __init__(self, file: str, first: str, second: str) -> None:
        super().__init__(file, first, second)


class LetterheadError(WelltoldError, ValueError):
    """A letterhead, or the logo that it names, has an error. Fields: path, key, problem, known."""

    exit_code = ExitCode.letterhead_invalid

    def __init__(self, path: str, key: str, problem: str, known: str) -> None:
        super().__init__(path, key, problem, known)


class DataFileError(WelltoldError, ValueError):
    """A row of one of the project's data files is wrong. Fields: file, line, problem."""

    exit_code = ExitCode.data_invalid

    def __init__(self, file: str, line: int, problem: str) -> None:
        super().__init__(file, line, problem)


class UnitMismatchError(WelltoldError, ValueError):
    """A value cannot be turned into another unit or basis. Fields: analyte, from, to, reason."""

    exit_code = ExitCode.unit_mismatch

    def __init__(self, analyte: str, given: str, wanted: str, reason: str) -> None:
        super().__init__(analyte, given, wanted, reason)

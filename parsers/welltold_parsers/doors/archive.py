"""The zip archive of a workbook, with a bound on what it may unfold to."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from xml.parsers import expat

from welltold.errors import DamagedFileError, PasswordError, TooLargeError, WelltoldError
from welltold_parsers.doors.source import Source
from welltold_parsers.limits import Limits

_CHUNK = 1 << 16
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, ValueError)

Start = Callable[[str, Mapping[str, str]], None]
End = Callable[[str], None]
Text = Callable[[str], None]


class Archive:
    """The parts of one workbook, parsed as XML on demand."""

    def __init__(self, source: Source, kind: str, limits: Limits) -> None:
        self.path = source.name
        self.kind = kind
        self._limit = limits.unzipped
        self._read = 0
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(source.data))
        except _BROKEN as error:
            raise self.damaged(str(error)) from error
        self._names = {name.lower(): name for name in self._zip.namelist()}
        unfolded = sum(entry.file_size for entry in self._zip.infolist())
        if unfolded > limits.unzipped:
            raise TooLargeError(self.path, "bytes when unpacked", unfolded, limits.unzipped)
        if any(entry.flag_bits & 1 for entry in self._zip.infolist()):
            raise PasswordError(self.path, kind)

    def damaged(self, reason: str) -> DamagedFileError:
        """Return the error for a broken part."""
        return DamagedFileError(self.path, self.kind, reason)

    def has(self, name: str) -> bool:
        """Whether the archive has a part of that name, in upper or lower case."""
        return name.lower() in self._names

    def parse(self, name: str, start: Start, end: End, text: Text | None = None) -> None:
        """Parse one part; the handlers get names without a namespace prefix."""
        self.parse_chunks(name, self.chunks(name), start, end, text)

    def whole(self, name: str, most: int) -> bytes | None:
        """Return one part unpacked; None: the archive says that it is larger than ``most``."""
        size = self._zip.getinfo(self._names[name.lower()]).file_size
        return b"".join(self.chunks(name)) if size <= most else None

    def chunks(self, name: str) -> Iterator[bytes]:
        """Yield the pieces of one part, each counted."""
        try:
            with self._zip.open(self._names[name.lower()]) as part:
                while chunk := part.read(_CHUNK):
                    self._count(len(chunk))
                    yield chunk
        except KeyError as error:
            raise self.damaged(f"part {name} is missing") from error
        except _BROKEN as error:
            raise self.damaged(f"part {name}: {error}") from error

    def parse_chunks(
        self, name: str, chunks: Iterable[bytes], start: Start, end: End, text: Text | None = None
    ) -> None:
        """Parse the pieces of a part that was unpacked before."""
        parser = xml_parser(start, end, text)
        parser.StartDoctypeDeclHandler = self._refuse_doctype
        try:
            for chunk in chunks:
                parser.Parse(chunk)
            parser.Parse(b"", True)  # noqa: FBT003 - expat takes it by position only
        except WelltoldError:
            raise  # a limit was passed, or the file refused, in a handler
        except expat.ExpatError as error:
            raise self.damaged(f"part {name}: {error}") from error
        except _BROKEN as error:
            raise self.damaged(f"part {name}: {error}") from error

    def _count(self, size: int) -> None:
        """Count what was really unpacked: an archive may lie about it."""
        self._read += size
        if self._read > self._limit:
            raise TooLargeError(self.path, "bytes when unpacked", self._read, self._limit)

    def _refuse_doctype(self, *_: object) -> None:
        """Refuse declarations, in which entities could unfold without end."""
        raise self.damaged("its XML declares a document type")


def xml_parser(start: Start, end: End, text: Text | None) -> expat.XMLParserType:
    """Return an expat parser that calls the handlers with local names."""
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def local_start(name: str, attributes: Mapping[str, str]) -> None:
        start(name.rpartition(":")[2], attributes)

    def local_end(name: str) -> None:
        end(name.rpartition(":")[2])

    def first(name: str, attributes: Mapping[str, str]) -> None:
        """Spare a large part whose elements carry no prefix the search for one."""
        prefixed = ":" in name
        parser.StartElementHandler = local_start if prefixed else start
        parser.EndElementHandler = local_end if prefixed else end
        local_start(name, attributes)

    parser.StartElementHandler = first
    if text is not None:
        parser.CharacterDataHandler = text
    return parser

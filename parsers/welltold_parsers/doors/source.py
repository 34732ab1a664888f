"""What every door gets and what it hands back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from welltold.messages import Message
from welltold_parsers.doors.encoding import Decoded, decode
from welltold_parsers.doors.text_kind import text_kind
from welltold_parsers.geometry import Page, Sheet
from welltold_parsers.limits import Limits


@dataclass(frozen=True)
class Source:
    """The bytes of one file; its text is decoded once and only when a door asks for it."""

    path: Path
    data: bytes = field(repr=False)

    @property
    def name(self) -> str:
        """The path as messages show it."""
        return str(self.path)

    @cached_property
    def decoded(self) -> Decoded:
        """The file as text, with the encoding that was found."""
        return decode(self.data)

    @cached_property
    def text_kind(self) -> str | None:
        """What kind of text the file is, see `text_kind`."""
        return text_kind(self.decoded.text)


@dataclass(frozen=True, slots=True)
class Opened:
    """Pages or sheets of one file, never both, and what its user should be told."""

    pages: tuple[Page, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    warnings: tuple[Message, ...] = ()


Reader = Callable[[Source, Limits], Opened]
"""A door's reading function. It raises only errors of ``welltold.errors``."""

"""The one geometry that every file becomes: words with boxes, or cells in a grid.

Two doors lead into the layout engine. A paged document enters as `Page` objects, whose words have
boxes in points from the top left of the page as it is seen. A workbook, a separated file or an HTML
table enters as `Sheet` objects, whose grid is known. Plain text enters as a `Page` of equally wide
characters.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from welltold.messages import Message

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Word:
    """One printed word. Coordinates in points from the top left of the seen page."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    confidence: float = 1.0
    """1.0 from a text layer; the recogniser's own for a scan."""


class Questioned(NamedTuple):
    """One place on a page that was read from a picture, and what speaks against its word."""

    box: Box
    why: str
    """The name of a sentence in messages/en/scan.toml."""
    other: str
    """What else may stand there."""


@dataclass(frozen=True, slots=True)
class Scan:
    """The picture that a page was read from, made straight; words and boxes stand on it."""

    picture: bytes = field(repr=False)
    """PNG, shades of grey; empty where the words are a hidden layer's and nobody looked."""
    scale: float
    """Pixels a point."""
    coarse: bool = False
    """So few dots that digits can be taken for one another, as on a fax in low resolution."""
    questioned: tuple[Questioned, ...] = ()
    told: tuple[Message, ...] = ()
    """What a person should know of the picture as a whole."""
    soft: bool = False
    """So blurred, or so small, that digits can be taken for one another."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a paged document, in reading order of drawing."""

    number: int
    """From 1."""
    width: float
    height: float
    words: tuple[Word, ...]
    plain_text: bool = False
    """A page of a text file: a character is 6 wide, a line 12 high, so a box gives line and
    column."""
    turn: int = 0
    """Degrees (0, 90, 180, 270), with the clock, by which the seen page was turned to make its
    text upright. Width, height and words are those of the turned page."""
    scan: Scan | None = None
    """For a page that was read from a picture."""


class SheetCell(NamedTuple):
    """One cell that is not empty; a tuple, since a long file has half a million of them."""

    row: int
    """From 1, as the program that made the file numbers it."""
    column: int
    """From 1."""
    text: str
    """As displayed: with the number format applied where it is known."""
    stored: str | None = None
    """The stored value, when it differs from what is displayed."""
    rows: int = 1
    """How many rows a merged cell covers."""
    columns: int = 1
    is_number: bool = False
    """Stored as a number, not as text."""
    is_date: bool = False
    """Stored as a date; ``text`` is then ISO 8601."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One grid with known rows and columns. Rows without a cell are left out."""

    name: str
    """"" for a file that is one table."""
    rows: tuple[tuple[SheetCell, ...], ...]
    """Cells by row, each row from left to right, empty cells left out."""
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """One file, opened: its pages or its sheets, never both."""

    file: str
    sha256: str
    kind: str
    pages: tuple[Page, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    warnings: tuple[Message, ...] = ()

"""What stands on a sheet that a lab note could explain: headings, units, names, flags."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from welltold.reading import Reading, Where

from ..geometry import Document
from ..layout import read_document
from ..layout.cells import Cell, Line, where
from ..layout.dates import is_date
from ..layout.lines import page_lines, sheet_lines
from ..layout.metadata import facts_of
from ..layout.splitting import split
from ..layout.tables import Free
from ..layout.tokens import analyte_in, is_cas, is_method, is_number, label_of, unit_of, value_of
from ..layout.words import split_unit
from .choosing import stands_in, text_of
from .heads_found import Block, Headed, engine_block, likely_blocks
from .note import UNKNOWN, plain, roles

_UNIT_LIKE = re.compile(r"(?i)^(?=.{2,14}$)(?:(?:m|u|µ|μ|n|k|mc)?g\b|[a-z.]+\s?/\s?[a-z])[^\d<>]*$")
_MARK = re.compile(
    r"^(?P<a>[^\w\s<>≤≥.,+()-]|[A-Za-z]{1,2})\s*\.?\d|\d\s*(?P<b>[^\w\s.,%()]|[A-Za-z])$"
)
_FLAG = re.compile(r"^(?:[^\w\s.,+()-]{1,2}|[A-Za-z]{1,3})$")
_BRACKET = re.compile(r"^(.+?)\s*[(\[]([^()\[\]]+)[)\]]$")
_KEY_WORDS = 3
_VALUE_WORDS = 6
_LABEL_WORDS = 5
_SHOWN = 3
_PIECES = re.compile(r"[,;|–—]|\s-\s|\.\s")


@dataclass(slots=True)
class Found:
    """What was found on one sheet, each in the order of the sheet."""

    values: set[Where] = field(default_factory=set)
    """Where the engine found results."""
    lab: str | None = None
    headings: dict[str, str] = field(default_factory=dict)
    """Heading to the role that the engine gave it, or UNKNOWN."""
    columns: dict[str, None] = field(default_factory=dict)
    """The headings that stand over columns."""
    below: dict[str, str] = field(default_factory=dict)
    """What stands under or behind an unknown heading or name."""
    known_units: dict[str, None] = field(default_factory=dict)
    odd_units: dict[str, None] = field(default_factory=dict)
    labels: dict[str, None] = field(default_factory=dict)
    """Names of tests that are not known."""
    flags: dict[str, None] = field(default_factory=dict)
    unread: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()


def find(document: Document) -> Found:
    """Return what a note for the lab of this document could explain."""
    reading = read_document(document)
    values = {w for r in reading.results for w in r.where if w.of == "value"}
    found = Found(values=values, unread=tuple(dict.fromkeys(u.text for u in reading.unread)))
    first: list[Line] = []
    for lines in _parts(document):
        first = first or lines
        heads = _tables(lines, found)
        _facts(lines, heads, found)
    _results(reading, found)
    found.lab = reading.lab.name or _first_line(first, found)
    text = text_of(document)
    found.phrases = tuple(_phrases(found, text))
    return found


def _parts(document: Document) -> Iterator[list[Line]]:
    for page in document.pages:
        yield page_lines(page)
    for sheet in document.sheets:
        if not sheet.hidden:
            yield list(sheet_lines(sheet))


def _tables(lines: Sequence[Line], found: Found) -> set[int]:
    """Take up all tables of one page or sheet; return which lines are their heads."""
    heads: set[int] = set()
    free: list[Line] = []
    for piece in split(lines):
        if isinstance(piece, Free):
            free += piece.lines
        else:
            block = engine_block(piece)
            heads |= {id(line) for line in piece.heads}
            _block(block, found)
    for block in likely_blocks(free):
        heads |= {id(line) for line in block.heads}
        _block(block, found)
    return heads


def _block(block: Block, found: Found) -> None:
    across = block.across
    for column in block.columns:
        name, spelled = _head_and_unit(column.head, found)
        role = _role(column, found)
        if spelled:
            found.known_units.setdefault(spelled)
        numeric = _numbers(column.cells)
        if not name or (numeric and analyte_in(column.head) is not None):
            continue
        below = ", ".join(dict.fromkeys(c.text for c in column.cells[:_SHOWN]))
        if across and role in {UNKNOWN, "result"} and numeric:
            found.labels.setdefault(name)
        else:
            found.headings.setdefault(name, role)
            found.columns.setdefault(name)
        found.below.setdefault(name, below)
        for cell in column.cells:
            _content(cell, column.role, found, numeric=numeric)


def _role(column: Headed, found: Found) -> str:
    """Return the role for the note; a column is one of results only if results were read there."""
    if column.role == "result" and not column.told:
        read = any(where("value", cell) in found.values for cell in column.cells)
        return column.role if read else UNKNOWN
    return column.role if column.role in roles() else UNKNOWN


def _head_and_unit(head: str, found: Found) -> tuple[str, str | None]:
    """Return a heading and its known unit; a unit that is not known is taken up."""
    odd = _BRACKET.match(head)
    if odd and unit_of(odd[2]) is None and _UNIT_LIKE.match(odd[2]):
        found.odd_units.setdefault(odd[2])
        return odd[1], None
    return split_unit(head)


def _content(cell: Cell, role: str, found: Found, *, numeric: bool) -> None:
    text = cell.text
    if unit_of(text) is not None and analyte_in(text) is None:
        found.known_units.setdefault(text)
    elif role == "unit" or (_UNIT_LIKE.match(text) and analyte_in(text) is None):
        found.odd_units.setdefault(text)
    elif role == "analyte":
        if _unknown_name(cell):
            found.labels.setdefault(split_unit(text)[0])
    elif role == "qualifier" or value_of(text) is None:
        _flags(text, role, found, numeric=numeric)


def _unknown_name(cell: Cell) -> bool:
    """Whether a cell of a column of tests may name one that is not known: not a heading."""
    text, line = cell.text, cell.line
    row = any(value_of(c.text) is not None for c in line.cells if c is not cell)
    named = any(c.isalpha() for c in text) and ":" not in text and len(text.split()) <= _LABEL_WORDS
    return row and named and label_of(text).match is None


def _flags(text: str, role: str, found: Found, *, numeric: bool) -> None:
    """Take up a mark stuck to a number, or a cell that is a mark and nothing else."""
    other = is_date(text) or is_cas(text) or (is_method(text) and not numeric)
    mark = None if other else _MARK.search(text)
    if mark:
        flag = mark["a"] or mark["b"]
    elif _FLAG.match(text) and (role == "qualifier" or not text.isalnum()):
        flag = text
    else:
        return
    if value_of(f"1 {flag}") is None:
        found.flags.setdefault(flag)


def _numbers(cells: Sequence[Cell]) -> bool:
    told = [c.text for c in cells if not is_date(c.text)]
    return sum(is_number(t) or _MARK.search(t) is not None for t in told) > 0.5 * len(cells)


def _facts(lines: Sequence[Line], heads: set[int], found: Found) -> None:
    """Take up keys and their values; in a sheet a key may stand in a cell of its own."""
    for line in lines:
        if id(line) in heads or any(is_number(c.text) for c in line.cells):
            continue
        facts = facts_of(line)
        for fact in facts:
            if f"{fact.key}:" not in line.text.replace(" :", ":") and not fact.cell.line.sheet:
                continue
            role = fact.role if fact.role in roles() else UNKNOWN
            _key(fact.key.strip(" :"), role, fact.text, found)
        if not facts and line.sheet is not None and len(line.cells) == 2:
            _key(line.cells[0].text.strip(" :"), UNKNOWN, line.cells[1].text, found)


def _key(key: str, role: str, value: str, found: Found) -> None:
    short = 0 < len(key.split()) <= _KEY_WORDS and len(value.split()) <= _VALUE_WORDS
    short = short and not any(c.isdigit() for c in key)
    test = analyte_in(key) is not None and not is_date(value)
    if short and not test and key not in found.labels:
        found.headings.setdefault(key, role)
        found.below.setdefault(key, value)


def _results(reading: Reading, found: Found) -> None:
    for result in reading.results:
        if result.analyte is None:
            found.labels.setdefault(result.label)
        for message in result.review:
            if message.code == "read.unit_unknown":
                found.odd_units.setdefault(message.args["unit"])


def _first_line(lines: Sequence[Line], found: Found) -> str | None:
    """Return the line that most likely is the lab's name: the first one that heads nothing."""
    for line in lines[:4]:
        text = _name_in(line.cells[0].text)
        named = text in found.headings or text in found.labels or analyte_in(text) is not None
        if len(text) > 5 and not named and ":" not in text and sum(map(str.isalpha, text)) > 4:
            return text
    return None


def _name_in(text: str) -> str:
    """Return the part of a line without a number, which the next report would not have."""
    pieces = [p.strip() for p in _PIECES.split(text)]
    return next((p for p in pieces if " " in p and not any(map(str.isdigit, p))), text)


def _phrases(found: Found, text: str) -> Iterator[str]:
    """Yield the lab's name and headings that seldom stand on other sheets."""
    if found.lab and stands_in(found.lab, text):
        yield found.lab
    odd = [h for h in found.columns if found.headings.get(h) == UNKNOWN]
    names = [h for h in (*odd, *found.columns) if len(plain(h)) > 2 and stands_in(h, text)]
    yield from list(dict.fromkeys(names))[: 2 if found.lab else 5]

"""Puts a lab's private words into plain ones, line by line, before the engine looks at them.

Nothing is decided here: the engine reads the sheet as if the lab had printed "Result" for "Rslt"
and "mg/L" for "g/cu.m.". What stands where stays the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from ..layout.cells import Cell, Line
from ..layout.head_cells import roles_in
from ..layout.hints import Parts
from ..layout.tokens import analyte_in, is_number
from ..layout.words import head_of, split_unit
from ..phrases import any_of
from .changes import Changes
from .flags import FlagWriter
from .note import IGNORE, Note, Part, plain, roles

_LEFT_OUT = "left out"
_KEY = re.compile(r"\s*[:=]")


def in_plain_words(note: Note, parts: Parts, changes: Changes) -> Parts:
    """Return the lines of each page or sheet as the note has them read."""
    translator = _Translator(note, changes)
    return [translator.part(lines) for lines in parts]


class _Translator:
    """Goes through the lines of one file with one note."""

    def __init__(self, note: Note, changes: Changes) -> None:
        self._note = note
        self._changes = changes
        self._units = [(_spelled(text), known) for text, known in note.units.items()]
        self._headings = {
            h: r for h, r in note.headings.items() if not _same(h, roles()[r].heading)
        }
        self._facts = [(_words_of(h), r) for h, r in self._headings.items() if roles()[r].fact]
        self._flags = FlagWriter(note.flags, changes)

    def part(self, lines: Sequence[Line]) -> list[Line]:
        """Return the lines of one page or sheet, what is left out taken out."""
        kept: list[Line] = []
        closed: Part | None = None
        for line in lines:
            text = plain(line.text)
            if closed is not None and closed.last and text.startswith(closed.last):
                closed = None
            closed = closed or self._closing(text)
            if closed is not None or self._ignored(line, text):
                self._changes.left_out += any(c.isdigit() for c in text)
            else:
                kept.append(line)
        self._stacked(kept)
        filled = [line for line in kept if line.cells]
        for line in filled:
            self._line(line)
        return filled

    def _closing(self, text: str) -> Part | None:
        return next((p for p in self._note.ignored_parts if text.startswith(p.first)), None)

    def _ignored(self, line: Line, text: str) -> bool:
        if any(text.startswith(first) for first in self._note.ignored_lines):
            return True
        labels = self._note.labels
        return any(labels.get(plain(cell.text)) == IGNORE for cell in line.cells)

    def _line(self, line: Line) -> None:
        for cell in line.cells:
            self._set_units(cell)
        heads = [(cell, list(self._found(cell))) for cell in line.cells]
        if _is_head(heads):
            for cell, found in heads:
                self._set_headings(cell, found)
                self._set_label(cell)
            self._flags.head(line)
            return
        for cell in line.cells:
            if not self._set_key(cell):
                self._set_label(cell)
        self._flags.line(line)

    def _set_units(self, cell: Cell) -> None:
        for pattern, known in self._units:
            for found in reversed(list(pattern.finditer(cell.text))):
                self._changes.put(cell, found.span(), known, "unit")

    def _found(self, cell: Cell) -> Iterator[tuple[int, int, str]]:
        """Yield the note's headings in a cell that holds nothing else but known ones."""
        bare = plain(split_unit(cell.text)[0])
        if bare in self._headings:
            found = _words_of(bare).match(cell.text)
            if found:
                yield found.start(), found.end(), self._headings[bare]
            return
        if " " in cell.text:
            yield from _glued(cell.text, self._headings)

    def _set_headings(self, cell: Cell, found: Iterable[tuple[int, int, str]]) -> None:
        for start, end, role in sorted(found, reverse=True):
            told = (cell.text[start:end], _LEFT_OUT) if role == IGNORE else None
            self._changes.put(cell, (start, end), roles()[role].heading, "heading", told)

    def _set_key(self, cell: Cell) -> bool:
        """Set the plain key in place of the note's: "Smpl Pt: kitchen", or the key alone."""
        for pattern, role in self._facts:
            found = pattern.match(cell.text)
            if found is None:
                continue
            rest = cell.text[found.end() :]
            alone = not rest and cell is not cell.line.cells[-1]
            if alone or _KEY.match(rest):
                self._changes.put(cell, found.span(), roles()[role].heading, "heading")
                return True
        return False

    def _set_label(self, cell: Cell) -> None:
        name = split_unit(cell.text)[0] or cell.text
        if plain(cell.text) in self._note.labels:
            name = cell.text
        known = self._note.labels.get(plain(name))
        if known is not None and known != IGNORE and cell.text.startswith(name):
            self._changes.put(cell, (0, len(name)), known, "label")

    def _stacked(self, lines: Sequence[Line]) -> None:
        """Set a heading that stands on two lines, one over the other, on the lower one."""
        for text, role in self._headings.items():
            words = text.split()
            for cut in range(1, len(words)):
                upper, lower = " ".join(words[:cut]), " ".join(words[cut:])
                for above, below in _over_each_other(lines, upper, lower):
                    above.line.cells.remove(above)
                    self._changes.put(below, (0, len(below.text)), roles()[role].heading, "heading")


def _over_each_other(lines: Sequence[Line], upper: str, lower: str) -> list[tuple[Cell, Cell]]:
    found = []
    for line, following in pairwise(lines):
        for above in line.cells:
            if plain(above.text) != upper:
                continue
            found += [
                (above, below)
                for below in following.cells
                if plain(below.text) == lower
                and min(above.right, below.right) > max(above.left, below.left)
            ]
    return found


def _is_head(heads: Sequence[tuple[Cell, list[tuple[int, int, str]]]]) -> bool:
    """Whether a line is the head of a table: two headings or more, and no number."""
    cells = [cell for cell, _ in heads]
    if any(is_number(cell.text) for cell in cells):
        return False
    known = sum(len(found) or _announces(cell) for cell, found in heads)
    return known >= 2 or all(found for _, found in heads)


def _same(heading: str, known: str) -> bool:
    """Whether the engine reads a heading as a note has it, so that nothing needs to change."""
    one, other = head_of(heading), head_of(known)
    return one is not None and other is not None and one.role == other.role and one.score >= 1


def _announces(cell: Cell) -> bool:
    return bool(roles_in(cell)) or analyte_in(cell.text) is not None


def _glued(text: str, headings: Mapping[str, str]) -> Iterator[tuple[int, int, str]]:
    """Yield the headings of which a cell is made when it holds several, else nothing."""
    spans = [(m.start(), m.end()) for m in re.finditer(r"\S+", text)]
    found: list[tuple[int, int, str]] = []
    at = 0
    while at < len(spans):
        for end in range(len(spans), at, -1):
            piece = text[spans[at][0] : spans[end - 1][1]]
            role = headings.get(plain(piece))
            if role or (end - at == 1 and _bracketed(piece)):
                if role:
                    found.append((spans[at][0], spans[end - 1][1], role))
                at = end
                break
        else:
            return
    if len(found) > 1:
        yield from found


def _bracketed(text: str) -> bool:
    """Whether a word of a head is in brackets, as a unit is."""
    return text.startswith("(") and text.endswith(")")


def _words_of(text: str) -> re.Pattern[str]:
    return re.compile(any_of([text]), re.IGNORECASE)


def _spelled(text: str) -> re.Pattern[str]:
    """Return the pattern of a unit that is no part of a longer word."""
    inner = r"\s*".join(map(re.escape, text.split()))
    return re.compile(rf"(?<![^\W\d_])(?<![/.]){inner}(?![\w/])")

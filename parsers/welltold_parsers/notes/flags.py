"""Puts a lab's private flags into known ones, in the rows of results."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from ..layout.cells import Cell, Line
from ..layout.head_cells import roles_in
from ..layout.tokens import analyte_in
from .changes import Changes
from .note import NO_MEANING, flag_meanings

_PARTS = re.compile(r"[^\s,;/]+")
_MORE = ">"
_NO_FLAGS = frozenset({"analyte", "unit", "method", "cas", "analyzed", "lab_id", "sample_id"})
_BEFORE = r"(?=\s*\.?\d)"
_BEHIND = r"(?<=\d)\s*"


class FlagWriter:
    """Knows the flags of one note."""

    def __init__(self, flags: Mapping[str, str], changes: Changes) -> None:
        known = flag_meanings()
        self._letters = {f: known[m][0] if m != NO_MEANING else "" for f, m in flags.items()}
        self._changes = changes
        self._other: list[tuple[float, float]] = []
        self._glued = [
            (
                flag,
                re.compile(rf"^{re.escape(flag)}{_BEFORE}"),
                re.compile(rf"{_BEHIND}{re.escape(flag)}$"),
                letter,
            )
            for flag, letter in self._letters.items()
        ]

    def head(self, line: Line) -> None:
        """Begin another table: under some heads a letter beside a number is no flag."""
        self._other = [(c.left, c.right) for c in line.cells if _NO_FLAGS & {*roles_in(c)}]

    def line(self, line: Line) -> None:
        """Set the flags of one row; a line without a number or a test has none."""
        if self._letters and (_numbered(line) or analyte_in(line.cells[0].text) is not None):
            for cell in line.cells[1:] or line.cells:
                self._cell(cell)

    def _cell(self, cell: Cell) -> None:
        if _under(cell, self._other):
            return
        parts = list(_PARTS.finditer(cell.text))
        if parts and all(p[0] in self._letters for p in parts):
            for part in reversed(parts):
                self._changes.put(cell, part.span(), self._letters[part[0]] or "-", "flag")
            return
        for flag, before, behind, letter in self._glued:
            found = before.search(cell.text) or behind.search(cell.text)
            if found:
                rest = (cell.text[: found.start()] + cell.text[found.end() :]).strip()
                whole, told = (0, len(cell.text)), (flag, letter or NO_MEANING)
                self._changes.put(cell, whole, _marked(rest, letter), "flag", told)
                return


def _numbered(line: Line) -> bool:
    return any(c.isdigit() for cell in line.cells for c in cell.text)


def _under(cell: Cell, extents: Iterable[tuple[float, float]]) -> bool:
    return any(min(cell.right, right) > max(cell.left, left) for left, right in extents)


def _marked(number: str, letter: str) -> str:
    """Return a number with a known mark: a sign before it or a letter behind it."""
    if letter == _MORE:
        return f"{_MORE} {number}"
    return f"{number} {letter}".strip()

"""The unit that a line states for its page, and how far it holds.

A unit stated on one page serves the next pages too, unless the pages state different ones or a
line on the next page tells units of its own beside its methods.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from welltold.units import unit, units_in

from .cells import Cell, Line, join
from .headings import cell_of, names_method
from .tokens import analytes_within

_WORDS = 5
"""A line that tells a method and a unit for all below has more words."""
_AMOUNT = re.compile(r"\d\s*$")
_RULED = re.compile(r"(?i)\b(?:limits?|levels?|above|below|exceed\w*|standard|mcl)\b|=")


class PageUnits:
    """The unit stated for the page in hand, carried over from one page to the next."""

    __slots__ = ("_told", "unit")

    def __init__(self) -> None:
        self.unit: Cell | None = None
        self._told: set[str] = set()

    def state(self, spelled: str, line: Line) -> None:
        """Take up the unit that a line states."""
        self.unit = cell_of(join(line.cells), spelled)
        self._told.add(_name(spelled))

    def without_statement(self, lines: Sequence[Line]) -> None:
        """Go on to a page that states no unit outright; the last one may not hold there."""
        beside = [(line, units) for line in lines[:_HEAD] if (units := _beside_method(line))]
        names = {_name(u) for _, units in beside for u in units}
        if len(names) == 1 and all(_for_all(line, units) for line, units in beside):
            self.state(beside[0][1][0], beside[0][0])
        elif self.unit is not None and (len(self._told) > 1 or names - {_name(self.unit.text)}):
            self.unit = None


_HEAD = 30
"""A page's own line about methods stands among so many lines."""


def _name(spelled: str) -> str:
    found = unit(spelled)
    return found.name if found is not None else spelled


def _beside_method(line: Line) -> tuple[str, ...]:
    """Return the units in a sentence of one piece that tells methods, and no amounts."""
    text = line.text
    if len(line.cells) != 1 or len(text.split()) < _WORDS or _RULED.search(text):
        return ()
    units = units_in(text) if names_method(text) else ()
    return () if any(_AMOUNT.search(text[: text.find(u)]) for u in units) else tuple(units)


def _for_all(line: Line, units: Sequence[str]) -> bool:
    return len(units) == 1 and not analytes_within(line.text)

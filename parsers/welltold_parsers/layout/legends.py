"""Units that a legend gives to tests by name: "Cl2 in mg/L, Temp in deg C"."""

from __future__ import annotations

from collections.abc import Iterator

from .cells import Cell, Line, join
from .headings import cell_of
from .tokens import analyte_in, unit_of

_WORDS = 3
"""A name in a legend, or its unit, has no more words."""


class Legend:
    """The units that the legends of a sheet give to tests by name."""

    __slots__ = ("_units",)

    def __init__(self) -> None:
        self._units: dict[str, Cell] = {}
        """Names of tests, in small letters."""

    def look(self, line: Line) -> None:
        """Keep the units that a line gives to tests by name."""
        self._units.update((n, cell_of(join(line.cells), u)) for n, u in units_told(line))

    def unit_of(self, label: str) -> Cell | None:
        """Return the unit of the tests whose names begin as this label does, or None."""
        if not self._units:
            return None
        words = label.lower().split()
        starts = (" ".join(words[:size]) for size in range(len(words), 0, -1))
        return next((c for s in starts if (c := self._units.get(s))), None)


def units_told(line: Line) -> Iterator[tuple[str, str]]:
    """Yield each name, in small letters, with its unit as printed."""
    words = line.text.split()
    for at, word in enumerate(words):
        if word == "in" and 0 < at < len(words) - 1:
            name, spelled = _name(words[:at]), _unit(words[at + 1 :])
            if name and spelled:
                yield name.lower(), spelled


def _name(words: list[str]) -> str | None:
    for size in range(min(_WORDS, len(words)), 0, -1):
        name = " ".join(words[-size:]).lstrip("([")
        if len(name) > 1 and name[:1].isupper() and analyte_in(name):
            return name
    return None


def _unit(words: list[str]) -> str | None:
    # The next test of the legend begins behind a comma: "Cl2 in mg/L, Iron in ug/L".
    ends = (at for at, word in enumerate(words, start=1) if word.endswith((",", ";")))
    for size in range(min(_WORDS, next(ends, _WORDS), len(words)), 0, -1):
        spelled = " ".join(words[:size]).rstrip(",.;)")
        if unit_of(spelled) is not None:
            return spelled
    return None

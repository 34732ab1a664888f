"""Units that a legend gives to tests by name: "Cl2 in mg/L, Temp in deg C"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from .cells import Cell, Line, join
from .headings import cell_of
from .short_names import short_name
from .tokens import analyte_in, unit_of

_CLAUSES = re.compile(r"[.;]\s+|;|\s\|\s")
_NOTED = re.compile(
    r"(?i)^(?:note:?\s+|[(*]\s*)?(?:[a-z]+:\s+)?(?P<tests>[A-Za-z][\w ,/&()+-]*?)"
    r"(?:\s+(?:results?|values?|levels?))?(?:\s+(?:is|are|was|were))?"
    r"(?:\s+(?:reported|given|measured|expressed|shown|listed))?"
    r"\s+(?:in|as)\s+(?P<unit>\S+(?: per \w+)?(?: as \w+)?)\s*[).]?$"
)
_LIST = re.compile(r",\s*(?:and\s+)?|\s+(?:and|&|\+)\s+|\s*/\s*")
_WORDS = 3
"""A name in a legend, or its unit, has no more words."""


class Legend:
    """The units that the legends of a sheet give to tests by name."""

    __slots__ = ("_tests", "_units")

    def __init__(self) -> None:
        self._units: dict[str, Cell] = {}
        """Names of tests, in small letters."""
        self._tests: dict[str, Cell] = {}
        """The tests of a note that names several with one unit."""

    def look(self, line: Line) -> None:
        """Keep the units that a line gives to tests by name."""
        self._units.update((n, cell_of(join(line.cells), u)) for n, u in units_told(line))
        self._tests.update((s, cell_of(join(line.cells), u)) for s, u in units_noted(line.text))

    def unit_of(self, label: str, name: str | None = None) -> Cell | None:
        """Return the unit of the tests whose names begin as this label does, or None.

        ``name``: what the label stands for, where it is too short to say so.
        """
        if not self._units and not self._tests:
            return None
        words = label.lower().split()
        starts = (" ".join(words[:size]) for size in range(len(words), 0, -1))
        found = next((c for s in starts if (c := self._units.get(s))), None)
        match = analyte_in(name or label) if found is None and self._tests else None
        return self._tests.get(match.slug) if match is not None else found


def units_noted(text: str) -> Iterator[tuple[str, str]]:
    """Yield each test of a note without numbers, with the unit told for it.

    "iron, mn in ppm. hardness in grains", "Metals: Fe and Mn are reported in ug/L".
    """
    for clause in _CLAUSES.split(text):
        found = _NOTED.match(clause.strip())
        spelled = found["unit"].strip(" .)") if found is not None else ""
        if found is None or unit_of(spelled) is None or any(c.isdigit() for c in found["tests"]):
            continue
        slugs = [_slug(piece) for piece in _LIST.split(found["tests"]) if piece.strip()]
        known = [slug for slug in slugs if slug is not None]
        if len(known) == len(slugs):
            yield from ((slug, spelled) for slug in known)


def is_note_of_units(text: str) -> bool:
    """Whether a line tells the units of several tests, or of one in the manner of a note.

    It is no heading: its unit holds for no other test.
    """
    tests = {slug for slug, _ in units_noted(text)}
    return len(tests) > 1 or (bool(tests) and text[:1].islower())


def _slug(name: str) -> str | None:
    match = analyte_in(name.strip())
    if match is not None:
        return match.slug
    named = short_name(name.strip())
    return named.slug if named is not None else None


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

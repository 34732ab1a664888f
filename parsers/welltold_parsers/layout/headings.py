"""What a heading or a title says: a unit, a method, a fraction, a basis, the only analyte."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from welltold.units import basis_of, unit, units_in

from .cells import Cell, Line
from .printed import Section
from .tokens import analyte_in, analytes_within, is_method
from .words import split_unit

_DISSOLVED = re.compile(r"(?i)\bdissolved\b|\bfiltered\b(?! tap)")
_TOTAL = re.compile(r"(?i)\btotal (?:recoverable )?metals\b")
_METHOD_IN = re.compile(
    r"(?i)\b(?:(?:EPA|SM|ASTM|SW-?846|USGS|HACH)(?: method)?[\s:#-]*\w?\d[\w.-]*"
    r"(?:[ -][A-Z]\b)?|E\d{3}\.\d)"
)
_VOLUME = re.compile(r"(?i)(?:\bper |\bin |/ ?)100[ -]?(?:ml|mls|millilit(?:er|re)s?)\b")
_TEST_KEY = re.compile(r"(?i)^(?:test|analysis|analyte|parameter|determination)s?\s*:\s*")
_DASH = re.compile(r"\s+[–—-]\s+|[.;:]\s")
_FOR_ITS_LIST = re.compile(
    r"(?i)^(?!(?:all|these|the|your|our|unless|note|test|analytical|lab(?:oratory)?|water)\b)"
    r"(?P<title>[^.:;()]{3,40}?)[\s,:(–—-]+(?:(?:all )?(?:results?|values?|concentrations?)\s+)?"
    r"(?:are |reported |expressed )*in\s+(?P<unit>[^.;]{2,24}?)\)?$"
)
TITLE_WORDS = 12
"""A title has no more words."""
_HEADING_WORDS = 9
"""A heading has no more words, but for what stands behind a dash or a comma."""
_GROUP = re.compile(
    r"(?i)^(?:total|dissolved)(?: recoverable)? (?:trace )?metals\b(?:\s*\([^()]*\))?\s*[–—,;:-]"
)
"""A group of tests that go by its fraction, with more behind it."""


class Title(NamedTuple):
    """The only analyte that a title or the text above a table names."""

    name: str
    cell: Cell
    how: str
    """Which doubt it leaves."""
    unit: str | None


def clauses(lines: Sequence[Line]) -> Iterator[tuple[Line, str]]:
    """Yield each line; a long one that has a title between dashes piece by piece."""
    for line in lines:
        text = line.text
        pieces = _DASH.split(text) if len(text.split()) > TITLE_WORDS else [text]
        titled = any(2 <= len(p.split()) <= TITLE_WORDS and analytes_within(p) for p in pieces)
        for piece in pieces if titled else [text]:
            yield line, piece


def is_long(text: str) -> bool:
    """Whether a line has more words than a heading; the group that it opens with may go on.

    "Dissolved Metals (µg/L) — EPA 200.8, field filtered 0.45 µm" heads its rows.
    """
    words = len(text.split())
    return words > 2 * _HEADING_WORDS or (words > _HEADING_WORDS and _GROUP.match(text) is None)


def _before_method(text: str, end: int) -> str:
    return _TEST_KEY.sub("", text[:end]).strip(" ,-–:(")


def section_of(text: str, cell: Cell, whole: str | None) -> Section:
    """Return what a heading says; ``whole`` is the unit that it states for all below it."""
    bare, spelled = split_unit(_TEST_KEY.sub("", text))
    unit = whole or spelled or next(iter(units_in(text)), None)
    method = _METHOD_IN.search(text)
    fraction = "dissolved" if _DISSOLVED.search(text) else "total" if _TOTAL.search(text) else None
    names = bare if method is None else _before_method(text, method.start())
    analyte = names if analyte_in(names) else None
    basis = None
    found = re.search(r"(?i)\bas ([A-Z]\w{0,5}\d?)\b", text)
    if found:
        basis = basis_of(found[1])
    return Section(
        unit=unit,
        unit_cell=cell_of(cell, unit) if unit else None,
        method=method[0] if method else (text if is_method(text) else None),
        fraction=fraction,
        analyte=analyte,
        analyte_cell=cell if analyte else None,
        basis=basis,
        volume="per 100 mL" if _VOLUME.search(text) else None,
    )


def names_method(text: str) -> bool:
    """Whether a text tells the number of a method: "EPA 200.8"."""
    return _METHOD_IN.search(text) is not None


def title_with_unit(text: str) -> str | None:
    """Return the unit of a list that its title tells: "TRACE METALS  results in ug/L (ppb)"."""
    found = _FOR_ITS_LIST.match(text)
    if found is None or any(c.isdigit() for c in found["title"]):
        return None
    told = found["unit"].strip()
    bare = told.partition(" (")[0]
    whole = f"{told})" if "(" in told else told
    return next((u for u in (whole, bare) if unit(u)), None)


def two_units(cells: Sequence[Cell]) -> bool:
    """Whether the pieces of a heading tell different units: it stands over several lists."""
    told = [title_with_unit(c.text) or split_unit(c.text)[1] or c.text for c in cells]
    names = {found.name for text in told if (found := unit(text)) is not None}
    return len(names) > 1


def ends_in_unit(cells: Sequence[Cell]) -> bool:
    """Whether a title ends in a unit in brackets: "PFAS   EPA 533   (ng/L)"."""
    last = cells[-1].text
    return last.startswith("(") and last.endswith(")") and unit(last[1:-1]) is not None


def cell_of(cell: Cell, text: str) -> Cell:
    """Return a cell at the same place with another text."""
    return Cell(
        text, (cell.left, cell.top, cell.right, cell.bottom), cell.line, cell.words, cell.source
    )

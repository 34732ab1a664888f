"""The one test that a sheet is about, as the lines above its tables tell: "Lead in tap water"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from welltold.units import units_in

from .cells import Line
from .headings import TITLE_WORDS, Title, clauses
from .tokens import analyte_in, analytes_within

_ABOUT = re.compile(r"(?i)(?:in|levels?|results?|test\w*|sampl\w*|summary|data|concentrations?)\b")
"""What follows the test that a sheet is about: "Lead in ...", which "Ferrous Ridge Lab" is not."""
_WITH_BASIS = re.compile(r"[^(,]+?,?\s*\(?as \w+\)?|[\w ]+-N\b")


def only_test(lines: Sequence[Line]) -> Title | None:
    """Return the only analyte that the lines above a table name, or None: none or several."""
    found: dict[str, Title] = {}
    leading: dict[str, Title] = {}
    for line, text in clauses(lines):
        words = text.split()
        for start, end, match in analytes_within(text):
            title = len(words) <= TITLE_WORDS
            name = " ".join(words[start:end]).strip("()[],.;:!?\"'—– ")
            if title:
                name = _with_basis(text, name)
            how = "analyte_from_heading" if title else "analyte_from_text"
            unit = next(iter(units_in(text)), None) if title else None
            known = found.get(match.slug)
            if known is None or (known.unit is None and unit is not None):
                found[match.slug] = Title(name, line.cells[0], how, unit)
            if title and start == 0 and _ABOUT.match(" ".join(words[end:])):
                leading[match.slug] = found[match.slug]
    named = leading if len(leading) == 1 else found
    return next(iter(named.values())) if len(named) == 1 else None


def _with_basis(text: str, name: str) -> str:
    """Return the analyte's name in a title with its basis: "Nitrate (as N)"."""
    at = text.find(name)
    more = _WITH_BASIS.match(text, at) if at >= 0 else None
    return (more[0] if more and analyte_in(more[0]) else name).strip(" ,:;.")

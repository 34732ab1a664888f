"""Whether the numbers of a clause are a rule's, a range's or another water's, and no results.

"Iron: over 0.3 ppm stains laundry" tells what iron does; "10 - 20 ppm fair, 20 - 40 caution" parts
waters into classes; "1 ng/L is 1 part per trillion" explains a unit.
"""

from __future__ import annotations

import re
from functools import cache

from welltold.tables import read_table
from welltold_parsers.phrases import any_of

from .tokens import unit_of

_THIS_WATER = re.compile(
    r"(?i)\b(?:was|were|found|detected|measured|contained|tested|came|showed|reported|had|fue(?:ron)?"
    r"|(?:your|this|the) (?:water|well|sample)(?: water)? (?:has|holds|contains|is at)"
    r"|your [\w-]+(?: \w+)?,? (?:is|at|of))\b"
)
"""Verbs that tell what was found."""
_RANGE = re.compile(r"(?<![\w.-])\d[\d,.]*\s*[-–—]\s*\d[\d,.]*(?=[\s,;)]|$)")
_BOUND = re.compile(r"(?i)\b(?:over|under|above|below|more than|less than|from)\s+\d")
_EQUATION = re.compile(
    r"(?i)(?<![\w.])\d[\d,.]*\s+(?P<one>\S+(?: per \w+)?)\s+(?:=|is|equals?|is the same as)\s+"
    r"(?:about |roughly )?\d[\d,.]*\s+(?P<other>parts? per \w+|[^\s.;,)]+)"
)
_KINDS = frozenset({"rule", "elsewhere", "state"})


def speaks_in_general(clause: str) -> bool:
    """Whether the numbers of a clause are not of this water."""
    if _phrases("elsewhere").search(clause):
        return True
    return not tells_of_this_water(clause) and (
        _phrases("rule").search(clause) is not None or _parts_into_classes(clause)
    )


def tells_state(text: str) -> bool:
    """Whether a text only says how far a report has come: "Finalized"."""
    return _phrases("state").fullmatch(text) is not None


def tells_of_this_water(clause: str) -> bool:
    """Whether a clause has a verb that says what was found, or speaks of "your water"."""
    return _THIS_WATER.search(clause) is not None


def without_equations(text: str) -> str:
    """Return a text of the same length with blanks where it explains a unit by another."""
    return _EQUATION.sub(_blank_if_units, text)


def _blank_if_units(found: re.Match[str]) -> str:
    both = all(unit_of(found[part]) is not None for part in ("one", "other"))
    return " " * len(found[0]) if both else found[0]


def _parts_into_classes(clause: str) -> bool:
    """Whether a clause gives ranges and bounds for classes: "under 6 none, 6 - 9 increasing"."""
    ranges = len(_RANGE.findall(clause))
    return ranges > 0 and ranges + len(_BOUND.findall(clause)) > 1


@cache
def _phrases(kind: str) -> re.Pattern[str]:
    rows = read_table("general_words.csv")
    found = any_of(row.text("phrase") for row in rows if row.choice("kind", _KINDS) == kind)
    return re.compile(rf"(?i)(?<![\w'])(?:{found})(?:e?[sd])?(?![\w'])")

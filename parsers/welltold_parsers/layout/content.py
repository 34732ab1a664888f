"""What the cells of one column look like, counted."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from .cells import Cell
from .dates import is_date
from .empties import says_nothing
from .tokens import analyte_in, is_cas, is_method, is_number, is_qualifier, unit_of, value_of

_RANGE = re.compile(r"^\s*[<>≤≥]?\s*\d[\d.,]*\s*(?:-|–|to|a)\s*\d[\d.,]*\s*$")
_SERIAL = re.compile(r"\d{2,4}-(?:0\d{2,}|\d{5,})")
_SIGN = frozenset({"<", ">", "=", "≤", "≥", "~", "˂", "ND", "U"})
_NOT_TESTED = frozenset({"N/A", "n/a", "#N/A"})
"""As a unit it says that there is none; in a column of results, that there is no result."""
_LOOKED_AT = 80


@dataclass(slots=True)
class Content:
    """Counts over the filled cells of one column."""

    filled: int = 0
    value: int = 0
    number: int = 0
    censored: int = 0
    unit: int = 0
    date: int = 0
    method: int = 0
    cas: int = 0
    analyte: int = 0
    flag: int = 0
    sign: int = 0
    flag_u: int = 0
    """A bare U: a sign that stands behind its number, where "<" stands before it."""
    range_: int = 0
    serial: int = 0
    """Of the ranges those that may be a year and a running number: "26-118803"."""
    word: int = 0
    blank: int = 0
    decimal: int = 0
    with_unit: int = 0
    percent: int = 0
    spread: int = 0
    """Results that say how far they may be off: "8.7 ± 2.6"."""
    letters: float = 0.0
    """Tie-break: the mean length of the names, as a small number."""
    headed: bool = False
    spanned: bool = False
    """Its own head stands under a head that spans several columns."""
    head_unit: bool = False
    """The head is a unit and nothing else."""
    in_percent: bool = False
    """The head ends in a percent sign: beside a column of units that is no result."""
    symbols: set[str] = field(default_factory=set)
    """Different texts of one or two letters that are symbols of elements; a flag may look so."""

    def all_signs(self) -> str:
        """Return what a column of nothing but signs is; "" for any other."""
        if not self.filled or self.sign < self.filled:
            return ""
        return "qualifier" if self.flag_u == self.filled else "sign"

    def results(self) -> bool:
        """Whether most cells could be results."""
        return (
            self.filled > 0 and self.value >= 0.6 * self.filled and self.range_ < 0.5 * self.filled
        )

    def numeric_results(self) -> bool:
        """Whether most cells are numbers or censored numbers, and not dates or codes."""
        told = self.filled - self.blank
        return told > 0 and self.number + self.censored >= 0.6 * told

    def guess(self) -> str:
        """Return the role that the content alone gives, or ""."""
        if not self.filled:
            return "empty"
        for role, count, share in (
            ("date_open", self.date, 0.7),
            ("cas", self.cas, 0.6),
            ("unit", self.unit, 0.6),
            ("printed_limit", self.range_, 0.5),
            ("analyte", self.analyte, 0.5),
            ("method", self.method, 0.6),
        ):
            if count >= share * self.filled and count:
                return role
        return ""


def contents(rows: Sequence[Sequence[Cell | None]], width: int) -> list[Content]:
    """Count the cells of each column over the first rows."""
    found = [Content() for _ in range(width)]
    for row in rows[:_LOOKED_AT]:
        for facts, cell in zip(found, row, strict=True):
            if cell is not None:
                _count(facts, cell)
    for facts in found:
        if len(facts.symbols) >= 3 and facts.flag <= len(facts.symbols) + 1:
            facts.analyte += len(facts.symbols)
    return found


def _count(facts: Content, cell: Cell) -> None:
    text = cell.text
    facts.filled += 1
    if cell.is_date or is_date(text):
        facts.date += 1
    elif is_cas(text):
        facts.cas += 1
    elif _RANGE.match(text):
        facts.range_ += 1
        facts.serial += _SERIAL.fullmatch(text) is not None
        facts.value += value_of(text) is not None
    elif is_number(text):
        facts.number += 1
        facts.value += 1
        facts.decimal += "." in text
        facts.method += is_method(text)
    else:
        _count_words(facts, text)


def _count_words(facts: Content, text: str) -> None:
    facts.sign += text in _SIGN
    facts.flag_u += text == "U"
    facts.flag += is_qualifier(text)
    if text in _NOT_TESTED:
        facts.value += 1
        facts.blank += 1
    elif says_nothing(text):
        facts.blank += 1
        facts.value += value_of(text) is not None
    elif analyte_in(text) is not None:
        if len(text) <= 2:
            facts.symbols.add(text)
        else:
            facts.analyte += 1
            facts.letters += min(len(text), 40) / 4000
    elif unit_of(text) is not None:
        facts.unit += 1
    elif (value := value_of(text)) is not None:
        facts.value += 1
        facts.with_unit += value.unit_text is not None
        facts.percent += value.unit_text == "%"
        facts.spread += value.uncertainty is not None and value.value is not None
        facts.censored += value.state in {"below", "above"}
        facts.blank += value.state == "blank"
    elif is_method(text):
        facts.method += 1
    else:
        facts.word += 1

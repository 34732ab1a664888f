"""Rows of a table with analytes across that are no samples: units, limits, methods, levels."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from .across_columns import AnalyteColumn
from .cells import Cell, Line
from .dates import is_date
from .row_kinds import are_units
from .sample_kinds import control_kind
from .tables import Table
from .tokens import is_method
from .wide import is_sheet
from .words import head_of

_STUB_ROLES = frozenset(
    [
        "unit",
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "method",
        "cas",
        "previous",
        "limit_low",
        "limit_high",
        "analyzed",
        "fraction",
    ]
)
_HALVES = frozenset({"limit_low", "limit_high"})
"""Told by "Low" and "High", which begin many names of places."""
_SURE = 0.95
_STANDARD = re.compile(
    r"(?i)\b(?:standard|limit|level|benchmark|guideline|criteri(?:a|on)|goal|advisory|objective)s?\b"
)


class ServingRows:
    """The rows that serve all samples of one table."""

    def __init__(
        self, table: Table, columns: Sequence[AnalyteColumn], roles: Mapping[str, int]
    ) -> None:
        self.table = table
        self.columns = columns
        self.roles = roles
        self.dated = False
        """A row with a day of collection was seen."""
        self.rows: dict[str, Sequence[Cell | None]] = {}
        """By role: units, limits, methods; each the cells by column."""
        self.told = ""
        """The role of the row that was taken last."""

    def takes(self, line: Line, cells: Sequence[Cell | None], first: int) -> bool:
        """Whether a row gives units, limits or methods for all samples; it is kept."""
        filled = [cells[c.index] for c in self.columns if cells[c.index] is not None]
        if not filled:
            return False
        if are_units([c for c in filled if c is not None], sheet=is_sheet(self.table)):
            self.rows.setdefault("unit", cells)
            self.told = "unit"
            return True
        day = cells[at] if (at := self.roles.get("collected")) is not None else None
        if day is not None and is_date(day.text):
            return False
        parts = [c.text for c in cells[:first] if c is not None]
        for text in (line.cells[0].text, *parts) if parts else ():
            head = head_of(text) if control_kind(text) is None else None
            half = head is not None and head.role in _HALVES
            if half and text is not line.cells[0].text:
                continue  # the upper of two wells, behind its name
            if head and head.role == "method" and text.endswith(":") and _no_method(filled):
                continue  # a key at the foot of the page
            vague = head is not None and head.role == "fraction"  # "Filtered filler" is a tap
            plainly = _SURE if half or vague else 0.65
            if head and head.score >= plainly and head.role in _STUB_ROLES - {"analyzed"}:
                self.rows.setdefault(head.role, cells)
                self.told = head.role
                return True
        return self._undated(cells, first)

    def _undated(self, cells: Sequence[Cell | None], first: int) -> bool:
        """Whether a row above the samples has words where each sample has its day: a standard's."""
        at = self.roles.get("collected")
        if at is None or self.dated:
            return False
        day = cells[at]
        self.dated = day is not None and is_date(day.text)
        words = [c.text for c in cells[:first] if c is not None]
        self.told = "printed_limit"
        return not self.dated and len(words) == 1 and _STANDARD.search(words[0]) is not None


def _no_method(cells: Sequence[Cell | None]) -> bool:
    return not any(is_method(c.text) for c in cells if c is not None)

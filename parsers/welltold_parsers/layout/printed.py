"""One result as it stands on the sheet, before it is understood."""

from __future__ import annotations

from dataclasses import dataclass, field

from .cells import Cell
from .drafts import Draft

ROW_ROLES = [
    "unit",
    "qualifier",
    "sign",
    "detect_flag",
    "condition",
    "reporting_limit",
    "detection_limit",
    "printed_limit",
    "method",
    "analyzed",
    "cas",
    "fraction",
    "basis",
    "limit_unit",
    "limit_low",
    "limit_high",
]
"""What may stand beside a result in its row."""


@dataclass(slots=True)
class Section:
    """What a heading says for the rows under it."""

    unit: str | None = None
    unit_cell: Cell | None = None
    method: str | None = None
    fraction: str | None = None
    analyte: str | None = None
    """A label, where the heading names the only analyte of its rows."""
    analyte_cell: Cell | None = None
    basis: str | None = None
    volume: str | None = None
    """In how much water the heading counts: "per 100 mL"."""


@dataclass(slots=True)
class Printed:
    """The pieces of one result, each with its cell."""

    label: str
    label_cell: Cell
    text: str
    value_cell: Cell
    draft: Draft
    section: Section
    head: Cell | None = None
    head_unit: str | None = None
    name: str | None = None
    """The part of the label that names the analyte, where the label says more."""
    cells: dict[str, Cell] = field(default_factory=dict)
    """Role to cell, for everything else in the row."""
    nd_limit: str | None = None
    """Which of the laboratory's two limits "not detected" stands for, where the sheet tells."""
    minus: bool = False
    """The sheet answers with plus and minus."""
    zero_below: bool = False
    """The sheet says that 0 is below a limit."""
    signals: dict[str, dict[str, str]] = field(default_factory=dict)
    """Doubts known already, with the fields of their sentences."""

    def text_of(self, role: str) -> str | None:
        """Return the text of a role's cell."""
        cell = self.cells.get(role)
        return cell.text if cell is not None else None

    def doubt(self, name: str, **fields: str) -> None:
        """Note a doubt."""
        self.signals.setdefault(name, fields)

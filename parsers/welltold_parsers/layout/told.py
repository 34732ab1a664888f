"""What each printed word, or cell of a sheet, was taken for while a file was read."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Literal

from ..geometry import SheetCell, Word
from .cells import Cell
from .head_cells import SAMPLE_ROLES
from .printed import Printed

Role = Literal[
    "results", "limits", "metadata", "quality_control", "beside", "headings", "text", "unread"
]

_LIMITS = frozenset(
    [
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "limit_low",
        "limit_high",
        "limit_unit",
        "nd_defined",
    ]
)
_BESIDE = frozenset({"dilution", "uncertainty", "share", "second_value", "previous", "volume"})
_CONTROL = frozenset({"recovery", "rpd", "spike", "source_result"})
_METADATA = SAMPLE_ROLES | frozenset(
    [
        "report_id",
        "method",
        "method_context",
        "cas",
        "unit",
        "page_unit",
        "qualifier",
        "sign",
        "detect_flag",
        "condition",
        "analyzed",
        "prepared",
        "reported",
        "time_other",
        "batch",
        "number",
        "code",
        "person",
        "lab_name",
        "fraction",
        "basis",
        "violation",
        "status",
        "remark",
    ]
)
_OF_REGION: dict[str, Role] = {
    "qc": "quality_control",
    "qc_sample": "quality_control",
    "blank_sample": "quality_control",
    "history": "beside",
    "summary": "beside",
    "limits": "limits",
}


@cache
def role_of_column(role: str) -> Role | None:
    """Return what the numbers of a column are by its role, None where that is open."""
    if role in _LIMITS:
        return "limits"
    if role in _BESIDE:
        return "beside"
    if role in _CONTROL:
        return "quality_control"
    if role in _METADATA or role.startswith("qualifier_"):
        return "metadata"
    return "headings" if role == "analyte" else None


def role_of_region(region: str | None) -> Role:
    """Return what the numbers of a part of the sheet are that holds no results."""
    return _OF_REGION.get(region or "", "metadata")


class Told:
    """What each word of a page, or cell of a sheet, was taken for."""

    __slots__ = ("_roles",)

    def __init__(self) -> None:
        self._roles: dict[int, tuple[Word | SheetCell, Role]] = {}
        """By identity; the piece itself is kept so that no other takes its place."""

    def tell(self, role: Role, cell: Cell) -> None:
        """Give the words of a cell their role, unless they have one."""
        for piece in pieces(cell):
            self._roles.setdefault(id(piece), (piece, role))

    def result(self, printed: Printed) -> None:
        """Give the pieces of a result their roles."""
        value, text = printed.value_cell, printed.text
        parts = pieces(value)
        whole = len(parts) == 1 or len(parts) <= len(text.split())
        for piece in parts:
            if whole or piece.text.strip("(),.;:") in text:
                self._roles[id(piece)] = piece, "results"
        for role, cell in printed.cells.items():
            self.tell(role_of_column(role) or "beside", cell)
        if printed.label_cell is not value:
            self.tell("headings", printed.label_cell)

    def role(self, piece: Word | SheetCell) -> Role | None:
        """Return what a word, or a cell of a sheet, was taken for."""
        found = self._roles.get(id(piece))
        return found[1] if found is not None else None

    def of_cell(self, cell: Cell) -> Role | None:
        """Return what the first piece of a cell was taken for that was taken for something."""
        known = self._roles
        for piece in pieces(cell):
            found = known.get(id(piece))
            if found is not None:
                return found[1]
        return None


def pieces(cell: Cell) -> Sequence[Word | SheetCell]:
    """Return the words of a cell, or the cell of the sheet that it is."""
    if cell.words:
        return cell.words
    return (cell.source,) if cell.source is not None else ()

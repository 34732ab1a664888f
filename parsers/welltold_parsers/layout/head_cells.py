"""What the cells of a head line announce: a role, an analyte, a key."""

from __future__ import annotations

from .cells import Cell
from .isotopes import is_isotope
from .sheet_names import is_amount
from .tokens import analyte_in, analytes_within, unit_of, value_of
from .words import head_of, segments

SAMPLE_ROLES = frozenset(
    {
        "lab_id",
        "sample_id",
        "client_id",
        "point",
        "collected",
        "collected_time",
        "received",
        "matrix",
        "taken",
        "sample_type",
    }
)
TABLE_ROLES = frozenset(
    {
        "unit",
        "qualifier",
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "status",
        "method",
        "cas",
        "analyzed",
    }
)
STRONG = 0.95
"""The score from which a text is a head outright."""
_FEW = 4
"""A title has more words, a remark more than twice as many."""


def roles_in(cell: Cell) -> tuple[str, ...]:
    """Return the roles that a cell announces outright; several when heads are glued."""
    if cell.text.endswith(":"):
        return ()
    head = head_of(cell.text)
    if head and head.score >= STRONG:
        return (head.role,)
    return tuple(role for _, _, role in segments(cell.text))


def is_key(cell: Cell) -> bool:
    """Whether a cell is a key, alone or with its value: "Job ID: 340-71822-1"."""
    key, colon, value = cell.text.partition(":")
    if not colon or not value.strip():
        return bool(colon)
    head = head_of(key)
    return head is not None and head.score >= STRONG


def head_analyte(text: str) -> str | None:
    """Return the slug of the one analyte that a column head names, or None."""
    if len(text) > 90 or is_isotope(text) or is_amount(text):
        return None
    exact = analyte_in(text)
    if exact:
        return exact.slug
    head = head_of(text)
    if head and head.score >= STRONG:
        return None
    within = {m.slug for _, _, m in analytes_within(text)}
    return within.pop() if len(within) == 1 and len(text.split()) <= 10 else None


def is_value(cell: Cell) -> bool:
    """Whether a cell is a result and no unit, though some texts could be both."""
    return value_of(cell.text) is not None and unit_of(cell.text) is None


def is_remark(cell: Cell) -> bool:
    """Whether a cell of a page is a sentence on the table, too long for one line of one head."""
    words = len(cell.text.split())
    if cell.line.sheet is not None or words <= _FEW:
        return False
    return cell.text.endswith(".") or (words > 2 * _FEW and len(segments(cell.text)) <= 2)


def overlap(a: Cell, b: Cell) -> bool:
    """Whether one cell stands over the other; on a page 6 points of white between them may be."""
    slack = 0.0 if a.line.sheet is not None else 6.0
    return min(a.right, b.right) - max(a.left, b.left) > -slack

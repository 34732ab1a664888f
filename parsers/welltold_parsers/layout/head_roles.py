"""The role of one column: what its head announces, set right by what its cells hold."""

from __future__ import annotations

from .content import Content
from .head_cells import SAMPLE_ROLES
from .words import Head

SURE = 0.9
"""From this score on a head names its role outright."""
HEAD_IS_SAMPLE = SAMPLE_ROLES | {"report_id"}
_NEVER_MEASURED_IF_VAGUE = frozenset(
    {"analyzed", "prepared", "reported", "person", "lab_name", "time_other", "volume", "number"}
)
_INSTEAD = {
    "printed_limit": "status",
    "result": "printed_limit",
    "method": "analyte",
    "uncertainty": "result",
}
"""What a column is whose cells cannot be what its head says."""
_NEVER_MEASURED = frozenset({"lab_id", "collected", "received"})


def role_of(head: Head | None, content: Content) -> str:
    """Return the role of one column; "" when it is open."""
    if head is None:
        return content.guess()
    if content.all_signs() and head.score < SURE:
        return content.all_signs()
    if head.role == "lab_name" and content.filled and content.flag == content.filled:
        return "qualifier"  # the first word of a head that was cut in two: "Lab Q"
    if head.role in HEAD_IS_SAMPLE:
        return _of_sample(head, content)
    if head.score < SURE and head.role in _NEVER_MEASURED_IF_VAGUE and _measured(content):
        return ""  # "Dead End 06/10/26" names a place, not when an analysis ended
    return _corrected(head.role, content)


def _measured(content: Content) -> bool:
    """Whether the cells are plainly numbers that somebody measured."""
    told = content.censored or content.decimal > 0.3 * content.number
    return bool(told) and content.results() and not content.date


def _of_sample(head: Head, content: Content) -> str:
    """Return the role of a head that names a sample; it may stand over that sample's results."""
    if head.score < SURE and content.range_ - content.serial > 0.5 * content.filled:
        return ""  # "Sample vial scale" over "0 - 10": a sample has no range for its name
    if not content.results():
        return head.role
    measured = content.censored or content.decimal > 0.3 * content.number
    if head.score < SURE or (measured and head.role not in _NEVER_MEASURED):
        return ""
    if head.role == "taken" and content.numeric_results():
        return "result"  # "First Draw (ppb)": the head says how it was taken, the cells how much
    return head.role


def _corrected(role: str, content: Content) -> str:
    """Overrule a head whose cells cannot be what it says."""
    filled = content.filled
    wrong = {
        "analyte": content.value > 0.6 * filled and not content.analyte,
        "unit": content.unit == 0 and content.value > 0,
        "printed_limit": content.word > 0.6 * max(filled, 1) and not content.value,
        "result": filled > 1 and content.range_ > 0.7 * filled,
        "uncertainty": content.spread > 0.6 * filled,
        "qualifier": _measured(content) and content.flag < 0.5 * filled,
        "method": not content.method and content.analyte > 0.5 * filled,
    }
    if not filled or not wrong.get(role):
        return role
    return _INSTEAD.get(role, "")

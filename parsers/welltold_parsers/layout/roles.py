"""What the columns of a table are, and what their heads announce."""

from __future__ import annotations

from dataclasses import dataclass, field

from .cells import Cell
from .column import Column
from .head_roles import SURE
from .words import Head, head_of

_NOT_RESULTS = frozenset(
    [
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "dilution",
        "batch",
        "number",
        "uncertainty",
        "recovery",
        "rpd",
        "spike",
        "source_result",
        "previous",
        "share",
        "second_value",
        "limit_low",
        "limit_high",
        "volume",
        "code",
        "violation",
        "analyzed",
        "prepared",
        "reported",
        "time_other",
        "cas",
        "method",
        "method_context",
        "person",
    ]
)


@dataclass(slots=True)
class ResultColumn:
    """One column of results and the columns that belong to it alone."""

    index: int
    head: Cell | None
    unit: str | None = None
    """The unit in the column's head, as printed."""
    sample: str | None = None
    """What the head says of the sample, where samples stand side by side."""
    own: dict[str, int] = field(default_factory=dict)


@dataclass(slots=True)
class Plan:
    """The roles of a table whose rows are analytes."""

    analyte: int | None
    results: list[ResultColumn]
    shared: dict[str, int]
    """Role to column, for the roles that serve all result columns."""
    sure: bool
    """The result column was named by its head, or is the only one that can be."""
    roles: list[str]
    labels: list[int] = field(default_factory=list)
    """Further columns that carry a part of the label."""

    def column(self, role: str, result: ResultColumn) -> int | None:
        """Return the column of a role for this result column."""
        return result.own.get(role, self.shared.get(role))

    def more_flags(self, result: ResultColumn) -> list[tuple[str, int]]:
        """Return the further columns of flags of this result column, however many there are."""
        places = {**self.shared, **result.own}
        return [(role, at) for role, at in places.items() if role.startswith("qualifier_")]


def column_head(column: Column) -> Head | None:
    """Return what the head of a column announces, its stacked lines taken together or apart."""
    cells = column.head_cells
    whole = head_of(column.head) if column.head else None
    if (whole and whole.score >= SURE) or len(cells) < 2:
        return whole
    options = [
        whole,
        head_of(cells[-1].text),
        head_of(" ".join(c.text for c in cells[-2:])),
        head_of(cells[0].text),
    ]
    best = max((o for o in options if o), key=lambda o: o.score, default=None)
    unit = next((o.unit for o in options if o and o.unit), None)
    return best._replace(unit=best.unit or unit, score=min(best.score, 0.94)) if best else None


def is_no_result(role: str) -> bool:
    """Whether numbers in a column of this role are accounted for as something else."""
    return role in _NOT_RESULTS

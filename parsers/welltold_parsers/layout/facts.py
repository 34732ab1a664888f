"""One key of a sheet with its value, and which keys there are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from .cells import Cell
from .head_cells import SAMPLE_ROLES

KEYS = SAMPLE_ROLES | frozenset(
    [
        "report_id",
        "lab_name",
        "reported",
        "person",
        "coll_recd",
        "analyzed",
        "prepared",
        "unit",
        "method",
        "batch",
        "time_other",
        "volume",
        "remark",
        "number",
    ]
)
BARE_KEYS = SAMPLE_ROLES | {"report_id", "person", "reported"}
"""Keys that sheets print without a colon too."""
IDENTITY = frozenset({"lab_id", "sample_id", "client_id", "point"})
DATES = frozenset({"collected", "received", "reported"})
NUMBERS = frozenset({"lab_id", "sample_id", "client_id", "report_id"})
"""Keys whose value has a digit."""


class Fact(NamedTuple):
    """One key with its value."""

    role: str
    text: str
    key: str
    cell: Cell


def sample_facts(facts: list[Fact]) -> Iterator[tuple[str, str]]:
    """Yield the facts that describe a sample, a joined "collected / received" taken apart."""
    for fact in facts:
        if fact.role == "coll_recd":
            both = re.split(r"\s*/\s*(?=\D*\d+[/-]\d+[/-])|\s{2,}|\s+-\s+", fact.text)
            if len(both) == 2:
                yield "collected", both[0]
                yield "received", both[1]
        elif fact.role in SAMPLE_ROLES or fact.role == "report_id":
            yield fact.role, fact.text

"""The tables behind doubt: what a sample, a mark of the lab or equipment leaves open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache
from typing import Literal, cast, get_args

from ..interpretation import Urgency
from ..tables import Row, read_table
from .names import group_of

When = Literal[
    "not_stood",
    "draw_unknown",
    "chlorine_left",
    "shocked",
    "flooded",
    "gas_unkept",
    "bubbles",
    "not_acidified",
    "dissolved_only",
]
Hides = Literal["", "low", "all"]
BEHIND = "behind_equipment"
"""Name of the doubt about water that went through equipment."""
URGENCIES = frozenset({"", "now", "soon"})


@dataclass(frozen=True, slots=True)
class Doubt:
    """One reason why a result may not show what is in the water."""

    name: str
    of: tuple[str, ...]
    """Slugs, ``group:NAME`` or ``*``."""
    hides: Hides
    """``low``: what is under its level is open; ``all``: everything is."""
    urgency: Urgency | None
    why: str
    steps: tuple[str, ...]
    sure: float = 1.0
    when: When | None = None

    def about(self, slug: str) -> bool:
        """Whether it is about this analyte."""
        return names(self.of, slug)


@dataclass(frozen=True, slots=True)
class Evidence:
    """What shows how a nitrogen result is counted."""

    slug: str
    by: Literal["limit", "method"]
    value: str
    basis: str
    why: str


@lru_cache(maxsize=65536)
def names(listed: tuple[str, ...], slug: str) -> bool:
    """Whether a list of slugs, groups and ``*`` names an analyte."""
    return slug in listed or f"group:{group_of(slug)}" in listed or "*" in listed


@cache
def sampling_doubts() -> tuple[Doubt, ...]:
    """Return what the way of sampling can hide, in the order of the table."""
    allowed = frozenset(get_args(When))
    return tuple(
        Doubt(
            row.text("doubt"),
            listed(row, "of"),
            "low",
            _urgency(row),
            row.text("why"),
            listed(row, "steps"),
            when=cast("When", row.choice("when", allowed)),
        )
        for row in read_table("sampling_doubts.csv")
        if row.text("source")
    )


@cache
def flag_effects() -> Mapping[str, tuple[Doubt, ...]]:
    """Return what each mark changes; the first row that names an analyte counts."""
    found: dict[str, list[Doubt]] = {}
    for row in read_table("flag_effects.csv"):
        sure = row.number("sure")
        if sure is None or not 0 < sure < 1 or not row.text("source"):
            raise row.wrong("sure must lie between 0 and 1")
        hides = cast("Hides", row.choice("hides", frozenset(get_args(Hides))))
        flag = row.text("flag")
        doubt = Doubt(
            f"flag_{flag}",
            listed(row, "of"),
            hides,
            _urgency(row),
            row.text("why"),
            listed(row, "steps"),
            float(sure),
        )
        found.setdefault(flag, []).append(doubt)
    return {flag: tuple(rows) for flag, rows in found.items()}


@cache
def estimated_marks() -> frozenset[str]:
    """Return the marks by which a lab says that the number itself is an estimate."""
    known = frozenset({"estimated", ""})
    rows = read_table("flag_effects.csv")
    return frozenset(row.text("flag") for row in rows if row.choice("number", known))


@cache
def waiting_limits() -> tuple[tuple[Doubt, int], ...]:
    """Return how many hours each kind of sample may wait, with what is open after that."""
    return tuple(
        (
            Doubt(
                "waited",
                listed(row, "of"),
                "low",
                _urgency(row),
                row.text("why"),
                listed(row, "steps"),
            ),
            int(row.text("hours")),
        )
        for row in read_table("waiting_limits.csv")
        if row.text("source")
    )


@cache
def known_marks() -> frozenset[str]:
    """Return every mark whose usual meaning is known."""
    return frozenset(row.text("flag") for row in read_table("qualifiers.csv"))


@cache
def hidden_by() -> Mapping[str, tuple[str, ...]]:
    """Return what each stage in front of the tap can take out."""
    return {row.text("stage"): listed(row, "hides") for row in read_table("equipment_hides.csv")}


@cache
def remark_words() -> Mapping[str, tuple[str, ...]]:
    """Return the words that stand for each remark."""
    return {row.text("remark"): listed(row, "words") for row in read_table("remarks.csv")}


@cache
def precision() -> Mapping[str, tuple[Decimal, Decimal, str]]:
    """Return percent, smallest amount and its unit, by slug."""
    return {
        row.text("slug"): (_number(row, "percent"), _number(row, "from"), row.text("unit"))
        for row in read_table("test_precision.csv")
        if row.text("source")
    }


@cache
def evidence() -> tuple[Evidence, ...]:
    """Return what settles a basis."""
    by = frozenset({"limit", "method"})
    return tuple(
        Evidence(
            row.text("slug"),
            cast("Literal['limit', 'method']", row.choice("by", by)),
            row.text("value"),
            row.text("basis"),
            row.text("why"),
        )
        for row in read_table("basis_evidence.csv")
        if row.text("source")
    )


def listed(row: Row, column: str) -> tuple[str, ...]:
    """Return the parts of a cell that are separated by |."""
    return tuple(row.cells[column].split("|")) if row.cells[column] else ()


def _urgency(row: Row) -> Urgency | None:
    return cast("Urgency | None", row.choice("urgency", URGENCIES) or None)


def _number(row: Row, column: str) -> Decimal:
    number = row.number(column)
    if number is None:
        raise row.wrong(f"{column} is empty")
    return number

"""The tables of the search: kinds of slip, words of a status column, and its numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, cast, get_args

from ..tables import read_table

SlipKind = Literal["decimal", "unit", "basis", "swap", "digit", "lost_sign"]


@dataclass(frozen=True, slots=True)
class Slip:
    """One row of ``data/slips.csv``."""

    kind: SlipKind
    of: str
    change: str
    weight: float


@cache
def slips() -> Mapping[SlipKind, tuple[Slip, ...]]:
    """Return the slips by kind; DataFileError on a row that cannot be."""
    kinds = get_args(SlipKind)
    found: dict[SlipKind, list[Slip]] = {kind: [] for kind in kinds}
    for row in read_table("slips.csv"):
        kind = cast("SlipKind", row.choice("kind", frozenset(kinds)))
        weight = row.number("weight")
        if not weight or not row.text("source"):
            raise row.wrong("weight is empty")
        found[kind].append(Slip(kind, row.cells["of"], row.cells["change"], float(weight)))
    return {kind: tuple(of) for kind, of in found.items()}


@cache
def _rules() -> Mapping[str, float]:
    return {row.text("name"): float(row.text("value")) for row in read_table("slip_rules.csv")}


def rule(name: str) -> float:
    """Return one number of ``data/slip_rules.csv``; KeyError."""
    return _rules()[name]


@cache
def status_words() -> Mapping[str, str]:
    """Return "over" or "within" by the word of a status column, upper case."""
    both = frozenset({"over", "within"})
    return {row.text("word"): row.choice("says", both) for row in read_table("slip_words.csv")}


@cache
def usual() -> Mapping[str, tuple[float, float]]:
    """Return by analyte its usual amount, in its own unit and basis, and the spread in decades."""
    return {
        row.text("slug"): (float(row.text("middle")), float(row.text("decades")))
        for row in read_table("slip_usual.csv")
    }

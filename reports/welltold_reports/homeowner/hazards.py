"""What a health concern means for the uses of the water: ``data/hazards.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, cast

from welltold.analytes import registry
from welltold.tables import Row, read_table

USES = ("drink", "baby", "cook", "teeth", "bath", "pets", "garden")
Answer = Literal["bottled", "boil", "ask", "cant_tell", "not_known_risk", "none"]
ANSWERS: tuple[Answer, ...] = ("bottled", "boil", "ask", "cant_tell", "not_known_risk", "none")
"""From the one that decides a use, whatever else is said, to the one that decides nothing."""
SIGNALS = ("danger", "warning", "caution", "notice")
"""Gravest first."""
FUMES = "fumes"
_CELLS = frozenset({"bottled", "germs", "ask", "not_known_risk", "none"})


@dataclass(frozen=True, slots=True, eq=False)
class Hazard:
    """One row of the table."""

    name: str
    rank: int
    """Its place in the table; the smaller, the graver."""
    signal: str | None
    advice: tuple[str, ...]
    calls: tuple[str, ...]
    uses: Mapping[str, str]
    """Use to answer; ``germs`` is "boil first" where the boil rule allows it, else "bottled"."""
    notes: Mapping[str, str]


@cache
def _table() -> tuple[tuple[tuple[str, ...], Hazard], ...]:
    return tuple(
        (tuple(row.cells["analytes"].split()), _hazard(row)) for row in read_table("hazards.csv")
    )


def _hazard(row: Row) -> Hazard:
    signal = row.choice("signal", frozenset({*SIGNALS, "-"}))
    return Hazard(
        name=row.text("hazard"),
        rank=row.line,
        signal=None if signal == "-" else signal,
        advice=_names(row, "advice"),
        calls=_names(row, "calls"),
        uses={use: row.choice(use, _CELLS) for use in USES},
        notes=dict(cast("tuple[str, str]", pair.split("=", 1)) for pair in _names(row, "notes")),
    )


def _names(row: Row, column: str) -> tuple[str, ...]:
    text = row.text(column)
    return () if text == "-" else tuple(text.split())


def hazard_named(name: str) -> Hazard:
    """Return a row by its name."""
    return next(hazard for _, hazard in _table() if hazard.name == name)


@cache
def hazard_of(slug: str | None) -> Hazard:
    """Return the row for an analyte: its own, else its group's, else the last one, "other"."""
    known = registry().get(slug or "")
    group = f"group:{known.group}" if known else ""
    table = _table()
    for key in (slug, group):
        for analytes, hazard in table:
            if key and key in analytes:
                return hazard
    return table[-1][1]

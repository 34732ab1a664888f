"""How often the true slip is named first, and how often a sheet without one is accused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from math import sqrt
from typing import TYPE_CHECKING

from welltold.checks.sheet import spans_of
from welltold.reading import Result, Sample
from welltold.site import Site
from welltold.slips import Suspect, suspects
from welltold.slips.settling import checked, standing

if TYPE_CHECKING:
    from slips.seeded import Seeded, Waters

HOME = Site()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one sheet with a slip."""

    kind: str
    doubts: int
    """How many checks the slip trips that the same sheet without it does not."""
    named: int
    """Place of the truth among the suspects, from 1; 0: not among them."""
    others: int
    """How many suspects were named in all."""


def outcomes(waters: Waters, count: int) -> Iterator[Outcome]:
    """Yield what came of ``count`` sheets, a slip of each kind in turn where it can be made."""
    yield from map(outcome, waters.seeded(count))


def false_accusations(waters: Waters, count: int, *, short: bool = False) -> tuple[int, int, int]:
    """Return how many sheets without a slip are accused, how many are doubted, and how many."""
    sheets = list(waters.sheets(count, short=short))
    accused = sum(bool(suspects(sheet, HOME)) for sheet in sheets)
    return accused, sum(bool(doubts(sheet)) for sheet in sheets), len(sheets)


def outcome(seeded: Seeded) -> Outcome:
    """Return what the search makes of one sheet."""
    tripped = doubts(seeded.sample) - doubts(seeded.truth)
    found = suspects(seeded.sample, HOME)
    named = [place for place, one in enumerate(found, 1) if is_true(one, seeded)]
    return Outcome(seeded.kind, len(tripped), named[0] if named else 0, len(found))


def doubts(sample: Sample) -> frozenset[str]:
    """Return the checks that doubt a sheet."""
    return standing(checked(sample, HOME), sample.results).doubt


def is_true(suspect: Suspect, seeded: Seeded) -> bool:
    """Whether a suspect names the rows that slipped, and the amount that stood there before."""
    rows = [seeded.truth.results[at] for at in seeded.rows]
    if {suspect.analyte, suspect.other} - {None} != {row.analyte for row in rows}:
        return False
    if suspect.other is not None:
        return True
    return bool(rows) and _same(suspect, seeded, rows[0])


def _same(suspect: Suspect, seeded: Seeded, truth: Result) -> bool:
    """Whether the proposed amount is the true one, but for the digits lost on the way."""
    if truth.state == "below" or suspect.proposed.startswith("<"):
        return suspect.proposed == truth.text
    number, *unit = suspect.proposed.split(" ")
    row = seeded.sample.results[next(iter(seeded.rows))]
    read = replace(
        row,
        value=Decimal(number),
        unit=unit[0] if unit else row.unit,
        basis=unit[2] if len(unit) == 3 else row.basis,
    )
    own, told = (amount(one, truth) for one in (truth, read))
    return abs(told / own - 1) < Decimal("0.02")


def amount(row: Result, like: Result) -> Decimal:
    """Return the amount of a row in the unit and basis of another."""
    (span,) = spans_of(row, like.unit or "", like.basis)
    return span.low


def bounds(hits: int, count: int) -> tuple[float, float]:
    """Return the 95 % bounds of a share (Wilson 1927)."""
    z, share = 1.96, hits / count
    middle = share + z * z / (2 * count)
    half = z * sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    return (middle - half) / (1 + z * z / count), (middle + half) / (1 + z * z / count)

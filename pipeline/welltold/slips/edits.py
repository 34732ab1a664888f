"""Every single edit of a sheet that a known slip can have undone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from ..reading import Result
from ..units import unit
from .rules import Slip, SlipKind, rule, slips

STEPS = ("ng/L", "ug/L", "mg/L", "g/L"), ("uS/cm", "mS/cm")
"""Units a thousand apart."""
NEAR, DIGITS_LOOKED_AT = 1, 3
"""Digits behind the third change too little for any check."""
OPEN_BASIS = {"alkalinity": "CaCO3", "bicarbonate": "HCO3", "calcium": "Ca", "magnesium": "Mg"}
"""As what these count where the sheet does not say."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One edit: the rows of the sample that would read otherwise, and how likely such a slip is."""

    kind: SlipKind
    rows: tuple[tuple[int, Result], ...]
    """Position in ``Sample.results``, and the result as it would read; two of them for a swap."""
    weight: float
    """Chance of this slip in this row, before any evidence."""

    @property
    def position(self) -> int:
        """Position of the row that is named."""
        return self.rows[0][0]


def edits(results: Sequence[Result], positions: Sequence[int]) -> Iterator[Edit]:
    """Yield the edits of the rows at ``positions``; a corrected row is settled and left alone."""
    open_rows = [at for at in positions if results[at].correction is None]
    for at in open_rows:
        if results[at].state == "value" and results[at].value is not None:
            for slip, edited in _of(results[at]):
                yield Edit(slip.kind, ((at, edited),), slip.weight * rule("slip_share"))
    near, far = (slip.weight * rule("slip_share") for slip in slips()["swap"])
    for index, one in enumerate(open_rows):
        for other in open_rows[index + 1 :]:
            rows = _swapped(results, one, other)
            if rows:
                yield Edit("swap", rows, near if other - one <= NEAR else far)


def _of(result: Result) -> Iterator[tuple[Slip, Result]]:
    """Yield the edits of one row that holds a number."""
    value = result.value or Decimal(0)
    for slip in slips()["decimal"]:
        if value:
            yield slip, with_value(result, value.scaleb(int(slip.change)))
    for slip in slips()["digit"]:
        yield from ((slip, with_value(result, other)) for other in _confused(value, slip.of))
    yield from _units(result)
    yield from _bases(result)
    for slip in slips()["lost_sign"]:
        if value > 0 and value in {result.reporting_limit, result.detection_limit}:
            below = replace(result, text=f"<{result.text}", state="below", operator="<")
            yield slip, below


def with_value(result: Result, value: Decimal) -> Result:
    """Return a result that prints another number."""
    return replace(result, text=f"{value:f}", value=value, normalized=None, alternatives=())


def _confused(value: Decimal, pair: str) -> Iterator[Decimal]:
    """Yield the numbers in which one digit is the other of a pair."""
    sign, digits, exponent = value.as_tuple()
    one, other = (int(digit) for digit in pair.split("-"))
    for at, digit in enumerate(digits[:DIGITS_LOOKED_AT]):
        if digit in {one, other}:
            changed = (*digits[:at], other if digit == one else one, *digits[at + 1 :])
            if changed[0]:
                yield Decimal((sign, changed, int(exponent)))


def _units(result: Result) -> Iterator[tuple[Slip, Result]]:
    known = unit(result.unit) if result.unit else None
    ladder = next((ladder for ladder in STEPS if known and known.name in ladder), None)
    if known is None or ladder is None:
        return
    basis = result.basis or known.basis
    for slip in slips()["unit"]:
        at = ladder.index(known.name) + int(slip.change)
        if 0 <= at < len(ladder):
            yield slip, replace(result, unit=ladder[at], basis=basis, normalized=None)


def _bases(result: Result) -> Iterator[tuple[Slip, Result]]:
    slug = result.analyte or ""
    known = unit(result.unit) if result.unit else None
    if known is None:
        return
    basis = result.basis or known.basis or OPEN_BASIS.get(slug)
    for slip in slips()["basis"]:
        printed, meant = slip.change.split(">")
        if slip.of == slug and basis == printed:
            yield slip, replace(result, unit=known.name, basis=meant, normalized=None)


def _swapped(
    results: Sequence[Result], one: int, other: int
) -> tuple[tuple[int, Result], tuple[int, Result]] | None:
    first, second = results[one], results[other]
    if first.analyte == second.analyte or first.text == second.text:
        return None
    return (one, _as(first, second)), (other, _as(second, first))


def _as(row: Result, content: Result) -> Result:
    """Return a row with the printed result of another, in its own unit."""
    return replace(
        row,
        text=content.text,
        state=content.state,
        operator=content.operator,
        value=content.value,
        normalized=None,
        alternatives=(),
    )

"""How far a printed result may be off: its limit, its other readings, the laboratory's spread."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ..errors import UnitMismatchError
from ..interpretation import Finding
from ..reading import Result, Sample
from ..thresholds import sure
from ..units import convert
from ..values import parse_value
from ..verdicts.doubt_tables import precision


@dataclass(frozen=True, slots=True)
class Spread:
    """The values that a finding can stand for, in its own unit."""

    test: str
    low: Decimal
    high: Decimal
    others: tuple[Decimal, ...] = ()
    """Other readings; then ``low`` is the one that was chosen, and nothing lies in between."""
    sure: float = 0.0
    """Share of such readings that is right; only with ``others``."""

    def at(self, share: float) -> Decimal:
        """Return the value at a share of the way, 0 to 1."""
        if not self.others:
            return short(float(self.low) + share * float(self.high - self.low))
        if share < self.sure:
            return self.low
        rest = (share - self.sure) / (1 - self.sure)
        return self.others[min(int(rest * len(self.others)), len(self.others) - 1)]


def spread_of(finding: Finding, sample: Sample) -> Spread | None:
    """Return how far a finding may be off; None where it is known, or nobody can tell."""
    if finding.operator == "<" and finding.value:
        return Spread("lower_limit", Decimal(0), finding.value)
    low, high = finding.low, finding.high
    if low is not None and high is not None and low != high:
        return Spread("read_again", low, high, (high,), 0.5)
    if finding.value is None or finding.value <= 0 or finding.operator not in {"=", None}:
        return None
    row = _row(finding, sample)
    return (row and _other_readings(finding, row)) or _of_the_lab(finding, row)


def short(value: float) -> Decimal:
    """Return a number with the four digits that a laboratory would print."""
    return Decimal(f"{value:.4g}")


def _row(finding: Finding, sample: Sample) -> Result | None:
    """Return the line of the sheet from which a finding comes."""
    alike = (
        one
        for one in sample.results
        if (one.analyte, one.text) == (finding.analyte, finding.text) and one.value
    )
    return next(alike, None)


def _other_readings(finding: Finding, row: Result) -> Spread | None:
    values = (one.value for one in row.alternatives if one.value is not None)
    if sure(row.confidence) or row.value is None or finding.value is None:
        return None
    # the unit of the finding may be another one than that of the line
    others = tuple(finding.value * value / row.value for value in values)
    if not others:
        return None
    return Spread("read_again", finding.value, max(others), others, row.confidence)


def _of_the_lab(finding: Finding, row: Result | None) -> Spread | None:
    value = finding.value or Decimal(0)
    parsed = parse_value(row.text) if row else None
    if row and row.value and parsed and parsed.uncertainty and parsed.value == row.value:
        off = value * parsed.uncertainty / row.value
    else:
        off = value * _percent(finding, value) / 100
    return Spread("repeat_test", max(value - off, Decimal(0)), value + off) if off else None


def _percent(finding: Finding, value: Decimal) -> Decimal:
    """Return what the table of precision allows a laboratory; 0 where it does not say."""
    known = precision().get(finding.analyte or "")
    if known is None or finding.unit is None:
        return Decimal(0)
    percent, least, unit = known
    try:
        amount = convert(
            value, finding.analyte or "", finding.unit, finding.basis, unit, finding.basis
        )
    except UnitMismatchError:
        return Decimal(0)
    return percent if amount >= least else Decimal(0)

"""What the findings say about the raw water, as intervals.

A result below a limit is an interval from nothing to the limit, a result above one is open at the
top; several findings of one analyte give the interval that covers them all. Nothing is ever 0 for
"not found", and what cannot be brought into the asked unit is not known.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from decimal import Decimal

from ..conversion import convert, own_bases
from ..errors import UnitMismatchError
from ..interpretation import Finding
from ..reading import Sample
from ..site import Site
from ..thresholds import sure
from .knowledge import Limit, Op


@dataclass(frozen=True, slots=True)
class Amount:
    """An interval in the asked unit; ``high`` None: no upper end is known."""

    low: Decimal
    high: Decimal | None
    sure: bool = True
    """False: read with doubt, or only the dissolved part is known."""

    def holds(self, op: Op, limit: Decimal) -> bool | None:
        """Return whether the whole interval meets the limit; None if it lies across it."""
        answers = {_compare(self.low, op, limit), _at_top(self.high, op, limit)}
        return answers.pop() if len(answers) == 1 else None

    def plus(self, other: Amount) -> Amount:
        """Return the sum."""
        high = None if self.high is None or other.high is None else self.high + other.high
        return Amount(self.low + other.low, high, self.sure and other.sure)


@dataclass(frozen=True, slots=True)
class Water:
    """The findings of one sample, with the facts of its sample and site."""

    findings: tuple[Finding, ...]
    sample: Sample
    site: Site
    beside: tuple[Sample, ...] = ()
    """The other samples of the sheet from the same point."""
    _known: dict[tuple[str, str, str | None], Amount | None] = field(
        default_factory=dict, compare=False, repr=False
    )

    def amount(self, fact: str, unit: str, basis: str | None = None) -> Amount | None:
        """Return how much there is, or None if nobody knows."""
        if fact == "iron_and_manganese":
            iron, manganese = (self.amount(slug, unit) for slug in ("iron", "manganese"))
            return iron.plus(manganese) if iron and manganese else None
        if fact == "iron_dissolved":
            return self._dissolved_iron(unit)
        key = fact, unit, basis
        if key not in self._known:
            self._known[key] = self._measured(fact, unit, basis)
        return self._known[key]

    def meets(self, test: Limit) -> bool | None:
        """Return whether a test holds; None if that is not known."""
        amount = self.amount(test.fact, test.unit, test.basis)
        return amount.holds(test.op, test.value) if amount else None

    def present(self, slugs: Collection[str]) -> bool | None:
        """Return whether any of these was found; None if none of them was tested."""
        known = [found for finding in self.of(*slugs) if (found := is_found(finding)) is not None]
        return any(known) if known else None

    def of(self, *slugs: str) -> tuple[Finding, ...]:
        """Return the tested findings of these analytes."""
        return tuple(
            finding
            for finding in self.findings
            if finding.analyte in slugs and finding.verdict != "not_tested"
        )

    def _dissolved_iron(self, unit: str) -> Amount | None:
        """Return iron that passes the lab's filter; None where nobody filtered a sample."""
        filtered = [one for one in self.of("iron") if one.fraction == "dissolved"]
        bounds = [_bounds(one, "iron", unit, None) for one in filtered]
        if len(bounds) != 1 or bounds[0] is None:
            return None
        low, high = bounds[0]
        return Amount(low, high, sure(filtered[0].confidence))

    def _measured(self, slug: str, unit: str, basis: str | None) -> Amount | None:
        tested = self.of(slug)
        whole = tuple(finding for finding in tested if finding.fraction != "dissolved")
        bounds = [
            (bound, sure(finding.confidence) and bool(whole))
            for finding in whole or tested
            if (bound := _bounds(finding, slug, unit, basis)) is not None
        ]
        if not bounds:
            return None
        highs = [high for (_, high), _ in bounds]
        return Amount(
            min(low for (low, _), _ in bounds),
            None if None in highs else max(high for high in highs if high is not None),
            all(sure for _, sure in bounds),
        )


def is_found(finding: Finding) -> bool | None:
    """Return whether the analyte was found at all; None if the finding does not say."""
    if finding.present is not None:
        return finding.present
    if finding.value is None:
        return None
    return finding.operator != "<" and finding.value > 0


def _bounds(
    finding: Finding, slug: str, unit: str, basis: str | None
) -> tuple[Decimal, Decimal | None] | None:
    low, high = finding.low, finding.high
    if low is None and high is None:
        if finding.value is None or (
            finding.verdict == "cant_tell" and finding.operator in {"=", None}
        ):
            return None
        low = None if finding.operator == "<" else finding.value
        high = None if finding.operator == ">" else finding.value
    ends = tuple(
        None if end is None else _converted(end, finding, slug, unit, basis) for end in (low, high)
    )
    if (ends[0] is None) != (low is None) or (ends[1] is None) != (high is None):
        return None
    return ends[0] or Decimal(0), ends[1]


def _converted(
    value: Decimal, finding: Finding, slug: str, unit: str, basis: str | None
) -> Decimal | None:
    """Return one end of the interval in the asked unit; None if that cannot be done."""
    if finding.unit is None:
        return None
    wanted = basis or own_bases().get(slug) or finding.basis
    try:
        return convert(value, slug, finding.unit, finding.basis, unit, wanted)
    except UnitMismatchError:
        return None


def _compare(value: Decimal, op: Op, limit: Decimal) -> bool:
    if op == "<=":
        return value <= limit
    if op == ">=":
        return value >= limit
    return value < limit if op == "<" else value > limit


def _at_top(high: Decimal | None, op: Op, limit: Decimal) -> bool:
    if high is None:
        return op in {">=", ">"}
    return _compare(high, op, limit)

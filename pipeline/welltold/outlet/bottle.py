"""One bottle, and what it says of an analyte as a range, with its doubts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..analytes import registry
from ..checks.sheet import Sheet, Span, hull, in_unit, spans_of
from ..interpretation import Finding, LevelUsed
from ..messages import Message, say
from ..reading import Reading, Result, Sample
from ..site import Site
from ..treatment.water import Water
from ..units import unit
from ..verdicts.amounts import UNITLESS, Amount, germ_amounts
from ..verdicts.doubt_tables import estimated_marks

RULES = frozenset({"primary_limit", "action_level", "treatment_technique"})
GERMS = "microbial"


@dataclass(frozen=True, slots=True)
class Bottle:
    """One sample with its sheet, and what its numbers mean as the water stands at that tap."""

    reading: Reading
    sample: Sample
    findings: tuple[Finding, ...]
    """Judged as if nothing stood ahead: here the tap counts, not the well."""
    site: Site
    beside: tuple[Sample, ...] = ()

    @property
    def water(self) -> Water:
        """The same for the simulation."""
        return Water(self.findings, self.sample, self.site, self.beside)

    def rows(self, slug: str) -> tuple[Result, ...]:
        """Return the lines of an analyte that say anything; the total before the dissolved."""
        rows = Sheet(self.sample, (), self.site).rows(slug)
        return tuple(one for one in rows if one.fraction != "dissolved") or rows

    def span(self, slug: str, unit: str, basis: str | None) -> Span | None:
        """Return all that the lines of an analyte leave possible; None where it was not told."""
        return hull(
            span for row in self.rows(slug) for span in _widened(row, spans_of(row, unit, basis))
        )

    def germs(self, slug: str) -> bool | None:
        """Return whether germs were found; None where nobody can say."""
        found = {one.found for row in self.rows(slug) for one in germ_amounts(row)}
        return found.pop() if len(found) == 1 else None

    def text(self, slug: str) -> str:
        """Return the result as it counts, with its printed unit."""
        told = [
            row.stated if (row.unit or "") in row.stated else f"{row.stated} {row.unit}"
            for row in self.rows(slug)
        ]
        return "; ".join(dict.fromkeys(told))

    def level(self, slug: str) -> LevelUsed | None:
        """Return the strictest limit for health, else the strictest advisory; None: no such."""
        levels = [
            level
            for one in self.findings
            if one.analyte == slug
            for level in one.levels
            if level.value is not None
        ]
        rules = [one for one in levels if one.kind in RULES]
        others = [one for one in levels if one.kind == "advisory"]
        return min(rules or others, key=lambda one: _in_own(one, slug), default=None)

    def unit(self, slug: str) -> tuple[str, str | None] | None:
        """Return the unit and basis of the printed result; None where they cannot be had."""
        own = registry()[slug]
        for row in self.rows(slug)[:1]:
            known = unit(row.unit) if row.unit else None
            basis = row.basis or (known.basis if known else None) or own.basis
            if known and any(spans_of(row, known.name, basis)) and own.unit not in UNITLESS:
                return known.name, basis
        return None

    def doubts(self, slug: str) -> Iterator[Message]:
        """Yield what makes a result here doubtful."""
        rows = self.rows(slug)
        if any(row.use == "look" for row in rows):
            yield say("outlet.doubt_look")
        if any(estimated_marks().intersection(row.qualifiers) for row in rows):
            yield say("outlet.doubt_estimated")

    def misread(self, slug: str) -> bool:
        """Whether a person has to look at the line before it can be relied on."""
        return any(row.use == "look" for row in self.rows(slug))


def tested(bottles: Sequence[Bottle]) -> frozenset[str]:
    """Return the analytes that have a result in any of the bottles."""
    return frozenset(row.analyte for one in bottles for row in one.sample.results if row.analyte)


def is_germ(slug: str) -> bool:
    """Whether an analyte is only found or not found."""
    return registry()[slug].group == GERMS


def _widened(row: Result, spans: Iterator[Span]) -> Iterator[Span]:
    """Yield an estimated result as anything up to the limit below which the lab does not vouch."""
    limit = row.reporting_limit
    estimated = estimated_marks().intersection(row.qualifiers)
    for span in spans:
        low_value = row.value is not None and limit is not None and row.value < limit
        if estimated and low_value and span.exact and row.value:
            yield Span(Decimal(0), span.low * (limit or row.value) / row.value)
        else:
            yield span


def _in_own(level: LevelUsed, slug: str) -> Decimal:
    """Return a level in the registry's unit, to put levels in order."""
    own, value = registry()[slug], level.value or Decimal(0)
    amount = Amount(value, value, more_than_low=False, found=None, unit=level.unit)
    told = in_unit(amount, slug, own.unit, own.basis) if level.basis == own.basis else None
    return told.low if told else value

"""What a sheet says of one analyte, as an interval in one unit, for the checks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..errors import UnitMismatchError
from ..interpretation import Finding
from ..reading import Result, Sample
from ..site import Site
from ..verdicts.amounts import Amount, converted, possible

ON_SITE = re.compile(r"\b(field|on[- ]?site|in[- ]?situ)\b", re.IGNORECASE)
FILTERED = "dissolved"
REJECTED = "R"
"""The flag of a result that its own reviewer does not stand behind."""


@dataclass(frozen=True, slots=True)
class Span:
    """Lowest and highest amount that the sheet leaves possible."""

    low: Decimal
    high: Decimal | None
    """None: no upper end is known."""

    @property
    def exact(self) -> bool:
        """Whether it is one number."""
        return self.low == self.high


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sample, with what has been found and what is known of the site."""

    sample: Sample
    findings: tuple[Finding, ...]
    site: Site
    beside: tuple[Sample, ...] = ()
    """The other bottles of the same tap and day."""

    def rows(self, *slugs: str) -> tuple[Result, ...]:
        """Return the results of these analytes that say anything."""
        wanted = frozenset(slugs)
        return tuple(
            one
            for one in self.sample.results
            if one.analyte in wanted
            and one.state not in {"blank", "unreadable"}
            and REJECTED not in one.qualifiers
        )

    def has(self, *slugs: str) -> bool:
        """Whether any of these analytes has a result."""
        return bool(self.rows(*slugs))

    def span(self, slug: str, unit: str, basis: str | None = None) -> Span | None:
        """Return the one amount of an analyte; None where there is none, or several differ.

        The total counts where there is a dissolved part beside it.
        """
        rows = self.rows(slug)
        whole = [one for one in rows if one.fraction != FILTERED] or list(rows)
        spans = {span for one in whole for span in spans_of(one, unit, basis)}
        return spans.pop() if len(spans) == 1 else None

    def dissolved(self, slug: str, unit: str) -> Span | None:
        """Return the dissolved amount of an analyte; None where it was not tested."""
        rows = [one for one in self.rows(slug) if one.fraction == FILTERED]
        spans = {span for one in rows for span in spans_of(one, unit, None)}
        return spans.pop() if len(spans) == 1 else None

    def number(self, slug: str, unit: str, basis: str | None = None) -> Decimal | None:
        """Return an amount that was measured; None for a limit and for everything else."""
        span = self.span(slug, unit, basis)
        return span.low if span is not None and span.exact else None


def spans_of(result: Result, unit: str, basis: str | None) -> Iterator[Span]:
    """Yield what one result can stand for in a unit; nothing where the unit does not fit."""
    for amount in possible(result, result.label).amounts:
        told = in_unit(amount, result.analyte or "", unit, basis)
        if told is not None:
            yield Span(told.low, told.high)


def hull(spans: Iterable[Span]) -> Span | None:
    """Return the interval over all of them; None where there is none."""
    every = tuple(spans)
    if not every:
        return None
    highs = [span.high for span in every if span.high is not None]
    high = max(highs) if len(highs) == len(every) else None
    return Span(min(span.low for span in every), high)


def in_unit(amount: Amount, slug: str, unit: str, basis: str | None) -> Amount | None:
    """Return an amount in a unit and basis; None where that cannot be."""
    if amount.unit is None:
        return None
    try:
        return converted(amount, slug, unit, basis)
    except UnitMismatchError:
        return None


def on_site(result: Result) -> bool:
    """Whether a result was read at the well and not in the laboratory."""
    words = " ".join(filter(None, (result.label, result.method, *result.qualifiers)))
    return bool(ON_SITE.search(words))


def slugs_of(results: Sequence[Result]) -> tuple[str, ...]:
    """Return the analytes of some results, each once, in the sheet's order."""
    return tuple(dict.fromkeys(one.analyte for one in results if one.analyte))

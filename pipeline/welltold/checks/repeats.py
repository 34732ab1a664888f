"""The same thing measured twice: duplicates, and pH at the well against pH in the lab."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from ..analytes import Analyte, registry
from ..interpretation import Check
from ..messages import Message, say
from ..reading import Result
from ..verdicts.amounts import germ_amounts
from ..verdicts.names import name_of
from .rules import doubt, fits, limit, not_possible, rounded
from .sheet import Sheet, Span, hull, on_site, slugs_of, spans_of

FIELD_LAB, TWICE = "ph_field_lab", "duplicates"
MOVES = frozenset({"temperature", "air_temperature", "dissolved_oxygen", "redox_potential"})
"""What is not the same in the lab as at the well, and need not be."""


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield a check for every analyte that the sample has twice."""
    yield from _field_lab(sheet)
    for slug in slugs_of(sheet.sample.results):
        rows = [row for row in sheet.rows(slug) if not (slug == "ph" and on_site(row))]
        own = registry().get(slug)
        if own is None or slug in MOVES or own.group == "index":
            continue
        fractions = Counter(row.fraction for row in rows)
        several = sum(count > 1 for count in fractions.values()) > 1
        for fraction, count in fractions.items():
            if count > 1:
                name = f"{TWICE}:{slug}" + (f":{fraction or 'unnamed'}" if several else "")
                yield _twice(name, own, [row for row in rows if row.fraction == fraction])


def _field_lab(sheet: Sheet) -> Iterator[Check]:
    rows = sheet.rows("ph")
    if rows:  # the meter at the well and the bottle may stand on the sheet as two samples
        rows = (
            *rows,
            *(row for one in sheet.beside for row in replace(sheet, sample=one).rows("ph")),
        )
    field = [row.value for row in rows if on_site(row) and row.state == "value"]
    lab = [row.value for row in rows if not on_site(row) and row.state == "value"]
    if not field or not lab or field[0] is None or lab[0] is None:
        return
    apart = lab[0] - field[0]
    why = say("check.ph_field_lab", field=field[0], lab=lab[0])
    if abs(apart) <= limit(FIELD_LAB, "apart"):
        yield fits(FIELD_LAB, apart, "SU", why)
        return
    reason = say("check.ph_rose" if apart > 0 else "check.ph_fell")
    yield doubt(FIELD_LAB, apart, "SU", why, reason, of=("ph",), settle="ph_at_tap")


def _twice(name: str, own: Analyte, rows: Sequence[Result]) -> Check:
    texts = [f"{row.text} {row.unit or ''}".strip() for row in rows]
    why = say("check.twice", name=name_of(own.slug, own.slug), values=", ".join(texts))
    if own.group == "microbial":
        found = {one.found for row in rows for one in germ_amounts(row)} - {None}
        return _judged(name, why, doubtful=len(found) > 1)
    spans = [hull(spans_of(row, own.unit, own.basis)) for row in rows]
    known = [span for span in spans if span is not None]
    if len(known) < len(rows):
        return not_possible(name, why, say("check.no_number"))
    apart = _apart(own, known, rows)
    if own.slug == "ph":
        figure = rounded(apart, "0.01")
        return _judged(name, why, figure, "SU", doubtful=apart > limit(TWICE, "apart_ph"))
    share = rounded(apart * 100)
    return _judged(name, why, share, "%", doubtful=apart > limit(TWICE, "apart"))


def _judged(
    name: str,
    why: Message,
    value: Decimal | None = None,
    unit: str | None = None,
    *,
    doubtful: bool,
) -> Check:
    if doubtful:
        return doubt(name, value, unit, why, of=(name.split(":")[1],), settle="third")
    return fits(name, value, unit, why)


def _apart(own: Analyte, spans: Sequence[Span], rows: Sequence[Result]) -> Decimal:
    """Return how far the highest low end lies over the lowest high end, as a share of both.

    pH: the difference itself. 0 where the results can be one amount, and where both lie so near
    the reporting limit that such a difference means nothing.
    """
    low = max(span.low for span in spans)
    highs = [span.high for span in spans if span.high is not None]
    if not highs or low <= min(highs):
        return Decimal(0)
    high = min(highs)
    if own.slug == "ph":
        return low - high
    if low < limit(TWICE, "times_limit") * _reporting_limit(own, rows):
        return Decimal(0)
    return 2 * (low - high) / (low + high)


def _reporting_limit(own: Analyte, rows: Sequence[Result]) -> Decimal:
    """Return the reporting limit in the analyte's unit; 0 where none is printed or it is above."""
    limits = [
        span.low
        for row in rows
        if row.reporting_limit is not None and row.reporting_limit > 0
        for span in spans_of(
            replace(row, state="value", operator="=", value=row.reporting_limit, normalized=None),
            own.unit,
            own.basis,
        )
    ]
    return max(limits, default=Decimal(0))

"""A part is never more than the whole: nitrogen, dissolved metals, E. coli."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import say
from ..verdicts.amounts import germ_amounts
from ..verdicts.names import name_of
from ..verdicts.wording import plain
from .rules import agrees, doubt, fits, limit, not_possible, rounded, short
from .sheet import FILTERED, Sheet, Span, spans_of

NITROGEN, GERMS = "nitrogen_of_parts", "e_coli_over_coliform"


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield a check for every whole that stands beside its part."""
    yield from _nitrogen(sheet)
    yield from _dissolved(sheet)
    yield from _germs(sheet)


def _nitrogen(sheet: Sheet) -> Iterator[Check]:
    if not sheet.has("nitrate_nitrite") or not sheet.has("nitrate", "nitrite"):
        return
    total = sheet.span("nitrate_nitrite", "mg/L", "N")
    none = Span(Decimal(0), None)
    parts = [sheet.span(slug, "mg/L", "N") or none for slug in ("nitrate", "nitrite")]
    if total is None or parts == [none, none]:
        yield not_possible(NITROGEN, say("check.no_number"))
        return
    low = sum((part.low for part in parts), Decimal(0))
    highs = [part.high for part in parts if part.high is not None]
    high = sum(highs, Decimal(0)) if len(highs) == len(parts) else None
    apart = Decimal(0)
    if total.high is not None and low > total.high:
        apart = (total.high - low) / low
    if high and total.low > high:
        apart = (total.low - high) / high
    why = say("check.nitrogen", sum=f"{plain(low)} mg/L", printed=_printed(total))
    value = rounded(apart * 100)
    if abs(apart) <= limit(NITROGEN, "apart"):
        yield fits(NITROGEN, value, "%", why)
        return
    of = [slug for slug in ("nitrate_nitrite", "nitrate", "nitrite") if sheet.has(slug)]
    yield doubt(NITROGEN, value, "%", why, of=of, settle="nitrogen")


def _printed(span: Span) -> str:
    if span.high is None:
        return say("speech.amount_more", amount=f"{plain(span.low)} mg/L").text
    high = f"{plain(span.high)} mg/L"
    return high if span.exact else say("speech.amount_less", amount=high).text


def _dissolved(sheet: Sheet) -> Iterator[Check]:
    filtered = [one for one in sheet.sample.results if one.fraction == FILTERED and one.analyte]
    for slug in dict.fromkeys(one.analyte or "" for one in filtered):
        whole = [one for one in sheet.rows(slug) if one.fraction != FILTERED]
        unit = _unit_of(slug)
        total, part = sheet.span(slug, unit), sheet.dissolved(slug, unit)
        if len(whole) == 1 and total is not None and part is not None and total.high is not None:
            limits = [one.reporting_limit for one in whole if one.reporting_limit is not None]
            yield _part_of(slug, part.low, total.high, max(limits, default=Decimal(0)), unit)


def _unit_of(slug: str) -> str:
    from ..analytes import analyte

    return analyte(slug).unit


def _part_of(slug: str, part: Decimal, total: Decimal, reporting: Decimal, unit: str) -> Check:
    name = f"dissolved_over_total:{slug}"
    over = part > total * (1 + limit(name, "apart")) and part - total > reporting
    apart = ((part - total) / total if total else Decimal(1)) if over else Decimal(0)
    fields = {"dissolved": f"{short(part)} {unit}", "total": f"{short(total)} {unit}"}
    why = say("check.dissolved", name=name_of(slug, slug), **fields)
    if not over:
        return fits(name, rounded(apart * 100), "%", why)
    return doubt(name, rounded(apart * 100), "%", why, of=(slug,), settle="bottles")


def _germs(sheet: Sheet) -> Iterator[Check]:
    whole, part = sheet.rows("total_coliform"), sheet.rows("e_coli", "fecal_coliform")
    if not whole or not part:
        return
    found = [one.found for row in part for one in germ_amounts(row)]
    any_found = [one.found for row in whole for one in germ_amounts(row)]
    contradicts = all(found) and not any(one is not False for one in any_found)
    most = [span.high for row in whole for span in spans_of(row, "count/100mL", None)]
    least = [span.low for row in part for span in spans_of(row, "count/100mL", None)]
    if most and least and None not in most:
        contradicts |= min(least) > max(one for one in most if one is not None)
    why = say("check.germs_more" if contradicts else "check.germs_fit")
    if contradicts:
        yield doubt(GERMS, None, None, why, of=("total_coliform", "e_coli"), settle="germs")
    else:
        yield agrees(GERMS, None, None, why)

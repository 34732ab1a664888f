"""Earlier and later sheets of one well, as the tests of what stands beside them need them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from report_making import Sheet, level, sample, view_of

from welltold.earlier import with_earlier
from welltold.interpretation import Interpretation
from welltold.past import Earlier, EarlierResult
from welltold_reports.homeowner import HomeownerReport, build

D = Decimal
SHEETS = Path(__file__).parents[1] / "samples" / "sheets"


def sheet_of(*rows: dict[str, Any]) -> Sheet:
    sheet = Sheet()
    for row in rows:
        slug, text, verdict = row.pop("slug"), row.pop("text"), row.pop("verdict", "watch")
        sheet.row(slug, slug.capitalize(), text, verdict, **row)
    return sheet


def view(
    *rows: dict[str, Any], day: str | None = "2026-11-16", sha: str = "a", **more: Any
) -> Interpretation:
    """A sheet with one sample."""
    found, sheet = sample(sheet_of(*rows), **more)
    one = view_of((replace(found, collected=day), sheet))
    source = replace(one.reading.source, sha256=sha * 64, file=f"{sha}.pdf")
    return replace(one, reading=replace(one.reading, source=source))


def nitrate(text: str, **more: Any) -> dict[str, Any]:
    more = {"unit": "mg/L", "basis": "N", **more}
    levels = (level("primary_limit", "10", "mg/L", "N"),)
    return {"slug": "nitrate", "text": text, "value": D(text.lstrip("<>")), "levels": levels} | more


def arsenic(text: str, **more: Any) -> dict[str, Any]:
    more = {"unit": "mg/L", "levels": (level("primary_limit", "0.010"),), **more}
    return {"slug": "arsenic", "text": text, "value": D(text.lstrip("<>")), **more}


def earlier_of(now: Interpretation, *before: Interpretation) -> Earlier:
    found = with_earlier(now, before).samples[0].earlier
    assert found is not None
    return found


def only(now: Interpretation, *before: Interpretation) -> EarlierResult:
    (history,) = earlier_of(now, *before).analytes
    (result,) = history.results
    return result


def codes(result: EarlierResult) -> set[str]:
    return {one.code.removeprefix("earlier.") for one in result.why}


def report_with(now: Interpretation, *before: Interpretation) -> HomeownerReport:
    return build(with_earlier(now, before), 0)


def germs(text: str, **more: Any) -> dict[str, Any]:
    return {"slug": "e_coli", "text": text, "present": text == "Present", **more}


def raised_before() -> Interpretation:
    return view(
        nitrate("3"),
        arsenic("14", unit="ug/L", levels=(), verdict="health_concern"),
        germs("Present", verdict="health_concern"),
        {"slug": "iron", "text": "3", "value": D(3), "unit": "mg/L", "verdict": "nuisance_only"},
        {"slug": "copper", "text": "ND", "unit": "mg/L", "verdict": "cant_tell"},
        day="2024-03-01",
        sha="b",
    )

"""Doubts about when and how a bottle was filled: which of them end a verdict, which add a step."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from welltold.reading import Reading, Sample, Source, Unread, Where
from welltold.site import Site, Well

if TYPE_CHECKING:
    from .conftest import Bench
from verdicts.doubt_words import steps, told

# --- lead and copper: EPA homeowner instructions of 2024 (six hours of standing, first bottle)


@pytest.mark.parametrize("taken", ["flushed", "raw", "treated", None])
@pytest.mark.parametrize("row", [("lead", "<1", "ug/L"), ("copper", "0.1", "mg/L")])
def test_low_lead_and_copper_need_a_first_draw(
    bench: Bench, row: tuple[str, ...], taken: str | None
) -> None:
    finding = bench.judge(bench.result(*row), taken=taken)
    assert (finding.verdict, finding.urgency, finding.high) == ("cant_tell", None, None)
    assert "first water of the morning" in steps(finding)
    assert bench.judge(bench.result(*row), taken="first_draw").verdict == "no_concern_found"


@pytest.mark.parametrize("taken", ["first_draw", "flushed", "raw", "treated", None])
@pytest.mark.parametrize("mark", [(), ("J",), ("B",), ("H",)])
def test_lead_that_was_found_is_at_least_watched(
    bench: Bench, taken: str | None, mark: tuple[str, ...]
) -> None:
    # EPA and CDC: no amount of lead is known to do no harm
    finding = bench.judge(bench.result("lead", "0.4", "ug/L", qualifiers=mark), taken=taken)
    assert finding.verdict == "watch"
    assert "child" in finding.persons


def test_lead_over_its_level_stays_over_in_any_draw(bench: Bench) -> None:
    finding = bench.judge(bench.result("lead", "18", "ug/L"), taken="flushed")
    assert (finding.verdict, finding.urgency) == ("health_concern", "soon")
    assert "had run before" in told(finding)


# --- germs: chlorine and disinfection hide them


@pytest.mark.parametrize(
    ("days", "verdict"), [(0, "cant_tell"), (14, "cant_tell"), (15, "no_concern_found")]
)
def test_no_germs_soon_after_the_well_was_disinfected(
    bench: Bench, days: int, verdict: str
) -> None:
    # leaflets on shock chlorination: test again one to two weeks after
    site = Site(well=Well(shocked_days_ago=days))
    finding = bench.judge(bench.result("total_coliform", "Absent"), site=site)
    assert finding.verdict == verdict
    assert ("no chlorine is left" in steps(finding)) is (verdict == "cant_tell")
    assert bench.judge(bench.result("e_coli", "Present"), site=site).urgency == "now"


@pytest.mark.parametrize(
    ("chlorine", "verdict"),
    [
        ("0.3", "cant_tell"),
        ("Present", "cant_tell"),
        ("0.0", "no_concern_found"),
        ("<0.05", "no_concern_found"),
    ],
)
def test_no_germs_beside_chlorine(bench: Bench, chlorine: str, verdict: str) -> None:
    beside = bench.result("free_chlorine", chlorine, "mg/L")
    finding = bench.judge(bench.result("total_coliform", "Absent"), beside)
    assert finding.verdict == verdict


def test_a_flood_asks_for_a_step_today(bench: Bench) -> None:
    # US EPA private wells page: test at once after a flood
    site = Site(well=Well(flooded=True))
    finding = bench.judge(bench.result("e_coli", "Absent"), site=site)
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "bottled" in steps(finding)


# --- gases, metals, dissolved parts


def test_a_gas_that_was_mailed_is_a_lower_bound(bench: Bench) -> None:
    # 40 CFR 136.3 table II: zinc acetate and sodium hydroxide
    low = bench.result("hydrogen_sulfide", "<0.05", "mg/L")
    assert bench.judge(low).verdict == "cant_tell"
    kept = bench.result("hydrogen_sulfide", "<0.05", "mg/L", qualifiers=("zinc acetate",))
    assert bench.judge(kept).verdict == "no_concern_found"
    at_tap = bench.result("hydrogen_sulfide", "<0.05", "mg/L", method="Field kit")
    assert bench.judge(at_tap).verdict == "no_concern_found"
    assert bench.judge(bench.result("hydrogen_sulfide", "2", "mg/L")).verdict == "nuisance_only"


@pytest.mark.parametrize(
    ("remark", "verdict"),
    [("headspace", "cant_tell"), ("no headspace", "no_concern_found"), ("", "no_concern_found")],
)
def test_air_in_the_bottle_lets_solvents_go(bench: Bench, remark: str, verdict: str) -> None:
    # 40 CFR 141.24(f): full vials, no bubbles
    row = bench.result("benzene", "<0.5", "ug/L", qualifiers=(remark,) if remark else ())
    assert bench.judge(row).verdict == verdict


def test_a_remark_on_the_sheet_counts_for_every_line(bench: Bench) -> None:
    note = Unread("VOC vials received with headspace", Where("value", page=1), _message())
    sheet = Reading(
        Source("a.pdf", "0" * 64, "pdf", 1),
        samples=(Sample(results=(bench.result("benzene", "<0.5", "ug/L"),)),),
        unread=(note,),
    )
    found = bench.interpret(sheet).samples[0].findings
    assert next(f.verdict for f in found if f.analyte == "benzene") == "cant_tell"


def _message() -> Any:
    from welltold.messages import say

    return say("verdict.look", text="?")


def test_iron_without_acid_is_a_lower_bound(bench: Bench) -> None:
    low = bench.result("iron", "0.2", "mg/L", qualifiers=("unpreserved",))
    finding = bench.judge(low)
    assert (finding.verdict, finding.urgency, str(finding.low), finding.high) == (
        "cant_tell",
        None,
        "0.2",
        None,
    )
    high = bench.result("iron", "2", "mg/L", qualifiers=("unpreserved",))
    assert bench.judge(high).verdict == "nuisance_only"


def test_a_dissolved_part_alone_is_a_lower_bound(bench: Bench) -> None:
    part = bench.result("arsenic", "4", "ug/L", fraction="dissolved")
    whole = bench.result("arsenic", "4.5", "ug/L", fraction="total")
    assert bench.judge(part).verdict == "cant_tell"
    assert bench.judge(part, whole).verdict == "no_concern_found"
    over = bench.result("arsenic", "12", "ug/L", fraction="dissolved")
    assert bench.judge(over).verdict == "health_concern"


def test_the_higher_of_dissolved_and_whole_decides(bench: Bench) -> None:
    part = bench.result("arsenic", "14", "ug/L", fraction="dissolved")
    whole = bench.result("arsenic", "4", "ug/L", fraction="total")
    assert bench.judge(part, whole).verdict == "health_concern"
    quiet = bench.judge(whole, part)
    assert quiet.verdict == "cant_tell"
    assert "dissolved part" in told(quiet)


# --- dates: US EPA answer on 40 CFR 141.21(f)(3), Standard Methods 7500-Rn


@pytest.mark.parametrize(
    ("slug", "text", "unit", "collected", "received", "verdict"),
    [
        ("e_coli", "Absent", None, "2026-11-10T08:00", "2026-11-11T14:00", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10T08:00", "2026-11-11T15:00", "cant_tell"),
        ("e_coli", "Present", None, "2026-11-10T08:00", "2026-11-13T15:00", "health_concern"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-12", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-13", "cant_tell"),
        ("radon", "200", "pCi/L", "2026-11-10", "2026-11-14", "no_concern_found"),
        ("radon", "200", "pCi/L", "2026-11-10", "2026-11-16", "cant_tell"),
        ("mercury", "<0.2", "ug/L", "2026-10-01", "2026-11-20", "cant_tell"),
        ("benzene", "<0.5", "ug/L", "2026-11-01", "2026-11-18", "cant_tell"),
        ("e_coli", "Absent", None, "2026-11-10", "soon", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-09", "no_concern_found"),
    ],
)
def test_a_bottle_that_waited_too_long(
    bench: Bench,
    slug: str,
    text: str,
    unit: str | None,
    collected: str,
    received: str,
    verdict: str,
) -> None:
    row = bench.result(slug, text, unit)
    assert bench.judge(row, collected=collected, received=received).verdict == verdict

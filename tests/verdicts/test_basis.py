"""How a nitrogen result is counted, settled from the rest of the sheet."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from .conftest import Bench


def told(finding: Any) -> str:
    return " ".join(message.text for message in finding.why)


@pytest.mark.parametrize(
    ("slug", "text", "unit", "limit", "verdict", "value"),
    [
        # 40 CFR 141.62(b)(7): 10 as N = 44.3 as NO3; the WHO and the EU print 50 as NO3
        ("nitrate", "12", "mg/L", "10", "health_concern", "12"),
        ("nitrate", "12", "mg/L", "45", "no_concern_found", "2.71"),
        ("nitrate", "12", "mg/L", "44.3", "no_concern_found", "2.71"),
        ("nitrate", "12", "mg/L", "44", "no_concern_found", "2.71"),
        ("nitrate", "12", "mg/L", "50", "no_concern_found", "2.71"),
        ("nitrate", "46", "mg/L", "45", "health_concern", "10.39"),
        ("nitrate", "12", "mg/L", "10 mg/L", "health_concern", "12"),
        ("nitrate", "12000", "ug/L", "45000", "no_concern_found", "2.71"),
        ("nitrate", "12", "mg/L", "20", "cant_tell", None),
        ("nitrate", "12", "mg/L", "see note", "cant_tell", None),
        ("nitrite", "2", "mg/L", "1", "health_concern", "2"),
        ("nitrite", "2", "mg/L", "3.28", "no_concern_found", "0.61"),
    ],
)
def test_the_printed_limit_settles_it(
    bench: Bench, slug: str, text: str, unit: str, limit: str, verdict: str, value: str | None
) -> None:
    finding = bench.judge(bench.result(slug, text, unit, printed_limit=limit))
    assert finding.verdict == verdict
    if value is not None:
        assert finding.value is not None
        assert finding.value.quantize(Decimal(value)) == Decimal(value)
        assert "The limit beside it" in told(finding)


def test_a_method_that_counts_nitrogen_settles_it(bench: Bench) -> None:
    # EPA 353.2: determination of nitrate-nitrite nitrogen
    for method in ("EPA 353.2", "353.2 Rev 2.0", "EPA353.2"):
        finding = bench.judge(bench.result("nitrate", "12", "mg/L", method=method))
        assert (finding.verdict, finding.urgency) == ("health_concern", "now")
        assert "353.2" in told(finding)
    for other in ("EPA 300.0", "in-house", None):
        open_one = bench.judge(bench.result("nitrate", "12", "mg/L", method=other))
        assert (open_one.verdict, open_one.urgency) == ("cant_tell", "now")


def test_the_sum_of_the_lab_settles_it(bench: Bench) -> None:
    # 12 as NO3 is 2.71 as N (62.004 and 14.007 g/mol)
    def of(total: str, *beside: Any) -> Any:
        row = bench.result("nitrate_nitrite", total, "mg/L", "N")
        return bench.judge(bench.result("nitrate", "12", "mg/L"), row, *beside)

    assert of("12.1").verdict == "health_concern"
    assert of("2.7").verdict == "no_concern_found"
    nitrite = bench.result("nitrite", "0.5", "mg/L", "N")
    assert of("3.2", nitrite).verdict == "no_concern_found"
    assert (of("6").verdict, of("6").urgency) == ("cant_tell", "now")


def test_the_same_row_in_the_other_form_settles_it(bench: Bench) -> None:
    both = bench.result("nitrate", "53.1", "mg/L", "NO3")
    assert bench.judge(bench.result("nitrate", "12", "mg/L"), both).verdict == "health_concern"


def test_evidence_that_points_both_ways_leaves_it_open(bench: Bench) -> None:
    row = bench.result("nitrate", "12", "mg/L", printed_limit="45", method="EPA 353.2")
    finding = bench.judge(row)
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "as N" in told(finding)
    assert "as NO3" in told(finding)


def test_a_named_basis_beside_the_other_limit_is_open_again(bench: Bench) -> None:
    finding = bench.judge(bench.result("nitrate", "12", "mg/L", "N", printed_limit="45"))
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert any("formula" in step.text for step in finding.do)
    assert 'says "as N"' in told(finding)
    agrees = bench.judge(bench.result("nitrate", "12", "mg/L", "N", printed_limit="10"))
    assert agrees.verdict == "health_concern"
    spelled = bench.judge(bench.result("nitrate", "12", "mg/L as N", printed_limit="45"))
    assert (spelled.verdict, spelled.urgency) == ("cant_tell", "now")


def test_two_ways_of_counting_on_one_line_are_both_judged(bench: Bench) -> None:
    finding = bench.judge(bench.result("nitrate", "12", "mg/L as N", "NO3"))
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "two ways of counting" in told(finding)


def test_a_total_is_settled_by_both_of_its_parts(bench: Bench) -> None:
    # 9 + 0.05 as N is 40.06 as NO3
    parts = [
        bench.result("nitrate", "9", "mg/L", "N"),
        bench.result("nitrite", "0.05", "mg/L", "N"),
    ]
    total = bench.result("nitrate_nitrite", "40", "mg/L")
    assert bench.judge(total, *parts).verdict == "watch"
    assert bench.judge(total, parts[0]).verdict == "cant_tell"


def test_uranium_by_activity_is_a_bound_on_its_mass(bench: Bench) -> None:
    # 40 CFR 141.25 note 12: 0.67 pCi for each microgram; groundwater often has more
    low, open_one = (bench.judge(bench.result("uranium", n, "pCi/L")) for n in ("12", "60"))
    assert low.verdict == "no_concern_found"
    assert low.high is not None
    assert f"{low.high:.1f}" == "17.9"
    assert (open_one.verdict, open_one.urgency) == ("cant_tell", "soon")
    at_edge = bench.judge(bench.result("uranium", "20.1", "pCi/L"))
    assert at_edge.verdict == "no_concern_found"
    assert bench.judge(bench.result("uranium", "0.44", "Bq/L")).verdict == "no_concern_found"


def test_hardness_is_worked_out_where_no_row_has_it(bench: Bench) -> None:
    # Standard Methods 2340 B: 2.497 Ca + 4.118 Mg; USGS WRI 02-4045: Ca 25, Mg 14 make 120
    parts = (bench.result("calcium", "25", "mg/L"), bench.result("magnesium", "14", "mg/L"))
    found = bench.view(*parts).findings
    hardness = next(f for f in found if f.analyte == "hardness")
    assert hardness.value is not None
    assert f"{hardness.value:.1f}" == "120.1"
    assert (hardness.unit, hardness.basis, hardness.text) == ("mg/L", "CaCO3", "")
    assert "Worked out from" in told(hardness)
    printed = bench.view(*parts, bench.result("hardness", "90", "mg/L")).findings
    assert [f.text for f in printed if f.analyte == "hardness"] == ["90"]
    alone = bench.view(parts[0]).findings
    assert not [f for f in alone if f.analyte == "hardness" and f.verdict != "not_tested"]


def test_radon_is_never_taken_off_gross_alpha(bench: Bench) -> None:
    # 40 CFR 141.66(c): excluding radon means that the method does not count it
    alpha = bench.result("gross_alpha", "18", "pCi/L")
    radon, uranium = bench.result("radon", "3000", "pCi/L"), bench.result("uranium", "1", "ug/L")
    finding = bench.judge(alpha, radon)
    assert (finding.verdict, str(finding.low), str(finding.high)) == ("cant_tell", "0", "18")
    assert bench.judge(alpha, radon, uranium).verdict == "health_concern"


@pytest.mark.parametrize(
    ("alpha", "verdict"),
    [("15", "no_concern_found"), ("15.1", "cant_tell"), ("90", "cant_tell")],
)
def test_gross_alpha_without_uranium_lies_from_zero_up(
    bench: Bench, alpha: str, verdict: str
) -> None:
    assert bench.judge(bench.result("gross_alpha", alpha, "pCi/L")).verdict == verdict


def test_a_number_without_a_unit_that_is_over_in_each_keeps_its_step(bench: Bench) -> None:
    lead = bench.judge(bench.result("lead", "12"))
    assert (lead.verdict, lead.urgency) == ("cant_tell", "soon")
    assert any("bottled" in step.text for step in lead.do)
    arsenic = bench.judge(bench.result("arsenic", "0.012"))
    assert (arsenic.verdict, arsenic.urgency) == ("cant_tell", None)

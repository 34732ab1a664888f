"""Levels that count several analytes together; what was not found counts from 0 to its limit."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from welltold.interpretation import Finding
from welltold.reading import Reading, Sample, Source
from welltold.verdicts.tables import totals

if TYPE_CHECKING:
    from .conftest import Bench


def total(bench: Bench, slug: str, *parts: tuple[str, ...]) -> Any:
    """Return the total's finding, or None."""
    results = [bench.result(*part) for part in parts]
    found = [f for f in bench.view(*results).findings if f.analyte == slug and not f.text]
    assert len(found) <= 1
    told = [f for f in found if f.verdict != "not_tested"]
    return told[0] if told else None


def test_nitrate_and_nitrite_together_pass_what_each_does_not(bench: Bench) -> None:
    # 40 CFR 141.62(b)(9): total nitrate and nitrite 10 mg/L as N
    finding = total(
        bench, "nitrate_nitrite", ("nitrate", "9.6", "mg/L", "N"), ("nitrite", "0.6", "mg/L", "N")
    )
    assert (finding.verdict, finding.urgency, str(finding.value)) == (
        "health_concern",
        "now",
        "10.2",
    )
    assert "Nitrate, Nitrite" in " ".join(m.text for m in finding.why)


def test_a_printed_total_is_used_and_not_added_again(bench: Bench) -> None:
    results = (
        bench.result("nitrate", "3", "mg/L", "N"),
        bench.result("nitrite", "0.1", "mg/L", "N"),
        bench.result("nitrate_nitrite", "3.1", "mg/L", "N"),
    )
    found = [f for f in bench.view(*results).findings if f.analyte == "nitrate_nitrite"]
    assert [f.text for f in found] == ["3.1"]


def test_a_printed_total_under_its_own_parts_cannot_hide_them(bench: Bench) -> None:
    finding = bench.judge(
        bench.result("nitrate_nitrite", "3.1", "mg/L", "N"),
        bench.result("nitrate", "9.8", "mg/L", "N"),
        bench.result("nitrite", "0.9", "mg/L", "N"),
    )
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert any("formula" in step.text for step in finding.do)


def test_radium_is_summed_with_what_was_not_found_as_an_interval(bench: Bench) -> None:
    # 40 CFR 141.66(b): radium-226 and radium-228 together 5 pCi/L
    def of(one: str, other: str) -> Any:
        return total(
            bench, "radium_226_228", ("radium_226", one, "pCi/L"), ("radium_228", other, "pCi/L")
        )

    assert of("2", "2").verdict == "no_concern_found"
    assert of("3", "2").verdict == "watch"  # at the level
    assert of("3", "2.1").verdict == "health_concern"
    assert of("3", "<1").verdict == "no_concern_found"
    open_sum = of("4.5", "<1")
    assert (open_sum.verdict, open_sum.urgency) == ("cant_tell", "soon")
    assert (str(open_sum.low), str(open_sum.high)) == ("4.5", "5.5")
    assert of("<1", "<1").verdict == "no_concern_found"


def test_half_of_radium_cannot_tell(bench: Bench) -> None:
    alone = total(bench, "radium_226_228", ("radium_226", "3", "pCi/L"))
    assert (alone.verdict, alone.urgency) == ("cant_tell", None)
    assert [step.text for step in alone.do] == ["Have a lab test these too: Radium-228."]
    assert "Not on the sheet: Radium-228" in " ".join(m.text for m in alone.why)
    assert total(bench, "radium_226_228", ("radium_226", "6", "pCi/L")).verdict == "health_concern"
    assert total(bench, "radium_226_228", ("radium_226", "<1", "pCi/L")) is None


FOUR = ("chloroform", "bromodichloromethane", "dibromochloromethane", "bromoform")


def test_four_trihalomethanes_have_one_level(bench: Bench) -> None:
    # 40 CFR 141.64(b): TTHM 0.080 mg/L
    def of(*texts: str) -> Any:
        parts = [(slug, text, "ug/L") for slug, text in zip(FOUR, texts, strict=True)]
        return total(bench, "total_trihalomethanes", *parts)

    assert of("17", "17", "17", "17").verdict == "no_concern_found"
    assert of("20", "20", "20", "20").verdict == "watch"  # at the level
    assert of("20", "20", "20", "20.1").verdict == "health_concern"
    assert of("79", "<0.5", "<0.5", "<0.5").verdict == "cant_tell"
    assert of("78", "<0.5", "<0.5", "<0.5").verdict == "watch"  # 78 to 79.5


def test_one_trihalomethane_alone_is_judged_by_what_it_must_add_up_to(bench: Bench) -> None:
    over = total(bench, "total_trihalomethanes", ("chloroform", "90", "ug/L"))
    assert over.verdict == "health_concern"
    assert total(bench, "total_trihalomethanes", ("chloroform", "9", "ug/L")) is None
    assert bench.judge(bench.result("chloroform", "9", "ug/L")).verdict == "cant_tell"


def test_five_haloacetic_acids_have_one_level(bench: Bench) -> None:
    # 40 CFR 141.64(b): HAA5 0.060 mg/L
    five = [part.slug for t in totals() if t.slug == "haloacetic_acids_five" for part in t.parts]
    assert len(five) == 5
    at = [(slug, "12", "ug/L") for slug in five]
    assert total(bench, "haloacetic_acids_five", *at).verdict == "watch"  # at the level
    over = [*at[:4], (five[4], "12.1", "ug/L")]
    assert total(bench, "haloacetic_acids_five", *over).verdict == "health_concern"


def test_xylenes_by_isomer(bench: Bench) -> None:
    # 40 CFR 141.61(a)(18): xylenes (total) 10 mg/L
    both = total(bench, "xylenes_total", ("m_p_xylene", "8", "mg/L"), ("o_xylene", "2.5", "mg/L"))
    assert both.verdict == "health_concern"
    three = total(
        bench,
        "xylenes_total",
        ("m_p_xylene", "4", "mg/L"),
        ("m_xylene", "3", "mg/L"),
        ("p_xylene", "1", "mg/L"),
        ("o_xylene", "3", "mg/L"),
    )
    assert (three.verdict, str(three.value)) == ("no_concern_found", "7")  # m and p count once


HAZARD = ("pfhxs", "pfna", "hfpo_da", "pfbs")


@pytest.mark.parametrize(
    ("amounts", "verdict", "low", "high"),
    [
        # 40 CFR 141.61(c)(2)(i): sum of PFHxS/10, PFNA/10, HFPO-DA/10, PFBS/2000 above 1
        (("4", "4", "1", "200"), "watch", "1", "1"),
        (("4", "4", "1", "201"), "health_concern", "1.0005", "1.0005"),
        (("5", "<2", "<2", "<2"), "no_concern_found", "0", "0.901"),
        (("4", "4", "<3", "<3"), "cant_tell", "0.8", "1.1015"),
        (("9", "<2", "<2", "<2"), "cant_tell", "0", "1.301"),
        (("<2", "<2", "<2", "<2"), "no_concern_found", "0", "0.601"),
    ],
)
def test_the_hazard_index(
    bench: Bench, amounts: tuple[str, ...], verdict: str, low: str, high: str
) -> None:
    parts = [(slug, text, "ng/L") for slug, text in zip(HAZARD, amounts, strict=True)]
    finding = total(bench, "pfas_hazard_index", *parts)
    assert finding.verdict == verdict
    assert (f"{finding.low.normalize():f}", f"{finding.high.normalize():f}") == (low, high)


def test_one_pfas_alone_is_no_mixture(bench: Bench) -> None:
    assert total(bench, "pfas_hazard_index", ("pfoa", "3", "ng/L")) is None
    alone = total(bench, "pfas_hazard_index", ("pfna", "9", "ng/L"), ("pfhxs", "<1", "ng/L"))
    assert alone.verdict == "cant_tell"  # two of the four were not tested


def test_gross_alpha_does_not_count_uranium(bench: Bench) -> None:
    # 40 CFR 141.66(c) and 141.25 note 12: 0.67 pCi for each microgram of uranium
    alpha = bench.result("gross_alpha", "25", "pCi/L")
    judge = bench.judge
    assert judge(alpha).verdict == "cant_tell"
    little = judge(alpha, bench.result("uranium", "10", "ug/L"))
    assert (little.verdict, str(little.value)) == ("health_concern", "18.30")
    enough = judge(alpha, bench.result("uranium", "15", "ug/L"))
    assert (enough.verdict, str(enough.value)) == ("watch", "14.95")
    assert judge(alpha, bench.result("uranium", "12", "pCi/L")).verdict == "no_concern_found"
    assert judge(alpha, bench.result("uranium", "<1", "ug/L")).verdict == "health_concern"
    assert judge(alpha, bench.result("uranium", "<20", "ug/L")).verdict == "cant_tell"


def test_forms_of_arsenic_add_up(bench: Bench) -> None:
    # 40 CFR 141.62(b)(16) limits total arsenic
    both = total(bench, "arsenic", ("arsenic_iii", "6", "ug/L"), ("arsenic_v", "5", "ug/L"))
    assert both.verdict == "health_concern"


def test_a_total_of_metals_prefers_the_whole_to_the_dissolved(bench: Bench) -> None:
    results = (
        bench.result("arsenic_iii", "6", "ug/L", fraction="total"),
        bench.result("arsenic_iii", "60", "ug/L", fraction="dissolved"),
        bench.result("arsenic_v", "1", "ug/L", fraction="total"),
    )
    found = [f for f in bench.view(*results).findings if f.analyte == "arsenic" and not f.text]
    assert str(found[0].value) == "0.007"


def test_open_nitrate_keeps_the_total_open(bench: Bench) -> None:
    finding = total(
        bench, "nitrate_nitrite", ("nitrate", "12", "mg/L"), ("nitrite", "<0.1", "mg/L", "N")
    )
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")


def test_one_form_of_chromium_over_the_limit_for_all_of_it(bench: Bench) -> None:
    # 40 CFR 141.62(b)(5): 0.1 mg/L covers every valence
    alone = total(bench, "chromium", ("chromium_vi", "110", "ug/L"))
    assert alone.verdict == "health_concern"
    under = total(bench, "chromium", ("chromium_vi", "90", "ug/L"))
    assert (under.verdict, under.high) == ("cant_tell", None)


def test_two_uranium_results_leave_the_wider_interval(bench: Bench) -> None:
    alpha = bench.result("gross_alpha", "25", "pCi/L")
    low, high = bench.result("uranium", "10", "ug/L"), bench.result("uranium", "20", "ug/L")
    for both in ((low, high), (high, low)):
        finding = bench.judge(alpha, *both)
        assert (finding.verdict, str(finding.low), str(finding.high)) == (
            "cant_tell",
            "11.60",
            "18.30",
        )


def test_a_part_is_no_concern_only_where_its_total_is(bench: Bench) -> None:
    # 40 CFR 141.64(b): the level is for the four together
    def bromoform(chloroform: str, *printed: tuple[str, ...]) -> str:
        rows = [("chloroform", chloroform), ("bromodichloromethane", "1"), ("bromoform", "2")]
        results = [bench.result(slug, text, "ug/L") for slug, text in rows]
        results += [bench.result("dibromochloromethane", "1", "ug/L")]
        results += [bench.result(*row) for row in printed]
        found = bench.view(*results).findings
        return next(f.verdict for f in found if f.analyte == "bromoform")

    assert bromoform("10") == "no_concern_found"
    assert bromoform("90") == "cant_tell"
    assert bromoform("10", ("total_trihalomethanes", "14", "ug/L")) == "no_concern_found"
    assert bromoform("10", ("total_trihalomethanes", "140", "ug/L")) == "cant_tell"


# --- sums that only states have: Massachusetts and Maine six, Vermont five (their rules)

SIX = ("pfoa", "pfos", "pfhxs", "pfna", "pfhpa", "pfda")
FIVE = ("pfoa", "pfos", "pfhxs", "pfhpa", "pfna")


def summed(bench: Bench, pack: str, slugs: tuple[str, ...], text: str) -> tuple[Finding, ...]:
    rows = tuple(bench.result(slug, text, "ng/L") for slug in slugs)
    reading = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(Sample(results=rows),))
    told = bench.interpret(reading, as_of=date(2026, 11, 25), packs=(pack,))
    findings: tuple[Finding, ...] = told.samples[0].findings
    return findings


@pytest.mark.parametrize(
    ("pack", "slugs", "text", "verdict", "low", "high"),
    [
        ("massachusetts", SIX, "3.3", "watch", "19.8", "19.8"),
        ("massachusetts", SIX, "3.4", "health_concern", "20.4", "20.4"),
        ("massachusetts", SIX, "<3", "no_concern_found", "0", "18"),
        ("massachusetts", SIX, "<3.5", "cant_tell", "0", "21"),
        ("maine", SIX, "3.4", "health_concern", "20.4", "20.4"),
        ("vermont", FIVE, "3.9", "watch", "19.5", "19.5"),
        ("vermont", FIVE, "3.99", "watch", "19.95", "19.95"),
        ("vermont", FIVE, "4.1", "health_concern", "20.5", "20.5"),
    ],
)
def test_a_states_sum_of_pfas_is_worked_out(
    bench: Bench, pack: str, slugs: tuple[str, ...], text: str, verdict: str, low: str, high: str
) -> None:
    slug = "pfas_6" if slugs == SIX else "pfas_5"
    total = next(f for f in summed(bench, pack, slugs, text) if f.analyte == slug)
    assert (total.verdict, total.low, total.high) == (verdict, Decimal(low), Decimal(high))


def test_a_sum_with_a_part_missing_is_a_lower_bound(bench: Bench) -> None:
    findings = summed(bench, "massachusetts", SIX[:5], "3.5")
    total = next(f for f in findings if f.analyte == "pfas_6")
    assert (total.verdict, total.low, total.high) == ("cant_tell", Decimal("17.5"), None)
    assert any("PFDA" in message.text for message in total.do)


def test_a_states_sum_is_not_named_where_that_state_was_not_asked_for(bench: Bench) -> None:
    findings = summed(bench, "us_federal", SIX, "3.4")
    assert not {"pfas_6", "pfas_5"} & {f.analyte for f in findings}
    heptanoic = next(f for f in findings if f.analyte == "pfhpa")
    assert [m.code for m in heptanoic.why] == ["verdict.no_level_found"]
    five = next(f for f in summed(bench, "vermont", FIVE, "1") if f.analyte == "pfhpa")
    assert (five.verdict, five.why[0].code) == ("no_concern_found", "verdict.no_level_part")
    assert "five" in five.why[0].text


def test_a_sum_of_what_was_not_found_claims_no_test_of_its_own(bench: Bench) -> None:
    findings = summed(bench, "massachusetts", SIX, "<2")
    total = next(f for f in findings if f.analyte == "pfas_6")
    assert total.why[0].code == "verdict.between"
    assert "from 0 to 12 ng/L" in total.why[0].text

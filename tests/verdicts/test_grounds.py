"""Nobody is soothed without grounds: what a result without a level of its own says."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from welltold.boil import LETS_BOIL
from welltold.interpretation import Finding
from welltold.reading import Reading, Sample, Source
from welltold.site import Site, Well

if TYPE_CHECKING:
    from .conftest import Bench


def found(bench: Bench, slug: str, *rows: tuple[str, str, str]) -> Finding:
    view = bench.view(*(bench.result(*row) for row in rows))
    return next(f for f in view.findings if f.analyte == slug and f.verdict != "not_tested")


def codes(finding: Finding) -> list[str]:
    return [message.code for message in (*finding.why, *finding.do)]


def test_a_form_of_chromium_alone_leaves_all_chromium_open(bench: Bench) -> None:
    # 40 CFR 141.62(b)(5): the level of 0.1 mg/L counts all chromium
    rows = (("chromium_vi", "20", "ug/L"),)
    total, part = found(bench, "chromium", *rows), found(bench, "chromium_vi", *rows)
    assert (total.verdict, total.low, total.high) == ("cant_tell", Decimal("0.02"), None)
    assert part.verdict == "cant_tell"
    asked = next(m for m in total.do if m.code == "verdict.do_test_missing")
    assert asked.args["parts"] == "Chromium"  # no laboratory tests chromium(III) for a home


def test_a_level_that_was_only_proposed_does_not_clear_a_number(bench: Bench) -> None:
    # perchlorate has no federal level in force, only a proposed one
    told = found(bench, "perchlorate", ("perchlorate", "10", "ug/L"))
    assert (told.verdict, told.why[-1].code) == ("no_concern_found", "verdict.proposed_under")
    quiet = found(bench, "sulfate", ("sulfate", "100", "mg/L"))  # 250 mg/L is in force
    assert "verdict.proposed_under" not in codes(quiet)


@pytest.mark.parametrize("text", ["-2.5", "0.4"])
def test_an_index_is_a_bare_number(bench: Bench, text: str) -> None:
    told = found(bench, "langelier_index", ("langelier_index", text, ""))
    assert (told.verdict, codes(told)) == ("no_concern_found", ["verdict.no_level"])


def test_a_goal_is_called_a_goal(bench: Bench) -> None:
    # 40 CFR 141.53: goal of 0.07 mg/L for chloroform
    told = found(bench, "chloroform", ("chloroform", "75", "ug/L"))
    assert told.why[0].text == "Chloroform is 75 µg/L. EPA's own goal is 70 µg/L."


def test_a_sum_that_is_watched_asks_for_another_test(bench: Bench) -> None:
    # 40 CFR 141.154(b): arsenic above 0.005 mg/L is told
    rows = (("arsenic_iii", "6", "ug/L"), ("arsenic_v", "3", "ug/L"))
    told = found(bench, "arsenic", *rows)
    assert (told.verdict, "verdict.do_test_yearly" in codes(told)) == ("watch", True)


def test_what_asks_for_other_water_forbids_boiling_while_it_is_open(bench: Bench) -> None:
    # one kitchen, one instruction: the arsenic without a unit asks for bottled water already
    low = (("nitrate", "1", "mg/L", "N"), ("nitrite", "<0.1", "mg/L", "N"))
    rows = [bench.result("e_coli", "Present"), *(bench.result(*row) for row in low)]
    germs = bench.judge(*rows, bench.result("arsenic", "12"))
    assert "verdict.do_germs_never_boil" in codes(germs)
    assert not [code for code in codes(germs) if code in LETS_BOIL]
    flooded = bench.judge(*rows, site=Site(well=Well(flooded=True)))
    assert "verdict.do_germs_never_boil" in codes(flooded)  # fuel and chemicals may be in it
    quiet = bench.judge(*rows, bench.result("arsenic", "<20", "ug/L"))
    assert "verdict.do_germs_boil" in codes(quiet)


def test_what_mixes_with_water_is_not_called_a_vapor(bench: Bench) -> None:
    # 1,4-dioxane mixes with water in any amount; New York's limit is 1 ug/L
    rows = (bench.result("1_4_dioxane", "2", "ug/L"), bench.result("benzene", "9", "ug/L"))
    reading = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(Sample(results=rows),))
    told = bench.interpret(reading, as_of=date(2026, 11, 25), packs=("new_york",))
    dioxane, benzene = (
        next(f for f in told.samples[0].findings if f.analyte == slug)
        for slug in ("1_4_dioxane", "benzene")
    )
    assert (dioxane.verdict, benzene.verdict) == ("health_concern", "health_concern")
    assert not {"rule.vapor", "verdict.do_fumes"} & set(codes(dioxane))
    asked = ("bottled", "do_not_boil", "call_health", "test_again")
    assert [step.code for step in dioxane.do] == [f"verdict.do_{name}" for name in asked]
    assert {"rule.vapor", "verdict.do_fumes"} <= set(codes(benzene))

"""The findings of a whole sample: order, what is missing, who is concerned, what to do first."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from welltold.errors import UnknownLevelsError
from welltold.interpretation import Finding
from welltold.messages import say
from welltold.reading import Alternative, Reading, Sample, Source
from welltold.site import Home, LevelsChoice, SampleFacts, Site, Tap
from welltold.verdicts.tables import core_tests

if TYPE_CHECKING:
    from .conftest import Bench


def steps(finding: Finding) -> str:
    return " ".join(step.text for step in finding.do)


def untested(findings: tuple[Finding, ...]) -> list[str | None]:
    return [f.analyte for f in findings if f.verdict == "not_tested"]


def test_the_gravest_comes_first(bench: Bench) -> None:
    view = bench.view(
        bench.result("iron", "2", "mg/L"),
        bench.result("calcium", "40", "mg/L"),
        bench.result("arsenic", "6", "ug/L"),
        bench.result("arsenic", "<20", "ug/L"),
        bench.result("lead", "20", "ug/L"),
        bench.result("nitrate", "20", "mg/L", "N"),
        bench.result("total_coliform", "TNTC", "CFU/100mL"),
    )
    told = [(f.verdict, f.urgency) for f in view.findings if f.verdict != "not_tested"]
    assert told == [
        ("health_concern", "now"),
        ("health_concern", "soon"),
        ("cant_tell", "soon"),
        ("watch", None),
        ("cant_tell", None),
        ("nuisance_only", None),
        ("no_concern_found", None),
    ]


def test_of_two_alike_the_graver_in_its_consequence_comes_first(bench: Bench) -> None:
    view = bench.view(
        bench.result("uranium", "40", "ug/L"),
        bench.result("lead", "40", "ug/L"),
        bench.result("nitrate", "40", "mg/L", "N"),
        bench.result("e_coli", "Present"),
    )
    assert [f.analyte for f in view.findings[:4]] == ["e_coli", "nitrate", "lead", "uranium"]


def test_an_empty_sheet_lists_the_eight_most_valuable_tests(bench: Bench) -> None:
    # EPA private wells page: yearly coliform, nitrate, pH, dissolved solids; Minnesota: before a
    # baby drinks it also arsenic, lead, manganese, fluoride
    missing = untested(bench.view().findings)
    assert missing == [
        "total_coliform",
        "nitrate",
        "arsenic",
        "lead",
        "manganese",
        "ph",
        "fluoride",
        "uranium",
    ]
    assert all(f.why for f in bench.view().findings)


def test_a_test_in_any_form_counts_as_tested(bench: Bench) -> None:
    view = bench.view(
        bench.result("nitrate_nitrite", "1", "mg/L", "N"),
        bench.result("e_coli", "Absent"),
        bench.result("iron", "0.1", "mg/L", fraction="dissolved"),
        bench.result("specific_conductance", "300", "uS/cm"),
    )
    assert not {"nitrate", "total_coliform", "iron", "total_dissolved_solids"} & set(
        untested(view.findings)
    )


def test_a_second_bottle_from_the_same_tap_counts(bench: Bench) -> None:
    bottles = (
        Sample("1", "kitchen", results=(bench.result("e_coli", "Absent"),)),
        Sample("2", "kitchen", results=(bench.result("arsenic", "<1", "ug/L"),)),
        Sample("3", "barn", results=(bench.result("lead", "<1", "ug/L"),)),
    )
    reading = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=bottles)
    first, second, third = bench.interpret(reading, as_of=date(2026, 11, 25)).samples
    assert "arsenic" not in untested(first.findings)
    assert "total_coliform" not in untested(second.findings)
    assert "lead" in untested(first.findings)
    assert "arsenic" in untested(third.findings)


def test_coliform_without_a_look_for_e_coli_asks_for_it(bench: Bench) -> None:
    view = bench.view(bench.result("total_coliform", "Present"))
    assert untested(view.findings)[0] == "e_coli"
    assert "e_coli" not in untested(bench.view(bench.result("total_coliform", "Absent")).findings)


def test_a_blank_cell_is_listed_once(bench: Bench) -> None:
    view = bench.view(bench.result("arsenic", "", "ug/L"))
    assert untested(view.findings).count("arsenic") == 1


def test_core_tests_are_at_most_eight_on_every_sheet(bench: Bench) -> None:
    assert len(core_tests()) > 8
    assert len(untested(bench.view(bench.result("total_coliform", "Present")).findings)) == 8


# --- germs and boiling: the boil rule (boil.py) decides, the steps follow it


def low_nitrogen(bench: Bench) -> tuple[object, ...]:
    return (
        bench.result("nitrate", "1", "mg/L", "N"),
        bench.result("nitrite", "<0.1", "mg/L", "N"),
    )


def test_boiling_is_a_step_only_for_germs_alone(bench: Bench) -> None:
    # New York State: a boil notice is not appropriate for chemicals; EPA: boil for E. coli
    germs = bench.result("e_coli", "Present")
    assert "boil" in steps(bench.judge(germs, *low_nitrogen(bench))).lower()
    assert "3 minutes" in steps(bench.judge(germs, *low_nitrogen(bench)))


@pytest.mark.parametrize(
    "beside",
    [
        (("nitrate", "12", "mg/L", "N"), ("nitrite", "<0.1", "mg/L", "N")),
        (("nitrate", "1", "mg/L", "N"), ("nitrite", "2", "mg/L", "N")),
        (("nitrate", "1", "mg/L", "N"), ("nitrite", "<0.1", "mg/L", "N"), ("lead", "20", "ug/L")),
        (("nitrate", "1", "mg/L", "N"), ("nitrite", "<0.1", "mg/L", "N"), ("benzene", "9", "ug/L")),
    ],
)
def test_boiling_is_no_step_beside_nitrate_or_a_chemical(
    bench: Bench, beside: tuple[tuple[str, ...], ...]
) -> None:
    germs = bench.result("e_coli", "Present")
    told = steps(bench.judge(germs, *(bench.result(*row) for row in beside)))
    assert "bottled" in told
    assert "boil" not in told.lower().replace("do not boil", "")


@pytest.mark.parametrize(
    ("beside", "reason"),
    [
        ((), "nitrate or nitrite is not known"),
        ((("nitrate", "1", "mg/L", "N"),), "nitrate or nitrite is not known"),  # nitrite is not
        (
            (("nitrate", "7", "mg/L", "N"), ("nitrite", "<0.1", "mg/L", "N")),
            "enough below its level",
        ),
    ],
)
def test_babies_get_bottled_water_where_nitrate_is_not_known_to_be_low(
    bench: Bench, beside: tuple[tuple[str, ...], ...], reason: str
) -> None:
    # an engineering note on Indiana systems: boiled nitrate harms a baby; the others may boil
    germs = bench.result("e_coli", "Present")
    told = steps(bench.judge(germs, *(bench.result(*row) for row in beside)))
    assert reason in told
    assert "Do not boil well water for them" in told
    assert "Others can use bottled water, or boil" in told


@pytest.mark.parametrize(
    ("feet", "minutes", "both"),
    [(900, "1 minute", False), (7000, "3 minutes", False), (None, "1", True)],
)
def test_how_long_to_boil_follows_the_height(
    bench: Bench, feet: int | None, minutes: str, both: bool
) -> None:
    # CDC: 1 minute, 3 minutes above 6,500 feet
    site = Site(home=Home(elevation_ft=None if feet is None else Decimal(feet)))
    germs = bench.result("e_coli", "Present")
    told = steps(bench.judge(germs, *low_nitrogen(bench), site=site))
    assert minutes in told
    assert ("6,500" in told) is both
    assert ("1 minute" in told and "3 minutes" in told) is both


def test_a_fuel_smell_ends_boiling(bench: Bench) -> None:
    site = Site(tap=Tap(("fuel_or_solvent_smell",)))
    germs = bench.result("e_coli", "Present")
    told = steps(bench.judge(germs, *low_nitrogen(bench), site=site))
    assert "Do not boil" in told
    assert "rolling boil" not in told


def test_nitrate_is_never_to_be_boiled(bench: Bench) -> None:
    told = steps(bench.judge(bench.result("nitrate", "12", "mg/L", "N")))
    assert "Never boil" in told
    assert "formula" in told


def test_doubt_keeps_the_step_of_the_worse_reading(bench: Bench) -> None:
    open_basis = bench.judge(bench.result("nitrate", "12", "mg/L"))
    assert (open_basis.verdict, open_basis.urgency) == ("cant_tell", "now")
    assert "formula" in steps(open_basis)
    assert "as NO3" in steps(open_basis)
    assert "infant" in open_basis.persons


def test_another_reading_of_a_digit_keeps_the_step_too(bench: Bench) -> None:
    look = say("verdict.look", text="1.2")
    twelve = bench.result(
        "nitrate",
        "1.2",
        "mg/L",
        "N",
        alternatives=(Alternative("12", bench.result("nitrate", "12").value, "faint point"),),
        review=(look,),
        confidence=0.5,
    )
    finding = bench.judge(twelve)
    assert (finding.verdict, finding.urgency, finding.confidence) == ("cant_tell", "now", 0.5)
    assert "formula" in steps(finding)


@pytest.mark.parametrize(
    ("text", "unit"), [("50", None), ("50", "bananas"), ("???", "mg/L"), ("Present", None)]
)
def test_a_result_that_cannot_be_compared_keeps_the_step_for_babies(
    bench: Bench, text: str, unit: str | None
) -> None:
    finding = bench.judge(bench.result("nitrate", text, unit))
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "formula" in steps(finding)
    assert "infant" in finding.persons


def test_a_doubtful_line_is_judged_and_says_so(bench: Bench) -> None:
    look = say("verdict.look", text="16")
    finding = bench.judge(bench.result("arsenic", "16", "ug/L", review=(look,), confidence=0.6))
    assert (finding.verdict, finding.confidence) == ("health_concern", 0.6)
    assert "“16”" in finding.why[-1].text or '"16"' in finding.why[-1].text


# --- persons


def test_nitrate_concerns_babies_and_pregnancy(bench: Bench) -> None:
    # 40 CFR 141 subpart Q appendix B: infants below six months; Washington: 12 months, pregnancy
    assert bench.judge(bench.result("nitrate", "12", "mg/L", "N")).persons == ("infant", "pregnant")


@pytest.mark.parametrize("persons", [(), ("child",), ("elderly",)])
def test_fluoride_over_two_is_watched_for_the_children(bench: Bench, persons: Any) -> None:
    # 40 CFR 141.208: alternative water for children under nine, whoever lives there now
    at_home = Site(home=Home(persons=persons))
    finding = bench.judge(bench.result("fluoride", "3", "mg/L"), site=at_home)
    assert (finding.verdict, finding.persons) == ("watch", ("child", "infant"))
    assert "under nine" in steps(finding)
    assert "2 mg/L" in finding.why[0].text


def test_radon_above_what_a_state_advises_is_a_health_concern(bench: Bench) -> None:
    # Maine CDC: guideline of 4,000 pCi/L for private wells; 10,000 pCi/L add about 1 to the air
    finding = bench.judge(bench.result("radon", "5000", "pCi/L"))
    assert (finding.verdict, finding.urgency) == ("health_concern", "soon")
    codes = [m.code for m in (*finding.why, *finding.do)]
    assert finding.why[0].text.endswith("Maine's guideline for private wells is 4,000 pCi/L.")
    assert {"verdict.state_advice", "rule.radon_to_air", "verdict.do_radon_air"} <= set(codes)
    assert "verdict.do_bottled" not in codes
    assert all(level.kind != "primary_limit" for level in finding.levels)


@pytest.mark.parametrize("amount", ["25", "200"])
def test_sodium_over_the_diet_level_asks_for_the_doctor_at_any_amount(
    bench: Bench, amount: str
) -> None:
    # EPA 822-R-03-006: 20 mg/L for people on a low-salt diet, 60 mg/L by taste
    finding = bench.judge(bench.result("sodium", amount, "mg/L"))
    assert "doctor" in steps(finding)
    assert any("20 mg/L" in m.text for m in finding.why)


def test_sodium_matters_to_a_low_salt_diet_only(bench: Bench) -> None:
    # EPA 822-R-03-006: 20 mg/L for people held to 500 mg of sodium a day
    sodium = bench.result("sodium", "45", "mg/L")
    anybody = bench.judge(sodium)
    assert (anybody.verdict, anybody.persons) == ("no_concern_found", ("low_sodium_diet",))
    assert "doctor" in steps(anybody)
    site = Site(home=Home(persons=("low_sodium_diet",)))
    assert bench.judge(sodium, site=site).verdict == "watch"
    assert bench.judge(bench.result("sodium", "15", "mg/L"), site=site).verdict == (
        "no_concern_found"
    )


def test_everybody_is_concerned_where_no_one_is_named(bench: Bench) -> None:
    assert bench.judge(bench.result("simazine", "9", "ug/L")).persons == ("everyone",)


# --- what the sample and the site file say


def test_the_site_file_decides_the_day_and_how_a_sample_was_taken(bench: Bench) -> None:
    site = Site(
        levels=LevelsChoice(as_of=date(2024, 6, 1)), samples={"7": SampleFacts(taken="flushed")}
    )
    lead = bench.result("lead", "12", "ug/L")
    sheet = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(Sample("7", results=(lead,)),))
    told = bench.interpret(sheet, site=site)
    assert (told.as_of, told.levels_packs) == ("2024-06-01", ("us_federal",))
    assert told.samples[0].taken == "flushed"
    assert told.samples[0].findings[0].verdict == "watch"  # 0.015 decided then
    assert told.site == site.as_dict()


def test_without_a_day_today_counts(bench: Bench) -> None:
    empty = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(Sample(),))
    assert bench.interpret(empty).as_of == date.today().isoformat()  # noqa: DTZ011 - the local day


def test_an_unknown_pack_is_named(bench: Bench) -> None:
    empty = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(Sample(),))
    with pytest.raises(UnknownLevelsError):
        bench.interpret(empty, packs=("moon",))


# --- germs that contradict each other, and germs that are breathed in


@pytest.mark.parametrize("kind", ["e_coli", "fecal_coliform"])
def test_coliform_is_not_absent_where_a_coliform_was_found(bench: Bench, kind: str) -> None:
    # 40 CFR 141 subpart Y: E. coli is one of the coliforms
    absent = bench.judge(bench.result("total_coliform", "Absent"), bench.result(kind, "Present"))
    assert absent.verdict == "cant_tell"
    assert "doubt.contradicts_part" in {message.code for message in absent.why}
    agreed = bench.judge(bench.result("total_coliform", "Absent"), bench.result(kind, "Absent"))
    assert agreed.verdict == "no_concern_found"


def test_two_results_that_differ_are_called_so_once(bench: Bench) -> None:
    rows = [
        bench.result("nitrate", text, "mg/L", "N", label=f"Nitrate {text}") for text in ("2", "15")
    ]
    for row, other in (rows, reversed(rows)):
        told = bench.judge(row, other).why
        assert [m.code for m in told].count("doubt.contradicts") == 1
        assert "check.less_sure" not in {m.code for m in told if "duplicates" in str(m.args)}


@pytest.mark.parametrize(
    ("nitrate", "says"),
    [("6", "is not far enough below its level"), ("1", "is not known"), (None, "is not known")],
)
def test_what_is_said_of_the_babies_is_what_the_sheet_shows(
    bench: Bench, nitrate: str | None, says: str
) -> None:
    # nitrite is on none of these sheets; 40 CFR 141.154(c): nitrate from 5 mg/L is near its level
    beside = [bench.result("nitrate", nitrate, "mg/L", "N")] if nitrate else []
    told = steps(bench.judge(bench.result("e_coli", "Present"), *beside))
    assert f"nitrate or nitrite {says}" in told


@pytest.mark.parametrize("text", ["10", "Present"])
def test_legionella_is_a_matter_of_mist_and_not_of_a_limit(bench: Bench, text: str) -> None:
    # 40 CFR 141.52(a)(3): goal of zero; it is breathed in, so boiling and bottles are no answer
    finding = bench.judge(bench.result("legionella", text, "CFU/mL"))
    assert finding.verdict == "health_concern"
    assert finding.why[0].code == "verdict.germs_found"
    assert "mist" in steps(finding)
    assert not {"bottled", "boil"} & set(steps(finding).lower().split())
    assert finding.value is None


def test_a_count_in_another_volume_is_not_told_as_one_in_100_ml(bench: Bench) -> None:
    finding = bench.judge(bench.result("total_coliform", "3", "CFU/mL"))
    assert (finding.verdict, finding.value) == ("health_concern", None)
    assert bench.judge(bench.result("total_coliform", "3", "MPN/100mL")).value == 3

"""Persons, animals, conflicts of advice, what was seen at the tap, what was not tested."""

from __future__ import annotations

from decimal import Decimal
from itertools import product
from typing import TYPE_CHECKING

import pytest
from verdicts.homes import home

from welltold.boil import boil_advice, boil_facts
from welltold.interpretation import Finding, SampleView
from welltold.site import Home, Site, Tap, Well
from welltold.tables import read_table
from welltold.verdicts.facts import wrong_clauses

if TYPE_CHECKING:
    from .conftest import Bench


def steps(finding: Finding) -> str:
    return " ".join(message.text for message in finding.do)


def own(view: SampleView, label: str) -> Finding:
    return next(f for f in view.findings if f.label == label)


# --- persons


@pytest.mark.parametrize(
    ("person", "row", "words"),
    [
        # Washington State Group B nitrate notice; Minnesota, Safe Drinking Water for Your Baby
        ("infant", ("nitrate", "14", "mg/L", "N"), "baby's doctor"),
        ("infant", ("nitrate", "7", "mg/L", "N"), "baby's formula"),
        # Vermont Department of Health, Coliform Bacteria
        ("infant", ("e_coli", "Present"), "Wash babies with a sponge"),
        ("pregnant", ("nitrate", "14", "mg/L", "N"), "If you are pregnant"),
        # EPA page on lead in drinking water
        ("child", ("lead", "3", "ug/L"), "blood test"),
        # Massachusetts guidance on PFAS
        ("nursing", ("pfos", "9", "ng/L"), "If you are nursing"),
        # 40 CFR 141.154(a): people with weak immune systems should ask their doctors
        ("weak_immunity", ("e_coli", "Present"), "weak immune system"),
        # 40 CFR 141 subpart Q appendix B: uranium harms the kidney
        ("kidney_disease", ("uranium", "12", "ug/L"), "kidney disease"),
        # EPA 822-R-03-006: 20 mg/L for diets held to 500 mg of sodium a day
        ("low_sodium_diet", ("sodium", "45", "mg/L"), "low-salt diet"),
        # homedialysis.org: water for dialysis is held to stricter numbers
        ("home_dialysis", ("fluoride", "1.2", "mg/L"), "dialysis team"),
        ("home_dialysis", ("aluminum", "0.02", "mg/L"), "dialysis team"),
    ],
)
def test_what_changes_for_a_person(
    bench: Bench, person: str, row: tuple[str, ...], words: str
) -> None:
    here = bench.judge(bench.result(*row), site=home(person))
    assert words in steps(here)
    assert person in here.persons
    nobody = bench.judge(bench.result(*row))
    assert set(nobody.persons) <= set(here.persons)
    assert {m.code for m in nobody.do} <= {m.code for m in here.do}


@pytest.mark.parametrize(
    ("row", "alone", "with_baby"),
    [
        # Minnesota Department of Health: manganese 100 ug/L for formula
        (("manganese", "0.2", "mg/L"), "nuisance_only", "watch"),
        (("manganese", "0.1", "mg/L"), "nuisance_only", "nuisance_only"),
        # Ohio State University Extension: sulfate above 400 mg/L not for formula
        (("sulfate", "450", "mg/L"), "nuisance_only", "watch"),
        (("sulfate", "400", "mg/L"), "nuisance_only", "nuisance_only"),
    ],
)
def test_a_baby_makes_some_nuisances_a_matter_to_watch(
    bench: Bench, row: tuple[str, ...], alone: str, with_baby: str
) -> None:
    assert bench.judge(bench.result(*row)).verdict == alone
    assert bench.judge(bench.result(*row), site=home("infant")).verdict == with_baby


def test_what_was_not_found_asks_nothing_of_a_person(bench: Bench) -> None:
    everybody = home("infant", "child", "pregnant", "nursing", "home_dialysis", "kidney_disease")
    for row in (
        ("nitrate", "<0.1", "mg/L", "N"),
        ("uranium", "<1", "ug/L"),
        ("lead", "<1", "ug/L"),
    ):
        finding = bench.judge(bench.result(*row), site=everybody)
        assert (finding.verdict, finding.do, finding.persons) == ("no_concern_found", (), ())


def test_animals_are_told_of_only_when_asked(bench: Bench) -> None:
    # CDC: pets drink what the family drinks; South Dakota State: stock from 100 mg/L as N
    high = bench.result("nitrate", "120", "mg/L", "N")
    assert "vet" not in steps(bench.judge(high))
    assert "vet" in steps(bench.judge(high, site=home(animals=("dog",))))
    assert "stock" in steps(bench.judge(high, site=home(animals=("cattle",))))
    for animal in ("sheep", "goat", "horse"):
        assert "stock" in steps(bench.judge(high, site=home(animals=(animal,))))
    low = bench.result("nitrate", "60", "mg/L", "N")
    assert "stock" not in steps(bench.judge(low, site=home(animals=("cattle",))))


# --- what needs a step today whatever the sheet says


def test_a_smell_of_fuel_is_a_finding_of_its_own(bench: Bench) -> None:
    # New York State: not to boil, vapor; J Occup Environ Med 1996: more than half from the shower
    site = Site(tap=Tap(("fuel_or_solvent_smell",)))
    view = bench.view(bench.result("nitrate", "1", "mg/L", "N"), site=site)
    smell = own(view, "Smell of fuel or solvent")
    assert (smell.analyte, smell.verdict, smell.urgency) == (None, "cant_tell", "now")
    for words in ("no boiling", "no shower", "flames", "health department today"):
        assert words in steps(smell)
    assert view.findings[0] is smell


def test_a_flooded_well_is_a_finding_of_its_own(bench: Bench) -> None:
    view = bench.view(bench.result("hardness", "180", "mg/L"), site=Site(well=Well(flooded=True)))
    flood = own(view, "Flood over the well")
    assert (flood.verdict, flood.urgency, flood.persons) == ("cant_tell", "now", ("everyone",))
    assert "bottled" in steps(flood)
    assert next(f.analyte for f in view.findings if f.verdict == "not_tested") == "total_coliform"


def test_nothing_seen_makes_no_finding(bench: Bench) -> None:
    assert all(f.analyte for f in bench.view(bench.result("iron", "0.1", "mg/L")).findings)


# --- chlorine beside iron and ammonia: Water Treatment Plant Design, chapter 10, AWWA/ASCE


@pytest.mark.parametrize(
    ("beside", "care"),
    [
        (("iron", "8", "mg/L"), "the iron: it uses up chlorine"),
        (("iron", "0.3", "mg/L"), None),
        (("manganese", "0.2", "mg/L"), "the manganese: it uses up chlorine"),
        (("ammonia", "1.5", "mg/L", "N"), "ammonia uses it up"),
        (("ammonia", "<0.1", "mg/L", "N"), None),
    ],
)
def test_chlorine_needs_care_beside_some_things(
    bench: Bench, beside: tuple[str, ...], care: str | None
) -> None:
    germs = bench.judge(bench.result("total_coliform", "Present"), bench.result(*beside))
    told = steps(germs)
    assert ("uses up chlorine" in told or "uses it up" in told) is (care is not None)
    assert care is None or care in told


def test_chlorine_beside_iron_and_manganese_names_both_once(bench: Bench) -> None:
    """Above 0.3 and 0.05 mg/L (40 CFR 143.3); one that was not found is not named."""
    iron = bench.result("iron", "8", "mg/L")
    germs = bench.result("total_coliform", "Present")
    both = steps(bench.judge(germs, iron, bench.result("manganese", "0.2", "mg/L")))
    assert both.count("use up chlorine") == 1
    assert "iron and manganese: they use up chlorine" in both
    assert "manganese" not in steps(bench.judge(germs, iron))


def test_far_above_its_level_lead_and_arsenic_are_for_today(bench: Bench) -> None:
    assert bench.judge(bench.result("lead", "90", "ug/L")).urgency == "soon"
    assert bench.judge(bench.result("lead", "450", "ug/L")).urgency == "now"
    assert bench.judge(bench.result("arsenic", "490", "ug/L")).urgency == "soon"
    assert bench.judge(bench.result("arsenic", "620", "ug/L")).urgency == "now"
    assert bench.judge(bench.result("lead", "<450", "ug/L")).urgency is None


def test_solvents_are_not_showered_in_and_radon_needs_air(bench: Bench) -> None:
    for slug in ("benzene", "trichloroethylene", "toluene", "1_2_dichloroethane"):
        told = steps(bench.judge(bench.result(slug, "2000", "ug/L")))
        assert "Do not boil" in told
        assert "Do not shower" in told
    assert "while you shower" in steps(bench.judge(bench.result("radon", "9000", "pCi/L")))
    assert "shower" not in steps(bench.judge(bench.result("arsenic", "40", "ug/L")))


@pytest.mark.parametrize(
    ("row", "against"),
    [
        # New York State: boiling is no answer to chemicals; chlorine and chloroform boil off, and
        # germs die, so nobody is told that boiling does not help there
        (("arsenic", "40", "ug/L"), True),
        (("atrazine", "9", "ug/L"), True),
        (("pfoa", "40", "ng/L"), True),
        (("edb", "1", "ug/L"), True),
        (("free_chlorine", "6", "mg/L"), False),
        (("total_trihalomethanes", "0.2", "mg/L"), False),
        (("e_coli", "Present"), False),
        (("somatic_coliphage", "Present"), False),
        (("salmonella", "Present"), False),
    ],
)
def test_what_is_said_of_boiling_is_true_of_it(
    bench: Bench, row: tuple[str, ...], against: bool
) -> None:
    low = (
        bench.result("nitrate", "1", "mg/L", "N"),
        bench.result("nitrite", "<0.1", "mg/L", "N"),
    )
    told = steps(bench.judge(bench.result(*row), *low))
    assert told
    assert ("Do not boil" in told) is against


def test_running_the_tap_is_no_advice_where_running_did_not_help(bench: Bench) -> None:
    # EPA homeowner instructions of 2024: a flushed sample shows what running leaves
    below = bench.result("copper", "1.1", "mg/L")
    assert "Run the cold tap" in steps(bench.judge(below, taken="first_draw"))
    assert "Run the cold tap" not in steps(bench.judge(below, taken="flushed"))
    # above its level other water is the one instruction, standing or running
    high = bench.result("copper", "2", "mg/L")
    assert "Run the cold tap" not in steps(bench.judge(high, taken="first_draw"))
    flushed = bench.judge(high, taken="flushed")
    assert "Run the cold tap" not in steps(flushed)
    assert "bottled" in steps(flushed)


# --- the steps and the boil rule agree for every combination


NITRATE = (None, ("1", "N"), ("7", "N"), ("14", "N"), ("12", None), ("<20", "N"))
NITRITE = (None, ("<0.05", "N"), ("2", "N"), ("2", None))
BESIDE = (None, ("lead", "20", "ug/L"), ("benzene", "9", "ug/L"), ("manganese", "1", "mg/L"),
          ("iron", "8", "mg/L"), ("uranium", "28", "ug/L"))  # fmt: skip


@pytest.mark.parametrize("smell", [(), ("fuel_or_solvent_smell",)])
@pytest.mark.parametrize("germs", ["e_coli", "total_coliform"])
def test_the_steps_agree_with_the_boil_rule(
    bench: Bench, germs: str, smell: tuple[str, ...]
) -> None:
    for nitrate, nitrite, beside in product(NITRATE, NITRITE, BESIDE):
        rows = [bench.result(germs, "Present")]
        rows += [bench.result("nitrate", nitrate[0], "mg/L", nitrate[1])] if nitrate else []
        rows += [bench.result("nitrite", nitrite[0], "mg/L", nitrite[1])] if nitrite else []
        rows += [bench.result(*beside)] if beside else []
        view = bench.view(*rows, site=Site(tap=Tap(smell)), sample={"taken": "first_draw"})
        advice = boil_advice(boil_facts(view.findings, smell))
        found = next(f for f in view.findings if f.analyte == germs)
        told = {m.code.removeprefix("verdict.do_") for m in found.do if "germs_" in m.code}
        assert (
            told
            == {
                "boil": {"germs_boil", "germs_boil_high"},
                "babies_unknown": {"germs_babies_unknown", "germs_others_boil", "germs_boil_high"},
                "babies_near": {"germs_babies_near", "germs_others_boil", "germs_boil_high"},
                "never": {"germs_bottled", "germs_never_boil"},
            }[advice]
        ), (nitrate, nitrite, beside, advice)


# --- the tables


@pytest.mark.parametrize("name", ["sample_rules.csv", "core_tests.csv", "causes.csv"])
def test_every_clause_is_one_and_every_row_has_a_source(name: str) -> None:
    for row in read_table(name):
        assert list(wrong_clauses(row.cells["when"])) == []
        assert row.text("source")


def test_a_wrong_clause_is_noticed() -> None:
    assert list(wrong_clauses("lead>5 & !found:iron & flooded")) == []
    assert list(wrong_clauses("leed>5 & seen & found:eisen & moon:full")) == [
        "leed>5",
        "found:eisen",
        "moon:full",
    ]


def test_elevation_is_a_number_of_feet(bench: Bench) -> None:
    high = Site(home=Home(elevation_ft=Decimal(6501)))
    germs = (
        bench.result("e_coli", "Present"),
        bench.result("nitrate_nitrite", "0.9", "mg/L", "N"),
    )
    assert "3 minutes" in steps(bench.judge(*germs, site=high))

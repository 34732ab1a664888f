"""Each rule of several lines: where it speaks, and where it is silent, on either side of its edge.

One case a rule and analyte: what makes it speak, and every single change that must silence it.
Sources stand beside the rules in ``sample_rules.csv``; the numbers are typed again here.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import pytest

from welltold.interpretation import Finding
from welltold.site import Home, Site, Tap, Well

if TYPE_CHECKING:
    from .conftest import Bench

Row = tuple[str, ...]


@dataclass(frozen=True)
class Case:
    """One rule at one analyte."""

    says: str
    """Code of a sentence or a step that only this rule adds here."""
    row: Row
    persons: tuple[str, ...] = ()
    animals: tuple[str, ...] = ()
    beside: tuple[Row, ...] = ()
    taken: str | None = "first_draw"
    silent: tuple[dict[str, Any], ...] = field(default=())
    """Changes of the case, each of which silences the rule."""
    adds: tuple[str, ...] = ()
    """Persons whom the finding then concerns."""


def of_person(person: str, says: str, over: Row, *quiet: Row) -> Case:
    """A rule for somebody who lives there, about what is over, or was found."""
    silent = ({"persons": ()}, *({"row": row} for row in quiet))
    return Case(says, over, persons=(person,), silent=silent, adds=(person,))


def of_animals(slug: str, over: Row, quiet: Row) -> Case:
    return Case("verdict.do_pets_vet", (slug, *over), animals=("dog",),
                silent=({"animals": ()}, {"row": (slug, *quiet)}))  # fmt: skip


N = ("mg/L", "N")
GERMS = ("e_coli", "fecal_coliform", "enterococci")
DIALYSIS = (
    "nitrate", "nitrite", "nitrate_nitrite", "fluoride", "aluminum", "copper", "calcium",
    "magnesium", "sodium", "potassium", "sulfate", "zinc", "lead", "arsenic", "chlorine",
    "free_chlorine", "total_chlorine", "chloramines", "monochloramine",
)  # fmt: skip
CASES = [
    *(of_person(who, f"verdict.do_{step}", (slug, *over), (slug, *under))
      for who, step in (("infant", "baby_doctor"), ("pregnant", "pregnant_doctor"))
      for slug, over, under in (("nitrate", ("12", *N), ("8", *N)),
                                ("nitrite", ("1.2", *N), ("0.5", *N)),
                                ("nitrate_nitrite", ("12", *N), ("8", *N)))),
    *(of_person("infant", "verdict.do_baby_bath", (slug, "Present"), (slug, "Absent"))
      for slug in GERMS),
    of_person("child", "verdict.do_lead_doctor", ("lead", "3", "ug/L"), ("lead", "<1", "ug/L")),
    of_person("pregnant", "verdict.do_pregnant_doctor", ("lead", "3", "ug/L"),
              ("lead", "<1", "ug/L")),
    *(of_person("pregnant", "verdict.do_pregnant_doctor", over, under)
      for over, under in ((("arsenic", "12", "ug/L"), ("arsenic", "8", "ug/L")),
                          (("pfoa", "5", "ng/L"), ("pfoa", "3", "ng/L")),
                          (("pfas_hazard_index", "1.2"), ("pfas_hazard_index", "0.5")))),
    *(of_person("nursing", "verdict.do_nursing_doctor", over, under)
      for over, under in ((("pfos", "5", "ng/L"), ("pfos", "3", "ng/L")),
                          (("pfas_hazard_index", "1.2"), ("pfas_hazard_index", "0.5")))),
    *(of_person("weak_immunity", "verdict.do_immunity_doctor", (slug, "Present"), (slug, "Absent"))
      for slug in (*GERMS, "total_coliform")),
    *(of_person("elderly", "rule.elderly_germs", (slug, "Present"), (slug, "Absent"))
      for slug in (*GERMS, "total_coliform")),
    of_person("kidney_disease", "verdict.do_kidney_doctor", ("uranium", "3", "ug/L"),
              ("uranium", "<1", "ug/L")),
    *(of_person("home_dialysis", "verdict.do_dialysis_unit", (slug, "0.5", "mg/L", "N"),
                (slug, "<0.01", "mg/L", "N")) if slug.startswith("nitr") else
      of_person("home_dialysis", "verdict.do_dialysis_unit", (slug, "0.5", "mg/L"),
                (slug, "<0.0001", "mg/L")) for slug in DIALYSIS),
    *(of_animals(slug, over, under) for slug, over, under in (
        ("nitrate", ("12", *N), ("8", *N)), ("nitrite", ("1.2", *N), ("0.5", *N)),
        ("nitrate_nitrite", ("12", *N), ("8", *N)), ("lead", ("12", "ug/L"), ("3", "ug/L")),
        ("arsenic", ("12", "ug/L"), ("3", "ug/L")), ("copper", ("1.5", "mg/L"), ("0.5", "mg/L")),
        ("uranium", ("40", "ug/L"), ("3", "ug/L")), ("fluoride", ("5", "mg/L"), ("1", "mg/L")),
        ("e_coli", ("Present",), ("Absent",)), ("fecal_coliform", ("Present",), ("Absent",)),
        ("total_coliform", ("Present",), ("Absent",)))),
    # South Dakota State University Extension: caution above 100 mg/L of nitrate as N
    *(Case("verdict.do_livestock_vet", (slug, "110", *N), animals=(animal,),
           silent=({"row": (slug, "90", *N)}, {"animals": ("dog",)}))
      for animal in ("cattle", "sheep", "goat", "horse")
      for slug in ("nitrate", "nitrate_nitrite")),
    # 40 CFR 143.3: iron 0.3, manganese 0.05; chlorine goes to them and to ammonia first
    *(Case("verdict.do_chlorine_iron", (slug, "Present"), beside=(("iron", "0.31", "mg/L"),),
           silent=({"row": (slug, "Absent")}, {"beside": (("iron", "0.29", "mg/L"),)}))
      for slug in (*GERMS, "total_coliform")),
    *(Case("verdict.do_chlorine_manganese", (slug, "Present"),
           beside=(("manganese", "0.06", "mg/L"),),
           silent=({"row": (slug, "Absent")}, {"beside": (("manganese", "0.04", "mg/L"),)}))
      for slug in (*GERMS, "total_coliform")),
    *(Case("verdict.do_chlorine_ammonia", (slug, "Present"), beside=(("ammonia", "1", *N),),
           silent=({"row": (slug, "Absent")}, {"beside": (("ammonia", "<0.1", *N),)}))
      for slug in (*GERMS, "total_coliform")),
    Case("rule.lead_running", ("lead", "12", "ug/L"), taken="flushed",
         silent=({"taken": "first_draw"}, {"row": ("lead", "8", "ug/L")})),
    Case("verdict.do_copper_run", ("copper", "1.1", "mg/L"),
         silent=({"row": ("copper", "0.9", "mg/L")}, {"row": ("copper", "1.4", "mg/L")},
                 {"taken": "flushed"})),
    Case("rule.copper_running", ("copper", "1.4", "mg/L"), taken="flushed",
         silent=({"taken": "first_draw"}, {"row": ("copper", "1.2", "mg/L")})),
    *(Case("rule.acid_metals", over, beside=(("ph", "6.4", "SU"),),
           silent=({"row": under}, {"beside": (("ph", "6.6", "SU"),)}))
      for over, under in ((("lead", "12", "ug/L"), ("lead", "<1", "ug/L")),
                          (("copper", "1.4", "mg/L"), ("copper", "0.5", "mg/L")))),
    # 40 CFR 141.72: 500 per mL
    Case("rule.plate_count", ("heterotrophic_plate_count", "510", "CFU/mL"),
         silent=({"row": ("heterotrophic_plate_count", "490", "CFU/mL")},)),
    Case("rule.very_high", ("lead", "110", "ug/L"), silent=({"row": ("lead", "90", "ug/L")},)),
    Case("rule.very_high", ("arsenic", "510", "ug/L"),
         silent=({"row": ("arsenic", "490", "ug/L")},)),
    Case("verdict.do_bottled", ("copper", "3.1", "mg/L"),
         silent=({"row": ("copper", "2.9", "mg/L")},), adds=("infant", "child")),
    Case("rule.vapor", ("benzene", "6", "ug/L"), silent=({"row": ("benzene", "4", "ug/L")},)),
    # Maine CDC: 4,000 pCi/L
    Case("rule.radon_to_air", ("radon", "4100", "pCi/L"),
         silent=({"row": ("radon", "3900", "pCi/L")},)),
    # Minnesota Department of Health: 100 ug/L; Ohio State University Extension: 400 mg/L
    Case("rule.manganese_formula", ("manganese", "0.11", "mg/L"),
         silent=({"row": ("manganese", "0.09", "mg/L")},), adds=("infant",)),
    # 40 CFR 141.62(b)(16): 10 ug/L; N.J.A.C. 7:10-5.2(a)3 and New Hampshire since 2021: 5 ug/L
    Case("rule.arsenic_formula", ("arsenic", "6", "ug/L"),
         silent=({"row": ("arsenic", "4.9", "ug/L")}, {"row": ("arsenic", "11", "ug/L")}),
         adds=("infant",)),
    Case("verdict.do_arsenic_formula", ("arsenic", "6", "ug/L"),
         silent=({"row": ("arsenic", "4.9", "ug/L")}, {"row": ("arsenic", "11", "ug/L")})),
    Case("rule.sulfate_formula", ("sulfate", "410", "mg/L"),
         silent=({"row": ("sulfate", "390", "mg/L")},), adds=("infant",)),
    Case("verdict.do_manganese_formula", ("manganese", "0.11", "mg/L"),
         silent=({"row": ("manganese", "0.09", "mg/L")},)),
    Case("verdict.do_sulfate_formula", ("sulfate", "410", "mg/L"),
         silent=({"row": ("sulfate", "390", "mg/L")},)),
]  # fmt: skip


def judged(bench: Bench, case: Case, change: dict[str, Any]) -> Finding:
    """Return the finding of a case with one change."""
    told = vars(case) | change
    site = Site(home=Home(persons=told["persons"], animals=told["animals"]))
    beside = [bench.result(*row) for row in told["beside"]]
    row = bench.result(*told["row"])
    return bench.judge(row, *beside, site=site, taken=told["taken"])


def codes(finding: Finding) -> set[str]:
    return {message.code for message in (*finding.why, *finding.do)}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.says}-{'-'.join(case.row)}")
def test_a_rule_speaks_only_where_its_source_does(bench: Bench, case: Case) -> None:
    spoken = judged(bench, case, {})
    assert case.says in codes(spoken)
    assert set(case.adds) <= set(spoken.persons)
    for change in case.silent:
        assert case.says not in codes(judged(bench, case, change)), change


@pytest.mark.parametrize(
    ("slug", "over", "under", "steps"),
    [
        ("lead", "110", "90", {"verdict.do_bottled", "verdict.do_call_health_today"}),
        ("arsenic", "510", "490", {"verdict.do_call_health_today"}),
    ],
)
def test_far_above_the_level_is_for_today(
    bench: Bench, slug: str, over: str, under: str, steps: set[str]
) -> None:
    high = bench.judge(bench.result(slug, over, "ug/L"))
    assert (high.verdict, high.urgency) == ("health_concern", "now")
    assert steps <= codes(high)
    less = bench.judge(bench.result(slug, under, "ug/L"))
    assert (less.verdict, less.urgency) == ("health_concern", "soon")
    assert not steps <= codes(less)


@pytest.mark.parametrize(
    ("row", "verdict", "baby"),
    [
        (("manganese", "0.11", "mg/L"), "nuisance_only", "watch"),
        (("manganese", "0.09", "mg/L"), "nuisance_only", "nuisance_only"),
        (("sulfate", "410", "mg/L"), "nuisance_only", "watch"),
        (("sulfate", "390", "mg/L"), "nuisance_only", "nuisance_only"),
    ],
)
def test_a_baby_turns_some_nuisances_into_something_to_watch(
    bench: Bench, row: Row, verdict: str, baby: str
) -> None:
    home = Site(home=Home(persons=("infant",)))
    assert bench.judge(bench.result(*row)).verdict == verdict
    assert bench.judge(bench.result(*row), site=home).verdict == baby


def own(bench: Bench, label: str, *rows: Row, **site: Any) -> Finding | None:
    """Return the finding that rests on no line of the sheet."""
    view = bench.view(*(bench.result(*row) for row in rows), site=Site(**site))
    return next((f for f in view.findings if f.label == label and f.analyte is None), None)


def test_a_smell_of_fuel_stops_the_use_of_the_water_today(bench: Bench) -> None:
    # New York State Department of Health
    smell = {"tap": Tap(observations=("fuel_or_solvent_smell",))}
    told = own(bench, "Smell of fuel or solvent", **smell)
    assert told is not None
    assert (told.verdict, told.urgency, told.persons) == ("cant_tell", "now", ("everyone",))
    asked = {"verdict.do_fuel_now", "verdict.do_call_health_today", "verdict.do_test_fuel"}
    assert asked <= codes(told)
    assert own(bench, "Smell of fuel or solvent") is None


def test_a_flood_asks_for_other_water_today(bench: Bench) -> None:
    # US EPA private wells page
    told = own(bench, "Flood over the well", well=Well(flooded=True))
    assert told is not None
    assert (told.verdict, told.urgency, told.persons) == ("cant_tell", "now", ("everyone",))
    asked = {"flood_bottled", "flood_test", "call_health_today"}
    assert {f"verdict.do_{step}" for step in asked} <= codes(told)
    assert own(bench, "Flood over the well", well=Well(flooded=False)) is None


def test_gas_in_the_water_is_named_until_it_is_measured(bench: Bench) -> None:
    # Office of Surface Mining
    seen = {"tap": Tap(observations=("milky_spurting",))}
    told = own(bench, "Gas in the water", **seen)
    assert told is not None
    assert (told.verdict, told.urgency, told.persons) == ("cant_tell", "soon", ("everyone",))
    asked = {f"verdict.do_{step}" for step in ("gas_vent", "gas_now", "gas_specialist")}
    assert asked <= codes(told)
    assert own(bench, "Gas in the water", ("methane", "1", "mg/L"), **seen) is None
    assert own(bench, "Gas in the water") is None


@pytest.mark.parametrize("slug", ["nitrate", "nitrate_nitrite"])
def test_a_baby_gets_other_water_while_nitrate_near_its_level_is_rejected(
    bench: Bench, slug: str
) -> None:
    # 40 CFR 141.154(c): from 5 mg/L as N; a rejected result can no longer be told
    def told(text: str, *persons: Any) -> set[str]:
        row = bench.result(slug, text, "mg/L", "N", qualifiers=("R",))
        return codes(bench.judge(row, site=Site(home=Home(persons=persons))))

    assert "verdict.do_baby_bottled" in told("5.5", "infant")
    assert "verdict.do_baby_bottled" not in told("4.5", "infant")
    assert "verdict.do_baby_bottled" not in told("5.5")
    over = bench.result(slug, "12", "mg/L", "N")  # over the level no other test is waited for
    home = Site(home=Home(persons=("infant",)))
    assert "verdict.do_baby_bottled" not in codes(bench.judge(over, site=home))

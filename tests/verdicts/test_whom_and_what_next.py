"""Whom a result concerns, what comes first, and what was not tested: typed anew."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from welltold.site import Home, Site, Tap, Well
from welltold.verdicts.tables import words

if TYPE_CHECKING:
    from .conftest import Bench

Row = tuple[str, ...]
FRAIL = ("everyone", "infant", "elderly", "weak_immunity")
BABY = ("infant", "pregnant")
GROWING = ("everyone", "pregnant", "nursing", "infant")
ALL = ("everyone",)
# 40 CFR 141 subpart Q appendix B (health words), 141.154, 141.85, 141.208; EPA 2004 on manganese;
# Massachusetts on PFAS; Minnesota (before a baby drinks the water); EPA 811-F-94-008 and
# 822-R-03-006; the gravest first
CONCERNED: list[tuple[str, tuple[str, ...]]] = [
    *((slug, FRAIL) for slug in ("e_coli", "fecal_coliform", "enterococci", "coliphage")),
    *((slug, ("everyone", "weak_immunity"))
      for slug in ("giardia", "cryptosporidium", "enteric_viruses")),
    ("methane", ALL),
    ("nitrite", BABY), ("nitrate", BABY), ("nitrate_nitrite", BABY),
    ("chlorine_dioxide", ("infant", "pregnant", "child")),
    ("total_coliform", FRAIL),
    ("lead", ("infant", "child", "pregnant")),
    ("arsenic", ("everyone", "pregnant", "infant")),
    ("uranium", ("everyone", "kidney_disease")),
    ("radium_226_228", ALL), ("radium_226", ALL), ("radium_228", ALL), ("gross_alpha", ALL),
    *((slug, GROWING) for slug in ("pfoa", "pfos", "pfhxs", "pfna", "hfpo_da",
                                   "pfas_hazard_index", "pfas_6", "pfas_5")),
    *((slug, ALL) for slug in ("thallium", "mercury", "cadmium", "antimony", "vinyl_chloride",
                               "benzene", "trichloroethylene", "tetrachloroethylene", "radon")),
    ("copper", ("everyone", "infant", "child")),
    ("manganese", ("infant", "child", "everyone")),
    ("fluoride", ("everyone", "child", "infant")),
    ("sulfate", ("infant",)),
    ("sodium", ("low_sodium_diet",)),
    *((slug, ALL) for slug in ("barium", "selenium", "chromium")),
    ("boron", ("everyone", "pregnant")),
    ("strontium", ("child", "everyone")),
    ("molybdenum", ALL),
    ("ph", ()), ("iron", ()), ("hardness", ()),
]  # fmt: skip


def test_each_result_names_whom_it_concerns_most() -> None:
    assert {slug: words(slug).persons for slug, _ in CONCERNED} == dict(CONCERNED)


def test_what_is_graver_in_its_consequence_comes_first() -> None:
    order = [words(slug).order for slug, _ in CONCERNED]
    assert order == sorted(order)
    assert len(set(order)) == len(order)
    assert words("calcium").order > max(order)


def test_numbers_that_cannot_be_and_units_that_need_not_be_printed() -> None:
    assert (words("ph").least, words("ph").most, words("ph").bare_unit) == (0, 14, "SU")
    assert (words("pfas_hazard_index").least, words("pfas_hazard_index").bare_unit) == (0, "ratio")
    assert {slug: words(slug).bases for slug in ("nitrate", "nitrite", "nitrate_nitrite")} == {
        "nitrate": ("N", "NO3"), "nitrite": ("N", "NO2"), "nitrate_nitrite": ("N", "NO3"),
    }  # fmt: skip


# --- what was not tested: EPA's yearly list, Minnesota's list before a baby drinks the water,
# New Hampshire's list for bedrock wells, and what the findings ask for

ALWAYS = ["total_coliform", "nitrate", "arsenic", "lead", "manganese", "ph", "fluoride", "uranium",
          "copper", "hardness", "iron", "total_dissolved_solids"]  # fmt: skip
PLAIN: dict[str, Row] = {
    "total_coliform": ("total_coliform", "Absent"),
    "nitrate": ("nitrate", "1", "mg/L", "N"),
    "ph": ("ph", "7.2", "SU"),
    "total_dissolved_solids": ("total_dissolved_solids", "300", "mg/L"),
    "uranium": ("uranium", "<1", "ug/L"),
    "hardness": ("hardness", "90", "mg/L", "CaCO3"),
}


def plain(slug: str) -> Row:
    """Return a quiet result of a test."""
    return PLAIN.get(slug, (slug, "<0.0001", "mg/L"))


def untested(bench: Bench, *rows: Row, **site: Any) -> dict[str, str]:
    """Return what is listed as not tested, in order, each with its reason."""
    made = [bench.result(*row) for row in rows]
    view = bench.view(*made, site=Site(**site), sample={"taken": "first_draw"})
    listed = [f for f in view.findings if f.verdict == "not_tested"]
    return {f.analyte or "": f.why[0].code.removeprefix("verdict.untested_") for f in listed}


def test_a_well_of_which_nothing_is_known_gets_the_usual_list(bench: Bench) -> None:
    assert list(untested(bench)) == ALWAYS[:8]
    # each one that was tested makes room for the next
    for count in range(1, len(ALWAYS) + 1):
        tested = (plain(slug) for slug in ALWAYS[:count])
        assert list(untested(bench, *tested)) == ALWAYS[count : count + 8]


@pytest.mark.parametrize(
    ("slug", "instead"),
    [
        ("total_coliform", "e_coli"), ("total_coliform", "fecal_coliform"),
        ("nitrate", "nitrate_nitrite"), ("arsenic", "arsenic_iii"), ("arsenic", "arsenic_v"),
        ("total_dissolved_solids", "specific_conductance"),
    ],
)  # fmt: skip
def test_another_test_that_answers_the_same_question_will_do(
    bench: Bench, slug: str, instead: str
) -> None:
    others = [plain(one) for one in ALWAYS[4:] if one != slug]
    units = {"e_coli": ("Absent",), "fecal_coliform": ("Absent",),
             "specific_conductance": ("300", "uS/cm")}  # fmt: skip
    row = (instead, *units.get(instead, ("0.0001", "mg/L")))
    assert slug in untested(bench, *others)
    assert slug not in untested(bench, *others, row)


BEDROCK = {"well": Well(aquifer="bedrock")}
# rows of the sheet, the site, the test that this calls for, its reason, and its place at most
CALLED: list[tuple[tuple[Row, ...], dict[str, Any], str, str, int]] = [
    ((("total_coliform", "Present"),), {}, "e_coli", "e_coli", 1),
    ((), {"well": Well(flooded=True)}, "total_coliform", "germs_flood", 1),
    ((), {"tap": Tap(("fuel_or_solvent_smell",))}, "benzene", "fuel", 3),
    ((), {"tap": Tap(("oily_film",))}, "benzene", "fuel", 3),
    ((), {"tap": Tap(("milky_spurting",))}, "methane", "methane", 3),
    ((("e_coli", "Present"),), {}, "nitrite", "nitrite", 2),
    ((("gross_alpha", "20", "pCi/L"),), {}, "uranium", "uranium_alpha", 3),
    ((("gross_alpha", "20", "pCi/L"),), {}, "radium_226", "radium_alpha", 4),
    ((("gross_alpha", "5.5", "pCi/L"), ("uranium", "<1", "ug/L")), {}, "radium_226",
     "radium_alpha", 3),
    ((("radium_226", "2", "pCi/L"),), {}, "radium_228", "radium_pair", 3),
    ((("uranium", "40", "ug/L"),), {}, "radon", "radon_uranium", 3),
    ((("ph", "6.4", "SU"),), {}, "lead", "lead_acid", 3),
    ((("ph", "6.4", "SU"),), {}, "copper", "copper_acid", 4),
    ((), {"tap": Tap(("blue_green_stains",))}, "copper", "copper_stains", 3),
    ((), {"tap": Tap(("blue_green_stains",))}, "lead", "lead_acid", 4),
    ((), {"tap": Tap(("pinholes",))}, "copper", "copper_stains", 3),
    ((), BEDROCK, "arsenic", "arsenic_rock", 3),
    ((), BEDROCK, "uranium", "uranium_rock", 4),
    ((("uranium", "<1", "ug/L"),), BEDROCK, "radon", "radon_rock", 4),
    ((), {"home": Home(persons=("infant",))}, "lead", "lead_baby", 3),
    ((), {"home": Home(persons=("child",))}, "lead", "lead_baby", 3),
    ((), {"home": Home(persons=("pregnant",))}, "lead", "lead_baby", 3),
    ((), {"home": Home(persons=("infant",))}, "arsenic", "arsenic_baby", 4),
    ((), {"home": Home(persons=("infant",))}, "manganese", "manganese", 5),
    ((), {"home": Home(persons=("infant",))}, "fluoride", "fluoride", 6),
    ((("nitrate", "5.1", "mg/L", "N"),), {"home": Home(farmed_nearby=True)}, "atrazine",
     "pesticides", 2),
    ((), {"home": Home(farmed_nearby=True), "well": Well(kind="dug")}, "atrazine",
     "pesticides", 3),
    ((), {"tap": Tap(("rotten_egg_cold",))}, "hydrogen_sulfide", "sulfide", 3),
    ((), {"tap": Tap(("tea_coloured",))}, "tannin", "tannin", 3),
    ((), {"tap": Tap(("black_specks",))}, "manganese", "manganese_specks", 3),
    ((), {"tap": Tap(("clear_then_rusty",))}, "iron", "iron_seen", 3),
    ((), {"tap": Tap(("rusty_at_once",))}, "iron", "iron_seen", 3),
    ((), {"tap": Tap(("salty_taste",))}, "chloride", "chloride", 3),
    ((), {"tap": Tap(("scale",))}, "hardness", "hardness", 3),
    ((), {"home": Home(persons=("home_dialysis",))}, "aluminum", "dialysis", 3),
    ((), {"home": Home(persons=("low_sodium_diet",))}, "sodium", "sodium", 3),
]  # fmt: skip


@pytest.mark.parametrize(("rows", "site", "slug", "why", "place"), CALLED)
def test_what_is_seen_found_or_lived_there_calls_for_its_test(
    bench: Bench, rows: tuple[Row, ...], site: dict[str, Any], slug: str, why: str, place: int
) -> None:
    listed = untested(bench, *rows, **site)
    assert listed.get(slug) == why
    assert list(listed).index(slug) < place


@pytest.mark.parametrize(
    ("rows", "site", "slug", "why"),
    [
        ((("total_coliform", "Absent"),), {}, "e_coli", "e_coli"),
        ((("e_coli", "Absent"),), {}, "nitrite", "nitrite"),
        ((("gross_alpha", "4.5", "pCi/L"),), {}, "radium_226", "radium_alpha"),
        ((("gross_alpha", "4.5", "pCi/L"),), {}, "uranium", "uranium_alpha"),
        ((("radium_226", "<1", "pCi/L"),), {}, "radium_228", "radium_pair"),
        ((("uranium", "20", "ug/L"),), {}, "radon", "radon_uranium"),
        ((("ph", "6.6", "SU"),), {}, "lead", "lead_acid"),
        ((("ph", "6.6", "SU"),), {}, "copper", "copper_acid"),
        ((("nitrate", "4.9", "mg/L", "N"),), {"home": Home(farmed_nearby=True)}, "atrazine",
         "pesticides"),
        ((("nitrate", "5.1", "mg/L", "N"),), {}, "atrazine", "pesticides"),
        ((), {"home": Home(farmed_nearby=True), "well": Well(kind="drilled")}, "atrazine",
         "pesticides"),
        ((), {"well": Well(kind="dug")}, "atrazine", "pesticides"),
        ((("uranium", "<1", "ug/L"),), {}, "radon", "radon_rock"),
        ((), BEDROCK, "radon", "radon_rock"),
        ((), {"well": Well(flooded=False)}, "total_coliform", "germs_flood"),
        ((), {}, "arsenic", "arsenic_baby"),
        ((), {}, "arsenic", "arsenic_rock"),
    ],
)  # fmt: skip
def test_without_that_reason_it_is_not_called_for(
    bench: Bench, rows: tuple[Row, ...], site: dict[str, Any], slug: str, why: str
) -> None:
    assert untested(bench, *rows, **site).get(slug) != why


@pytest.mark.parametrize(
    ("rows", "site", "slug", "done"),
    [
        ((("total_coliform", "Present"),), {}, "e_coli", ("fecal_coliform", "Absent")),
        ((("total_coliform", "Present"),), {}, "e_coli", ("e_coli", "Absent")),
        ((("e_coli", "Present"),), {}, "nitrite", ("nitrite", "<0.1", "mg/L", "N")),
        ((("e_coli", "Present"),), {}, "nitrite", ("nitrate_nitrite", "1", "mg/L", "N")),
        ((("gross_alpha", "20", "pCi/L"),), {}, "radium_226", ("radium_226", "<1", "pCi/L")),
        ((("gross_alpha", "20", "pCi/L"),), {}, "radium_226", ("radium_226_228", "1", "pCi/L")),
        ((("gross_alpha", "5.5", "pCi/L"),), {}, "radium_226", ("radium_226", "<1", "pCi/L")),
        ((("gross_alpha", "5.5", "pCi/L"), ("uranium", "<1", "ug/L")), {}, "radium_226",
         ("radium_226_228", "1", "pCi/L")),
        ((("radium_226", "2", "pCi/L"),), {}, "radium_228", ("radium_226_228", "3", "pCi/L")),
        ((("radium_226", "2", "pCi/L"),), {}, "radium_228", ("radium_228", "<1", "pCi/L")),
        ((), {"tap": Tap(("rotten_egg_cold",))}, "hydrogen_sulfide", ("sulfide", "1", "mg/L", "S")),
        ((), {"tap": Tap(("oily_film",))}, "benzene", ("toluene", "<1", "ug/L")),
        ((), {"home": Home(farmed_nearby=True), "well": Well(kind="dug")}, "atrazine",
         ("simazine", "<0.1", "ug/L")),
        ((), BEDROCK, "arsenic", ("arsenic_iii", "1", "ug/L")),
        ((), BEDROCK, "arsenic", ("arsenic_v", "1", "ug/L")),
        ((), {"home": Home(persons=("infant",))}, "arsenic", ("arsenic_iii", "1", "ug/L")),
        ((), {"home": Home(persons=("infant",))}, "arsenic", ("arsenic_v", "1", "ug/L")),
        ((), {"well": Well(flooded=True)}, "total_coliform", ("e_coli", "Absent")),
        ((), {"well": Well(flooded=True)}, "total_coliform", ("fecal_coliform", "Absent")),
        ((), {"well": Well(flooded=True)}, "total_coliform", ("total_coliform", "Absent")),
    ],
)  # fmt: skip
def test_what_was_done_is_not_called_for(
    bench: Bench, rows: tuple[Row, ...], site: dict[str, Any], slug: str, done: Row
) -> None:
    assert slug in untested(bench, *rows, **site)
    assert slug not in untested(bench, *rows, done, **site)

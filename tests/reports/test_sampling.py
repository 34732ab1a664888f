"""The cards of the next sample: the right bottle and time for each test, amounts for this well."""

from __future__ import annotations

import re
from dataclasses import fields
from decimal import Decimal
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import report_cases as cases
from hypothesis import given
from hypothesis import strategies as st
from lxml import html as lxml_html
from pdfplumber import open as open_pdf
from report_making import Sheet, note, sample, view_of
from test_reports_words import FORBIDDEN, LONGEST

import welltold
from welltold.analytes import registry
from welltold.interpretation import Interpretation, Retest, SampleView, Step
from welltold.messages import LANGUAGES, catalogue
from welltold.sampling import sample_cards, shock_card
from welltold.sampling.bottles import bottles, taken_in
from welltold.sampling.cards import last_weekday
from welltold.sampling.shock import bleach_ml, cups, water_gallons
from welltold.tables import read_table
from welltold_reports import write
from welltold_reports.cards import build_cards
from welltold_reports.html import cards_html

D = Decimal
WELL = {"depth_ft": D(180), "static_ft": D(40), "casing_in": D(6)}


def view(*slugs: str, steps: tuple[str, ...] = (), site: Any = None) -> SampleView:
    """A sample for which these tests are advised."""
    sheet = Sheet().row("iron", "Iron", "0.1", "no_concern_found", value=D("0.1"), unit="mg/L")
    sheet.untested(*slugs)
    return sample(sheet, steps=tuple(Step(step, (note(step),)) for step in steps))[0]


def told(*slugs: str, **site: Any) -> dict[str, str]:
    """What each card says, by bottle."""
    return {
        card.bottle: " ".join(one.text for one in (*card.do, *card.ship, *card.write))
        for card in sample_cards(view(*slugs), site)
    }


# -- bottles --------------------------------------------------------------------------------------


def test_every_analyte_has_a_bottle_and_every_bottle_its_words() -> None:
    for slug in registry():
        assert taken_in(slug).bottle.source
        assert taken_in(slug).keeping.source
    for language in LANGUAGES:
        words = catalogue("sampling", language)
        for bottle in bottles().values():
            names = {f"name_{bottle.name}", f"bottle_{bottle.name}", f"tap_{bottle.tap}"}
            names |= {f"draw_{bottle.draw}", f"fill_{bottle.fill}"} - {"draw_none", "fill_none"}
            assert names <= words.keys()


HOURS = {
    "total_coliform": 30,
    "e_coli": 30,
    "nitrate": 48,
    "nitrite": 48,
    "turbidity": 48,
    "total_dissolved_solids": 7 * 24,
    "fluoride": 28 * 24,
    "sulfate": 28 * 24,
    "mercury": 28 * 24,
    "radon": 72,
    "arsenic": 180 * 24,
    "lead": 180 * 24,
    "uranium": 180 * 24,
}
"""US EPA FAQ on 40 CFR 141.21(f)(3): 30 h. Maine Environmental Laboratory, 2024: nitrate, nitrite
48 h; mercury, fluoride 28 d; metals and uranium 6 months; radon 72 h. 40 CFR 136 Table II of 1995:
turbidity 48 h, dissolved solids 7 d, sulfate 28 d."""


@pytest.mark.parametrize("slug", HOURS)
def test_hold_times_are_those_of_their_sources(slug: str) -> None:
    assert taken_in(slug).keeping.hours == HOURS[slug]


def test_what_was_not_read_anywhere_says_ask_the_lab() -> None:
    assert "Ask the lab how long it keeps." in told("pfoa")["pfas"]
    assert "We could not check this time. Ask the lab." in told("benzene")["vials"]


@pytest.mark.parametrize(
    ("hours", "chill", "day"),
    [
        (30, True, "wednesday"),
        (48, True, "wednesday"),
        (72, False, "wednesday"),
        (168, True, "thursday"),
        (None, True, "thursday"),
        (4320, False, "any"),
        (None, False, "any"),
    ],
)
def test_weekdays(hours: int | None, day: str, *, chill: bool) -> None:
    assert last_weekday(None if hours is None else D(hours), chill=chill) == day


def test_germs_are_taken_without_the_screen_and_lead_with_it() -> None:
    """Germs: Washtenaw County; US Water. Lead: EPA's instructions for homeowners, 2024."""
    cards = told("total_coliform", "lead")
    assert "Take the screen (the aerator) off" in cards["germs"]
    assert "sterile" in cards["germs"]
    assert "within 30 hours" in cards["germs"]
    assert "Leave the screen (the aerator) on" in cards["first_draw"]
    assert "for 6 hours" in cards["first_draw"]
    assert "No softener or filter" in cards["first_draw"]
    assert "Run the cold water at full stream" not in cards["first_draw"]


def test_the_least_time_of_a_bottle_counts() -> None:
    assert "within 7 days" in told("fluoride", "total_dissolved_solids")["plain"]
    assert "within 48 hours" in told("fluoride", "turbidity")["plain"]


def test_a_test_at_the_tap_is_not_sent_anywhere() -> None:
    card = told("ph")["on_site"]
    assert "In a bottle it changes within minutes." in card
    assert "Monday" not in card


def test_equipment_is_named_and_both_sides_are_taken() -> None:
    site = {"equipment": {"in_place": ("softener",)}}
    card = told("nitrate", **site)["nitrogen"]
    assert "one bottle ahead of it and one behind it" in card
    assert "water softener" in card
    assert "one behind it" not in told("nitrate")["nitrogen"]


def test_the_bottle_for_the_pipes_is_asked_to_test_what_the_report_asks_of_it(
    tmp_path: Path,
) -> None:
    """EPA's sheet of 2024: lead that stood for six hours; this lead's standing is not known."""
    sheet = tmp_path / "sheet.csv"
    sheet.write_text("Analyte,Result,Unit\nLead,<1,ug/L\nTotal coliform,Absent,per 100 mL\n")
    one = welltold.interpret(welltold.read(sheet)).samples[0]
    (lead,) = (f for f in one.findings if f.analyte == "lead")
    assert "verdict.do_pipes_first_draw" in {step.code for step in lead.do}
    (card,) = (card for card in sample_cards(one, {}) if card.bottle == "first_draw")
    assert {asked.analyte: asked.when for asked in card.tests} == dict.fromkeys(
        ("copper", "lead"), ("with the next sample",)
    )


def test_every_advised_test_stands_on_exactly_one_card() -> None:
    one = view("total_coliform", "nitrate", "arsenic", "radon", "ph", "benzene", "pfoa")
    retests = (Retest("nitrate_nitrite", "at once", ()), Retest("nitrate", "every year", ()))
    one = SampleView(None, None, None, None, one.findings, retest=retests)
    cards = sample_cards(one, {})
    slugs = [asked.analyte for card in cards for asked in card.tests]
    assert sorted(slugs) == sorted(set(slugs))
    assert set(slugs) == {
        "total_coliform", "nitrate", "arsenic", "radon", "ph", "benzene", "pfoa"
    }  # fmt: skip
    (nitrate,) = [asked for card in cards for asked in card.tests if asked.analyte == "nitrate"]
    assert nitrate.when == ("with the next sample", "every year"), "in the order of time"


def test_urgent_bottles_come_first() -> None:
    sheet = Sheet().row(
        "radon", "Radon", "9000", "health_concern", urgency="now", value=D(9000), unit="pCi/L"
    )
    sheet.untested("total_coliform", "nitrate")
    one = sample(sheet, retest=(Retest("radon", "at once", ()),))[0]
    assert [card.bottle for card in sample_cards(one, {})] == ["radon", "germs", "nitrogen"]


# -- shock chlorination ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("inches", "gallons"), [(4, "0.65"), (5, "1.0"), (6, "1.5"), (8, "2.6"), (10, "4.1")]
)
def test_gallons_in_a_foot_of_casing(inches: int, gallons: str) -> None:
    """Printed by the Hickory Underground Water Conservation District."""
    found = water_gallons(D(inches), D(1))
    assert abs(found - D(gallons)) <= D("0.05")


def test_bleach_as_the_published_recipes_have_it() -> None:
    """Hickory: 3 cups of 5.25 % in 100 gallons for about 100 mg/L. Table 1: 1 quart for 100 ft of
    6-inch casing. American Ground Water Trust: 1 quart in 50 gallons for 200 to 300 mg/L."""
    assert abs(bleach_ml(D(100), D("5.25")) - 3 * D("236.6")) < 15
    assert abs(bleach_ml(water_gallons(D(6), D(100)), D("5.25")) - D("946.4")) < 130
    assert D("0.75") < bleach_ml(D(50), D("5.25"), D(250)) / D("946.4") < D("1.05")


@given(st.integers(2, 12), st.integers(1, 900), st.sampled_from(["5.25", "6", "8.25"]))
def test_the_water_comes_to_the_target(inches: int, feet: int, percent: str) -> None:
    gallons = water_gallons(D(inches), D(feet))
    grams = bleach_ml(gallons, D(percent)) * D(percent) / 100
    assert abs(grams * 1000 / (gallons * D("3.785")) - 100) < D("0.01")


@pytest.mark.parametrize(
    ("milliliters", "shown"), [(10, "1/4"), (237, "1"), (355, "1 1/2"), (1059, "4 1/2")]
)
def test_cups(milliliters: int, shown: str) -> None:
    assert cups(D(milliliters)) == shown


def shock(**well: Any) -> str:
    card = shock_card(view(steps=("shock_chlorinate",)), {"well": well})
    assert card is not None
    parts = (*card.first, *card.measure, *card.water, *card.amounts, *card.do)
    return " ".join(one.text for one in parts)


def test_the_amounts_for_this_well() -> None:
    """140 ft of 6 inches: 0.0408 x 36 x 140 = 205.6 gal; x 3.785 x 100 / 60 = 1,297 mL of 6 %."""
    card = shock(**WELL)
    assert "about 206 gallons" in card
    assert "With 6 % bleach: about 5 1/2 cups (1,300 mL)." in card
    assert "First find out" not in card


@pytest.mark.parametrize("missing", WELL)
def test_what_is_missing_is_asked_for_and_no_amount_is_told(missing: str) -> None:
    card = shock(**{name: value for name, value in WELL.items() if name != missing})
    words = {"depth_ft": "the depth of the well", "static_ft": "at rest", "casing_in": "casing"}
    assert words[missing] in card
    assert "cups" not in card


@pytest.mark.parametrize(
    "well",
    [
        WELL | {"kind": "dug"},
        WELL | {"kind": "spring"},
        WELL | {"casing_in": D(36)},
        WELL | {"static_ft": D(180)},
        WELL | {"static_ft": D(400)},
        {},
    ],
)
def test_no_amount_where_it_would_mislead(well: dict[str, Any]) -> None:
    card = shock(**well)
    assert "cups" not in card
    assert "contractor" in card


def test_the_card_defers_and_warns_before_it_tells_an_amount() -> None:
    card = shock(**WELL)
    for first in ("licensed well contractor", "county health department before you begin"):
        assert card.index(first) < card.index("cups")
    for warned in (
        "Never mix bleach",
        "Bypass",
        "away from the septic system",
        "power of the pump",
    ):
        assert warned in card


SHOCK_STEPS = (
    "Turn off the water heater first.",
    "Use only plain bleach with no scent, no thickener and a date that has not run out.",
    "then into the well",
    "Close the well, then turn the pump on again with dry hands.",
    "Run each tap",
    "Do not drink, cook, bathe or wash with this water until no chlorine smell is left.",
    "Run the chlorine out through a hose",
    "Turn the water heater on again when the chlorine is flushed out.",
)


@pytest.mark.parametrize("well", [WELL, {}, WELL | {"kind": "dug"}, WELL | {"casing_in": D(36)}])
def test_the_steps_of_any_well_stand_in_the_order_in_which_they_are_done(
    well: dict[str, Any],
) -> None:
    """As a county health officer asked for them."""
    card = shock(**well)
    found = [card.index(step) for step in SHOCK_STEPS]
    assert found == sorted(found)
    assert found[0] < card.index("power of the pump") < found[1]


def test_water_without_chlorine_smell_is_not_drunk_before_the_new_test() -> None:
    after = shock(**WELL).partition("until no chlorine smell is left.")[2]
    assert "bottled water until a new test shows no germs" in after


def test_the_amount_for_the_bottles_sold_today() -> None:
    """205.6 gal x 3.785 x 100 / (10 x 7.5) = 1,038 mL; / 236.6 = 4.39 cups, by quarters 4 1/2."""
    assert "With 7.5 % bleach: about 4 1/2 cups (1,040 mL)." in shock(**WELL)


def test_no_card_where_no_shock_chlorination_is_due() -> None:
    assert shock_card(view("nitrate"), {"well": WELL}) is None


# -- pages ----------------------------------------------------------------------------------------


def test_the_words_of_the_cards_are_short_and_never_forbidden() -> None:
    for name, text in catalogue("sampling", "en").items():
        assert not FORBIDDEN.findall(text), name
        if not name.startswith(("shock_water", "shock_formula")):
            for sentence in re.split(r"(?<=[.!?:])\s", text):
                assert len(sentence.split()) <= LONGEST, name
    for name, text in catalogue("sampling", "es").items():
        english = catalogue("sampling", "en")[name]
        assert set(re.findall(r"\{\w+\}", text)) == set(re.findall(r"\{\w+\}", english)), name


def test_every_number_of_the_tables_has_a_source() -> None:
    for table in ("sample_bottles.csv", "sample_tests.csv", "bleach_strengths.csv"):
        for row in read_table(table):
            assert row.text("source")


def with_shock() -> Interpretation:
    one, sheet = sample(
        Sheet().untested("total_coliform", "nitrate", "lead"),
        steps=(Step("shock_chlorinate", (note("x"),)),),
    )
    return view_of((one, sheet), site={"well": WELL})


def test_pdf_is_tagged_and_no_card_is_cut(tmp_path: Path) -> None:
    files = write(with_shock(), tmp_path, ["pdf"], name="x")
    (path,) = [one for one in files if one.name == "x.cards.pdf"]
    with pikepdf.open(path) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
    with open_pdf(path) as document:
        pages = [page.extract_text() for page in document.pages]
    for number in (1, 2, 3):
        (page,) = [text for text in pages if f"Card {number} of 3" in text]
        assert f"Bottle {number}:" in page
        after = page.partition(f"Bottle {number}:")[2].partition("Bottle ")[0]
        assert "Ahead of or behind equipment" in after


def test_html_is_escaped_and_whole() -> None:
    page = cards_html(build_cards(cases.hostile(), 0))
    root = lxml_html.document_fromstring(page)
    assert not list(root.iter("script"))
    assert "<script>alert(1)</script>" in root.text_content()
    assert "\u202e" not in page


def test_a_sheet_without_results_has_a_page_that_says_so(tmp_path: Path) -> None:
    (path,) = [
        one for one in write(cases.nothing(), tmp_path, ["html"], name="x") if "cards" in one.name
    ]
    assert "No test is advised here." in path.read_text("utf-8")


def test_spanish_cards_have_no_english_sentence() -> None:
    spanish = {one for one in catalogue("sampling", "es").values() if "{" not in one}
    english = {one for one in catalogue("sampling", "en").values() if "{" not in one}
    assert spanish & english <= {"PFAS", "gases"}
    assert {field.name for field in fields(build_cards(with_shock(), 0))} >= {"cards", "shock"}

"""What page one says, worked out by hand from the verdicts beside each check."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import report_making as making

from welltold.messages import Message
from welltold_reports.homeowner import build
from welltold_reports.homeowner.model import FirstPage, HomeownerReport

DRAW = (Message("doubt.draw_unknown", {}, "The sheet does not say if this water stood."),)
SODIUM = (Message("verdict.do_sodium_doctor", {}, "If you are on a low-salt diet, tell a doctor."),)
ASIDE = (Message("verdict.put_aside", {}, "The sheet prints 40, which is over a level."),)


def lead(text: str, operator: str = "<", value: str = "0.0005") -> making.Sheet:
    """A germ-free sheet with a lead result of which nobody knows how it was drawn."""
    sheet = making.quiet_germs(making.nitrate(making.Sheet(), "1", "no_concern_found"))
    return sheet.row(
        "lead", "Lead", text, "cant_tell", operator=operator, value=Decimal(value), unit="mg/L",
        why=DRAW, levels=(making.level("action_level", "0.010"),),
    )  # fmt: skip


def sodium(verdict: str = "watch") -> making.Sheet:
    sheet = making.quiet_germs(making.nitrate(making.Sheet(), "1", "no_concern_found"))
    return sheet.row(
        "sodium", "Sodium", "150", verdict, operator="=", value=Decimal(150), unit="mg/L",
        persons=("low_sodium_diet",), do=SODIUM, levels=(making.level("advisory", "20"),),
    )  # fmt: skip


def report(sheet: making.Sheet, **more: Any) -> HomeownerReport:
    return build(making.view_of(making.sample(sheet), **more), 0)


def first(sheet: making.Sheet, **more: Any) -> FirstPage:
    return report(sheet, **more).first


def answers(page: FirstPage) -> dict[str, tuple[str, str]]:
    return {row.use: (row.answer, row.why) for row in page.uses}


def test_little_lead_of_an_unknown_draw_keeps_nobody_from_drinking() -> None:
    """0.0005 is a twentieth of 0.010; only water that stood can hold more."""
    page = first(lead("<0.0005"))
    told = "This sample has less than half the level of lead. "
    assert told + "Water that stood in the pipes can hold more." in page.main
    answer, why = answers(page)["Baby, formula"]
    assert answer == "No concern found in what was tested"
    assert why == "Let the cold tap run first: standing water can hold more lead."
    assert answers(page)["Brush teeth"] == ("No concern found in what was tested", "")


def test_half_the_level_or_more_stays_open() -> None:
    page = first(lead("0.006", "=", "0.006"))
    assert "What we can't tell from this sheet: lead." in page.main
    assert answers(page)["Drink"][0] == "Can't tell"


def test_a_low_salt_diet_in_the_home_is_asked_for_on_page_one() -> None:
    page = first(sodium(), site={"home": {"persons": ["low_sodium_diet"]}})
    assert answers(page)["Drink"] == ("Ask first", "Because of sodium.")
    assert answers(page)["Bath, shower"][0] == "No concern found in what was tested"
    assert "It matters most for people on a low-sodium diet." in page.main
    assert [step.text for step in page.steps] == [
        "Sodium 150 mg/L. If you are on a low-salt diet, tell a doctor."
    ]
    child = first(sodium(), site={"home": {"persons": ["child"]}})
    assert answers(child)["Drink"][0] == "No concern found in what was tested"
    assert not child.steps
    unknown = first(sodium())
    assert answers(unknown)["Drink"][0] == "No concern found in what was tested"
    assert unknown.steps == page.steps, "the step says itself for whom it is"


def test_other_water_for_small_children_stands_on_page_one() -> None:
    """Above 2 mg/L of fluoride, 40 CFR 141.208 has utilities say so."""
    sheet = making.quiet_germs(making.nitrate(making.Sheet(), "1", "no_concern_found"))
    text = "Give children under nine other water to drink."
    do = (Message("verdict.do_fluoride_children", {}, text),)
    page = first(sheet.row("fluoride", "Fluoride", "2.6", "watch", persons=("child",), do=do))
    assert [step.text for step in page.steps] == [text]


def test_pfas_have_their_short_names_on_page_one_and_the_long_ones_on_the_card() -> None:
    sheet = making.Sheet().row("pfoa", "PFOA", "15", "health_concern", urgency="soon")
    whole = report(sheet)
    assert "We found a health concern: PFOA." in whole.first.main
    assert whole.groups[0].cards[0].name == "Perfluorooctanoic acid (PFOA)"
    assert whole.words is not None
    assert "PFOA" in {row[0] for row in whole.words.rows}


def test_coliform_is_counted_as_the_headline_counts_it() -> None:
    sheet = making.Sheet().row("e_coli", "E. coli", "Present", "health_concern", urgency="now")
    sheet.row("total_coliform", "Coliform", "Present", "health_concern", urgency="soon")
    page = first(sheet)
    assert "We found a health concern: E. coli bacteria." in page.main
    assert [count.text for count in page.counts] == ["1 health concern: E. coli bacteria"]


def test_the_dissolved_part_is_one_thing_with_the_whole() -> None:
    sheet = making.Sheet()
    for label, text, fraction in (("Iron", "3.0", None), ("Iron, diss.", "2.9", "dissolved")):
        sheet.row("iron", label, text, "nuisance_only", fraction=fraction)
    whole = report(sheet)
    assert whole.first.main[0] == "We found one thing that can stain, smell or taste bad: iron."
    assert [count.text for count in whole.first.counts] == ["1 nuisance: iron"]
    total, part = whole.groups[0].cards
    assert (total.name, part.name) == ("Iron", "Iron, dissolved")
    assert part.line is None


def test_a_printed_number_over_a_level_that_was_replaced_is_told_on_page_one() -> None:
    sheet = making.Sheet().row("nitrate", "Nitrate", "4", "no_concern_found", why=ASIDE)
    assert "The sheet prints 40, which is over a level." in first(sheet).sure


def test_a_word_is_explained_only_where_it_stands() -> None:
    """ "As N" does not stand in "was not"."""
    sheet = making.Sheet().row("iron", "Iron", "0.1", "no_concern_found")
    whole = report(sheet)
    assert whole.words is not None
    assert "as N" not in {row[0] for row in whole.words.rows}


def test_what_would_tell_what_is_open_stands_on_page_one() -> None:
    """One step for all results that share it; a baby's water comes before it."""
    whole = making.note("Ask the lab to test the whole amount.")
    formula = Message("verdict.do_manganese_formula", {}, "Do not mix baby formula with it.")
    sheet = making.Sheet()
    for slug, do in (("iron", (whole,)), ("zinc", (whole,)), ("manganese", (formula, whole))):
        sheet.row(slug, slug, "0.2", "cant_tell", value=Decimal("0.2"), unit="mg/L", do=do)
    page = first(sheet)
    assert page.main[0] == "Do not mix baby formula with this water, because of manganese."
    assert [(step.when, step.text) for step in page.steps] == [
        ("With a baby", "Use bottled water to mix formula."),
        (
            "Next",
            "Have the water tested for what this sheet left out: "
            "total coliform bacteria and nitrate.",
        ),
        ("Next", "Iron, zinc and manganese: Ask the lab to test the whole amount."),
    ]
    assert answers(page)["Baby, formula"] == ("Use bottled", "Because of manganese.")


def test_what_keeps_a_baby_from_the_water_is_told_before_a_nuisance() -> None:
    formula = Message("verdict.do_manganese_formula", {}, "Do not mix baby formula with it.")
    sheet = making.Sheet()
    sheet.row("iron", "Iron", "1.2", "nuisance_only", value=Decimal("1.2"), unit="mg/L")
    sheet.row(
        "manganese", "Mn", "0.2", "nuisance_only", value=Decimal("0.2"), unit="mg/L", do=(formula,)
    )
    assert [line.split()[0] for line in first(sheet).main[:2]] == ["Do", "We"]

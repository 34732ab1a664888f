"""What the reports say: plain words, no promise, nothing urgent behind page 1."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
import report_cases as cases
import report_making as making
import textstat

from welltold.analytes import registry
from welltold.interpretation import Check, Finding, Interpretation
from welltold.messages import Message, catalogue
from welltold_reports import render_text
from welltold_reports.homeowner import HomeownerReport, build
from welltold_reports.homeowner.hazards import USES, hazard_of
from welltold_reports.homeowner.model import FirstPage
from welltold_reports.number_line import NumberLine
from welltold_reports.worksheet import build_worksheet
from welltold_reports.writer import with_samples

FORBIDDEN = re.compile(
    r"\b(safe|unsafe|pure|clean bill|ok to drink|potable|passed|failed|acceptable|normal|"
    r"guaranteed|100 ?%|risk-free|no risk|harmless|toxic|poison(?! control)|chemical-free|"
    r"trace amount|contaminated home|exceedance|violation|legal limit|epa-approved|epa requires|"
    r"must buy|score|grade|rating|ND|N/A|BDL|e-0)\b",
    re.IGNORECASE,
)
EXEMPT = re.compile(r"EPA's Safe Drinking Water Hotline|Safe Drinking Water Act")
UNEXPLAINED = re.compile(r"\b(MCL|MCLG|AL|SMCL|ND|RL|MDL|POU|POE|TDS)\b")
LONGEST, MEAN = 22, 14
VIEWS = sorted(cases.CASES)
OWN = [name for name in VIEWS if name not in {"hostile", "four_hundred", "many"}]


def reports(name: str) -> Iterator[tuple[Interpretation, HomeownerReport]]:
    view = with_samples(cases.CASES[name]())
    for index in range(len(view.samples)):
        yield view, build(view, index)


def strings(part: Any) -> list[str]:
    if isinstance(part, str):
        return [part]
    if isinstance(part, NumberLine):
        return [part.alt, part.label, *(tick.label for tick in part.ticks)]
    if is_dataclass(part):
        return [text for field in fields(part) for text in strings(getattr(part, field.name))]
    return [text for one in part for text in strings(one)] if isinstance(part, tuple) else []


def running_text(first: FirstPage) -> list[str]:
    """The running text of page 1: no labels, no tables, no telephone line."""
    panel = first.panel.sentences if first.panel else ()
    steps = [step.text for step in first.steps]
    return [*first.main, *panel, *steps, *first.calls[:-1], first.untested, *first.sure]


def sentences(text: str) -> list[str]:
    quiet = text.replace("E. coli", "E coli")
    return [one for one in re.split(r"(?<=[.!?])[”\"]?\s+", quiet) if one.strip()]


@pytest.mark.parametrize("name", [name for name in VIEWS if name != "hostile"])
def test_no_forbidden_word_and_no_gap_in_any_text(name: str) -> None:
    view = cases.CASES[name]()
    text = EXEMPT.sub("", render_text(view))
    for index, (_, report) in enumerate(reports(name)):
        sheet = build_worksheet(with_samples(view), index, report)
        text += " ".join(strings(report)) + " ".join(strings(sheet))
    text = EXEMPT.sub("", text)
    assert not FORBIDDEN.findall(text)
    assert not re.findall(r"\{\w*\}|\bNone\b(?! of)(?!\.)|\bnan\b", text), "a gap"


def test_forbidden_words_are_found_when_they_are_there() -> None:
    for bad in ("Your water is safe.", "It PASSED.", "no risk at all", "a score of 3"):
        assert FORBIDDEN.search(bad)
    assert not FORBIDDEN.search("Call the poison control center. It is not a known risk.")


def test_every_sentence_of_the_catalogue_is_short() -> None:
    lengths = []
    for name, text in catalogue("report").items():
        if name == "share_other" or not text.endswith((".", "?", "!")):
            continue
        for one in sentences(text):
            lengths.append(len(one.split()))
            assert lengths[-1] <= LONGEST, (name, one)
    assert sum(lengths) / len(lengths) <= MEAN


def _masked(text: str) -> str:
    names = sorted((one.name for one in registry().values()), key=len, reverse=True)
    for name in [*names[:], "E. coli", "coliform bacteria"]:
        text = re.sub(rf"\b{re.escape(name)}\b", "salt", text, flags=re.IGNORECASE)
    return re.sub(r"[\d,.]*\d ?(parts per \w+|mg/L|µg/L|feet|months|minutes?)", "5 parts", text)


@pytest.mark.parametrize("name", OWN)
def test_page_one_reads_at_grade_eight_or_below(name: str) -> None:
    """Flesch-Kincaid by textstat 0.7.8: at most 8 with names masked, at most 10 raw."""
    for _, report in reports(name):
        text = " ".join(running_text(report.first))
        assert textstat.flesch_kincaid_grade(text.replace("E. coli", "E coli")) <= 10, text
        masked = _masked(text)
        assert textstat.flesch_kincaid_grade(masked) <= 8, masked


@pytest.mark.parametrize("name", OWN)
def test_sentences_of_page_one_are_short(name: str) -> None:
    for _, report in reports(name):
        found = [one for text in running_text(report.first) for one in sentences(text)]
        lengths = [len(one.split()) for one in found]
        assert max(lengths) <= LONGEST, found[lengths.index(max(lengths))]
        assert sum(lengths) / len(lengths) <= MEAN


@pytest.mark.parametrize("name", OWN)
def test_no_unexplained_short_form_on_the_pages_for_the_homeowner(name: str) -> None:
    for _, report in reports(name):
        assert not UNEXPLAINED.findall(" ".join(strings((report.first, report.groups))))


@pytest.mark.parametrize("name", VIEWS)
def test_everything_urgent_is_on_page_one(name: str) -> None:
    for view, report in reports(name):
        first = " ".join(strings(report.first)).lower()
        for sample in view.samples:
            for finding in sample.findings:
                if finding.urgency != "now":
                    continue
                slug = finding.analyte or ""
                assert registry()[slug].name.lower().replace(" bacteria", "") in first
                assert report.first.panel is not None
                assert report.first.steps[0].when == "Today"


def test_an_open_result_that_may_be_urgent_is_not_left_for_later_pages() -> None:
    (_, report), *_ = reports("cant_tell")
    assert report.first.main[0] == "We can't tell yet if this water is a health concern: nitrate."
    assert (
        report.first.steps[0].text == "Use bottled water for babies and for formula until you know."
    )
    assert [row.answer for row in report.first.uses if row.use.startswith("Baby")] == [
        "Use bottled"
    ]


@pytest.mark.parametrize("name", OWN)
def test_every_finding_stands_exactly_once_in_cards_or_table(name: str) -> None:
    for view, report in reports(name):
        cards = sum(len(group.cards) for group in report.groups)
        quiet = len(report.quiet.rows) if report.quiet else 0
        tested = [f for f in view.samples[0].findings if f.verdict != "not_tested"]
        assert cards + quiet == len(tested)


def test_main_message_names_the_worst_finding_first() -> None:
    messages = {name: next(reports(name))[1].first.main for name in OWN}
    assert messages["clean"] == (
        "We found no health concern in the 7 tests on your sheet.",
        "Other things were not tested.",
    )
    assert messages["hard_and_rusty"][0].startswith("We found 4 things that can stain")
    assert messages["hard_and_rusty"][1] == "None of them is a health concern at this level."
    assert messages["nitrate_and_germs"][0] == "Do not drink this water. Start with step 1 below."
    assert "E. coli bacteria and nitrate" in messages["nitrate_and_germs"][1]
    assert "babies under 12 months" in messages["nitrate_and_germs"][2]
    assert messages["arsenic"][0] == "Use other water to drink and cook for now."
    assert messages["nothing"] == ("We could not find a test result on this sheet.",)


def test_results_that_are_not_in_the_registry_are_named_by_their_label() -> None:
    sheet = making.Sheet().row(None, "Zorbium", "1", "cant_tell").row(None, "X" * 90, "2", "watch")
    first = build(making.view_of(making.sample(sheet)), 0).first
    assert "What we can't tell from this sheet: zorbium." in first.main
    assert any("XXX…." in line for line in first.main), "a very long name is cut short here"


def test_a_sheet_without_germs_or_nitrate_answers_no_use_that_depends_on_them() -> None:
    sheet = making.Sheet().row("iron", "Iron", "0.1", "no_concern_found")
    report = build(making.view_of(making.sample(sheet)), 0)
    answers = {row.use: row for row in report.first.uses}
    assert answers["Drink"].answer == "Can't tell"
    assert "nitrate" in answers["Baby, formula"].why
    assert answers["Garden, laundry"].answer == "No concern found in what was tested"
    assert (
        report.first.main[-1] == "This sheet has no test for total coliform bacteria and nitrate."
    )


def test_the_reason_beside_a_use_belongs_to_its_answer() -> None:
    sheet = making.Sheet().row("lead", "Lead", "23", "health_concern", urgency="soon")
    sheet.row("copper", "Copper", "ND", "cant_tell", levels=(making.level("action_level", "1.3"),))
    rows = {row.use: row for row in build(making.view_of(making.sample(sheet)), 0).first.uses}
    assert (rows["Drink"].answer, rows["Drink"].why) == ("Use bottled", "Because of lead.")
    teeth = rows["Brush teeth"]
    assert (teeth.answer, teeth.why) == ("Can't tell", "Not tested: total coliform bacteria.")


def test_stains_are_said_beside_garden_and_laundry() -> None:
    (_, report), *_ = reports("hard_and_rusty")
    garden = report.first.uses[-1]
    assert garden.answer == "No concern found in what was tested"
    assert garden.why == "It can leave stains."


def test_a_sum_is_not_counted_beside_the_line_that_makes_it() -> None:
    sheet = making.nitrate(making.Sheet(), "14", "health_concern", urgency="now")
    total = Finding("nitrate_nitrite", "Nitrate plus nitrite", "", "health_concern", urgency="now")
    sheet.findings.append(total)
    first = build(making.view_of(making.sample(sheet)), 0).first
    assert [count.text for count in first.counts] == ["1 health concern: nitrate"]
    del sheet.findings[0], sheet.results[0]
    first = build(making.view_of(making.sample(sheet)), 0).first
    assert [count.text for count in first.counts] == ["1 health concern: nitrate plus nitrite"]


def test_a_doubtful_line_is_quoted_as_printed() -> None:
    (_, report), *_ = reports("cant_tell")
    sure = " ".join(report.groups[0].cards[0].sure)
    assert "We are not sure we read this line right." in sure
    assert "“Nitrate 21 mg/L”" in sure
    assert report.unread


def test_a_sheet_that_does_not_agree_with_itself_says_so() -> None:
    doubt = Check(
        "hardness", "doubt", None, None, making.notes("Calcium and magnesium add up to more.")
    )
    agrees = Check("nitrogen", "agrees", None, None, making.notes("They agree."))
    sheet = making.Sheet().row("iron", "Iron", "0.1", "no_concern_found")
    report = build(making.view_of(making.sample(sheet, checks=(doubt, agrees))), 0)
    assert "Some numbers on the sheet do not agree with each other." in report.first.sure
    assert report.notes == ("Calcium and magnesium add up to more.",)


def test_every_analyte_has_a_hazard_and_every_hazard_its_sentences() -> None:
    for slug in registry():
        hazard = hazard_of(slug)
        assert set(hazard.uses) == set(USES)
        for name in hazard.advice:
            assert f"advice_{name}" in catalogue("report")
        for name in hazard.calls:
            assert f"call_{name}" in catalogue("report")
        for note in hazard.notes.values():
            assert f"use_note_{note}" in catalogue("report")
    assert hazard_of("benzene").name == "fumes"
    assert hazard_of("pfoa").name == "pfas"
    assert hazard_of("antimony").name == "metals"
    assert hazard_of("cyanide").name == "other"


def test_numbers_on_page_one_come_from_the_sheet() -> None:
    """No number but those of the catalogue, of the date and of the sample's name."""
    (view, report), *_ = reports("nitrate_and_germs")
    known = " ".join(catalogue("report").values()) + str(view)
    for number in re.findall(r"\d[\d,.]*\d|\d", " ".join(strings(report.first))):
        assert number in known or number in {"3", "1"}, number


def test_what_is_no_water_for_a_baby_is_no_nuisance_only() -> None:
    """Minnesota's health department: 100 ug/L of manganese for babies, 300 for everybody else."""
    formula = (Message("verdict.do_manganese_formula", {}, "Do not mix formula with it."),)
    sheet = making.Sheet().row("iron", "Iron", "3.4", "nuisance_only")
    sheet.row("manganese", "Manganese", "0.21", "nuisance_only", persons=("infant",), do=formula)
    report = build(making.view_of(making.sample(sheet)), 0)
    end = "For most people, none of them is a health concern at this level."
    assert end in report.first.main
    assert "None of them is a health concern at this level." not in report.first.main
    cards = {card.name: card.verdict_words for group in report.groups for card in group.cards}
    assert cards["Iron"].startswith("Nuisance only")
    assert cards["Manganese"].startswith("A nuisance for most people, but not for babies")

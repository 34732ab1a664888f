"""Numbers, units, number lines and file names of the reports."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest
import report_cases as cases
import report_making as making
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from welltold.interpretation import SampleView
from welltold.messages import Message
from welltold_reports.homeowner.cards import verdict_words
from welltold_reports.homeowner.lines import number_line
from welltold_reports.homeowner.printed import Item, items_of, level_words
from welltold_reports.homeowner.tables import source_entries, yardstick_cell
from welltold_reports.names import file_part, stems
from welltold_reports.number_line import NumberLine, svg
from welltold_reports.numbers import familiar, grain_count, plain, reader_unit, rounded
from welltold_reports.wording import date_words, in_sentence, listed

D = Decimal


def item(slug: str, text: str, **more: object) -> Item:
    sheet = making.Sheet().row(slug, slug, text, str(more.pop("verdict", "watch")), **more)
    view, printed = making.sample(sheet)
    reading = making.view_of((view, printed)).reading
    return items_of(view, reading.samples[0])[0]


ARSENIC = (making.level("primary_limit", "0.010"),)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("12", "12"),
        ("1.20E+4", "12,000"),
        ("0.00000015", "0.00000015"),
        ("1234567.80", "1,234,567.80"),
        ("-3", "-3"),
    ],
)
def test_numbers_have_no_exponent(value: str, text: str) -> None:
    assert plain(D(value)) == text


def test_the_level_is_a_number_of_one_or_more_in_the_unit_shown() -> None:
    """40 CFR 141.153(d): 15 µg/L, not 0.015 mg/L."""
    scaled = reader_unit("mg/L", D("0.015"))
    assert (scaled.unit, scaled.of(D("0.0160"))) == ("ug/L", D("16.0"))
    assert str(scaled.of(D("0.0160"))) == "16.0", "the lab's digits are kept"
    assert reader_unit("mg/L", D("0.000004")).unit == "ng/L"
    assert reader_unit("mg/L", D(10)).unit == "mg/L"


@given(
    st.decimals("0.0001", "99999", places=4),
    st.decimals("0.001", "9999", places=3),
    st.integers(1, 5),
)
def test_a_rounded_number_never_changes_sides(value: D, level: D, digits: int) -> None:
    shown = rounded(value, digits, (level,))
    assert (shown > level, shown == level) == (value > level, value == level)


def test_rounding_keeps_what_the_lab_printed() -> None:
    assert rounded(D("10.0316"), 3, (D(10),)) == D("10.03"), "not 10.0, which is the level itself"
    assert rounded(D("22.4"), 3) == D("22.4")
    assert rounded(D("12345"), 2) == D(12000)
    assert plain(rounded(D("12345"), 2)) == "12,000"


def test_familiar_units() -> None:
    """One µg/L of water is one part per billion; 17.1 mg/L of CaCO3 is a grain per gallon."""
    assert familiar(D(16), "ug/L", 2) == "16 parts per billion"
    assert familiar(D(5), "NTU", 2) == ""
    assert grain_count(D(342)) == "20"
    assert grain_count(D("25.68")) == "1.5"


def test_a_value_stands_as_printed_with_a_familiar_unit() -> None:
    one = item("arsenic", "0.016", value=D("0.016"), unit="mg/L", levels=ARSENIC)
    assert one.value_text == "0.016 mg/L, which is 16 µg/L (parts per billion)"
    less = item("arsenic", "<0.005", value=D("0.005"), operator="<", unit="mg/L", levels=ARSENIC)
    assert less.value_text == "<0.005 mg/L, which is less than 5 µg/L (parts per billion)"
    assert (
        item("e_coli", "Absent", present=False, printed_unit="/100 mL").value_text
        == "Absent /100 mL"
    )
    assert item("ph", "6.2", value=D("6.2"), unit="SU").value_text == "6.2"


def test_the_level_beside_a_result_has_the_unit_of_the_result() -> None:
    # 40 CFR 141.62: 0.010 mg/L, which is 10 ug/L; nobody should have to compare 0.002 with 10
    mine = (making.level("primary_limit", "0.010"),)
    amount = {"value": D("0.002"), "unit": "mg/L", "levels": mine}
    assert yardstick_cell(item("arsenic", "0.002", **amount)) == "EPA level: 0.01 mg/L"
    ppm = item("arsenic", "0.002", printed_unit="ppm", **amount)
    assert yardstick_cell(ppm) == "EPA level: 0.01 mg/L"
    micro = item("arsenic", "2", printed_unit="µg/L", **amount)
    assert yardstick_cell(micro) == "EPA level: 10 µg/L"
    unknown = item("arsenic", "2", printed_unit="units", **amount)
    assert yardstick_cell(unknown) == "EPA level: 10 µg/L"


def test_a_goal_of_zero_is_told_as_zero() -> None:
    # 40 CFR 141.51(b): the goal for arsenic is zero, which is a number
    goal = making.level("goal", "0")
    arsenic = item("arsenic", "14", value=D("0.014"), unit="mg/L", levels=(*ARSENIC, goal))
    assert level_words(arsenic, goal) == "EPA goal: zero"


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("0.009", "Watch: below the level, but keep an eye on it"),
        ("0.010", "Watch: at the level, not above it"),
        ("0.011", "Watch: above a level that is only advice"),
    ],
)
def test_a_watched_result_says_on_which_side_of_its_level_it_lies(value: str, words: str) -> None:
    watched = item("arsenic", value, value=D(value), unit="mg/L", levels=ARSENIC)
    assert verdict_words(watched) == words


def test_a_step_for_today_is_not_told_as_one_for_the_next_weeks() -> None:
    today = (Message("verdict.do_call_health_today", {}, "Call today."),)
    fumes = item("benzene", "12", verdict="health_concern", urgency="soon", do=today)
    assert verdict_words(fumes) == "Health concern: act today"
    calm = item("radon", "5200", verdict="health_concern", urgency="soon")
    assert verdict_words(calm) == "Health concern: act in the next few weeks"
    water = "Health concern: use other water today, mend the cause in the next few weeks"
    for slug in ("lead", "arsenic", "total_coliform", "benzene"):
        assert verdict_words(item(slug, "12", verdict="health_concern", urgency="soon")) == water


def test_a_unit_that_the_sheet_wrote_into_the_result_is_not_said_twice() -> None:
    iron = item("iron", "0.52 mg/L", value=D("0.52"), unit="mg/L")
    assert iron.amount == "0.52 mg/L"
    hard = item("hardness", "14", value=D(240), unit="mg/L", basis="CaCO3", printed_unit="gpg")
    assert hard.value_text == "14 gpg (about 240 mg/L)"
    metric = item("hardness", "240", value=D(240), unit="mg/L", basis="CaCO3")
    assert metric.value_text == "240 mg/L (about 14 grains per gallon)"


def line_of(one: Item) -> NumberLine:
    line = number_line(one)
    assert line is not None
    return line


@pytest.mark.parametrize(
    ("value", "at"), [("0.005", 25.0), ("0.010", 50.0), ("0.015", 75.0), ("0.02", 100.0)]
)
def test_the_level_is_in_the_middle_and_the_scale_is_linear(value: str, at: float) -> None:
    line = line_of(item("arsenic", value, value=D(value), unit="mg/L", levels=ARSENIC))
    assert (line.at, line.mark, line.ends) == (at, "dot", ("0", "20"))
    assert [tick.at for tick in line.ticks if tick.main] == [50.0]


def test_beyond_twice_the_level_the_line_breaks_and_prints_the_value() -> None:
    line = line_of(item("arsenic", "0.23", value=D("0.23"), unit="mg/L", levels=ARSENIC))
    assert (line.mark, line.at, line.label) == ("beyond", 100.0, "Your water: 230 µg/L")
    assert "about 23 times the level" in line.alt


def test_not_found_is_a_bar_to_the_limit_and_never_a_dot() -> None:
    line = line_of(
        item("arsenic", "<0.004", value=D("0.004"), operator="<", unit="mg/L", levels=ARSENIC)
    )
    assert (line.mark, line.at) == ("up_to", 20.0)
    assert "<circle" not in svg(line, "h")
    assert "times" not in line.alt


def test_more_than_runs_to_the_right() -> None:
    line = line_of(
        item("arsenic", ">0.012", value=D("0.012"), operator=">", unit="mg/L", levels=ARSENIC)
    )
    assert (line.mark, line.at) == ("from", 60.0)


def test_an_estimate_is_a_hollow_dot_and_says_about() -> None:
    one = item("arsenic", "0.004", value=D("0.004"), unit="mg/L", levels=ARSENIC, qualifiers=("J",))
    line = line_of(one)
    assert line.mark == "about"
    assert line.label == "Your water: about 4 µg/L"
    assert 'fill="none"' in svg(line, "h").rpartition("<circle")[2]


def test_two_levels_stand_to_scale_with_the_higher_health_level_in_the_middle() -> None:
    levels = (making.level("primary_limit", "4.0"), making.level("secondary", "2.0"))
    line = line_of(item("fluoride", "2.6", value=D("2.6"), unit="mg/L", levels=levels))
    assert [(tick.at, tick.main, tick.dashed) for tick in line.ticks] == [
        (50.0, True, False),
        (25.0, False, True),
    ]


def test_a_level_for_babies_that_decides_nothing_is_marked_and_named_in_the_sources() -> None:
    # Minnesota Department of Health 2018: 100 ug/L for babies; EPA-822-R-04-003: 300 ug/L
    taste = making.level("secondary", "0.05")
    life = making.level("advisory", "0.3", programme="EPA lifetime advisory")
    babies = making.level("advisory", "0.1", programme="Minnesota guidance value for babies")
    one = item("manganese", "0.21", value=D("0.21"), unit="mg/L", levels=(taste, life))
    one = replace(one, finding=replace(one.finding, also=(babies,)))
    line = line_of(one)
    assert [tick.label for tick in line.ticks] == [
        "EPA lifetime advisory: 300",
        "taste and stains: 50",
        "advice for babies: 100",
    ]
    texts = etree.fromstring(svg(line, "h")).iter("{*}text")
    heights = {"".join(text.itertext()): int(text.get("y", "0")) for text in texts}
    # the stroke at 50 runs down past the label of 100, and not through it
    assert heights["advice for babies: 100"] < heights["taste and stains: 50"]
    (entry,) = source_entries([one])
    assert any("Minnesota guidance value for babies: 0.1 mg/L" in s for s in entry.sentences)


def test_of_two_health_levels_the_hatching_begins_at_the_one_that_decides() -> None:
    levels = (making.level("action_level", "0.010"), making.level("action_level", "0.015"))
    line = line_of(item("lead", "0.012", value=D("0.012"), unit="mg/L", levels=levels))
    (hatched,) = line.hatched
    assert hatched[:2] == (pytest.approx(100 / 3, abs=0.1), 100.0)
    assert line.at == pytest.approx(40.0)


def test_ph_has_a_range_with_hatching_outside_both_ends() -> None:
    levels = (making.level("secondary", "8.5", "SU", low="6.5"),)
    line = line_of(item("ph", "6.0", value=D("6.0"), unit="SU", levels=levels))
    assert (line.at, line.ends) == (20.0, ("5", "10"))
    assert [(start, end) for start, end, _ in line.hatched] == [(0.0, 30.0), (70.0, 100.0)]


def test_no_line_without_a_level_or_a_number() -> None:
    assert number_line(item("hardness", "64", value=D(64), unit="mg/L", basis="CaCO3")) is None
    assert number_line(item("total_coliform", "Present", present=True)) is None
    zero = (making.level("goal", "0"),)
    assert number_line(item("lead", "3", value=D(3), unit="ug/L", levels=zero)) is None


def test_levels_of_one_source_share_it_and_a_quiet_result_needs_no_goal() -> None:
    # EPA 822-R-03-006 holds both; 40 CFR 141.51(b): goals
    both = (
        making.level("advisory", "60", citation="EPA 822-R-03-006", programme="EPA taste advice"),
        making.level("advisory", "20", citation="EPA 822-R-03-006", programme="EPA diet advice"),
    )
    sodium = item("sodium", "300", value=D(300), unit="mg/L", levels=both)
    assert source_entries([sodium])[0].sentences == (
        "EPA taste advice: 60 mg/L; EPA diet advice: 20 mg/L (EPA 822-R-03-006).",
    )
    levels = (*ARSENIC, making.level("goal", "0", citation="40 CFR 141.51(b)"))
    watched = item("arsenic", "0.008", value=D("0.008"), unit="mg/L", levels=levels)
    assert len(source_entries([watched])[0].sentences) == 2
    quiet = item(
        "arsenic", "0.001", verdict="no_concern_found", value=D("0.001"), unit="mg/L", levels=levels
    )
    assert len(source_entries([quiet])[0].sentences) == 1


@pytest.mark.parametrize("name", sorted(cases.CASES))
def test_every_picture_is_labelled_and_says_above_where_it_is_hatched(name: str) -> None:
    for view, printed in zip(
        cases.CASES[name]().samples, cases.CASES[name]().reading.samples, strict=False
    ):
        for one in items_of(view, printed):
            line = number_line(one)
            if line is None:
                continue
            root = etree.fromstring(svg(line, "h"))
            assert root.get("role") == "img"
            assert root.get("aria-label") == line.alt
            words = " ".join(root.itertext())
            assert all(label in words for _, _, label in line.hatched)
            assert not re.search(r"#(?!1a1a1a|h\b)", svg(line, "h")), "one ink, no colour"


def test_file_names_are_plain_and_unique() -> None:
    ids = (
        "Well 1",
        "well-1",
        "Well/1",
        None,
        "../../etc",
        "K\u00fcche #2",
        "",
        "\u5317\u4eac",
        "x" * 90,
    )
    samples = [SampleView(one, None, None, None) for one in ids]
    names = stems("sheet", samples)
    assert len({name.lower() for name in names}) == len(names)
    assert all(re.fullmatch(r"sheet\.[A-Za-z0-9-]{1,43}", name) for name in names)
    assert names[3] == "sheet.sample-4"
    assert stems("sheet", samples[:1]) == ("sheet",)


@given(st.lists(st.text(max_size=50), min_size=2, max_size=8))
def test_any_ids_give_unique_file_names(ids: list[str]) -> None:
    names = stems("n", [SampleView(one, None, None, None) for one in ids])
    assert len({name.lower() for name in names}) == len(ids)


def test_words_for_dates_lists_and_names() -> None:
    assert date_words("2026-11-05T08:30") == "November 5, 2026"
    assert date_words("in spring") == "in spring"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert [
        in_sentence(name)
        for name in ("Total coliform bacteria", "E. coli", "pH", "PFOA", "Legionella")
    ] == [
        "total coliform bacteria",
        "E. coli",
        "pH",
        "PFOA",
        "Legionella",
    ]
    assert file_part("  Well / A_1 ") == "Well-A-1"

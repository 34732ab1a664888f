"""Lab notes: every word that they know does its work, and nothing else of a sheet changes."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from decimal import Decimal

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from lab_note_sheets import LABS, sure
from layout_sheets import from_csv, page, pdf, table

from welltold.analytes import identify, registry
from welltold.reading import Reading
from welltold.values import parse_value
from welltold_parsers.layout.cells import Line, of_words
from welltold_parsers.layout.words import head_of
from welltold_parsers.notes import Note, load_note, read_with
from welltold_parsers.notes.changes import Changes
from welltold_parsers.notes.note import flag_meanings, roles

# The words of notes, and the words that the engine knows ------------------------------------------


def test_every_role_has_a_heading_that_the_engine_takes_for_it() -> None:
    taken = {name: head_of(role.heading) for name, role in roles().items()}
    taken.pop("ignore")
    assert {name: (head.role, head.score) for name, head in taken.items() if head} == {
        name: (name, 1.0) for name in taken
    }


def test_every_meaning_of_a_flag_has_a_mark_that_the_engine_knows() -> None:
    for meaning, (letter, _) in flag_meanings().items():
        found = parse_value("> 12" if meaning == "above" else f"12 {letter}")
        assert found is not None
        state = {"below": "below", "above": "above"}.get(meaning, "value")
        assert found.state == state


def test_every_analyte_is_known_by_its_plain_name() -> None:
    for slug, one in registry().items():
        match = identify(one.name)
        assert match is not None
        assert (match.slug, match.how) == (slug, "exact")


# One word at a time -------------------------------------------------------------------------------


def read_text(text: str, **words: object) -> Reading:
    note = Note("lab.toml", "A Lab", ("a lab",), **words)  # type: ignore[arg-type]  # one field a test
    return read_with(from_csv(text), note)


def test_a_unit_is_changed_where_it_stands_and_nowhere_else() -> None:
    text = "Analyte,Result\nIron (g/cu.m.),0.4\nLead,0.01 g/cu.m.\nZinc,2 kg/cu.m.\n"
    reading = read_text(text, units={"g/cu.m.": "mg/L"})
    assert [r.unit for r in reading.results] == ["mg/L", "mg/L"]
    assert reading.results[1].text == "0.01 g/cu.m."
    assert [one.text for one in reading.unread] == ["Zinc 2 kg/cu.m."]


def test_the_usual_unit_is_only_for_what_has_none_and_can_have_it() -> None:
    text = "Analyte,Result,Unit\nIron,0.4,\nLead,2,ug/L\npH,7.1,\nE. coli,3,\n"
    found = {r.analyte: r for r in read_text(text, default_unit="mg/L").results}
    assert found["iron"].unit == "mg/L"
    assert found["iron"].use == "as_is"
    assert found["lead"].unit == "ug/L"
    assert found["ph"].unit != "mg/L"
    assert found["e_coli"].unit != "mg/L"


def test_a_number_too_large_in_the_usual_unit_stays_in_doubt() -> None:
    # 300 mg/L of lead would be far beyond any well: the lab meant ug/L
    found = read_text("Analyte,Result\nLead,300\nIron,0.4\n", default_unit="mg/L").results
    assert [m.code for m in found[0].review] == ["read.value_far"]
    assert found[1].use == "as_is"


def test_a_basis_on_the_sheet_outweighs_the_usual_one() -> None:
    text = "Analyte,Result,Unit\nNitrate,4.2,mg/L\nNitrate as NO3,44,mg/L\n"
    found = read_text(text, basis={"nitrate": "N"}).results
    assert {(str(r.value), r.basis) for r in found} == {("4.2", "N"), ("44", "NO3")}


@pytest.mark.parametrize(
    ("printed", "meaning", "state", "value", "flags"),
    [
        ("0.5 §", "below", "below", "0.5", ("§", "U")),
        ("§0.5", "below", "below", "0.5", ("§", "U")),
        ("§ 0.5", "above", "above", "0.5", ()),
        ("0.5§", "late", "value", "0.5", ("§", "H")),
        ("0.5 §", "none", "value", "0.5", ("§",)),
        ("§", "below", "below", None, ("§", "U")),
    ],
)
def test_a_flag_of_the_lab_counts_as_the_note_says(
    printed: str, meaning: str, state: str, value: str | None, flags: tuple[str, ...]
) -> None:
    text = f"Analyte,Result,Unit\nIron,{printed},mg/L\nLead,0.01,mg/L\nZinc,0.2,mg/L\n"
    iron = next(r for r in read_text(text, flags={"§": meaning}).results if r.analyte == "iron")
    assert iron.state == state
    assert iron.value == (None if value is None else Decimal(value))
    assert iron.text == printed
    assert iron.qualifiers == flags


def test_a_letter_that_is_a_flag_leaves_methods_and_symbols_alone() -> None:
    text = "Analyte,Result,Unit,Method\nB,0.3 E,mg/L,E 200.7\nLead,0.01,mg/L,E 200.8\n"
    found = read_text(text, flags={"E": "below", "B": "below"}).results
    assert [(r.analyte, r.state, r.method) for r in found] == [
        ("boron", "below", "E 200.7"),
        ("lead", "value", "E 200.8"),
    ]


def test_a_flag_is_not_given_back_within_a_name() -> None:
    text = "Analyte,Result,Flag,Unit\nUranium,2,#,ug/L\nLead,1,,ug/L\nZinc,5,,ug/L\n"
    found = read_text(text, flags={"#": "below"}).results[0]
    assert (found.label, found.text, found.qualifiers) == ("Uranium", "2", ("#", "U"))


def test_the_printed_words_of_a_head_of_several_cells_are_given_back() -> None:
    # read by hand: over 0.4 of column B stand Lead, "12 #" and Lead
    text = "Iron,Lead\nIron,12 #\nIron,Lead,Iron\n0.4,0.4\n"
    found = read_text(text, flags={"#": "below"}).results
    assert [r.label for r in found] == ["Iron Iron Iron", "Lead 12 # Lead"]


def test_a_row_and_a_line_are_left_out_as_the_note_says_and_told() -> None:
    text = "Analyte,Result,Unit\nIron,0.4,mg/L\nSpk A,12,mg/L\nZinc,2,mg/L\nTotal due,12.50\n"
    found = read_text(text, labels={"spk a": "ignore"}, ignored_lines=("total due",))
    assert [r.analyte for r in found.results] == ["iron", "zinc"]
    assert found.warnings[-1].args == {"count": "2"}
    assert not found.unread


def test_a_heading_alone_on_its_line_is_known() -> None:
    text = ",Vlu\nIron (mg/L),0.4\nZinc (mg/L),2\n"
    found = read_text(text, headings={"vlu": "result"})
    assert [(str(r.value), r.use) for r in found.results] == [("0.4", "as_is"), ("2", "as_is")]


def test_a_column_is_left_out() -> None:
    text = "Prm,Old,Val,Unit\nIron,0.9,0.4,mg/L\nZinc,3,2,mg/L\nLead,0.1,0.2,mg/L\n"
    found = read_text(text, headings={"prm": "analyte", "old": "ignore", "val": "result"})
    assert [str(r.value) for r in found.results] == ["0.4", "2", "0.2"]
    assert len(sure(found)) == 3


def test_heads_that_stand_close_together_are_each_changed() -> None:
    rows = "Prm Val Unt\nIron|0.4|mg/L\nZinc|2|mg/L\nLead|0.01|mg/L"
    lines = table((60, 86, 110), rows)
    lines = [(lines[0][0], {60.0: "Prm Val Unt"}), *lines[1:]]
    words = {"prm": "analyte", "val": "result", "unt": "unit"}
    note = Note("lab.toml", "A Lab", ("a lab",), headings=words)
    found = read_with(pdf(page(*lines)), note).warnings[1].text
    assert "Prm = Analyte, " in found or found.count("=") == 3


# Any cell, any words ------------------------------------------------------------------------------

WORDS = st.lists(st.text("ab1.#/", min_size=1, max_size=5), min_size=1, max_size=5)


@given(words=WORDS, data=st.data(), new=st.sampled_from(["mg/L", "Reporting Limit", "U", ""]))
def test_a_changed_cell_keeps_its_words_and_its_box(
    words: list[str], data: st.DataObject, new: str
) -> None:
    from layout_sheets import words as placed

    text = " ".join(words)
    start = data.draw(st.integers(0, len(text) - 1))
    end = data.draw(st.integers(start + 1, len(text)))
    assume(text[start] != " " and text[end - 1] != " ")
    line = Line(1, page=1)
    cell = of_words(tuple(placed(text, 50, 100)), line)
    line.cells = [cell]
    before = cell.words
    Changes().put(cell, (start, end), new, "unit")
    assert cell.text == text[:start] + new + text[end:]
    assert " ".join(w.text for w in cell.words) == cell.text
    assert cell.words[0].left == before[0].left
    assert cell.words[-1].right == before[-1].right


CELLS = st.sampled_from(
    ["Iron", "Lead", "0.4", "<2", "12 #", "#", "mg/L", "g/cu.m.", "Prm", "Rslt", "Unt", "", "Rpt"]
)


@given(rows=st.lists(st.lists(CELLS, min_size=1, max_size=5), min_size=1, max_size=8))
@example([["Iron", "Lead"], ["Iron", "12 #"], ["Iron", "Lead", "Iron"], ["0.4", "0.4"]])
@example([["Iron", "Lead"], ["Iron", "#"], ["Iron", "Lead", "Iron"], ["0.4", "0.4"]])
def test_any_sheet_can_be_read_with_any_note(rows: list[list[str]]) -> None:
    note = load_note(LABS / "brindle-brook.toml")
    out = csv_text(rows)
    reading = read_with(from_csv(out), note)
    assert reading.warnings[0].code == "note.read_with"
    # a label or a value may be made of several cells, but of nothing that was not printed
    printed = {word for row in rows for cell in row for word in cell.split()}
    for result in reading.results:
        assert {*result.label.split(), *result.text.split()} <= printed


def csv_text(rows: Iterable[Iterable[str]]) -> str:
    import io

    out = io.StringIO()
    csv.writer(out).writerows(rows)
    return out.getvalue()

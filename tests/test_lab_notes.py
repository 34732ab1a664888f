"""Lab notes: a queer sheet is read with doubts or not at all; with its note it is read right.

The sheets are invented, and what they mean was written down with them. Expected values are what a
person reads from the sheet with the note in hand.
"""

from __future__ import annotations

import csv
import json
import shutil
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from layout_sheets import brief, from_csv, page, pdf, table
from reportlab.pdfgen.canvas import Canvas
from typer.testing import CliRunner

import welltold
from welltold.analytes import identify, registry
from welltold.command.app import app
from welltold.command.options import notes_folder
from welltold.errors import ExitCode, FileMissingError, LabNoteError, NotesClashError, WelltoldError
from welltold.reading import Reading
from welltold.values import parse_value
from welltold_parsers.doors import open_document
from welltold_parsers.layout.cells import Line, of_words
from welltold_parsers.layout.words import head_of
from welltold_parsers.limits import Limits
from welltold_parsers.notes import Note, load_note, load_notes, note_for, propose, read_with
from welltold_parsers.notes.changes import Changes
from welltold_parsers.notes.finding import find
from welltold_parsers.notes.note import flag_meanings, roles

ROOT = Path(__file__).parents[1]
LABS = ROOT / "samples" / "labs"
SHEETS = ROOT / "samples" / "sheets"
BRINDLE = LABS / "brindle-brook.csv"

QUILLON = """
[lab]
name = "Quillon Test House"
phrases = ["Quillon Test House", "Dtmn", "Fnd"]
[sheet]
date_order = "day_first"
decimal_comma = true
[headings]
"Dtmn" = "analyte"
"Fnd" = "result"
"Rpt Lmt" = "reporting_limit"
"Ms." = "unit"
"Vgl." = "previous"
"Btl" = "sample_id"
"Spot" = "point"
"Tkn" = "collected"
[units]
"mg p. L" = "mg/L"
"mcg p. L" = "ug/L"
[labels]
"Tot. Hd." = "hardness"
[flags]
"#" = "below"
"e" = "estimated"
[basis]
nitrate = "NO3"
[ignore]
lines = ["Courier box"]
parts = [{ from = "Check water", to = "End of check" }]
"""
MARL = """
[lab]
name = "Marl Point Assay Rooms"
phrases = ["Marl Point Assay Rooms"]
[sheet]
default_unit = "mg/L"
[headings]
"Btl" = "sample_id"
"Spot" = "point"
"Tkn" = "collected"
"Wt" = "ignore"
[labels]
"NO3X" = "Nitrate as N"
"FEX" = "iron"
"HDT" = "hardness"
"CLX" = "chloride"
[flags]
"z" = "below"
"""


def quillon_sheet(path: Path) -> Path:
    """Draw the sheet of a lab that writes decimal commas, stacked heads and flags of its own."""
    canvas = Canvas(str(path), pagesize=(595, 842))

    def line(y: float, *cells: tuple[float, str]) -> None:
        canvas.setFont("Helvetica", 10)
        for x, text in cells:
            canvas.drawString(x, 842 - y, text)

    line(60, (60, "Quillon Test House"))
    line(90, (60, "Btl: Q-7713"), (300, "Tkn: 03/04/2026"))
    line(106, (60, "Spot: Kitchen tap"))
    line(140, (250, "Rpt"))
    line(152, (60, "Dtmn"), (160, "Fnd"), (250, "Lmt"), (330, "Ms."), (400, "Vgl."))
    rows = """Nitrate|4,20|0,10|mg p. L|3,9
Iron|e 0,35|0,05|mg p. L|0,4
Manganese|0,005#|0,005|mg p. L|0,006
Chloride|31|1|mg p. L|30
Tot. Hd.|182|5|mg p. L|181
Arsenic|2,1|0,5|mcg p. L|2,0"""
    for at, row in enumerate(rows.splitlines()):
        line(170 + 15 * at, *zip((60, 160, 250, 330, 400), row.split("|"), strict=True))
    line(280, (60, "Check water of the house"))
    line(295, (60, "Nitrate"), (160, "10,1"), (250, "0,10"), (330, "mg p. L"))
    line(325, (60, "End of check"))
    line(340, (60, "Courier box 4,5 deg"))
    canvas.save()
    return path


def marl_sheet(path: Path) -> Path:
    """Write the workbook of a lab that has codes for tests and names no unit."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Marl Point Assay Rooms"],
        [],
        ["Btl", "Spot", "Tkn", "NO3X", "FEX", "HDT", "CLX", "Wt"],
        ["M-1", "Well 1", "2026-05-02", 4.2, 0.35, 182, 31, 250],
        ["M-2", "Well 2", "2026-05-02", 1.1, "z 0.02", 140, 12, 250],
        ["M-3", "Well 3", "2026-05-03", 0.6, 0.11, 95, 8, 250],
    ):
        sheet.append(row)
    book.save(path)
    return path


def note_in(folder: Path, text: str, name: str = "lab.toml") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, "utf-8")
    return folder


def sure(reading: Reading) -> list[object]:
    """What is used as it is."""
    return [r for r in reading.results if r.use == "as_is"]


def codes(reading: Reading) -> list[str]:
    return [message.code for message in reading.warnings]


# Three queer sheets ------------------------------------------------------------------------------


def test_a_table_with_private_headings_a_private_unit_and_a_private_flag() -> None:
    without = welltold.read(BRINDLE)
    assert not sure(without)
    reading = welltold.read(BRINDLE, notes=LABS)
    assert [brief(r) for r in reading.results] == [
        ("nitrate", "4.2", "mg/L", "N"),
        ("iron", "<0.05", "mg/L", None),
        ("manganese", "0.012", "mg/L", None),
        ("chloride", "31", "mg/L", None),
        ("hardness", "182", "mg/L", "CaCO3"),
        ("ph", "7.4", None, None),
        ("lead", "<0.002", "mg/L", None),
    ]
    assert len(sure(reading)) == 7
    assert [str(r.reporting_limit) for r in reading.results[:2]] == ["0.1", "0.05"]
    sample = reading.samples[0]
    assert (sample.id, sample.point, sample.collected) == ("BB-2291", "Kitchen tap", "2026-04-03")
    assert not reading.unread


def test_a_page_with_decimal_commas_a_stacked_head_and_a_part_to_leave_out(tmp_path: Path) -> None:
    sheet = quillon_sheet(tmp_path / "quillon.pdf")
    assert not sure(welltold.read(sheet))
    reading = welltold.read(sheet, notes=note_in(tmp_path / "labs", QUILLON))
    assert [brief(r) for r in reading.results] == [
        ("nitrate", "4.20", "mg/L", "NO3"),
        ("iron", "0.35", "mg/L", None),
        ("manganese", "<0.005", "mg/L", None),
        ("chloride", "31", "mg/L", None),
        ("hardness", "182", "mg/L", "CaCO3"),
        ("arsenic", "2.1", "ug/L", None),
    ]
    assert len(sure(reading)) == 6
    assert [str(r.reporting_limit) for r in reading.results[:3]] == ["0.10", "0.05", "0.005"]
    nitrate = reading.results[0].normalized
    # 14.007 of the 62.005 g/mol of nitrate is nitrogen: 4.20 mg/L as NO3 are 0.949 as N
    assert nitrate is not None
    assert abs(nitrate.value - Decimal("0.949")) < Decimal("0.001")
    sample = reading.samples[0]
    assert (sample.id, sample.point, sample.collected) == ("Q-7713", "Kitchen tap", "2026-04-03")


def test_samples_in_rows_under_codes_without_any_unit(tmp_path: Path) -> None:
    sheet = marl_sheet(tmp_path / "marl.xlsx")
    with pytest.raises(WelltoldError):
        welltold.read(sheet)
    reading = welltold.read(sheet, notes=note_in(tmp_path / "labs", MARL))
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("M-1", "Well 1", "2026-05-02"),
        ("M-2", "Well 2", "2026-05-02"),
        ("M-3", "Well 3", "2026-05-03"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["4.2", "0.35", "182", "31"],
        ["1.1", "<0.02", "140", "12"],
        ["0.6", "0.11", "95", "8"],
    ]
    assert {(r.analyte, r.unit, r.basis) for r in reading.results} == {
        ("nitrate", "mg/L", "N"),
        ("iron", "mg/L", None),
        ("hardness", "mg/L", "CaCO3"),
        ("chloride", "mg/L", None),
    }
    assert len(sure(reading)) == 12


def test_what_was_printed_stays_in_the_reading(tmp_path: Path) -> None:
    folder = note_in(tmp_path / "labs", QUILLON)
    found = welltold.read(quillon_sheet(tmp_path / "quillon.pdf"), notes=folder).results
    assert [(r.label, r.text) for r in found] == [
        ("Nitrate", "4,20"),
        ("Iron", "e 0,35"),
        ("Manganese", "0,005#"),
        ("Chloride", "31"),
        ("Tot. Hd.", "182"),
        ("Arsenic", "2,1"),
    ]
    # each flag as printed, and the known one that it stands for
    assert [r.qualifiers for r in found[:3]] == [(), ("e", "J"), ("#", "U")]
    codes = welltold.read(
        marl_sheet(tmp_path / "marl.xlsx"), notes=note_in(tmp_path / "marl", MARL)
    )
    assert [r.label for r in codes.samples[1].results] == ["NO3X", "FEX", "HDT", "CLX"]
    assert codes.samples[1].results[1].text == "z 0.02"
    assert codes.samples[1].results[1].where[0].cell == "E5"


def test_places_are_those_of_the_printed_words(tmp_path: Path) -> None:
    sheet = quillon_sheet(tmp_path / "quillon.pdf")
    with_note = welltold.read(sheet, notes=note_in(tmp_path / "labs", QUILLON)).results
    iron = next(w for w in with_note[1].where if w.of == "value")
    assert iron.box is not None
    # drawn at x 160, baseline 185 from the top, 10 points high
    assert iron.box[0] == pytest.approx(160, abs=1)
    assert iron.box[1] < 185 < iron.box[3]


def test_the_reading_says_which_note_helped_and_how(tmp_path: Path) -> None:
    folder = note_in(tmp_path / "labs", QUILLON)
    reading = welltold.read(quillon_sheet(tmp_path / "quillon.pdf"), notes=folder)
    assert codes(reading)[:3] == ["note.read_with", "note.words", "note.left_out"]
    assert reading.warnings[0].text == "Read with the note for Quillon Test House (lab.toml)."
    assert "Dtmn = Analyte" in reading.warnings[1].text
    # two lines of the check water hold numbers or the courier's; its heading and end hold none
    assert reading.warnings[2].args == {"count": "2"}


# Nothing changes where no note helps -------------------------------------------------------------


def test_a_sheet_that_no_note_claims_is_read_as_without() -> None:
    sheet = SHEETS / "clean-well.pdf"
    assert welltold.read(sheet, notes=LABS) == welltold.read(sheet)


def sheets() -> list[Path]:
    return sorted(p for p in SHEETS.iterdir() if p.name != "truncated.pdf")


@pytest.mark.parametrize("sheet", sheets(), ids=lambda p: p.name)
def test_a_proposed_note_claims_its_sheet_and_changes_no_result(
    sheet: Path, tmp_path: Path
) -> None:
    path = tmp_path / "proposed.toml"
    path.write_text(propose(sheet), "utf-8")
    note = load_note(path)
    document = open_document(sheet, Limits())
    assert note_for(document, [note]) is note
    plain, helped = read_with(document, None), read_with(document, note)
    assert replace(helped, warnings=()) == replace(plain, warnings=())


# The template -------------------------------------------------------------------------------------


def entries(text: str, section: str) -> dict[str, str]:
    import tomllib

    found: dict[str, str] = tomllib.loads(text)[section]
    return found


def test_a_template_lists_what_was_found_with_what_the_engine_took_it_for() -> None:
    text = propose(SHEETS / "hard-rusty.pdf")
    assert entries(text, "headings")["Your result"] == "result"
    assert entries(text, "headings")["Sample point"] == "point"
    assert entries(text, "lab")["name"] == "Oxbow & Daughters Water Testing"


def test_a_template_asks_for_what_is_not_known(tmp_path: Path) -> None:
    text = propose(quillon_sheet(tmp_path / "quillon.pdf"))
    headings = entries(text, "headings")
    assert headings["Dtmn"] == "analyte"
    assert {k for k, v in headings.items() if v == "unknown"} == {
        "Fnd",
        "Rpt Lmt",
        "Ms.",
        "Vgl.",
        "Btl",
        "Spot",
        "Tkn",
    }
    assert entries(text, "units") == {"mg p. L": "unknown", "mcg p. L": "unknown"}
    assert entries(text, "labels") == {"Tot. Hd.": "unknown"}
    assert entries(text, "flags") == {"e": "unknown", "#": "unknown"}
    assert "# on the sheet: 4,20, e 0,35, 0,005#" in text


def test_a_template_parts_a_heading_from_its_odd_unit(tmp_path: Path) -> None:
    sheet = tmp_path / "x.csv"
    sheet.write_text("Prm,Vlu (g/cu.m.),Old\nIron,0.4,0.5\nLead,0.01,0.02\nZinc,2,3\n", "utf-8")
    text = propose(sheet)
    assert {"Prm", "Vlu", "Old"} == set(entries(text, "headings"))
    assert entries(text, "units") == {"g/cu.m.": "unknown"}


_ROWS = "North|7|0.2|xx\nSouth|8|0.3|xx\nEast|9|0.4|xx"


def test_a_template_takes_codes_over_numbers_for_names_of_tests(tmp_path: Path) -> None:
    text = propose(marl_sheet(tmp_path / "marl.xlsx"))
    assert {"NO3X", "FEX", "HDT", "CLX"} <= set(entries(text, "labels"))
    assert {"Btl", "Spot", "Tkn"} <= set(entries(text, "headings"))


def test_a_template_proposes_no_phrase_that_the_next_report_would_not_have() -> None:
    text = propose(SHEETS / "spring-round.xlsx")
    assert not any(c.isdigit() for phrase in entries(text, "lab")["phrases"] for c in phrase)


def test_a_template_takes_no_column_for_results_where_none_were_read() -> None:
    headings = entries(propose(SHEETS / "price-list.csv"), "headings")
    assert "result" not in headings.values()


def test_a_template_parts_a_known_heading_from_what_stands_over_it() -> None:
    lines = table((60, 200, 320, 420), "Drawn on||Vsl\nPoint|Lot|Prm|Ms\n" + _ROWS)
    found = find(pdf(page(*lines)))
    assert {"Point", "Lot", "Vsl Prm", "Ms"} <= {*found.headings, *found.labels}


def test_the_command_writes_the_note_and_reads_with_it(tmp_path: Path) -> None:
    run = CliRunner().invoke
    out = tmp_path / "labs" / "brindle.toml"
    assert run(app, ["template", "lab", str(BRINDLE), "--out", str(out)]).exit_code == ExitCode.ok
    assert load_note(out).lab == "Brindle Brook Analytics"
    done = run(app, ["read", str(BRINDLE), "--json", "--notes", str(LABS)])
    assert done.exit_code == ExitCode.ok
    assert json.loads(done.stdout)["warnings"][0]["code"] == "note.read_with"


# Finding the notes --------------------------------------------------------------------------------


def test_notes_come_from_the_option_else_the_variable_else_the_users_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("WELLTOLD_LABS", raising=False)
    monkeypatch.setattr("typer.get_app_dir", lambda name: str(tmp_path / name))
    assert notes_folder(None) is None
    (tmp_path / "welltold" / "labs").mkdir(parents=True)
    assert notes_folder(None) == tmp_path / "welltold" / "labs"
    monkeypatch.setenv("WELLTOLD_LABS", str(LABS))
    assert notes_folder(None) == LABS
    assert notes_folder(tmp_path) == tmp_path
    monkeypatch.setenv("WELLTOLD_LABS", "")
    assert notes_folder(None) is None


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        welltold.read(BRINDLE, notes=tmp_path / "none")


def test_report_and_batch_use_the_notes_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WELLTOLD_LABS", str(LABS))
    run = CliRunner().invoke
    told = run(app, ["report", str(BRINDLE), "--json"])
    assert "note.read_with" in told.stdout
    inbox, out = tmp_path / "inbox", tmp_path / "out"
    inbox.mkdir()
    shutil.copy(BRINDLE, inbox)
    run(app, ["batch", str(inbox), "--out", str(out), "--format", "json", "--jobs", "1"])
    written = next((out / "reports").rglob("*.json")).read_text("utf-8")
    assert "note.read_with" in written


def test_a_changed_note_makes_the_reports_of_a_batch_anew(tmp_path: Path) -> None:
    labs, inbox, out = tmp_path / "labs", tmp_path / "inbox", tmp_path / "out"
    shutil.copytree(LABS, labs)
    inbox.mkdir()
    shutil.copy(BRINDLE, inbox)
    words = ["batch", str(inbox), "--out", str(out), "--format", "json", "--notes", str(labs)]
    run = CliRunner().invoke
    run(app, words)
    assert "1 from an earlier run" in run(app, words).stderr
    note = labs / "brindle-brook.toml"
    note.write_text(note.read_text("utf-8").replace('"#" = "below"', '"#" = "late"'), "utf-8")
    assert "0 from an earlier run" in run(app, words).stderr


# Two notes for one file ---------------------------------------------------------------------------


def test_two_notes_that_claim_one_file_are_an_error_naming_both(tmp_path: Path) -> None:
    folder = note_in(tmp_path / "labs", '[lab]\nname = "A"\nphrases = ["Brindle"]\n', "a.toml")
    note_in(folder, '[lab]\nname = "B"\nphrases = ["brook analytics"]\n', "b.toml")
    with pytest.raises(NotesClashError) as error:
        welltold.read(BRINDLE, notes=folder)
    assert "a.toml" in str(error.value)
    assert "b.toml" in str(error.value)
    done = CliRunner().invoke(app, ["read", str(BRINDLE), "--notes", str(folder)])
    assert done.exit_code == ExitCode.notes_clash == 48


@pytest.mark.parametrize(
    ("lab", "claims"),
    [
        ('phrases = ["Brindle Brook Analytics", "Lmt"]', True),
        ('phrases = ["BRINDLE  brook"]', True),
        ('phrases = ["Brindle Brook Analytics", "Certificate"]', False),
        ('phrases = ["rindle Brook"]', False),
        ('phrases = ["Brindle Brook"]\nwithout = ["Kitchen tap"]', False),
        ('phrases = ["Brindle Brook"]\nwithout = ["Certificate"]', True),
    ],
)
def test_a_note_claims_a_sheet_with_all_phrases_and_none_of_the_others(
    lab: str, claims: bool, tmp_path: Path
) -> None:
    folder = note_in(tmp_path / "labs", f'[lab]\nname = "A"\n{lab}\n')
    found = note_for(open_document(BRINDLE, Limits()), load_notes(folder))
    assert (found is not None) == claims


# Mistakes in a note -------------------------------------------------------------------------------

HEAD = '[lab]\nname = "A"\nphrases = ["one lab"]\n'


@pytest.mark.parametrize(
    ("text", "place", "hints"),
    [
        (HEAD + '[heading]\n"Prm" = "analyte"', "line 4, heading", '"headings"'),
        (HEAD + '[headings]\n\n"Prm" = "analite"', "line 6, [headings] Prm", '"analyte"'),
        (HEAD + '[units]\n"x" = "mg/Q"', "line 5, [units] x", "not a known unit"),
        (HEAD + '[labels]\n"Fe X" = "irom"', "line 5, [labels] Fe X", "iron"),
        (HEAD + '[flags]\n"#" = "bellow"', "line 5, [flags] #", '"below"'),
        (HEAD + '[basis]\nnitrate = "P"', "line 5, [basis] nitrate", "N, NO3"),
        (HEAD + '[basis]\nnitrte = "N"', "line 5, [basis] nitrte", "nitrate"),
        (HEAD + '[sheet]\ndate_order = "dayfirst"', "line 5, [sheet] date_order", '"day_first"'),
        (HEAD + '[sheet]\ndecimal_comma = "yes"', "line 5, [sheet] decimal_comma", "true"),
        (HEAD + '[sheet]\ndefault_unit = "mgs"', "line 5, [sheet] default_unit", "mg/L"),
        (HEAD + "[sheet]\ndecimalcomma = true", "line 5, [sheet] decimalcomma", '"decimal_comma"'),
        (HEAD + '[ignore]\nlines = "x"', "line 5, [ignore] lines", "list"),
        (HEAD + '[ignore]\nparts = [{ form = "x" }]', "line 5, [ignore] parts", "from and to"),
        (HEAD + '[headings]\n"A b" = "unit"\n"a  B" = "unit"', "line 6", "twice"),
        ('[lab]\nname = "A"', "line 1, [lab] phrases", "missing"),
        ('[lab]\nphrases = ["one lab"]', "line 1, [lab] name", "text"),
        ('[lab]\nname = "A"\nphrases = ["a"]', "line 3, [lab] phrases", "letters"),
        ("[lab\n", "TOML", "line 1"),
    ],
)
def test_a_mistake_names_the_line_the_word_and_the_nearest_known(
    text: str, place: str, hints: str, tmp_path: Path
) -> None:
    path = note_in(tmp_path / "labs", text) / "lab.toml"
    with pytest.raises(LabNoteError) as error:
        load_note(path)
    assert f"lab.toml, {place}" in str(error.value)
    assert hints in str(error.value)
    assert error.value.exit_code == ExitCode.note_invalid == 47


def test_a_note_that_is_not_text_or_not_there_is_told(tmp_path: Path) -> None:
    path = tmp_path / "lab.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LabNoteError):
        load_note(path)
    with pytest.raises(FileMissingError):
        load_note(tmp_path / "none.toml")


def test_a_corrected_note_is_read_anew(tmp_path: Path) -> None:
    path = note_in(tmp_path / "labs", HEAD) / "lab.toml"
    assert load_note(path).lab == "A"
    path.write_text(HEAD.replace('"A"', '"Another"'), "utf-8")
    assert load_note(path).lab == "Another"


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
    found = read_text(text, units={"g/cu.m.": "mg/L"}).results
    assert [r.unit for r in found[:2]] == ["mg/L", "mg/L"]
    assert found[1].text == "0.01 g/cu.m."
    assert all(r.unit != "mg/L" for r in found[2:])


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

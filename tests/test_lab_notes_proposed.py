"""Lab notes proposed from a sheet, found in their folders, and wrong ones told with their place."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from lab_note_sheets import BRINDLE, LABS, SHEETS, marl_sheet, note_in, quillon_sheet
from layout_sheets import page, pdf, table
from typer.testing import CliRunner

import welltold
from welltold.command.app import app
from welltold.command.beside import notes_folder
from welltold.errors import ExitCode, FileMissingError, LabNoteError, NotesClashError
from welltold_parsers.doors import open_document
from welltold_parsers.limits import Limits
from welltold_parsers.notes import load_note, load_notes, note_for, propose, read_with
from welltold_parsers.notes.finding import find


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


def test_a_second_note_of_one_lab_is_told_to_join_the_first(tmp_path: Path) -> None:
    run = CliRunner().invoke
    first, second = tmp_path / "brindle.toml", tmp_path / "brindle2.toml"
    alone = run(app, ["template", "lab", str(BRINDLE), "--out", str(first)])
    assert "claims this sheet too" not in alone.stderr
    (tmp_path / "site.toml").write_text("[home]\npeople = 3\n", "utf-8")  # no note
    both = run(app, ["template", "lab", str(BRINDLE), "--out", str(second)])
    assert both.exit_code == ExitCode.ok
    told = " ".join(both.stderr.split())
    assert f"{first} claims this sheet too" in told
    assert f"Put what is new into {first.name}" in told
    assert second.exists()


def test_a_note_written_again_over_itself_claims_its_sheet_alone(tmp_path: Path) -> None:
    words = ["template", "lab", str(BRINDLE), "--out", str(tmp_path / "brindle.toml")]
    run = CliRunner().invoke
    run(app, words)
    assert "claims this sheet too" not in run(app, words).stderr


def test_a_note_on_the_screen_is_told_of_the_users_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WELLTOLD_LABS", str(LABS))
    done = CliRunner().invoke(app, ["template", "lab", str(BRINDLE)])
    assert "brindle-brook.toml claims this sheet too" in " ".join(done.stderr.split())


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

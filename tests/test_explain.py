"""The chain from the printed text to the verdict."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import UnknownAnalyteError
from welltold.explain import explain
from welltold.face import read
from welltold.interpretation import Interpretation
from welltold.reading import Alternative, Correction, Reading, Result, Sample, Source, Where
from welltold.verdicts import interpret

PLACE = Where("value", sheet="", cell="C4")


def view_of(*results: Result) -> Interpretation:
    source = Source("sheet.csv", "0" * 64, "csv", 1)
    sheet = Reading(source, samples=(Sample("1", taken="first_draw", results=results),))
    return interpret(sheet, as_of=date(2026, 11, 25))


def lines(view: Interpretation, slug: str) -> list[str]:
    return [message.text for message in explain(view, 0, slug)]


def lead(text: str, unit: str) -> Result:
    number = Decimal(text)
    return Result("lead", "Lead, total", text, "value", value=number, unit=unit, where=(PLACE,))


def test_every_link_of_the_chain_is_told_in_order() -> None:
    # 40 CFR 141.80(c)(1): 0.010 mg/L; 16 ug/L is 0.016 mg/L
    row = replace(lead("16", "ug/L"), qualifiers=("J",), method="EPA 200.8")
    told = lines(view_of(row), "lead")
    wanted = [
        'The sheet prints "Lead, total": "16" ug/L, at C4.',
        "Read as the number 16.",
        "The lab's marks: J.",
        "Method: EPA 200.8.",
        "16 ug/L is 0.016 mg/L (times 0.001).",
    ]
    assert told[: len(wanted)] == wanted
    text = "\n".join(told)
    assert "0.01 mg/L, 40 CFR 141.80(c)(1)" in text
    assert "What follows: health concern, act soon." in text
    assert "as an estimate (J)" in text
    assert "How sure: 0.80 of 1." in text
    assert text.index("What follows") < text.index("Because:") < text.index("Steps:")


def test_other_readings_and_corrections_are_told() -> None:
    fixed = replace(
        lead("1.6", "ug/L"),
        alternatives=(Alternative("16", Decimal(16), "faint point"),),
        correction=Correction("1.6", Decimal("1.6"), "A. Reader", "2026-11-25T10:00:00"),
    )
    text = "\n".join(lines(view_of(fixed), "lead"))
    assert 'could also be read as "16": faint point' in text
    assert "A. Reader" in text


def test_a_total_says_what_it_was_worked_out_from() -> None:
    parts = [
        Result(slug, slug, text, "value", value=Decimal(text), unit="pCi/L")
        for slug, text in (("radium_226", "3.0"), ("radium_228", "2.1"))
    ]
    text = "\n".join(lines(view_of(*parts), "radium_226_228"))
    assert "worked out from other lines" in text
    assert "Radium-226, Radium-228" in text
    assert "40 CFR 141.66(b)" in text


def test_a_limit_leaves_an_interval() -> None:
    row = Result("arsenic", "Arsenic", "<20", "below", "<", Decimal(20), unit="ug/L")
    text = "\n".join(lines(view_of(row), "arsenic"))
    assert "Read as not found, with a limit of 20." in text
    assert "What is possible: 0 to 0.02" in text
    assert "What follows: can't tell." in text


def test_what_is_not_on_the_sheet_says_so() -> None:
    assert lines(view_of(lead("1", "ug/L")), "antimony") == ["Antimony is not on this sheet."]
    with pytest.raises(UnknownAnalyteError):
        explain(view_of(), 0, "unobtainium")
    with pytest.raises(IndexError):
        explain(view_of(), 1, "lead")


def test_the_command_prints_it_and_writes_nothing() -> None:
    sheet = Path(__file__).parents[1] / "samples" / "sheets" / "nitrate-bacteria.pdf"
    before = set(Path.cwd().iterdir())
    done = CliRunner().invoke(app, ["report", str(sheet), "--explain", "Nitrate-N"])
    assert done.exit_code == 0
    assert "40 CFR 141.62(b)(7)" in done.stdout
    assert set(Path.cwd().iterdir()) == before
    unknown = CliRunner().invoke(app, ["report", str(sheet), "--explain", "unobtainium"])
    assert unknown.exit_code != 0


def test_each_number_of_a_sentence_is_explained_by_itself() -> None:
    """The letter's third sentence holds iron 0.52 mg/L and lead less than 1 ug/L."""
    letter = Path(__file__).parents[1] / "samples" / "sheets" / "letter.pdf"
    view = interpret(read(letter), as_of=date(2026, 11, 25))
    iron = " ".join(message.text for message in explain(view, 0, "iron"))
    lead = " ".join(message.text for message in explain(view, 0, "lead"))
    assert "0.52" in iron
    assert "0.52" not in lead


def test_a_reading_that_is_nearly_sure_is_not_told_as_certain() -> None:
    """0.9958 is cut off, not rounded: it is less than 1."""
    view = view_of(lead("16", "ug/L"))
    found = replace(view.samples[0].findings[0], analyte="lead", confidence=0.9958)
    nearly = replace(view, samples=(replace(view.samples[0], findings=(found,)),))
    assert "How sure: 0.99 of 1." in lines(nearly, "lead")


@pytest.mark.parametrize("name", ["softener", "water softener", "Water-Softener", "size"])
def test_a_stage_is_asked_for_by_its_printed_name_too(name: str) -> None:
    sheet = Path(__file__).parents[1] / "samples" / "sheets" / "hard-rusty.pdf"
    done = CliRunner().invoke(app, ["report", str(sheet), "--explain", name])
    assert "settings.dial_gpg = 24 gpg" in done.stdout
    assert "1.00" not in done.stdout


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_misspelt_stage_is_told_the_nearest_and_what_else_may_be_asked(language: str) -> None:
    sheet = Path(__file__).parents[1] / "samples" / "sheets" / "hard-rusty.pdf"
    asked = ["report", str(sheet), "--explain", "softner", "--language", language]
    done = CliRunner().invoke(app, asked)
    assert isinstance(done.exception, UnknownAnalyteError)
    assert ": softener;" in str(done.exception)
    assert " size " in str(done.exception)

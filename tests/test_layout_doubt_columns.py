"""Columns beside the results that nothing explains: answers, rival numbers, averages."""

from __future__ import annotations

import pytest
from tests.layout_sheets import read_csv

from welltold.reading import Reading

NAMES = ("Iron", "Zinc", "Copper", "Sodium", "Chloride", "Sulfate", "Barium")


def _codes(reading: Reading) -> set[str]:
    return {m.code for r in reading.results for m in r.review}


def _long(head: str, *cells: str) -> Reading:
    rows = (
        f"{name},{i}.2{i},mg/L,{cells[i % len(cells)]}\n" for i, name in enumerate(NAMES, start=1)
    )
    return read_csv(f"Analyte,Result,Units,{head}\n" + "".join(rows))


def test_answers_that_no_head_explains_may_say_which_numbers_are_limits() -> None:
    assert _codes(_long("Xq", "Y", "N")) == {"read.answers_open"}


def test_one_answer_for_every_row_tells_nothing() -> None:
    assert _codes(_long("Xq", "N")) == set()


def test_answers_are_no_question_where_results_say_themselves_what_was_not_found() -> None:
    rows = "".join(
        f"{name},{'<' if i % 2 else ''}{i}.2,mg/L,{'NY'[i % 2]}\n" for i, name in enumerate(NAMES)
    )
    assert _codes(read_csv("Analyte,Result,Units,Xq\n" + rows)) == set()


@pytest.mark.parametrize(("head", "doubted"), [("cut_As_ugL", True), ("county", False)])
def test_answers_named_for_one_analyte_doubt_that_analyte(head: str, doubted: bool) -> None:
    answers = ("TRUE", "FALSE") if doubted else ("Tamarack", "Alder")
    rows = "".join(f"W{i},{i}.5,{i * 3},{answers[i % 2]}\n" for i in range(1, 9))
    reading = read_csv(f"Site,As_ugL,Na_mgL,{head}\n" + rows)
    looks = {
        r.analyte for r in reading.results if "read.answers_open" in {m.code for m in r.review}
    }
    assert looks <= {"arsenic", "sodium"}
    assert bool(looks) is doubted


def test_a_name_that_holds_a_known_test_is_no_plain_unknown() -> None:
    reading = read_csv(
        "Analyte,Result,Units\nLead after long rest,0.002,mg/L\nIron,0.2,mg/L\nZinc,0.1,mg/L\n"
    )
    first = next(r for r in reading.results if r.label.startswith("Lead"))
    assert first.analyte is None
    assert [m.code for m in first.review] == ["read.label_holds"]


def test_two_numbers_in_one_cell_stop_no_reading() -> None:
    rows = "".join(f"{name},{i}.2{i},1{i}.4,mg/L\n" for i, name in enumerate(NAMES, start=1))
    reading = read_csv("Analyte,Well 1,Well 2,Units\npH,7.5,6.5.8.5,\n" + rows)
    assert len(reading.results) > len(NAMES)

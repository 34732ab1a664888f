"""Rows of a long export that say the same of other samples are understood once, as each alone."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest

from welltold.reading import Reading
from welltold_parsers.geometry import Document, Sheet, SheetCell
from welltold_parsers.layout import read_document
from welltold_parsers.layout.cells import Cell
from welltold_parsers.layout.row_results import RowResults
from welltold_parsers.layout.same_rows import SameRows
from welltold_parsers.layout.wraps import Step

HEADS = ["Lab ID", "Point", "Date", "Analyte", "Result", "Unit", "RL", "Qualifier", "Type"]
TESTS = [
    ("Nitrate as N", "mg/L", "0.05"),
    ("Iron", "ug/L", "20"),
    ("Total Coliform", "P/A", ""),
    ("Zorvium", "ug/L", "1"),
]


def _rows(count: int) -> list[list[str]]:
    chance = random.Random(26)  # noqa: S311 - rows of a test
    rows = []
    for number in range(count):
        name, unit, limit = TESTS[number % 4]
        value = chance.choice(["<0.05", "0.3", "ND", "4.1", "12", "", "-9999", "2.2 J"])
        if name == "Total Coliform":
            value = chance.choice(["Absent", "Present", "A"])
        sample = number // 4
        point = chance.choice([f"Well {sample}", "ND", "Blank Road 3", "U"])
        kind = chance.choice(["REG", "REG", "REG", "FB", "LCS"])
        flag = chance.choice(["", "", "U", "J"])
        rows.append(
            [f"L26-{sample:04d}", point, "2026-03-04", name, value, unit, limit, flag, kind]
        )
        if number % 311 == 310:
            rows.append(["", "", "", chance.choice(["Metals, dissolved", "Metals, total"])])
    return rows


def _document(rows: list[list[str]]) -> Document:
    cells = [
        tuple(
            SheetCell(at, column, text, f"{text}01" if text == "4.1" and at % 2 else None)
            for column, text in enumerate(row, start=1)
            if text
        )
        for at, row in enumerate([HEADS, *rows], start=1)
    ]
    return Document("export.xlsx", "0" * 64, "XLSX", sheets=(Sheet("Results", tuple(cells)),))


@pytest.fixture
def plainly(monkeypatch: pytest.MonkeyPatch) -> Reading:
    """What is read where every row is looked at for itself."""
    with monkeypatch.context() as patch:
        patch.setattr(SameRows, "take", lambda *_: False)
        return read_document(_document(_rows(2400)))


def test_every_row_gives_what_it_gives_alone(plainly: Reading) -> None:
    assert len(plainly.results) > 1000
    assert read_document(_document(_rows(2400))) == plainly


def test_most_rows_are_taken_from_those_before(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    results = RowResults.emit

    def counted(self: RowResults, step: Step, text: str, label: Cell) -> None:
        asked.append(text)
        results(self, step, text, label)

    monkeypatch.setattr(RowResults, "emit", counted)
    rows = [
        [f"L26-{n:04d}", f"Well {n}", "2026-03-04", name, f"{n % 7}.5", unit, limit, "", "REG"]
        for n in range(600)
        for name, unit, limit in TESTS
    ]
    assert len(read_document(_document(rows)).results) == len(rows)
    assert len(asked) == 7 * len(TESTS)


def test_each_result_has_its_own_place_and_stored_number() -> None:
    rows = [
        [f"L26-{n:04d}", f"Well {n}", "2026-03-04", "Iron", "4.1", "ug/L", "2", "", "REG"]
        for n in range(2100)
    ]
    results = read_document(_document(rows)).results
    assert [r.where[0].cell for r in results] == [f"E{n + 2}" for n in range(2100)]
    assert {r.value for r in results} == {Decimal("4.1")}
    assert [r.stored for r in results[:4]] == [None, "4.101", None, "4.101"]
    assert [r.shown for r in results[:4]] == [None, "4.1", None, "4.1"]

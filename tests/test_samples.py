"""The sample sheets: the list, the folder, the expectations, and what the files really print.

The files are opened here with libraries that the reader does not use for the purpose
(pdfplumber, openpyxl, xlrd, odfpy), so that the expectations stand on their own feet.
"""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path
from typing import Any

import openpyxl
import pdfplumber
import pytest
import xlrd
from openpyxl.utils import coordinate_to_tuple

ROOT = Path(__file__).parents[1]
SHEETS = ROOT / "samples" / "sheets"
EXPECTED = {
    path.stem: json.loads(path.read_text(encoding="utf-8"))
    for path in sorted((ROOT / "samples" / "expected").glob("*.json"))
}
STATES = {"value", "below", "above", "present", "absent", "trace", "too_many", "blank"}


def results(name: str) -> list[dict[str, Any]]:
    return [result for sample in EXPECTED[name]["samples"] for result in sample["results"]]


def of_kind(*suffixes: str) -> list[str]:
    return [name for name, told in EXPECTED.items() if told["file"].endswith(suffixes)]


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_folder_list_and_expectations_name_the_same_files() -> None:
    table = (ROOT / "samples" / "README.md").read_text(encoding="utf-8")
    listed = set(re.findall(r"^\| ([\w.-]+\.\w+) \|", table, re.MULTILINE))
    in_folder = {path.name for path in SHEETS.iterdir()}
    assert listed == in_folder == {told["file"] for told in EXPECTED.values()}
    assert len(listed) >= 18


def test_sheets_are_small() -> None:
    sizes = [path.stat().st_size for path in SHEETS.iterdir()]
    assert max(sizes) < 150_000
    assert sum(sizes) < 2_000_000


@pytest.mark.parametrize("name", EXPECTED)
def test_an_expectation_is_whole(name: str) -> None:
    told = EXPECTED[name]
    assert set(told) == {"file", "lab", "outcome", "samples", "traps"}
    assert (told["outcome"] == "read") == bool(results(name))
    for sample in told["samples"]:
        assert sample["results"]
        assert re.fullmatch(r"2026-\d\d-\d\d(T\d\d:\d\d)?", sample["collected"])
    for trap in told["traps"]:
        assert trap["text"]
        assert trap["why"]


@pytest.mark.parametrize("name", EXPECTED)
def test_state_operator_and_value_agree(name: str) -> None:
    for result in results(name):
        assert result["state"] in STATES
        assert re.fullmatch(r"[a-z0-9]+(_[a-z0-9]+)*", result["analyte"])
        sign = {"below": "<", "above": ">"}.get(result["state"], "=")
        assert result["operator"] == sign
        assert (result["value"] is not None) == (result["state"] in {"value", "below", "above"})
        truth = {"present": True, "absent": False}.get(result["state"])
        assert result["present"] is truth


@pytest.mark.parametrize("name", [name for name in of_kind(".pdf") if results(name)])
def test_a_page_prints_what_the_expectation_says(name: str) -> None:
    with pdfplumber.open(SHEETS / EXPECTED[name]["file"]) as document:
        pages = [squeezed(page.extract_text() or "") for page in document.pages]
    for result in results(name):
        page = pages[result["place"]["page"] - 1]
        assert squeezed(result["text"]) in page, result
        start = re.split(r"[ ,(]", result["label"])[0][:5]  # a narrow head may break the word
        assert start in page, result
    for trap in EXPECTED[name]["traps"]:
        assert squeezed(trap["text"]) in pages[trap["page"] - 1], trap


def cells_of(path: Path) -> dict[str, Any]:
    """Return the cells of a workbook by ``sheet!cell``."""
    if path.suffix == ".xlsx":
        book = openpyxl.load_workbook(path)
        return {f"{s.title}!{c.coordinate}": c.value for s in book for row in s for c in row}
    found = {}
    for sheet in xlrd.open_workbook(path).sheets():
        for row in range(sheet.nrows):
            for column in range(sheet.ncols):
                letter = openpyxl.utils.get_column_letter(column + 1)
                found[f"{sheet.name}!{letter}{row + 1}"] = sheet.cell_value(row, column)
    return found


@pytest.mark.parametrize("name", ["county-survey", "spring-round", "old-lims"])
def test_a_workbook_holds_what_the_expectation_says(name: str) -> None:
    cells = cells_of(SHEETS / EXPECTED[name]["file"])
    for result in results(name):
        stored = cells[f"{result['place']['sheet']}!{result['place']['cell']}"]
        if isinstance(stored, str):
            assert stored == result["text"]
        else:
            decimals = len(result["text"].partition(".")[2])
            assert f"{stored:.{decimals}f}" == result["text"].replace(",", "")


@pytest.mark.parametrize(
    ("name", "encoding", "mark"),
    [
        ("exchange-export", "utf-8-sig", ","),
        ("metals-latin1", "latin-1", ";"),
        ("two-dates-utf16", "utf-16", "\t"),
    ],
)
def test_a_table_file_holds_what_the_expectation_says(name: str, encoding: str, mark: str) -> None:
    text = (SHEETS / EXPECTED[name]["file"]).read_text(encoding=encoding)
    rows = list(csv.reader(io.StringIO(text), delimiter=mark))
    for result in results(name):
        row, column = coordinate_to_tuple(result["place"]["cell"])
        if result["text"] == "Not Detected":
            assert rows[row - 1][column - 1] == ""
            assert result["text"] in rows[row - 1]
        else:
            assert rows[row - 1][column - 1] == result["text"]
        assert any(result["label"] in cell for cell in rows[row - 1])


def test_the_fixed_width_file_holds_what_the_expectation_says() -> None:
    lines = (SHEETS / "fixed-width.txt").read_text(encoding="ascii").split("\n")
    for result in results("fixed-width"):
        line, column = map(int, re.findall(r"\d+", result["place"]["cell"]))
        assert lines[line - 1].startswith(result["label"])
        assert lines[line - 1][column - 1 :].split()[0] == result["text"]


def test_the_analytes_are_those_of_the_registry() -> None:
    path = ROOT / "pipeline" / "welltold" / "data" / "analytes.csv"
    text = path.read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    known = {row["slug"] for row in rows}
    assert {result["analyte"] for name in EXPECTED for result in results(name)} <= known


def test_arsenic_stands_on_both_sides_of_its_level() -> None:
    # 40 CFR 141.62(b)(16): 0.010 mg/L
    found = [r["value"] for r in results("arsenic-two-wells") if r["analyte"] == "arsenic"]
    assert found == [9.8, 10.2]


def test_the_ions_of_the_clean_well_balance() -> None:
    # Equivalent weights: Standard Methods 1030 E; within 5 %.
    weights = {
        "calcium": 20.04, "magnesium": 12.15, "sodium": 22.99, "potassium": 39.10,
        "alkalinity": -50.04, "chloride": -35.45, "sulfate": -48.03, "nitrate": -14.007,
    }  # fmt: skip
    sums = [0.0, 0.0]
    for result in results("clean-well"):
        if weight := weights.get(result["analyte"]):
            sums[weight < 0] += result["value"] / abs(weight)
    cations, anions = sums
    assert abs(cations - anions) / (cations + anions) < 0.05

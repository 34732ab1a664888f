"""Pictures that are too poor, cut off or of two sheets: told, and told before time is spent."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from proving.spoil import blurred, smaller, turned

import welltold
from scan.spoil import drawn
from welltold.errors import PoorPictureError
from welltold_parsers.scan import upright
from welltold_parsers.scan.cut_off import touching
from welltold_parsers.scan.detect import Found, find_lines
from welltold_parsers.scan.level import corners_of
from welltold_parsers.scan.one_above import stand_above
from welltold_parsers.scan.poor import softness
from welltold_parsers.scan.recognise import Letter, Read
from welltold_parsers.scan.straight import sheets_of

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]


def sheet(name: str) -> Gray:
    return drawn(ROOT / f"samples/sheets/{name}.pdf")[0]


def save(picture: Gray, path: Path) -> Path:
    cv2.imwrite(str(path), picture)
    return path


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda page: blurred(page, 6), "blurred|No print"),
        (lambda page: blurred(page, 4.5), "blurred"),
        (lambda page: smaller(page, 0.16), "too small"),
    ],
)
def test_print_that_cannot_be_read_is_told_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, spoil: object, said: str
) -> None:
    assert callable(spoil)
    read: list[int] = []
    true = upright.read_lines
    monkeypatch.setattr(upright, "read_lines", lambda lines: read.append(len(lines)) or true(lines))
    with pytest.raises(PoorPictureError, match=said):
        welltold.read(save(spoil(sheet("nitrate-bacteria")), tmp_path / "poor.png"))
    assert sum(read) <= 16  # eight lines, both ways up; the sheet has more than fifty


def test_softness_does_not_hang_on_the_resolution_of_a_sharp_page() -> None:
    page = sheet("nitrate-bacteria")
    sharp, half = page, smaller(page, 0.6)
    soft = blurred(page, 3)
    told = [softness(one, find_lines(one)) for one in (sharp, half, soft)]
    assert told[0] < 0.07
    assert told[1] < 0.1
    assert told[2] > 0.15


def test_a_soft_page_sends_each_value_to_review(tmp_path: Path) -> None:
    path = save(blurred(sheet("nitrate-bacteria"), 3.2), tmp_path / "soft.png")
    reading = welltold.read(path)
    assert {r.use for r in reading.results} == {"look"}
    assert "scan.soft_page" in {one.code for one in reading.warnings}


def test_ink_on_the_edge_of_the_picture_is_noticed() -> None:
    page = np.full((200, 400), 255, np.uint8)
    cv2.putText(page, "Iron 0.31", (260, 100), cv2.FONT_HERSHEY_SIMPLEX, 1.2, 0, 3)
    cv2.putText(page, "Zinc", (20, 160), cv2.FONT_HERSHEY_SIMPLEX, 1.2, 0, 3)
    areas = [Found(245, 60, 400, 110, thick=50), Found(0, 120, 110, 170, thick=50)]
    assert touching(page, areas, corners_of(page)) == areas[:1]


def test_a_sheet_cut_off_at_its_right_edge_is_told_and_its_rows_doubted(tmp_path: Path) -> None:
    page = turned(sheet("nitrate-bacteria"), 0.7)
    # The cut goes through the column of results.
    reading = welltold.read(save(page, tmp_path / "whole.png"))
    assert "scan.cut_off_page" not in {one.code for one in reading.warnings}
    values = [w.box for r in reading.results for w in r.where if w.of == "value" and w.box]
    middle = float(np.median([(box[0] + box[2]) / 2 for box in values])) * 200 / 72
    cut = welltold.read(save(page[:, : round(middle)], tmp_path / "cut.png"))
    assert "scan.cut_off_page" in {one.code for one in cut.warnings}
    touched = [r for r in cut.results if any(x.code == "scan.cut_off" for x in r.review)]
    true = {(r.analyte, r.value) for r in reading.results}
    wrong = [r for r in cut.results if (r.analyte, r.value) not in true]
    assert all(r.use == "look" for r in wrong)
    assert touched or cut.unread


def test_two_sheets_side_by_side_are_told_and_never_mixed(tmp_path: Path) -> None:
    first = sheet("nitrate-bacteria")
    page = np.concatenate((first, np.roll(first, 37, axis=0)), axis=1)
    alone = welltold.read(save(first, tmp_path / "one.png"))
    both = welltold.read(save(page, tmp_path / "two.png"))
    assert "scan.two_sheets_page" in {one.code for one in both.warnings}
    assert all(r.use == "look" for r in both.results)
    true = {(r.label, r.operator, r.value, r.present) for r in alone.results}
    assert {(r.label, r.operator, r.value, r.present) for r in both.results} <= true


def test_two_slips_on_a_table_are_both_cut_out() -> None:
    table = np.full((1400, 2000), 60, np.uint8)
    table[100:1200, 100:850] = 240
    table[200:1000, 1100:1700] = 235
    sheets = sheets_of(table)
    assert [
        (abs(s.shape[0] - h) < 25, abs(s.shape[1] - w) < 25)
        for s, (h, w) in zip(sheets, ((1100, 750), (800, 600)), strict=True)
    ] == [(True, True)] * 2


def cropped(name: str) -> Gray:
    """A sample with a narrow margin above and below."""
    page = sheet(name)
    rows = np.flatnonzero((page < 128).any(axis=1))
    return page[max(rows[0] - 60, 0) : rows[-1] + 60]


@pytest.mark.parametrize("lower", ["kit-card", "bacteria-slip"])
def test_two_slips_one_above_the_other_are_told(tmp_path: Path, lower: str) -> None:
    parts = [cropped("kit-card"), cropped(lower)]
    wide = max(part.shape[1] for part in parts)
    page = np.concatenate(
        [np.pad(p, ((0, 0), (0, wide - p.shape[1])), constant_values=255) for p in parts]
    )
    reading = welltold.read(save(page, tmp_path / "two.png"))
    assert "scan.two_sheets_page" in {one.code for one in reading.warnings}
    assert {r.use for r in reading.results} == {"look"}


BLOCKS = (
    "Tamarack County Public Health Laboratory", "Client: P. Okonjo", "",
    "Lab ID: 77-1 Collected: 04/02/2026", "Iron 0.31 mg/L", "Lead <1 ug/L", "",
    "Lab ID: 77-2 Collected: 04/02/2026", "Iron 0.42 mg/L", "Lead 2 ug/L", "",
    "Tamarack County Public Health Laboratory", "Printed 04/08/2026 Page 1 of 1",
)  # fmt: skip
TWO = (
    "Oxbow Water Testing", "Sampled 2/27/26", "Iron 0.4 ppm", "Nitrate 1.5 ppm", "",
    "County Public Health Laboratory", "Collected 3/1/26", "Iron 0.31 mg/L", "E. coli absent",
)  # fmt: skip


@pytest.mark.parametrize(("lines", "told"), [(BLOCKS, False), (TWO, True), ((), False)])
def test_blocks_of_samples_are_no_second_sheet(lines: tuple[str, ...], told: bool) -> None:
    printed = [(40.0 * at, text) for at, text in enumerate(lines) if text]
    areas = [Found(50, top, 50 + 14 * len(text), top + 30, thick=28) for top, text in printed]
    reads = [Read(tuple(Letter(one, 0, 1) for one in text)) for _, text in printed]
    assert stand_above(areas, reads) is told

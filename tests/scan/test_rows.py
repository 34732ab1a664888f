"""Sheets taken from far aside: no number may come to the name of another row."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

import welltold
from welltold.errors import PoorPictureError
from welltold_parsers.scan import upright
from welltold_parsers.scan.detect import Found, find_lines
from welltold_parsers.scan.leftover import pitch_of, tilt_of
from welltold_parsers.scan.level import corners_of, lean_of, levelled
from welltold_parsers.scan.rows import Straight, straightened
from welltold_parsers.scan.straight import Corners

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]
NAMES = (
    "Aluminum, total", "Antimony, total", "Arsenic, total", "Barium, total", "Beryllium, total",
    "Cadmium, total", "Calcium, total", "Chromium, total", "Cobalt, total", "Copper, total",
    "Iron, total", "Lead, total", "Magnesium, total", "Manganese, total", "Nickel, total",
    "Potassium, total", "Selenium, total", "Silver, total", "Sodium, total", "Zinc, total",
)  # fmt: skip


def sheet() -> Gray:
    """A full page: the number of each row stands far from its name."""
    image = Image.new("L", (1700, 2200), 255)
    pen = ImageDraw.Draw(image)
    font = ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), 27)
    pen.text((120, 120), "Report of analysis of water from a private well", fill=0, font=font)
    for x, text in ((120, "Analyte"), (1000, "Result"), (1350, "Unit")):
        pen.text((x, 560), text, fill=0, font=font)
    for at, name in enumerate(NAMES):
        for x, text in ((120, name), (1000, f"{1.13 + at * 1.37:.2f}"), (1350, "mg/L")):
            pen.text((x, 600 + 38 * at), text, fill=0, font=font)
    foot = "This report may be copied only as a whole, and speaks of these bottles alone."
    pen.text((120, 2000), foot, fill=0, font=font)
    return np.array(image)


def aside(picture: Gray, much: float) -> Gray:
    """The right edge of the sheet is nearer to the camera than the left, and stands higher."""
    tall, wide = picture.shape
    room = round(much * wide)
    start = np.array([[0, 0], [wide, 0], [wide, tall], [0, tall]], np.float32)
    off = np.array([[0.2, 0.9], [-0.3, -0.9], [0.4, 0.9], [-0.2, -0.8]], np.float32) * much * wide
    matrix = cv2.getPerspectiveTransform(start, start + room + off.astype(np.float32))
    size = (wide + 2 * room, tall + 2 * room)
    return np.asarray(cv2.warpPerspective(picture, matrix, size, borderValue=255), np.uint8)


def shift(picture: Gray, areas: list[Found]) -> float:
    """By how many rows print shifts from the left of the page to its right."""
    tilt = tilt_of(picture, areas)
    assert tilt is not None
    wide = max(one.right for one in areas) - min(one.left for one in areas)
    return tilt.most() * wide / pitch_of(areas)


def test_what_is_left_of_a_slope_is_measured_in_rows() -> None:
    """A slope of 0.01 over 1,320 pixels of print is 13 pixels: a third of rows 38 apart."""
    page = sheet()
    lean = np.array([[1, 0, 0], [0.01, 1, 0]], np.float32)
    slanted = np.asarray(cv2.warpAffine(page, lean, page.shape[::-1], borderValue=255), np.uint8)
    assert shift(page, find_lines(page)) < 0.06
    assert shift(slanted, find_lines(slanted)) == pytest.approx(0.35, abs=0.08)


def test_rows_that_the_search_brings_together_wrongly_are_told_by_the_lines() -> None:
    picture = aside(sheet(), 0.07)
    areas, frame = find_lines(picture), corners_of(picture)
    first = levelled(picture, areas, lean_of(areas, picture.shape), frame)
    straight = straightened(picture, areas, frame)
    assert shift(first.picture, first.areas) > 0.67
    assert straight.shift < 0.2
    assert not straight.doubtful


def test_a_sheet_from_far_aside_keeps_each_number_at_its_name(tmp_path: Path) -> None:
    path = tmp_path / "aside.png"
    cv2.imwrite(str(path), aside(sheet(), 0.07))
    reading = welltold.read(path)
    true = {name.replace(" ", ""): f"{1.13 + at * 1.37:.2f}" for at, name in enumerate(NAMES)}
    found = {r.label.replace(" ", ""): r.text for r in reading.results}
    assert len(found) > 15
    assert {name: text for name, text in found.items() if true.get(name) != text} == {}


@pytest.mark.parametrize(("left", "doubtful"), [(0.5, True), (0.9, True)])
def test_rows_that_stay_aslant_are_doubted_or_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, left: float, doubtful: bool
) -> None:
    def leaning(picture: Gray, areas: list[Found], frame: Corners) -> Straight:
        return straightened(picture, areas, frame)._replace(shift=left, doubtful=doubtful)

    monkeypatch.setattr(upright, "straightened", leaning)
    path = tmp_path / "sheet.png"
    cv2.imwrite(str(path), sheet()[: 1400 + round(10 * left)])
    if left > 0.67:
        with pytest.raises(PoorPictureError, match="straight above"):
            welltold.read(path)
        return
    reading = welltold.read(path)
    assert "scan.aslant_told" in {one.code for one in reading.warnings}
    assert {r.use for r in reading.results} == {"look"}
    assert all("scan.aslant" in {one.code for one in r.review} for r in reading.results)


@pytest.mark.parametrize(("slope", "doubtful"), [(0.0, False), (0.004, False), (0.03, True)])
def test_a_page_of_short_words_that_was_slanted_is_doubted(slope: float, doubtful: bool) -> None:
    """No line is long enough to tell whether the rows were made level as they belong."""
    cells = [
        Found(x, 200 + 60 * row + slope * x, x + 60, 230 + 60 * row + slope * x, thick=30)
        for row in range(5)
        for x in (100, 800, 1300)
    ]
    page = np.full((800, 1500), 255, np.uint8)
    assert straightened(page, cells, corners_of(page)).doubtful is doubtful

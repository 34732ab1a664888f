"""Pictures of sheets: what is read from them, and what is said of those that cannot be read."""

from __future__ import annotations

import io
import json
from decimal import Decimal
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

import welltold
from scan.spoil import drawn, fax, photo, upside_down
from welltold.errors import DamagedFileError, PoorPictureError, TooLargeError, WelltoldError
from welltold_parsers.limits import Limits

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]


def expected(name: str) -> dict[tuple[str, str], object]:
    told = json.loads((ROOT / f"samples/expected/{name}.json").read_text("utf-8"))
    return {
        (result["analyte"], result["operator"]): result["value"]
        for sample in told["samples"]
        for result in sample["results"]
    }


def read_values(path: Path) -> dict[tuple[str, str], object]:
    reading = welltold.read(path)
    assert reading.warnings[0].code == "door.picture_read"
    return {
        (r.analyte or "", r.operator): None if r.value is None else float(r.value)
        for r in reading.results
    }


def save(picture: Gray, path: Path) -> Path:
    Image.fromarray(picture).save(path)
    return path


def first_page(name: str) -> Gray:
    return drawn(ROOT / f"samples/sheets/{name}.pdf")[0]


@pytest.mark.parametrize(
    ("name", "spoil", "ending"),
    [("hard-rusty", upside_down, "jpg"), ("radionuclides", fax, "tif"), ("pfas", photo, "webp")],
)
def test_a_spoiled_sheet_gives_the_results_of_the_original(
    tmp_path: Path, name: str, spoil: object, ending: str
) -> None:
    assert callable(spoil)
    picture = spoil(first_page(name), np.random.default_rng(4))
    found = read_values(save(picture, tmp_path / f"sheet.{ending}"))
    true = expected(name)
    wrong = {key for key in found if key in true and found[key] != true[key]}
    assert wrong == set()
    assert len(found.keys() & true.keys()) >= 0.8 * len(true)


def test_a_pdf_of_a_picture_is_read_like_one_of_text(tmp_path: Path) -> None:
    path = tmp_path / "scan.pdf"
    Image.fromarray(first_page("kit-card")).save(path, resolution=200)
    reading = welltold.read(path)
    values = {r.analyte: r.value for r in reading.results}
    assert values["ph"] == Decimal("6.6")
    assert values["manganese"] == Decimal("0.05")
    box = next(w.box for r in reading.results if r.analyte == "ph" for w in r.where)
    assert box is not None
    assert box[2] < 432  # points of the card's width


def slip(value: str, *, rubbed_out: bool = False) -> Gray:
    """A slip with five metals; one point of the first value rubbed out."""
    image = Image.new("L", (1200, 700), 255)
    pen = ImageDraw.Draw(image)
    font = ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), 30)
    rows = [("Analyte", "Result", "Unit"), ("Iron", value, "mg/L"), ("Manganese", "0.04", "mg/L")]
    rows += [("Zinc", "0.31", "mg/L"), ("Copper", "1.15", "mg/L"), ("Sodium", "24.6", "mg/L")]
    rows += [("Chloride", "31.7", "mg/L"), ("Sulfate", "18.2", "mg/L")]
    for at, row in enumerate(rows):
        for x, text in zip((100, 500, 800), row, strict=True):
            pen.text((x, 60 + 70 * at), text, fill=0, font=font)
    if rubbed_out:
        before = pen.textlength(value.partition(".")[0], font=font)
        pen.rectangle((500 + before, 130, 500 + before + 8, 175), fill=255)
    return np.array(image)


def test_a_lost_decimal_point_is_never_silent(tmp_path: Path) -> None:
    whole = welltold.read(save(slip("1.27"), tmp_path / "whole.png"))
    iron = next(r for r in whole.results if r.analyte == "iron")
    assert (iron.value, iron.use) == (Decimal("1.27"), "as_is")
    rubbed = welltold.read(save(slip("1.27", rubbed_out=True), tmp_path / "rubbed.png"))
    found = [r for r in rubbed.results if r.analyte == "iron"]
    assert all(r.use == "look" for r in found)
    assert found or any("Iron" in line.text for line in rubbed.unread)


def test_pages_of_a_tiff_keep_their_numbers(tmp_path: Path) -> None:
    pages = [Image.fromarray(slip("0.52")), Image.new("L", (1200, 700), 255)]
    path = tmp_path / "fax.tif"
    pages[0].save(path, save_all=True, append_images=pages[1:])
    reading = welltold.read(path)
    assert {w.page for r in reading.results for w in r.where} == {1}
    assert reading.warnings[1].code == "scan.page_left_out"
    assert reading.warnings[1].args["page"] == "2"


def coded(image: Image.Image, kind: str, **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def bomb() -> bytes:
    """A PNG of a few kilobytes that unfolds to 400 million pixels."""
    return coded(Image.new("1", (20_000, 20_000)), "PNG")


def rings() -> Gray:
    """A picture without print, somewhat like a cat: soft shapes and noise."""
    dice = np.random.default_rng(1)
    picture = np.full((900, 1200), 120, np.uint8)
    for shade, size in ((60, 300), (180, 200), (90, 80)):
        cv2.circle(picture, (600, 450), size, shade, -1)
    return np.clip(
        cv2.GaussianBlur(picture, (0, 0), 9) + dice.normal(0, 6, (900, 1200)), 0, 255
    ).astype(np.uint8)


@pytest.mark.parametrize(
    ("data", "kind", "said"),
    [
        (coded(Image.new("L", (1, 1)), "PNG"), PoorPictureError, "too small"),
        (coded(Image.new("L", (1700, 2200), 250), "PNG"), PoorPictureError, "blank"),
        (coded(Image.fromarray(rings()), "PNG"), PoorPictureError, "print"),
        (bomb(), TooLargeError, "400000000 pixels"),
        (coded(Image.new("L", (900, 900)), "JPEG")[:300], WelltoldError, "damaged"),
        (b"\x89PNG\r\n\x1a\n" + bytes(100), DamagedFileError, "picture"),
    ],
)
def test_a_picture_that_is_no_sheet_is_said_to_be_so(
    tmp_path: Path, data: bytes, kind: type[WelltoldError], said: str
) -> None:
    path = tmp_path / "file.png"
    path.write_bytes(data)
    with pytest.raises(kind, match=said):
        welltold.read(path)


def test_a_moving_picture_is_refused(tmp_path: Path) -> None:
    frames = [Image.new("L", (400, 300), shade) for shade in (0, 120, 250)]
    path = tmp_path / "cat.gif"
    frames[0].save(path, save_all=True, append_images=frames[1:])
    with pytest.raises(PoorPictureError, match="moving"):
        welltold.read(path)


def test_the_limit_of_pixels_can_be_changed(tmp_path: Path) -> None:
    path = save(np.full((900, 900), 255, np.uint8), tmp_path / "large.png")
    with pytest.raises(TooLargeError):
        welltold.read(path, limits=Limits(pixels=1000))


def test_a_value_that_is_its_own_limit_is_doubted(tmp_path: Path) -> None:
    """A lost "<" or U leaves exactly this: the limit, as if it had been measured."""
    image = Image.new("L", (1300, 500), 255)
    pen = ImageDraw.Draw(image)
    font = ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), 30)
    rows = [
        ("Analyte", "Result", "Unit", "Reporting Limit"),
        ("Lead", "0.0010", "mg/L", "0.0010"),
        ("Copper", "0.115", "mg/L", "0.0020"),
        ("Iron", "0.31", "mg/L", "0.050"),
        ("Zinc", "0.042", "mg/L", "0.010"),
    ]
    for at, row in enumerate(rows):
        for x, text in zip((100, 450, 700, 950), row, strict=True):
            pen.text((x, 60 + 70 * at), text, fill=0, font=font)
    image.save(tmp_path / "slip.png")
    read = {r.analyte: r for r in welltold.read(tmp_path / "slip.png").results}
    assert "scan.at_limit" in {reason.code for reason in read["lead"].review}
    assert "scan.at_limit" not in {reason.code for reason in read["copper"].review}

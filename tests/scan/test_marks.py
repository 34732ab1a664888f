"""Ticked boxes and circled words on a picture: read from the mark's ink, never from the words."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont
from proving.spoil import black_and_white, blurred, noisy, turned

import welltold
from welltold_parsers.geometry import Word
from welltold_parsers.scan.answer_words import groups_of
from welltold_parsers.scan.outlines import form_of, is_ringed

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]
TESTS = ("Total Coliform", "E. coli")


def letters(size: int = 30) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), size)


def form(marked: tuple[set[str], set[str]], *, rings: bool) -> Gray:
    """A slip with two rows of answers; ``marked`` names the answers of each that are marked."""
    image = Image.new("L", (1400, 620), 255)
    pen, font = ImageDraw.Draw(image), letters()
    pen.text((80, 50), "Sample ID: 26-0417    Collected: 05/12/2026", fill=0, font=font)
    for row, name in enumerate(TESTS):
        y = 200 + 120 * row
        pen.text((80, y), name, fill=0, font=font)
        for x, answer in ((520, "Present"), (820, "Absent")):
            wide = pen.textlength(answer, font=font)
            if not rings:
                pen.rectangle((x, y + 6, x + 25, y + 31), outline=0, width=2)
            pen.text((x + 46, y), answer, fill=0, font=font)
            if answer not in marked[row]:
                continue
            if rings:
                pen.ellipse((x + 32, y - 8, x + 60 + wide, y + 46), outline=10, width=4)
            else:
                pen.line((x - 3, y + 3, x + 28, y + 34), fill=10, width=4)
                pen.line((x - 2, y + 34, x + 29, y + 4), fill=10, width=4)
    return np.array(image)


def read(picture: Gray, path: Path) -> dict[str | None, tuple[bool | None, str]]:
    Image.fromarray(picture).save(path)
    try:
        reading = welltold.read(path)
    except welltold.WelltoldError:
        return {}
    assert all(r.present is not None for r in reading.results)
    return {r.analyte: (r.present, r.use) for r in reading.results}


def worn(picture: Gray, how: str) -> Gray:
    dice = np.random.default_rng(8)
    if how == "scan":
        return noisy(blurred(turned(picture, 0.8), 0.8), dice, 6)
    return black_and_white(blurred(turned(picture, -0.6), 0.7), dice, 0.0006)


@pytest.mark.parametrize(("rings", "how"), [(False, "scan"), (True, "fax")])
def test_the_mark_decides_and_a_person_compares_it(tmp_path: Path, rings: bool, how: str) -> None:
    picture = form(({"Absent"}, {"Present"}), rings=rings)
    found = read(worn(picture, how), tmp_path / "slip.png")
    assert found == {"total_coliform": (False, "look"), "e_coli": (True, "look")}


@pytest.mark.parametrize("rings", [False, True])
def test_neither_or_both_marked_is_no_value(tmp_path: Path, rings: bool) -> None:
    picture = form((set(), {"Present", "Absent"}), rings=rings)
    found = read(picture, tmp_path / "slip.png")
    assert "e_coli" not in found
    assert "total_coliform" not in found or not rings
    assert all(use == "look" for _, use in found.values())


def test_boxes_that_nobody_marked_are_no_value(tmp_path: Path) -> None:
    assert read(form((set(), set()), rings=False), tmp_path / "slip.png") == {}


def test_a_ring_goes_round_one_word_and_a_box_of_a_table_round_none() -> None:
    image = Image.new("L", (700, 220), 255)
    pen, font = ImageDraw.Draw(image), letters(36)
    for x in (60, 400):
        pen.text((x, 80), "ABSENT", fill=0, font=font)
    wide = round(pen.textlength("ABSENT", font=font))
    pen.ellipse((40, 65, 80 + wide, 140), outline=0, width=4)
    for line in ((0, 60, 700, 60), (0, 150, 700, 150), (370, 0, 370, 220)):
        pen.line(line, fill=0, width=2)
    page = form_of(np.array(image), 40)
    middles = (60 + wide / 2, 400 + wide / 2)
    assert is_ringed(page, (60, 85, 60 + wide, 125), middles[1:])
    assert not is_ringed(page, (400, 85, 400 + wide, 125), middles[:1])


def test_answers_are_found_in_words_that_a_reader_of_print_ran_together() -> None:
    words = [Word("E. coli", 0, 0, 40, 10), Word("PRÉSENTOABSENT", 100, 0, 240, 10)]
    groups = [[(one.word.text, one.kind) for one in group] for group in groups_of(words)]
    assert groups == [[("PRESENT", "present"), ("ABSENT", "absent")]]
    assert list(groups_of([Word("Absent", 0, 0, 40, 10), Word("Absent", 80, 0, 120, 10)])) == []

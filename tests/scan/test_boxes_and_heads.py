"""What a form draws beside its words: tick boxes, heads on end, the face of a typewriter."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont
from proving.spoil import noisy

import welltold
from welltold_parsers.geometry import Word
from welltold_parsers.scan.spacing import spaced
from welltold_parsers.scan.tick_boxes import boxes_of, with_tick_boxes

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]


def _font(size: int = 30) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), size)


def _page(wide: int, tall: int) -> tuple[Image.Image, ImageDraw.ImageDraw]:
    image = Image.new("L", (wide, tall), 255)
    return image, ImageDraw.Draw(image)


def _box(pen: ImageDraw.ImageDraw, x: int, y: int, *, marked: bool) -> None:
    pen.rectangle((x, y, x + 24, y + 24), outline=0, width=2)
    if marked:
        pen.line((x + 4, y + 4, x + 20, y + 20), fill=0, width=3)
        pen.line((x + 4, y + 20, x + 20, y + 4), fill=0, width=3)


def test_boxes_are_told_from_letters_and_marked_from_empty() -> None:
    image, pen = _page(900, 200)
    pen.text((40, 30), "OD BOX O D B 8 0 Q H N", fill=0, font=_font())
    _box(pen, 40, 120, marked=False)
    pen.text((80, 115), "Boil the water.", fill=0, font=_font())
    _box(pen, 500, 120, marked=True)
    pen.text((540, 115), "Sample again.", fill=0, font=_font())
    found = list(boxes_of(noisy(np.array(image), np.random.default_rng(3), 6), 26.0))
    assert [(round(one.left / 20), one.marked) for one in sorted(found)] == [(2, False), (25, True)]


def test_a_box_stands_as_a_sign_before_its_word_and_is_no_letter_of_it() -> None:
    image, pen = _page(700, 120)
    _box(pen, 40, 42, marked=False)
    words = [
        Word("O4.", 40, 38, 92, 70, 0.9),  # the box was read as a letter
        Word("Iron", 104, 38, 166, 70, 0.99),
    ]
    told = with_tick_boxes(words, np.array(image), 1.0)
    assert [word.text for word in told] == ["\u2610", "4.", "Iron"]


def test_statements_of_a_form_count_only_with_a_mark(tmp_path: Path) -> None:
    image, pen = _page(1500, 900)
    pen.text((80, 60), "Sample ID: 26-0417    Collected: 05/12/2026", fill=0, font=_font())
    table = ("Test", "Result", "Unit"), ("Nitrate as N", "4.2", "mg/L"), ("Chloride", "18", "mg/L")
    for row, cells in enumerate(table):
        for column, text in enumerate(cells):
            pen.text((80 + 400 * column, 160 + 60 * row), text, fill=0, font=_font())
    lines = ("1. The water meets the standards.", "2. Fecal coliform bacteria were found.")
    for y, text in zip((400, 480), lines, strict=True):
        _box(pen, 80, y + 6, marked=False)
        pen.text((124, y), text, fill=0, font=_font())
    path = tmp_path / "form.png"
    Image.fromarray(noisy(np.array(image), np.random.default_rng(5), 5)).save(path, dpi=(200, 200))
    reading = welltold.read(path)
    assert {r.analyte for r in reading.results} == {"nitrate", "chloride"}


def _typed(row: str, top: float, step: float = 5.0) -> list[Word]:
    """Words of a typewriter face: each letter has a place of one width, its ink a little less."""
    words, at = [], 0
    for text in row.split(" "):
        left = 40 + step * at
        words.append(Word(text, left + 0.6, top, left + step * len(text) - 0.65, top + 9.7, 1.0))
        at += len(text) + 1
    return words


def _gaps(words: Sequence[Word]) -> list[float]:
    return [(b.left - a.right) / (a.bottom - a.top) for a, b in pairwise(words)]


def test_words_of_a_typewriter_face_stand_one_blank_apart() -> None:
    told = spaced(_typed("KITCHEN SINK LILLI VILLIAM 2208 Creamery", 100))
    assert max(_gaps(told)) < 0.3


def test_two_blanks_of_a_typewriter_face_part_two_columns() -> None:
    first = _typed("LILLI VILLIAM KITCHEN CREAMERY", 100)
    moved = Word("COLD", first[-1].right + 11.0, 100, first[-1].right + 29.75, 109.7, 1.0)
    assert _gaps(spaced([*first, moved]))[-1] > 0.5


def _on_end(text: str) -> Image.Image:
    font = _font(28)
    flat = Image.new("L", (round(font.getlength(text)) + 8, 40), 255)
    ImageDraw.Draw(flat).text((4, 2), text, fill=0, font=font)
    return flat.rotate(90, expand=True)


@pytest.mark.parametrize("quarters", [0, 2])
def test_heads_that_stand_on_end_name_the_samples(tmp_path: Path, quarters: int) -> None:
    image, pen = _page(1500, 1000)
    names = ("RW-04 Ridge Road", "RW-09 Mill Road", "RW-11 Long Road", "RW-15 Town garage")
    pen.text((80, 40), "Summary of residential wells, 05/12/2026", fill=0, font=_font())
    pen.text((80, 330), "Analyte", fill=0, font=_font())
    for column, name in enumerate(names):
        head = _on_end(name)
        image.paste(head, (520 + 220 * column, 370 - head.height))
    rows = ("Benzene (ug/L)", "Toluene (ug/L)", "Chloroform (ug/L)", "Styrene (ug/L)")
    for row, name in enumerate(rows):
        pen.text((80, 420 + 60 * row), name, fill=0, font=_font())
        for column in range(4):
            text = f"{row + 1}.{column + 2}"
            pen.text((510 + 220 * column, 420 + 60 * row), text, fill=0, font=_font())
    path = tmp_path / "heads.png"
    Image.fromarray(np.rot90(np.array(image), quarters)).save(path, dpi=(200, 200))
    reading = welltold.read(path)
    told = {(one.id or one.point or "").split(" ")[0]: one.results for one in reading.samples}
    assert set(told) == {"RW-04", "RW-09", "RW-11", "RW-15"}
    assert {str(r.value) for r in told["RW-11"]} == {"1.4", "2.4", "3.4", "4.4"}

"""A fax: lone specks go, points and pieces of strokes stay, and rules are no marks of a number."""

from __future__ import annotations

import sys
import zlib
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from proving.spoil import WAYS

import welltold
from scan.spoil import drawn
from welltold.jsonform import to_jsonable
from welltold_parsers.scan.glyphs import marks_of, sign_lost
from welltold_parsers.scan.recognise import Letter, Read
from welltold_parsers.scan.specks import smoothed, without_specks
from welltold_parsers.scan.words import pieces_of

sys.path.insert(0, str(Path(__file__).parents[2]))

from samples.proving.__main__ import truth_of
from samples.proving.judge import score_document
from samples.proving.layouts import layouts, make_sheet

Gray = NDArray[np.uint8]


def bars(*edges: tuple[int, int, int, int], size: tuple[int, int] = (60, 200)) -> Gray:
    picture = np.full(size, 255, np.uint8)
    for left, top, right, bottom in edges:
        picture[top:bottom, left:right] = 0
    return picture


def test_a_speck_by_itself_goes_and_a_point_between_digits_stays() -> None:
    digits = ((20, 20, 28, 40), (40, 20, 48, 40))
    point, speck = (33, 38, 34, 40), (120, 30, 121, 32)
    clean = without_specks(bars(*digits, point, speck))
    assert (clean == bars(*digits, point)).all()
    shades = np.unique(smoothed(clean))
    assert len(shades) > 2


def test_a_piece_of_a_rule_beside_a_number_is_no_lost_sign() -> None:
    digits = [(30 + 14 * at, 20, 38 + 14 * at, 36) for at in range(3)]
    marks = marks_of(bars(*digits, (86, 14, 89, 34)))
    assert marks is not None
    assert len(marks.tall) == 3
    assert not sign_lost(marks, "123")


def test_the_dots_before_a_value_are_kept_as_a_text_layer_has_them() -> None:
    line = bars(*((10 + 12 * at, 8, 16 + 12 * at, 32) for at in range(6)), size=(40, 200))
    line[28:31, 90:93] = line[28:31, 100:103] = line[28:31, 110:113] = 0
    line[8:32, 150:156] = 0
    text = "Nickel...5"
    places = [*(13 + 12 * at for at in range(6)), 91, 101, 111, 153]
    letters = tuple(Letter(c, at / 200, 0.9) for c, at in zip(text, places, strict=True))
    assert [piece.text for piece in pieces_of(line, Read(letters))] == ["Nickel", "...", "5"]


def test_ink_of_the_next_column_is_no_part_of_the_last_word() -> None:
    line = bars(*((10 + 12 * at, 8, 16 + 12 * at, 32) for at in range(4)), size=(40, 62))
    line[8:32, 60:62] = 0
    letters = tuple(Letter(c, (13 + 12 * at) / 62, 0.9) for at, c in enumerate("draw"))
    (piece,) = pieces_of(line, Read(letters))
    assert (piece.left, piece.right) == (10, 52)
    (piece,) = pieces_of(np.ascontiguousarray(line[:, ::-1]), Read(letters))
    assert (piece.left, piece.right) == (10, 52)


def test_a_fax_with_specks_is_read_without_needless_looks(tmp_path: Path) -> None:
    layout = next(one for one in layouts() if one.name == "unit_in_section-typst")
    pdf, leaf = make_sheet(layout, "27 0 unit_in_section-typst")
    (tmp_path / "sheet.pdf").write_bytes(pdf)
    (page,) = drawn(tmp_path / "sheet.pdf")
    dice = np.random.default_rng(zlib.crc32(b"unit_in_section-typstfax0.00227"))
    Image.fromarray(WAYS["fax"](page, dice, 0.002)).save(tmp_path / "fax.tif", dpi=(204.0, 196.0))
    reading = to_jsonable(welltold.read(tmp_path / "fax.tif"))
    score = score_document(truth_of(layout.name, layout, leaf), reading)
    assert (score.right, score.silent, score.lost, score.phantoms) == (score.results, 0, 0, 0)
    assert score.looked <= 3


def test_ink_before_a_number_stays_for_the_second_look_since_it_may_be_a_lost_sign() -> None:
    line = bars((4, 14, 12, 26), *((22 + 12 * at, 8, 28 + 12 * at, 32) for at in range(3)))[
        :40, :62
    ]
    letters = tuple(Letter(c, (25 + 12 * at) / 62, 0.9) for at, c in enumerate("123"))
    (piece,) = pieces_of(np.ascontiguousarray(line), Read(letters))
    assert piece.left == 4

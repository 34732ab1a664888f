"""Alarms that must not sound, and letters that are certain: rules, names, dashes, leaders."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from welltold.errors import TooLargeError
from welltold.messages import Language, speaking
from welltold_parsers.geometry import Word
from welltold_parsers.scan.beside import stands_alone
from welltold_parsers.scan.glyphs import marks_of, points_doubtful, sign_lost
from welltold_parsers.scan.misread_words import mended_words
from welltold_parsers.scan.repairs import mended

ROOT = Path(__file__).parents[2]
Gray = NDArray[np.uint8]


def _number(text: str, *, sign: str = "") -> tuple[Image.Image, ImageDraw.ImageDraw]:
    """The picture of a number, with room at either side."""
    font = ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), 24)
    image = Image.new("L", (140, 26), 255)
    pen = ImageDraw.Draw(image)
    pen.text((10, 0), sign, fill=0, font=font)
    pen.text((34, 0), text, fill=0, font=font)
    return image, pen


def test_the_edge_of_the_unit_behind_a_number_is_no_lost_sign() -> None:
    image, pen = _number("7.9")
    pen.rectangle((138, 8, 139, 22), fill=0)
    marks = marks_of(np.array(image))
    assert marks is not None
    assert not sign_lost(marks, "7.9")
    assert not points_doubtful(marks, "7.9", None)


def test_a_rule_behind_a_number_is_neither_a_figure_nor_a_lost_sign() -> None:
    image, pen = _number("0.0014")
    pen.rectangle((128, 0, 131, 25), fill=0)
    marks = marks_of(np.array(image))
    assert marks is not None
    assert len(marks.tall) == 5
    assert not sign_lost(marks, "0.0014")


def test_a_lost_point_is_noticed_beside_a_thick_rule() -> None:
    """The wide step from figure to figure tells it, when the rule is counted as no figure."""
    image, pen = _number("1 8")
    pen.rectangle((100, 0, 105, 25), fill=0)
    marks = marks_of(np.array(image))
    assert marks is not None
    assert len(marks.tall) == 2
    assert points_doubtful(marks, "18", min(marks.steps()) - 0.3)


def test_a_sign_before_a_number_is_still_noticed() -> None:
    marks = marks_of(np.array(_number("5.0", sign="<")[0]))
    assert marks is not None
    assert sign_lost(marks, "5.0")


@pytest.mark.parametrize(
    ("name", "alone"),
    [
        ("Chlorobenzene", True),
        ("Aluminum, Total", True),
        ("Nitrate", False),  # one letter from Nitrite
        ("Barium", False),  # two from Radium
        ("pH", False),
    ],
)
def test_a_name_far_from_all_others_needs_no_second_look(name: str, alone: bool) -> None:
    assert stands_alone(name) is alone


def _row(*texts: str, tall: float = 10.0) -> list[Word]:
    words, at = [], 50.0
    for text in texts:
        wide = 6.0 if text == "-" else 5.0 * len(text)
        words.append(Word(text, at, 100.0, at + wide, 100.0 + tall, 0.9))
        at += wide + 2.5
    return words


def test_a_long_stroke_between_words_is_a_dash_and_a_short_one_stays() -> None:
    words, told = mended(_row("untreated", "-", "collected"))
    assert [w.text for w in words] == ["untreated", "\u2013", "collected"]
    assert not told
    short, _ = mended(_row("untreated", "-", "collected", tall=20.0))
    assert short[1].text == "-"


def test_dots_that_lead_to_a_number_are_no_point_of_it() -> None:
    led, told = mended([*_row("Hardness...", ".18"), *_row("0.6")])
    assert led[1].text == "18"
    assert [one.other for one in told] == [".18"]
    kept, _ = mended([*_row("Hardness", ".18"), *_row("0.6")])
    assert kept[1].text == ".18"


@pytest.mark.parametrize(
    ("texts", "last"),
    [
        (("Free", "CI2"), "Cl2"),
        (("Method", "C12"), "C12"),
        (("E.", "col"), "coli"),
        (("the", "col"), "col"),
        (("E.coll",), "E.coli"),
        (("microgramsperliter",), "liter"),
    ],
)
def test_thin_letters_and_swallowed_blanks_are_given_back(
    texts: tuple[str, ...], last: str
) -> None:
    words, _ = mended_words(_row(*texts))
    assert words[-1].text == last


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_picture_too_large_is_to_be_scanned_with_fewer_dots(language: Language) -> None:
    with speaking(language):
        picture = TooLargeError("a.png", "pixels", 200_000_000, 100_000_000)
        pages = TooLargeError("a.pdf", "pages", 900, 300)
    assert "200" in picture.hint
    assert "200" not in pages.hint

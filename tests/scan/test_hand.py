"""Handwritten figures are told from print by their shape, and get no confidence of a half."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

import welltold
from scan.test_scans import slip
from welltold_parsers.scan.glyphs import Marks, Piece, marks_of, sign_lost
from welltold_parsers.scan.hand import looks_written

FACES = Path(__file__).parents[2] / "reports"
Gray = NDArray[np.uint8]


def figures(text: str, dice: np.random.Generator, *, by_hand: bool, size: int = 34) -> Gray:
    """A number in type; by hand, each figure has its own size, slant and foot."""
    face = str(next(FACES.rglob("*Regular.otf")))
    image = Image.new("L", (40 * len(text) + 40, 90), 255)
    x = 12.0
    for letter in text:
        large = size * (dice.uniform(0.78, 1.28) if by_hand else 1.0)
        font = ImageFont.truetype(face, large)
        one = Image.new("L", (80, 90), 0)
        ImageDraw.Draw(one).text((20, 62), letter, fill=255, font=font, anchor="ls")
        if by_hand:
            lean, fall = dice.uniform(-0.25, 0.25), dice.uniform(-6, 6)
            one = one.transform(
                one.size,
                Image.Transform.AFFINE,
                (1, lean, -62 * lean, 0, 1, fall),
                Image.Resampling.BICUBIC,
            )
        image.paste(25, (round(x) - 20, 0), one)
        x += font.getlength(letter) + (4 if by_hand else 0)
    return np.array(image)


@pytest.mark.parametrize("text", ["1.27", "34.4", "318", "0.052", "2419.6"])
def test_uneven_figures_are_of_a_hand_and_even_ones_of_a_press(text: str) -> None:
    told = {True: 0, False: 0}
    for by_hand in told:
        for seed in range(20):
            marks = marks_of(figures(text, np.random.default_rng(seed), by_hand=by_hand))
            assert marks is not None
            told[by_hand] += looks_written(marks, text)
    assert told[False] == 0
    assert told[True] >= 12


def test_a_handwritten_value_is_left_to_a_person(tmp_path: Path) -> None:
    page = slip("    ")
    for seed in range(4):
        number = figures("3.41", np.random.default_rng(seed), by_hand=True)
        wide = number.shape[1]
        page[115:205, 495 : 495 + wide] = np.minimum(page[115:205, 495 : 495 + wide], number)
        Image.fromarray(page).save(tmp_path / "slip.png")
        results = welltold.read(tmp_path / "slip.png").results
        iron = [r for r in results if r.analyte == "iron" and r.value is not None]
        assert all(r.use == "look" and r.confidence < 0.5 for r in iron), seed
        page[115:205, 495 : 495 + wide] = 255


@pytest.mark.parametrize(("printed", "lost"), [("< 0.01", True), ("0.01", False), ("24.6", False)])
def test_a_sign_that_was_not_read_is_seen_in_the_ink(printed: str, lost: bool) -> None:
    marks = marks_of(figures(printed, np.random.default_rng(1), by_hand=False))
    assert marks is not None
    assert sign_lost(marks, printed.lstrip("< ")) is lost
    assert not sign_lost(marks, printed)


def test_a_lost_sign_is_seen_before_figures_that_a_fax_broke() -> None:
    """The ink of "< 0.01" on a fax, as measured: the noughts came in two halves each."""
    edges = ((54, 76), (99, 112), (111, 127), (141, 156), (156, 169), (180, 192))
    whole = tuple(Piece(left, 6, right, 42) for left, right in edges)
    assert sign_lost(Marks(whole, (), 35.0), "0.01")
    assert not sign_lost(Marks(whole[1:], (), 35.0), "0.01")
    near = (Piece(78, 6, 90, 42), *whole[1:])  # another half of a nought, no sign
    assert not sign_lost(Marks(near, (), 35.0), "0.01")

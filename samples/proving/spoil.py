"""Spoils the picture of a clean page in one way, so much: what scanners, faxes and phones do.

Each way has a few strengths, from what is seen every day to what nobody can read any more; office
and photo join several ways as they come. The same seed gives the same picture again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
Dice = np.random.Generator


def clipped(shades: NDArray[np.floating]) -> Gray:
    return np.clip(shades, 0, 255).astype(np.uint8)


def turned(picture: Gray, degrees: float, paper: int = 255) -> Gray:
    """Turned with the clock about its middle; the size stays."""
    height, width = picture.shape
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), -degrees, 1.0)
    how = {"flags": cv2.INTER_CUBIC, "borderMode": cv2.BORDER_CONSTANT, "borderValue": paper}
    return np.asarray(cv2.warpAffine(picture, matrix, (width, height), **how), np.uint8)


def noisy(picture: Gray, dice: Dice, much: float) -> Gray:
    return clipped(picture + dice.normal(0, much, picture.shape))


def blurred(picture: Gray, much: float) -> Gray:
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), much), np.uint8)


def jpeg(picture: Gray, quality: int) -> Gray:
    _, data = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
    return np.asarray(cv2.imdecode(data, cv2.IMREAD_GRAYSCALE), np.uint8)


def smaller(picture: Gray, across: float, down: float | None = None) -> Gray:
    """Drawn anew with so many of its dots, across and down."""
    how, down = cv2.INTER_AREA, across if down is None else down
    return np.asarray(cv2.resize(picture, None, fx=across, fy=down, interpolation=how), np.uint8)


def black_and_white(picture: Gray, dice: Dice, specks: float, level: float = 150) -> Gray:
    """Black or white alone, with a share of dots that are wrong."""
    black = np.where(picture < level, 0, 255).astype(np.uint8)
    chance = dice.random(picture.shape)
    black[chance < specks / 2] = 0
    black[chance > 1 - specks / 2] = 255
    return black


def from_the_side(picture: Gray, dice: Dice, much: float) -> Gray:
    """Seen from the side, on white: each corner moves by up to ``much`` of the width."""
    height, width = picture.shape
    room = round(much * width)
    wide, tall = width + 2 * room, height + 2 * room
    start = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    goal = (start + room + dice.uniform(-much, much, (4, 2)) * width).astype(np.float32)
    matrix = cv2.getPerspectiveTransform(start, goal)
    return np.asarray(cv2.warpPerspective(picture, matrix, (wide, tall), borderValue=255), np.uint8)


def unevenly_lit(picture: Gray, dice: Dice, much: float) -> Gray:
    """Light that falls off over the page by up to ``much``, and the shadow of a hand."""
    height, width = picture.shape
    y, x = np.mgrid[0:height, 0:width] / max(height, width)
    light = 1 - 0.7 * much * (x * dice.uniform(0.3, 1) + y * dice.uniform(0.3, 1))
    edge = x * dice.uniform(0.3, 1) + y
    light *= np.where(edge > dice.uniform(0.5, 0.9), 1 - 0.5 * much, 1.0)
    light = cv2.GaussianBlur(light.astype(np.float32), (0, 0), 12)
    return noisy(clipped(picture * light), dice, 5)


def _quarters(picture: Gray, quarters: int) -> Gray:
    return np.ascontiguousarray(np.rot90(picture, quarters))


def _fax(picture: Gray, dice: Dice, down: float, specks: float) -> Gray:
    """Sent as 204 by 196 dots, or 204 by 98: what was drawn at 200 keeps ``down`` of its rows."""
    page = turned(picture, float(dice.uniform(-0.8, 0.8)))
    return black_and_white(smaller(noisy(blurred(page, 0.7), dice, 14), 1.0, down), dice, specks)


def _at(strength: float, *values: float) -> float:
    """Return the value of a strength that is counted from 1."""
    return values[round(strength) - 1]


def _office(picture: Gray, dice: Dice, strength: float) -> Gray:
    """Put a little askew on the glass of an office scanner, and saved as JPEG."""
    page = turned(picture, float(dice.uniform(-1, 1)) * _at(strength, 0.5, 1.2, 2.0))
    page = noisy(blurred(page, _at(strength, 0.5, 0.75, 1.0)), dice, _at(strength, 4, 6, 10))
    return jpeg(clipped(page * 0.94 + 8), round(_at(strength, 80, 75, 55)))


def _photo(picture: Gray, dice: Dice, strength: float) -> Gray:
    """Photographed on a table by hand: from aside, uneven light, a little out of focus."""
    height, width = picture.shape
    room = round(0.12 * width)
    wide, tall = width + 2 * room, height + 2 * room
    table = noisy(np.full((tall, wide), 75, np.uint8), dice, 9)
    start = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    moved = dice.uniform(-1, 1, (4, 2)) * _at(strength, 0.03, 0.05, 0.07) * width
    matrix = cv2.getPerspectiveTransform(start, (start + room + moved).astype(np.float32))
    lit = unevenly_lit(picture, dice, _at(strength, 0.3, 0.45, 0.6))
    sheet = cv2.warpPerspective(lit, matrix, (wide, tall), borderValue=0)
    mask = cv2.warpPerspective(np.full_like(picture, 255), matrix, (wide, tall))
    page = np.where(mask > 128, sheet, table).astype(np.uint8)
    page = turned(page, float(dice.uniform(-1, 1)) * _at(strength, 2, 4, 6), 75)
    shown = noisy(blurred(page, _at(strength, 0.7, 0.9, 1.2)), dice, _at(strength, 3, 5, 8))
    return jpeg(shown, round(_at(strength, 80, 70, 55)))


@dataclass(frozen=True, slots=True)
class Way:
    """One way to spoil a page, with its strengths from weak to strong."""

    strengths: tuple[float, ...]
    unit: str
    spoil: Callable[[Gray, Dice, float], Gray]

    def __call__(self, picture: Gray, dice: Dice, strength: float) -> Gray:
        """Return the picture spoiled; ``strength`` in this way's own unit."""
        return self.spoil(picture, dice, strength)


WAYS: dict[str, Way] = {
    "office": Way((1, 2, 3), "of 3", _office),
    "photo": Way((1, 2, 3), "of 3", _photo),
    "rotation": Way((90, 180, 270), "degrees", lambda p, _, s: _quarters(p, -round(s) // 90)),
    "skew": Way((0.5, 1.5, 4, 8), "degrees", lambda p, d, s: turned(p, s * d.choice((-1, 1)))),
    "perspective": Way((0.01, 0.03, 0.06, 0.1), "of the width", from_the_side),
    "blur": Way((0.8, 1.4, 2.0, 3.0), "pixels", lambda p, _, s: blurred(p, s)),
    "noise": Way((8, 20, 40, 70), "shades", noisy),
    "light": Way((0.25, 0.5, 0.75, 0.9), "of the light", unevenly_lit),
    "fax": Way((0.0004, 0.002, 0.006, 0.015), "specks", lambda p, d, s: _fax(p, d, 0.98, s)),
    "fax 204x98": Way((0.0004, 0.002, 0.006), "specks", lambda p, d, s: _fax(p, d, 0.49, s)),
    "jpeg": Way((60, 30, 15, 7), "quality", lambda p, _, s: jpeg(p, round(s))),
    "resolution": Way((150, 120, 100, 75), "dots an inch", lambda p, _, s: smaller(p, s / 200)),
}
"""For pages drawn at 200 dots an inch."""

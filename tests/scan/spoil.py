"""Spoils the picture of a clean page as offices, faxes and phones do; seeded, so it comes again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
from numpy.typing import NDArray
from proving.spoil import blurred, clipped, jpeg, noisy, smaller, turned

Gray = NDArray[np.uint8]
Spoil = Callable[[Gray, np.random.Generator], Gray]


def drawn(path: Path, dots: int = 200) -> list[Gray]:
    """Return the pages of a PDF as pictures."""
    document = pypdfium2.PdfDocument(path)
    try:
        return [np.array(p.render(scale=dots / 72).to_pil().convert("L")) for p in document]
    finally:
        document.close()


def office(picture: Gray, dice: np.random.Generator) -> Gray:
    """A scan as an office machine makes it: a little skew, blur, noise and JPEG."""
    page = turned(picture, float(dice.uniform(-1.2, 1.2)))
    page = noisy(blurred(page, float(dice.uniform(0.5, 0.9))), dice, 6)
    return jpeg(clipped(page * 0.94 + 8), 75)


def fax(picture: Gray, dice: np.random.Generator) -> Gray:
    """A fax: 204 by 196 dots, black or white, specks, a little skew."""
    page = turned(picture, float(dice.uniform(-0.8, 0.8)))
    page = noisy(blurred(page, 0.7), dice, 14)
    black = np.where(page < float(dice.uniform(130, 165)), 0, 255).astype(np.uint8)
    specks = dice.random(picture.shape)
    black[specks < 0.0006] = 0
    black[specks > 0.999] = 255
    return black


def coarse_fax(picture: Gray, dice: np.random.Generator) -> Gray:
    """A fax in the standard resolution: half of the lines."""
    page = fax(picture, dice)
    half = cv2.resize(page, None, fx=1, fy=0.5, interpolation=cv2.INTER_AREA)
    half = np.where(half < 128, 0, 255).astype(np.uint8)
    return np.asarray(cv2.resize(half, page.shape[::-1], interpolation=cv2.INTER_NEAREST), np.uint8)


def shadow(picture: Gray, dice: np.random.Generator) -> Gray:
    """Light that falls off over the page, and the shadow of a hand."""
    height, width = picture.shape
    y, x = np.mgrid[0:height, 0:width] / max(height, width)
    light = 1 - 0.45 * (x * dice.uniform(0.3, 1) + y * dice.uniform(0.3, 1))
    edge = x * dice.uniform(0.3, 1) + y
    light *= np.where(edge > dice.uniform(0.5, 0.9), 0.72, 1.0)
    light = cv2.GaussianBlur(light.astype(np.float32), (0, 0), 12)
    return noisy(clipped(picture * light), dice, 5)


def photo(picture: Gray, dice: np.random.Generator) -> Gray:
    """A sheet on a dark table, photographed a little from the side."""
    height, width = picture.shape
    room = round(0.12 * width)
    wide, tall = width + 2 * room, height + 2 * room
    table = noisy(np.full((tall, wide), 75, np.uint8), dice, 9)
    start = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    shift = dice.uniform(-0.05, 0.05, (4, 2)) * width
    goal = (start + room + shift).astype(np.float32)
    matrix = cv2.getPerspectiveTransform(start, goal)
    sheet = cv2.warpPerspective(shadow(picture, dice), matrix, (wide, tall), borderValue=0)
    mask = cv2.warpPerspective(np.full_like(picture, 255), matrix, (wide, tall))
    page = np.where(mask > 128, sheet, table).astype(np.uint8)
    page = turned(page, float(dice.uniform(-5, 5)), 75)
    return jpeg(noisy(blurred(page, 0.9), dice, 5), 70)


def pale(picture: Gray, dice: np.random.Generator) -> Gray:
    """Pale print on tinted paper."""
    return noisy(clipped(205 - (255 - picture.astype(np.float32)) * 0.32), dice, 4)


def coarse(picture: Gray, dice: np.random.Generator) -> Gray:
    """A scan at 100 dots an inch."""
    return jpeg(noisy(smaller(picture, 0.5), dice, 4), 60)


def upside_down(picture: Gray, dice: np.random.Generator) -> Gray:
    return office(np.ascontiguousarray(np.rot90(picture, 2)), dice)


def sideways(picture: Gray, dice: np.random.Generator) -> Gray:
    return office(np.ascontiguousarray(np.rot90(picture, int(dice.choice([1, 3])))), dice)


WAYS: dict[str, Spoil] = {
    one.__name__: one
    for one in (
        office,
        fax,
        coarse_fax,
        shadow,
        photo,
        pale,
        coarse,
        upside_down,
        sideways,
    )
}

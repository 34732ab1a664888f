"""Figures in a column of values that no word holds are told with their place, and nothing else."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from welltold.reading import Reading, Result, Sample, Source, Unread, Where
from welltold_parsers.geometry import Page, Scan, Word
from welltold_parsers.scan.unread_ink import unread_ink

NAMES = ("Iron", "Zinc", "Lead", "Tin", "Silver", "Cobalt")
SCALE = 2.0


def page(lost: int | None, *, stray: bool = False) -> tuple[Reading, tuple[Unread, ...]]:
    """A column of two digits a row, of which one row may be read by nobody; and what is told."""
    picture = np.full((600, 600), 255, np.uint8)
    words, results = [], []
    for at, name in enumerate(NAMES):
        top = 20.0 * at + 20
        words.append(Word(name, 20, top, 20 + 6 * len(name), top + 10))
        for left in (200, 208):
            x, y = int(left * SCALE), int((top + 2) * SCALE)
            picture[y : y + 14, x : x + 10] = 0
        if at == lost:
            continue
        box = (200.0, top, 214.0, top + 10)
        words.append(Word("11", *box))
        results.append(Result(None, name, "11", "value", where=(Where("value", 1, None, box),)))
    if stray:  # a rule, a speck, and print beside the column
        picture[40:300, 430] = 0
        picture[100:103, 404:407] = 0
        picture[150:164, 500:540] = 0
    _, png = cv2.imencode(".png", picture)
    sheet = Page(1, 300, 300, tuple(words), scan=Scan(png.tobytes(), SCALE))
    reading = Reading(
        Source("a.png", "0" * 64, "picture", 1), samples=(Sample(results=tuple(results)),)
    )
    return reading, unread_ink(reading, (sheet,))


def test_a_value_that_nothing_read_is_told_with_its_row_and_place() -> None:
    _, (entry,) = page(lost=2)
    assert entry.text == "Lead"
    assert entry.reason.code == "scan.ink_unread"
    assert entry.where.box == pytest.approx((200, 62, 213, 69))


@pytest.mark.parametrize("stray", [False, True])
def test_nothing_is_told_where_all_is_read(*, stray: bool) -> None:
    assert page(lost=None, stray=stray)[1] == ()

"""From the picture of a page to a `Page` of words with boxes in points."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold.messages import Message, say
from welltold_parsers.geometry import Page, Questioned, Scan, Word

from .answer_words import groups_of, holds_answer
from .chosen import with_signs
from .light import evened
from .outlines import form_of
from .poor import is_coarse, is_soft, look_at
from .repairs import mended
from .spacing import spaced
from .straight import sheets_of
from .two_sheets import below, gutter, stacked
from .upright import Lines, crop, upright
from .words import pieces_of, tightened

Gray = NDArray[np.uint8]
LETTER = 792.0
"""Points of the longer side of a page whose size nobody knows."""
_REMEMBERED = 24
"""Pages: to read a sheet and then show it, it need not be read twice."""
_RECENT: dict[object, Page] = {}
_INSET = 0.12
"""The area of print is taller than its letters by this share at either side."""


def read_page(
    picture: Gray, number: int, points: tuple[float, float] | None = None, *, coarse: bool = False
) -> Page:
    """Return the words of a picture as a page; the last pages are remembered.

    ``points`` is the page's size where it is known; else its longer side is that of letter paper.
    ``coarse`` says that the picture had fewer dots than it has now. Raises `Poor` with a reason
    when the picture cannot be read.
    """
    key = (hashlib.sha256(picture.tobytes()).digest(), picture.shape, number, points, coarse)
    page = _RECENT.pop(key, None) or _read(picture, number, points, coarse=coarse)
    _RECENT[key] = page
    while len(_RECENT) > _REMEMBERED:
        del _RECENT[next(iter(_RECENT))]
    return page


def _read(picture: Gray, number: int, points: tuple[float, float] | None, *, coarse: bool) -> Page:
    look_at(picture)
    coarse = coarse or is_coarse(picture)
    sheets = sheets_of(picture)
    sheet = below(sheets)
    lines = upright(evened(sheet), sheet)
    longer = max(points) if points and sheet is picture else LETTER * len(sheets)
    scale = max(lines.picture.shape) / longer
    middle = gutter(lines.areas, lines.reads)
    if middle is not None:
        whole, areas = stacked(lines.picture, lines.areas, middle)
        _, cut = stacked(lines.picture, lines.cut, middle)
        lines = replace(lines, picture=whole, areas=tuple(areas), cut=tuple(cut))
    height, width = lines.picture.shape
    words, repaired = mended(spaced(_words(lines, scale)))
    words = _chosen(words, lines, scale)
    _, png = cv2.imencode(".png", lines.picture, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    two = len(sheets) > 1 or middle is not None
    return Page(
        number,
        round(width / scale, 2),
        round(height / scale, 2),
        tuple(words),
        turn=lines.turn,
        scan=Scan(
            png.tobytes(),
            scale,
            coarse,
            (*repaired, *_questioned(lines, scale, two=two), *_marked(words)),
            tuple(_told(lines, number, two=two)),
            is_soft(lines.softness),
        ),
    )


def _questioned(lines: Lines, scale: float, *, two: bool) -> Iterator[Questioned]:
    """Yield the rows that run over the edge; the whole page if it has two sheets, or leans."""
    height, width = (side / scale for side in lines.picture.shape)
    if two:
        yield Questioned((0.0, 0.0, width, height), "two_sheets", "")
    if lines.aslant:
        yield Questioned((0.0, 0.0, width, height), "aslant", "")
    for one in lines.cut:
        yield Questioned((0.0, one.top / scale, width, one.bottom / scale), "cut_off", "")


def _marked(words: Sequence[Word]) -> Iterator[Questioned]:
    """Yield the answers that were read from a mark: a person compares each with the picture."""
    for sign, word in pairwise(words):
        if sign.text == "☒":
            yield Questioned((word.left, word.top, word.right, word.bottom), "by_mark", "")


def _told(lines: Lines, number: int, *, two: bool) -> Iterator[Message]:
    if two:
        yield say("scan.two_sheets_page", page=number)
    if lines.cut:
        yield say("scan.cut_off_page", page=number)
    if lines.aslant:
        yield say("scan.aslant_told", page=number)


def _chosen(words: list[Word], lines: Lines, scale: float) -> list[Word]:
    """Return the words of a page with signs for its ticked boxes and circled words."""
    if next(groups_of(words), None) is None:
        return words
    height = float(np.median([word.bottom - word.top for word in words]))
    return with_signs(words, form_of(lines.picture, height * scale), scale)


def _words(lines: Lines, scale: float) -> list[Word]:
    words = []
    for area, read in zip(lines.areas, lines.reads, strict=True):
        top = (area.top + _INSET * area.height) / scale
        bottom = (area.bottom - _INSET * area.height) / scale
        line = crop(lines.picture, area)
        for found in pieces_of(line, read):
            piece = tightened(line, found) if holds_answer(found.text) else found
            left, right = ((int(area.left) + x) / scale for x in (piece.left, piece.right))
            sure = min(letter.sure for letter in piece.letters)
            a, b, c, d = (round(edge, 2) for edge in (left, top, right, bottom))
            words.append(Word(piece.text, a, b, c, d, round(sure, 4)))
    return words

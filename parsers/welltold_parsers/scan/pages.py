"""From the picture of a page to a `Page` of words with boxes in points."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, pairwise

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold.messages import Message, say, spoken
from welltold_parsers.geometry import Page, Questioned, Scan, Word
from welltold_parsers.working import Work, at_hand

from .answer_words import groups_of, holds_answer
from .chosen import with_signs
from .crew import Crew, usual_size
from .detect import Found
from .light import evened
from .misread_units import mended_units
from .misread_words import mended_words
from .one_above import stand_above
from .outlines import form_of
from .poor import Poor, is_bilevel, is_coarse, is_soft, look_at
from .repairs import mended
from .shot import Shot
from .spacing import spaced
from .specks import smoothed
from .standing import standing, words_on_end
from .straight import sheets_of
from .tick_boxes import with_tick_boxes
from .two_sheets import below, gutter, stacked
from .upright import Lines, crop, upright
from .words import pieces_of, tightened

Gray = NDArray[np.uint8]
LETTER = 792.0
"""Points of the longer side of a page whose size nobody knows."""
_REMEMBERED = 24
"""Pages: to read a sheet and then show it, it need not be read twice."""
_RECENT: dict[object, Page] = {}
_WORTH = 3
"""Fewer pages are read sooner than other processes have started."""
_INSET = 0.12
"""The area of print is taller than its letters by this share at either side."""


def read_shots(shots: Iterable[Shot]) -> Iterator[tuple[int, Page | Message]]:
    """Yield each page with its number, in their order, or why it cannot be read.

    Pages of a file with some of them go over several processes, which gives the same pages.
    """
    with at_hand() as work:
        for done, (shot, answer) in enumerate(_answers(shots, work), start=1):
            work.tell(done, shot.of)
            yield shot.number, answer


def _answers(shots: Iterable[Shot], work: Work) -> Iterator[tuple[Shot, Page | Message]]:
    shots = iter(shots)
    first = next(shots, None)
    if first is None:
        return
    work.tell(0, first.of)
    crew = _crew(work) if first.of >= _WORTH else None
    every = chain((first,), shots)
    told = crew.in_order(every, _recalled) if crew else ((shot, None) for shot in every)
    for shot, answer in told:
        if isinstance(answer, Page):
            _remember(shot, answer)
        yield shot, answer or _own(shot)


def _crew(work: Work) -> Crew | None:
    """Return the processes of the work at hand; None where one process is enough."""
    size = work.jobs or usual_size()
    if work.crew is None and size > 1:
        work.crew = Crew(size)
        work.closing.callback(work.crew.end)
    return work.crew if size > 1 else None


def _own(shot: Shot) -> Page | Message:
    """Return what comes of a picture that is read in this very process."""
    try:
        return read_page(shot)
    except Poor as error:
        return error.reason


def read_page(shot: Shot) -> Page:
    """Return the words of a picture as a page; the last pages are remembered.

    Where its size is not known, its longer side is that of letter paper. Raises `Poor` with a
    reason when the picture cannot be read.
    """
    page = _recalled(shot) or _read(shot)
    _remember(shot, page)
    return page


def _key(shot: Shot) -> object:
    digest = hashlib.sha256(shot.picture.tobytes()).digest()
    return digest, shot.picture.shape, shot.number, shot.points, shot.coarse, spoken()


def _recalled(shot: Shot) -> Page | None:
    return _RECENT.get(_key(shot))


def _remember(shot: Shot, page: Page) -> None:
    key = _key(shot)
    _RECENT.pop(key, None)
    _RECENT[key] = page
    while len(_RECENT) > _REMEMBERED:
        del _RECENT[next(iter(_RECENT))]


def _read(shot: Shot) -> Page:
    picture, number, points = shot.picture, shot.number, shot.points
    look_at(picture)
    coarse = shot.coarse or is_coarse(picture)
    sheets = sheets_of(picture)
    sheet = below(sheets)
    lines = upright(smoothed(sheet) if is_bilevel(sheet) else evened(sheet), sheet)
    longer = max(points) if points and sheet is picture else LETTER * len(sheets)
    scale = max(lines.picture.shape) / longer
    middle = gutter(lines.areas, lines.reads)
    if middle is not None:
        whole, areas = stacked(lines.picture, lines.areas, middle)
        _, cut = stacked(lines.picture, lines.cut, middle)
        lines = replace(lines, picture=whole, areas=tuple(areas), cut=tuple(cut))
    height, width = lines.picture.shape
    on_end = standing(lines.areas)
    words, repaired = mended(spaced(_words(lines, on_end, scale)))
    words, units = mended_units(words)
    words, symbols = mended_words(words)
    heads = words_on_end(lines.picture, on_end, scale)
    words = with_tick_boxes(_chosen(words, lines, scale), lines.picture, scale, heads)
    words = [*words, *heads]
    _, png = cv2.imencode(".png", lines.picture, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    two = len(sheets) > 1 or middle is not None or stand_above(lines.areas, lines.reads)
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
            (*repaired, *units, *symbols, *_questioned(lines, scale, two=two), *_marked(words)),
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
    if is_soft(lines.softness):
        yield say("scan.soft_page", page=number)


def _chosen(words: list[Word], lines: Lines, scale: float) -> list[Word]:
    """Return the words of a page with signs for its ticked boxes and circled words."""
    if next(groups_of(words), None) is None:
        return words
    height = float(np.median([word.bottom - word.top for word in words]))
    return with_signs(words, form_of(lines.picture, height * scale), scale)


def _words(lines: Lines, left_out: Sequence[Found], scale: float) -> list[Word]:
    words = []
    for area, read in zip(lines.areas, lines.reads, strict=True):
        if area in left_out:
            continue
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

"""Words with boxes from one PDF page: letters are cut where blanks or their boxes say so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from welltold_parsers.doors.pdf_letters import Flags, Floats, Ints, Letters, among, letters_of
from welltold_parsers.doors.pdf_marks import cut_marks, marks_apart, tell_marks
from welltold_parsers.doors.pdf_spaced import join_spaced
from welltold_parsers.doors.pdf_symbols import settle_unknown
from welltold_parsers.doors.pdf_turned import SLANTED, main_turn, turned_box, turns_of, upright
from welltold_parsers.doors.pdf_unseen import unseen_letters
from welltold_parsers.geometry import Word

if TYPE_CHECKING:
    import pypdfium2

_GAP = 0.6
"""A gap inside a word wider than this share of the letters' height separates two cells."""
_STEP = 0.5
"""Letters whose middles differ by more than this share of their height stand on two lines."""
_TURNED_GAP = 0.15
"""Turned text comes without blanks that could be trusted; a blank is at least this wide."""
_NO_MAP_SHARE = 0.3
"""More letters than this without a meaning: the page's fonts have no character map."""
_PARTED = dict(enumerate(("ff", "fi", "fl", "ffi", "ffl", "st", "st"), start=0xFB00))
"""Ligatures and the letters they stand for."""
_LIGATURE = among(*_PARTED)
_FEW = 2
"""With no more words of one letter than this, none can be a spaced heading."""
_UNSEEN_CONFIDENCE = 0.9
"""Invisible text is somebody's recognition of a picture, which nobody here can vouch for."""


@dataclass(frozen=True, slots=True)
class Found:
    """The words of a page, and the names of what should be told about it."""

    words: tuple[Word, ...] = ()
    notes: tuple[str, ...] = ()
    turn: int = 0
    """Degrees, with the clock, by which the page was turned to make its text upright."""


def words_of(page: pypdfium2.PdfPage, more: Iterable[Word] = ()) -> Found:
    """Return the words of ``page`` in the order of its text layer, and ``more`` behind them.

    A page whose text is mostly turned is turned upright as a whole. Other words turned by right
    angles follow behind the rest, each whole and in its own reading direction, with the box that
    it covers. Slanted text (a watermark) is left out and noted; text outside the crop box is left
    out.
    """
    text_page = page.get_textpage()
    try:
        letters = letters_of(page, text_page.raw)
        if letters is None:
            return Found(tuple(more))
        firsts = np.flatnonzero(np.diff(letters.line, prepend=-1))
        unknown = settle_unknown(text_page.raw, letters, firsts)
        if unknown > _NO_MAP_SHARE:
            return Found(notes=("no_character_map",))
        letters = replace(letters, unseen=unseen_letters(page, text_page.raw, letters, firsts))
        found = _found(page, text_page.raw, letters, list(more))
        notes = list(found.notes)
        notes += ["unknown_letters"] if unknown else []
        notes += ["invisible_text"] if letters.unseen is not None else []
        return replace(found, notes=tuple(notes))
    finally:
        text_page.close()


def _found(page: pypdfium2.PdfPage, handle: Any, letters: Letters, more: list[Word]) -> Found:
    width, height = page.get_size()
    begins = _cut(letters, letters.line, _GAP)
    turns = turns_of(handle, letters, begins, page.get_rotation())
    if turns is None:
        return Found(_inside(_words(letters, begins) + more, width, height))
    turn = main_turn(turns)
    letters = upright(letters, turn, width, height)
    more = _moved(more, turn, (width, height))
    if turn % 2:
        width, height = height, width
    turns = np.where(turns == SLANTED, SLANTED, (turns - turn) % 4)
    words = _upright_words(letters.only(turns == 0), turned=turn != 0)
    for quarter in (1, 2, 3):
        words += _turned_words(letters.only(turns == quarter), quarter, (width, height))
    notes = ["slanted_text"] if (turns == SLANTED).any() else []
    notes += ["page_turned"] if turn else []
    return Found(_inside(words + more, width, height), tuple(notes), turn * 90)


def _inside(words: list[Word], width: float, height: float) -> tuple[Word, ...]:
    """Leave out words whose middle is not on the seen page."""
    return tuple(
        word
        for word in words
        if 0 <= word.left + word.right <= 2 * width and 0 <= word.top + word.bottom <= 2 * height
    )


def _cut(letters: Letters, line: Ints, gap: float) -> Flags:
    """Return which letters begin a word.

    A blank before them, a wide gap to either side, or a step to another line: text drawn column
    by column, or cell by cell without blanks, comes glued together.
    """
    begins = np.ones(len(letters), np.bool_)
    if len(letters) < 2:
        return begins
    left, right = letters.left, letters.right
    height = letters.bottom - letters.top
    tall = np.maximum(height[1:], height[:-1])
    middle = (letters.top + letters.bottom) / 2
    space = np.maximum(left[1:] - right[:-1], left[:-1] - right[1:])
    begins[1:] = (
        (line[1:] != line[:-1])
        | (space > gap * tall)
        | (np.abs(middle[1:] - middle[:-1]) > _STEP * tall)
    )
    return begins


def _upright_words(letters: Letters, *, turned: bool) -> list[Word]:
    if not len(letters):
        return []
    line = np.zeros(len(letters), np.intp) if turned else letters.line
    return _words(letters, _cut(letters, line, _TURNED_GAP if turned else _GAP))


def _turned_words(letters: Letters, quarter: int, size: tuple[float, float]) -> list[Word]:
    """Return the words of letters that are turned by ``quarter``, with the boxes they cover."""
    if not len(letters):
        return []
    words = _upright_words(upright(letters, quarter, *size), turned=True)
    return _moved(words, 4 - quarter, size if quarter == 2 else (size[1], size[0]))


def _moved(words: list[Word], quarter: int, size: tuple[float, float]) -> list[Word]:
    """Return words as seen after a page of that size is turned by ``quarter`` with the clock."""
    moved: list[Word] = []
    for word in words:
        box = turned_box((word.left, word.top, word.right, word.bottom), quarter, *size)
        left, top, right, bottom = (round(edge, 2) for edge in box)
        moved.append(replace(word, left=left, top=top, right=right, bottom=bottom))
    return moved


def _words(letters: Letters, begins: Flags) -> list[Word]:
    marks = cut_marks(letters, begins)
    starts = np.flatnonzero(begins)
    texts = _texts(letters, starts)
    boxes = _boxes(letters, starts)
    words = [Word(text, *box) for text, box in zip(texts, boxes.tolist(), strict=True)]
    unseen = np.flatnonzero(letters.unseen[starts]).tolist() if letters.unseen is not None else []
    for place in unseen:
        words[place] = replace(words[place], confidence=_UNSEEN_CONFIDENCE)
    places = {int(np.searchsorted(starts, mark)) for mark in marks} | marks_apart(words, boxes)
    if places:
        words = tell_marks(words, places)
    return join_spaced(words) if np.count_nonzero(np.diff(starts) == 1) > _FEW else words


def _texts(letters: Letters, starts: Ints) -> list[str]:
    if _LIGATURE[letters.units].any():
        return [text.translate(_PARTED) for text in _raw_texts(letters, starts)]
    return _raw_texts(letters, starts)


def _raw_texts(letters: Letters, starts: Ints) -> list[str]:
    begins, ends = starts.tolist(), [*starts[1:].tolist(), len(letters)]
    text = letters.units.tobytes().decode("utf-16-le", "replace")
    if len(text) == len(letters):
        return [text[i:j] for i, j in zip(begins, ends, strict=True)]
    # Characters outside the basic plane are two units each.
    parts = (letters.units[i:j].tobytes() for i, j in zip(begins, ends, strict=True))
    return [part.decode("utf-16-le", "replace") for part in parts]


def _boxes(letters: Letters, starts: Ints) -> Floats:
    """Return left, top, right, bottom of each word, to a hundredth of a point."""
    edges = np.stack(
        (
            np.minimum.reduceat(letters.left, starts),
            np.minimum.reduceat(letters.top, starts),
            np.maximum.reduceat(letters.right, starts),
            np.maximum.reduceat(letters.bottom, starts),
        ),
        axis=1,
    )
    return edges.round(2)

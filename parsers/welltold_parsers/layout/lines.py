"""From words on a page, or cells of a sheet, to lines of cells.

Words belong to one line when their middles are near each other; a sub- or superscript stays on its
line. A run of words ends at a gap wider than the page's usual blank, and at dot leaders.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..geometry import Page, Sheet, Word
from .cells import Cell, Line, of_words
from .centred_rows import with_centred_rows
from .edges import SIGNS
from .fixed_columns import with_columns_apart
from .ladders import without_ladders
from .pitch import one_blank, pitches
from .raised import with_raised
from .turned import upright

_RULER = re.compile(r"[-=_+|~*]{1,}")
"""A line of nothing but these is a ruler, drawn with letters."""
_LEADERS = re.compile(r"[.·…_]{4,}|…+")
_BLANK_SHARE = 1.35
"""A gap wider than this many usual blanks parts two cells."""


def page_lines(page: Page) -> list[Line]:
    """Return the lines of a page from top to bottom."""
    placed = page.words if page.plain_text else upright(page.words)
    words = [word for word in placed if word.text]
    if _LEADERS.search("\n".join([word.text for word in words])):
        words = [part for word in words for part in _without_leaders(word)]
    rows = [with_raised(_whole_words(row)) for row in _rows(words)]
    blank = _usual_blank(rows)
    known = pitches(rows)
    lines = []
    for index, row in enumerate(rows, start=1):
        if all(_RULER.fullmatch(w.text) for w in row):
            continue
        line = Line(index, page=page.number, plain_text=page.plain_text)
        line.top = min(w.top for w in row)
        line.bottom = max(w.bottom for w in row)
        line.cells = [of_words(run, line) for run in _runs(row, blank, known)]
        lines.append(line)
    if page.plain_text:
        return without_ladders(with_columns_apart(lines))
    return without_ladders(with_centred_rows(lines))


def sheet_lines(sheet: Sheet) -> Iterator[Line]:
    """Yield the rows of a sheet that hold text."""
    for row in sheet.rows:
        number = row[0].row if row else 0
        line = Line(number, sheet=sheet.name, hidden=number in sheet.hidden_rows)
        line.top, line.bottom = float(number), float(number + 1)
        for cell in row:
            text = cell.text.strip()
            if text:
                box = (float(cell.column), line.top, float(cell.column + cell.columns), line.bottom)
                line.cells.append(Cell(text, box, line, (), cell))
        if line.cells:
            yield line


def _without_leaders(word: Word) -> Iterator[Word]:
    """Yield the pieces of a word between dot leaders, each with its share of the box."""
    if not _LEADERS.search(word.text):
        yield word
        return
    wide = (word.right - word.left) / len(word.text)
    start = 0
    ends = [(m.start(), m.end()) for m in _LEADERS.finditer(word.text)]
    for end, following in (*ends, (len(word.text), len(word.text))):
        text = word.text[start:end].strip(".")
        if text:
            left = word.left + start * wide
            right = left + len(text) * wide
            yield Word(text, left, word.top, right, word.bottom, word.confidence)
        start = following


def _rows(words: Sequence[Word]) -> list[list[Word]]:
    """Group words into lines by their vertical middles, each line sorted from the left."""
    rows: list[list[Word]] = []
    middle = height = 0.0
    for word in sorted(words, key=lambda w: w.top + w.bottom):
        top, bottom = word.top, word.bottom
        own, tall = (top + bottom) / 2, bottom - top
        if rows and own - middle <= 0.42 * max(min(height, tall), 0.6 * height):
            row = rows[-1]
            row.append(word)
            if tall > 0.8 * height:
                middle += (own - middle) / len(row)
                height = max(height, tall)
        else:
            rows.append([word])
            middle, height = own, tall
    return [_once(sorted(row, key=lambda w: w.left)) for row in rows]


def _once(row: list[Word]) -> list[Word]:
    """Drop words that are drawn a second time, a little beside the first, to look bold."""
    if not [1 for a, b in pairwise(row) if a.text == b.text and b.left - a.left < 1.5]:
        return row
    return [
        row[0],
        *(b for a, b in pairwise(row) if not (a.text == b.text and b.left - a.left < 1.5)),
    ]


def _whole_words(row: list[Word]) -> list[Word]:
    """Join pieces of one word that touch: some producers set every letter by itself."""
    touching = [
        1
        for a, b in pairwise(row)
        if -0.5 < b.left - a.right < 0.12 and (len(a.text) == 1 or len(b.text) == 1)
    ]
    if not touching:
        return row
    joined = row[:1]
    for word in row[1:]:
        last = joined[-1]
        if -0.5 < word.left - last.right < 0.12 and abs(word.top - last.top) < 0.5:
            joined[-1] = Word(
                last.text + word.text,
                last.left,
                min(last.top, word.top),
                word.right,
                max(last.bottom, word.bottom),
                min(last.confidence, word.confidence),
            )
        else:
            joined.append(word)
    return joined


def _usual_blank(rows: Sequence[Sequence[Word]]) -> float:
    """Return the page's usual blank between words, as a share of the line's height."""
    shares = []
    for row in rows:
        for a, b in pairwise(row):
            gap = b.left - a.right
            if gap <= 0:
                continue
            tall = max(a.bottom - a.top, 1.0)
            if gap < 0.75 * tall:
                shares.append(gap / tall)
    if len(shares) < 4:
        return 0.25
    shares.sort()
    return shares[len(shares) // 2]


def _runs(row: Sequence[Word], blank: float, known: Sequence[float]) -> Iterator[tuple[Word, ...]]:
    run = [row[0]]
    usual = max(_BLANK_SHARE * blank, 0.25)
    for word in row[1:]:
        last = run[-1]
        gap = word.left - last.right
        wide = 1.5 if last.text in SIGNS else usual
        tall = max(min(word.bottom - word.top, last.bottom - last.top), 4.0)
        if gap > wide * tall and not (known and one_blank(last, word, known)):
            yield tuple(run)
            run = [word]
        else:
            run.append(word)
    yield tuple(run)

"""Reads a mark under one of two heads: an "X" below PRESENT or below ABSENT, a sample a row.

The pair of heads becomes one head with the name of the analyte that stands above it, and each mark
becomes the word that it stands under. A row that marks both or neither is left unread.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .boxes import EMPTY, FULL
from .cells import Cell, Line, join
from .context import Context
from .distinct import texts_in
from .tokens import analyte_in

_CHOICE = re.compile(r"(?i)(?P<present>present|positive)|(?P<absent>absent|negative)")
_MARK = re.compile(rf"{FULL}|[xX✗✘]")
_BOX = re.compile(rf"{FULL}|{EMPTY}|\[\?\]|[xX✗✘]")
_HEAD = re.compile(r"(?i)\b(?:no\.?|number|id|sample|point|location|site|collected|date|time)$")
_ABOVE = 3
"""Lines above the pairs in which the analytes are named."""

_Pair = tuple[Cell, Cell]


def with_choices(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put words for the marks under pairs of heads; return the lines that still hold something."""
    if not any(map(_CHOICE.fullmatch, texts_in(lines))):
        return [line for line in lines if line.cells]
    emptied: set[int] = set()
    for at, head in enumerate(lines):
        pairs = _pairs(head)
        names = [_name(pair, lines[max(0, at - _ABOVE) : at]) for pair in pairs]
        known = [name for name in names if name is not None]
        if not pairs:
            continue
        marked = _marked(lines[at + 1 :], pairs)
        if len(pairs) == 1 and _answer_rows(head, marked, pairs, context):
            continue
        if not marked or len(known) != len(pairs):
            _no_answers(head, pairs, context)
            continue
        for line in marked:
            _put_words(line, pairs, context)
        _put_names(head, pairs, known)
        emptied |= {id(name.line) for name in known if not name.line.cells}
    return [line for line in lines if line.cells and id(line) not in emptied]


def _pairs(line: Line) -> list[_Pair]:
    """Return the neighbours that are one answer and its opposite; none: it is no such head."""
    told = [
        (cell, found.lastgroup) for cell in line.cells if (found := _CHOICE.fullmatch(cell.text))
    ]
    if not told or len(told) % 2 or any(c.isdigit() for c in line.text):
        return []
    pairs = list(zip(told[::2], told[1::2], strict=True))
    if any(one[1] == two[1] for one, two in pairs):
        return []
    return [(one[0], two[0]) for one, two in pairs]


def _name(pair: _Pair, above: Sequence[Line]) -> Cell | None:
    """Return the cell above a pair that names its analyte."""
    for line in reversed(above):
        for cell in line.cells:
            over = cell.left <= pair[1].right and cell.right >= pair[0].left
            if over and analyte_in(cell.text) is not None:
                return cell
    return None


def _marked(lines: Sequence[Line], pairs: Sequence[_Pair]) -> list[Line]:
    """Return the rows below the head, to the last with a mark; a row between may have none."""
    rows: list[Line] = []
    last = 0
    for line in lines:
        if _pairs(line):
            break
        if len(line.cells) > 1:
            rows.append(line)
        if any(_under(cell, pairs) for cell in line.cells):
            last = len(rows)
    return rows[:last]


def _under(cell: Cell, pairs: Sequence[_Pair]) -> Cell | None:
    """Return the head that a mark or a box plainly stands under."""
    if not _BOX.fullmatch(cell.text):
        return None
    heads = [head for pair in pairs for head in pair]
    near = min(abs(two.middle - one.middle) for one, two in pairs) / 3
    return next((head for head in heads if abs(head.middle - cell.middle) <= near), None)


def _put_words(line: Line, pairs: Sequence[_Pair], context: Context) -> list[Cell]:
    """Put the word of its head for each mark of a row; a pair without one mark is unread."""
    boxes = [(cell, head) for cell in line.cells if (head := _under(cell, pairs))]
    taken = {id(cell) for cell, _ in boxes}
    kept = [cell for cell in line.cells if id(cell) not in taken]
    put: list[Cell] = []
    for pair in pairs:
        mine = [(cell, head) for cell, head in boxes if head in pair]
        told = [(cell, head) for cell, head in mine if _MARK.fullmatch(cell.text)]
        if len(told) != 1 or any(cell.text == "[?]" for cell, _ in mine):
            context.lost(join(line.cells), "ticks_unclear")
            continue
        cell, head = told[0]
        box = (pair[0].left, cell.top, pair[1].right, cell.bottom)
        put.append(Cell(head.text, box, line))
        put[-1].printed_at = (cell.left, cell.top, cell.right, cell.bottom)
    line.cells = sorted([*kept, *put], key=lambda cell: cell.left)
    return put


def _answer_rows(
    head: Line, rows: Sequence[Line], pairs: Sequence[_Pair], context: Context
) -> bool:
    """Read the rows that name a test each and have their mark under one pair of heads."""
    named = [row for row in rows if analyte_in(row.cells[0].text.rstrip(":")) is not None]
    if not named or not all(any(_under(c, pairs) for c in row.cells) for row in named):
        return False
    for row in named:
        label = row.cells[0]
        put = _put_words(row, pairs, context)
        if put:
            row.answer = (label, put[0])
        else:
            row.cells = []
    taken = {id(cell) for pair in pairs for cell in pair}
    head.cells = [cell for cell in head.cells if id(cell) not in taken]
    return True


def _no_answers(line: Line, pairs: Sequence[_Pair], context: Context) -> None:
    """Leave heads unread that could be taken for the answers of a sample."""
    taken = {id(cell) for pair in pairs for cell in pair}
    others = [cell for cell in line.cells if id(cell) not in taken]
    if any(_HEAD.search(cell.text) for cell in others) and len(others) > 1:
        context.lost(join(line.cells), "ticks_unclear")
        line.cells = others


def _put_names(head: Line, pairs: Sequence[_Pair], names: Sequence[Cell]) -> None:
    """Put the analyte's name in the place of its pair of heads."""
    taken = {id(cell) for pair in pairs for cell in pair}
    head.cells = [cell for cell in head.cells if id(cell) not in taken]
    for pair, name in zip(pairs, names, strict=True):
        whole = join(pair)
        name.line.cells = [cell for cell in name.line.cells if cell is not name]
        head.cells.append(Cell(name.text, (whole.left, whole.top, whole.right, whole.bottom), head))
    head.cells.sort(key=lambda cell: cell.left)

"""Reads statements that are ticked on a form: one line says ABSENT, the next says PRESENT.

☐ Total coliform bacteria were ABSENT in this sample.
☒ Total coliform bacteria were PRESENT in this sample.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from .boxes import BOX, Piece, part_of, pieces_of
from .cells import Cell, Line, join
from .context import Context
from .tokens import analytes_within, microbial

_ANSWERS = frozenset({"absent", "present"})
_STATED = frozenset({"full", "empty", "unclear"})
_NO = re.compile(r"(?i)\b(?:no|not|none|without|free|neither|never|nor)\b")
_IF = re.compile(r"(?i)\b(?:if|unless|when|may|should)\b")
_BULLETS = frozenset("■○◯●◉▣✓✔")
"""Signs that lists of plain sentences begin with too."""


class _Statement(NamedTuple):
    line: Line
    slug: str
    label: Cell
    answer: Piece
    told: str


def with_statements(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put a name and its answer in the place of each ticked statement; return what is left."""
    found = [s for line in lines if (s := _statement(line)) is not None]
    if not found:
        return lines
    gone: set[int] = set()
    for slug in dict.fromkeys(s.slug for s in found):
        same = [s for s in found if s.slug == slug]
        if len(same) == 1 and same[0].line.text[0] in _BULLETS:
            continue  # a sentence in a list, and no choice
        ticked = [s for s in same if s.told == "full"]
        if len(ticked) != 1 or any(s.told == "unclear" for s in same):
            context.lost(join(same[0].line.cells), "ticks_unclear")
            gone |= {id(s.line) for s in same}
            continue
        gone |= {id(s.line) for s in same if s is not ticked[0]}
        _put(ticked[0])
    return [line for line in lines if id(line) not in gone]


def _statement(line: Line) -> _Statement | None:
    """Return what a line states behind its box, if it is one thing about one germ."""
    if line.sheet is not None or not line.cells or not BOX.match(line.cells[0].text):
        return None
    pieces = pieces_of(line)
    answers = [p for p in pieces if p.what == "answer" and p.told in _ANSWERS]
    boxes = [p for p in pieces if p.what == "box"]
    if len(answers) != 1 or len(boxes) != 1 or pieces[0] is not boxes[0]:
        return None
    box, answer = boxes[0], answers[0]
    if answer.cell is not box.cell or box.told not in _STATED:
        return None
    subject = answer.cell.text[box.end : answer.start]
    others = subject + answer.cell.text[answer.end :]
    names = analytes_within(subject)
    if len(names) != 1 or not microbial(names[0][2].slug) or _IF.search(others):
        return None
    told = "unclear" if _NO.search(others) else box.told
    label = part_of(box.cell, box.end, answer.start)
    return _Statement(line, names[0][2].slug, label, answer, told)


def _put(statement: _Statement) -> None:
    line, answer = statement.line, statement.answer
    value = part_of(answer.cell, answer.start, answer.end)
    line.cells = [statement.label, value]
    line.answer = (statement.label, value)

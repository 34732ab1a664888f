"""Reads tick boxes: "[X] Absent  [ ] Present" behind an analyte's name."""

from __future__ import annotations

import re

from .cells import Cell, Line, join
from .context import Context
from .printed import Printed
from .tokens import analyte_in, analytes_within, value_of

_BOX = re.compile(
    r"(?P<full>\[\s?[xX✓✔*]\s?\]|\(\s?[xX✓✔*]\s?\)|[☒☑■✔✓⊠◉●▣🗹]|_[xX]_)"
    r"|(?P<empty>\[\s*_*\s*\]|\(\s*_*\s*\)|[☐□○◯▢]|_{2,})"
)
_COUNT = re.compile(r"(?i)^(?:count|number|mpn|cfu|colonies)\b\D{0,12}\d")
"""A count beside the boxes."""


def has_boxes(line: Line) -> bool:
    """Whether a line holds tick boxes, ticked or not."""
    return any(
        _BOX.search(c.text)
        for c in line.cells
        if not c.text[:1].isalnum() or "[" in c.text or "(" in c.text
    )


def read_ticks(line: Line, context: Context) -> bool:
    """Read a line with boxes; return whether it had any."""
    text = line.text
    boxes = list(_BOX.finditer(text))
    if not boxes or context.closed:
        return False
    name = text[: boxes[0].start()].strip(" :.-–")
    answers_first = analyte_in(name) is None and not analytes_within(name)
    if answers_first:
        return False
    told = _ticked(text, boxes)
    if line.sheet is not None or any(value_of(t, letters=True) is None for t in told):
        told = [t.partition("  ")[0] for t in told]  # an answer ends with its cell
    label = join(line.cells[:1])
    known = analyte_in(name)
    if known is None:
        found = analytes_within(name)
        words = name.split()
        name = " ".join(words[found[0][0] : found[-1][1]])
    if len(told) != 1 or value_of(told[0], letters=True) is None:
        context.lost(join(line.cells), "ticks_unclear")
        return True
    for cell in line.cells[1:]:
        if _COUNT.match(cell.text):
            context.lost(cell, "not_understood", f"{name} {cell.text}")
    value = _cell_with(line, told[0])
    printed = Printed(
        label=name,
        label_cell=label,
        text=told[0],
        value_cell=value,
        draft=context.samples.current(),
        section=context.section,
    )
    context.emit(printed)
    return True


def _ticked(text: str, boxes: list[re.Match[str]]) -> list[str]:
    """Return the words of the ticked boxes; a box stands before its word, or behind it."""
    behind = text[boxes[-1].end() :].strip()
    found = []
    for at, box in enumerate(boxes):
        if not box["full"]:
            continue
        if behind:
            stop = boxes[at + 1].start() if at + 1 < len(boxes) else len(text)
            found.append(text[box.end() : stop].strip(" ,;/|"))
        else:
            start = boxes[at - 1].end() if at else 0
            found.append(text[start : box.start()].rpartition(":")[2].strip(" ,;/|"))
    return found


def _cell_with(line: Line, text: str) -> Cell:
    return next((c for c in line.cells if text in c.text), join(line.cells))

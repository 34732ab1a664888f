"""Notices two sheets one above the other on one picture.

No row of them mixes, but a sample's number or date may be taken for the other sheet's. Each sheet
opens with the name of its lab and the day, and results follow; a block for each sample of one sheet
has no lab's name over it, and what stands at a sheet's foot has no results below.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import numpy as np

from .detect import Found
from .recognise import Read

_APART = 1.2
"""Bare paper between two sheets is at least so many lines high."""
_OPENING = 2
"""Rows at the top of a sheet that may hold the lab's name."""
_RESULTS = 2
"""So many rows with results stand on each."""
_LAB = re.compile(
    r"(?i)\b(?:laborator(?:y|ies)|labs?|testing|analytical|environmental|public health)\b"
    r"(?!\s*(?:id\b|no\b|n\u00ba|num|#|:|sample|report|ref|code|method|result|test))"
)
_DAY = re.compile(r"(?i)\b(?:collected|sampled|received|drawn|reported|date|taken)\b")
_RESULT = re.compile(
    r"(?i)\d.*(?:[mu\u00b5n]g\s?/\s?l|\bpp[mb]\b|\bntu\b|gpg|pci|cfu|mpn|/\s?100)|\babsent\b|\bpresent\b"
)


def stand_above(areas: Sequence[Found], reads: Sequence[Read]) -> bool:
    """Whether a second sheet begins below bare paper somewhere on the page."""
    if not areas:
        return False
    rows = list(_rows(areas, reads))
    least = _APART * float(np.median([one.height for one in areas]))
    for at in range(1, len(rows)):
        apart = rows[at][0] - max(bottom for _, bottom, _ in rows[:at])
        if apart > least and _is_sheet(rows[at:]) and _is_sheet(rows[:at]):
            return True
    return False


def _rows(areas: Sequence[Found], reads: Sequence[Read]) -> Iterator[tuple[float, float, str]]:
    """Yield the rows of a page from the top: where each begins and ends, and its text."""
    row: list[tuple[Found, Read]] = []
    for area, read in sorted(
        zip(areas, reads, strict=True), key=lambda one: one[0].top + one[0].bottom
    ):
        if row and (area.top + area.bottom) / 2 > row[-1][0].bottom - 0.2 * area.height:
            yield _row(row)
            row = []
        row.append((area, read))
    if row:
        yield _row(row)


def _row(parts: Sequence[tuple[Found, Read]]) -> tuple[float, float, str]:
    across = sorted(parts, key=lambda one: one[0].left)
    text = " ".join(read.text for _, read in across)
    return min(a.top for a, _ in parts), max(a.bottom for a, _ in parts), text


def _is_sheet(rows: Sequence[tuple[float, float, str]]) -> bool:
    """Whether rows open as a sheet does: a lab's name, a day, results."""
    texts = [text for _, _, text in rows]
    results = [at for at, text in enumerate(texts) if _RESULT.search(text)]
    if len(results) < _RESULTS or not any(_LAB.search(text) for text in texts[:_OPENING]):
        return False
    return any(_DAY.search(text) for text in texts[: results[0]])

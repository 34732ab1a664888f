"""Takes the verdict out of each card where it stands beside the name: "Iron      Above guide".

A verdict is known by its place: it comes again or stands at the edge of those that do, beside a
name, and nothing stands under it, while the number stands under the name.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .head_cells import STRONG
from .tokens import analyte_in, microbial, unit_of, value_of
from .words import head_of

_LONGEST = 3
"""Words of a verdict."""
_FEWEST = 3
"""Verdicts on a page."""
_SHARE = 0.6
_ALIGNED = 4.0
_FAR = 3.0
"""How far below a name its number may stand, in heights of the name."""


def without_chips(lines: Sequence[Line]) -> Sequence[Line]:
    """Take the verdicts off the lines of names on a page of cards; return all lines."""
    if not lines or lines[0].sheet is not None or lines[0].plain_text:
        return lines
    found = [(cell, at) for at, line in enumerate(lines) for cell in _beside_names(line)]
    if len(found) < _FEWEST:
        return lines
    counts = Counter(cell.text for cell, _ in found)
    edges = {round(edge) for cell, _ in found if counts[cell.text] > 1 for edge in _edges(cell)}
    chips = [
        (cell, at)
        for cell, at in found
        if counts[cell.text] > 1 or any(_near(edge, edges) for edge in _edges(cell))
    ]
    good = [cell for cell, at in chips if _over_nothing(cell, lines[at], lines[at + 1 : at + 3])]
    if len(good) < max(_FEWEST, _SHARE * len(chips)):
        return lines
    gone = set(map(id, good))
    for _, at in chips:
        lines[at].cells = [c for c in lines[at].cells if id(c) not in gone]
    return lines


def _edges(cell: Cell) -> tuple[float, float]:
    return cell.left, cell.right


def _near(edge: float, edges: set[int]) -> bool:
    return any(abs(edge - one) < _ALIGNED for one in edges)


def _beside_names(line: Line) -> list[Cell]:
    """Return the short texts that stand behind names, where a line has nothing else."""
    named = [analyte_in(cell.text) is not None for cell in line.cells]
    if not named or not named[0]:
        return []
    others = [cell for cell, one in zip(line.cells, named, strict=True) if not one]
    if not all(map(_may_judge, others)):
        return []
    alone = all(one or other for one, other in pairwise(named))
    return others if alone else []


def _may_judge(cell: Cell) -> bool:
    text = cell.text
    plain = text[:1].isalpha() and not any(c.isdigit() for c in text)
    head = head_of(text)
    return (
        plain
        and len(text.split()) <= _LONGEST
        and (head is None or head.role == "status" or head.score < STRONG)
        and value_of(text) is None
        and unit_of(text) is None
    )


def _over_nothing(chip: Cell, line: Line, below: Sequence[Line]) -> bool:
    """Whether a number stands under the name before a text, and none under the text itself."""
    at = line.cells.index(chip)
    name = line.cells[at - 1]
    match = analyte_in(name.text)
    letters = match is not None and microbial(match.slug)
    for under in below:
        if under.top - line.bottom > _FAR * line.height:
            break
        cells = [c for c in under.cells if c.right > name.left - _ALIGNED and c.left < chip.right]
        if not cells:
            continue
        first = cells[0]
        begun = abs(first.left - name.left) < _ALIGNED
        clear = not any(c.right > chip.left and value_of(c.text) for c in cells)
        return begun and clear and value_of(first.text, letters=letters) is not None
    return False

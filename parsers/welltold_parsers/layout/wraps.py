"""Joins the lines of one row: names that wrap, values between two lines of a name."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from .cells import Cell, Line, join
from .facts import Fact
from .tokens import analyte_in, is_denial, is_qualifier, unit_of

_OPEN = re.compile(r"(?i)(?:\b(?:and|of|or|as|plus|with|by)|[-+/,&])$")
"""A line of a name that cannot end so: the next line belongs to it, known or not."""


@dataclass(slots=True)
class Step:
    """One line of a table with what it is taken for."""

    kind: str
    """``row``, ``label`` (a name alone), ``value`` (no name), ``nameless`` (no name can be
    given to it), ``facts``, ``other``."""
    line: Line
    cells: list[Cell | None]
    label: Cell | None = None
    """The joined label, where it stands on several lines."""
    joined: bool = False
    facts: list[Fact] = field(default_factory=list)


def join_wrapped(steps: Sequence[Step], analyte: int | None) -> list[Step]:
    """Return the steps with wrapped names joined to their rows and the fragments left out."""
    steps = _join_cells(steps if analyte is None else _join_around(steps, analyte))
    if analyte is None or not any(s.kind == "label" for s in steps):
        return list(steps)
    used: set[int] = set()
    for at, step in enumerate(steps):
        if step.kind not in {"row", "value"}:
            continue
        own = step.cells[analyte]
        above = _fragment(steps, at, -1, analyte, used)
        below = _fragment(steps, at, +1, analyte, used)
        open_ = above is not None and _OPEN.search(above.text) is not None
        higher = _fragment(steps, at - 1, -1, analyte, used) if above is not None else None
        for parts in (*_choices(above, own, below), *_long(higher, above, own)):
            cells = [c for c in parts if c is not None]
            joined = join(cells)
            if (open_ and above in cells) or (not open_ and _better(joined.text, own)):
                step.label, step.joined, step.kind = joined, True, "row"
                lines = ((at - 2, higher), (at - 1, above), (at + 1, below))
                used.update(i for i, c in lines if c in cells)
                break
        else:
            if below is not None and below.text.startswith("(") and unit_of(below.text) is None:
                used.add(at + 1)  # a short form under a name that is known without it
    return [s for i, s in enumerate(steps) if i not in used]


def _join_around(steps: Sequence[Step], analyte: int) -> Sequence[Step]:
    """Join what stands in two lines around a row that has nothing there: "COLOR" over "UNITS"."""
    if not steps or steps[0].line.sheet is not None:
        return steps
    used: set[int] = set()
    for at in range(1, len(steps) - 1):
        above, row, below = steps[at - 1 : at + 2]
        alone = {above.kind, below.kind} <= {"other", "label"} and at - 1 not in used
        if row.kind != "row" or not alone or above.cells[analyte] or below.cells[analyte]:
            continue
        if not (above.line.bottom > row.line.top and row.line.bottom > below.line.top):
            continue
        fits = [
            (a is None) == (b is None) and (a is None or own is None)
            for a, own, b in zip(above.cells, row.cells, below.cells, strict=True)
        ]
        if all(fits):
            for index, (a, b) in enumerate(zip(above.cells, below.cells, strict=True)):
                if a is not None and b is not None:
                    row.cells[index] = _grown(a, b)
            used.update((at - 1, at + 1))
    return [step for at, step in enumerate(steps) if at not in used]


def _join_cells(steps: Sequence[Step]) -> Sequence[Step]:
    """Join a line that only goes on with cells of the row above: "ug/" over "L"."""
    if not steps or steps[0].line.sheet is not None:
        return steps
    kept: list[Step] = []
    for step in steps:
        above = kept[-1] if kept else None
        if (
            above is not None
            and above.kind == "row"
            and (step.kind == "other" or (step.kind == "value" and _ends(above, step)))
            and _goes_on(above, step)
        ):
            for index, cell in enumerate(step.cells):
                if cell is not None:
                    above.cells[index] = _grown(above.cells[index], cell)
        else:
            kept.append(step)
    return kept


def _goes_on(above: Step, step: Step) -> bool:
    gap = step.line.top - above.line.bottom
    filled = [(a, b) for a, b in zip(above.cells, step.cells, strict=True) if b is not None]
    short = all(len(b.text) <= 12 for _, b in filled)
    return (
        above.line.page == step.line.page
        and gap < 0.5 * step.line.height
        and short
        and bool(filled)
        and all(a is not None for a, _ in filled)
    )


def _denies(above: Step, step: Step) -> bool:
    """Whether all that a line says is the rest of an answer above: "Detected" under "None"."""
    pairs = [(a, b) for a, b in zip(above.cells, step.cells, strict=True) if b is not None]
    return all(a is not None and is_denial(f"{a.text} {b.text}") for a, b in pairs)


def _ends(above: Step, step: Step) -> bool:
    """Whether a line holds nothing but the end of answers above: "Detected", a flag on its own."""
    flags = [b is None or is_qualifier(b.text) for b in step.cells]
    return all(flags) or _denies(above, step)


def _grown(first: Cell | None, more: Cell) -> Cell:
    if first is None:
        return more
    cell = join([first, more])
    tight = first.text + more.text
    if unit_of(tight) is not None or first.text.endswith(("/", "-")):
        cell.text = tight
    return cell


def _choices(
    above: Cell | None, own: Cell | None, below: Cell | None
) -> list[tuple[Cell | None, ...]]:
    if above and below:
        return [(above, own, below), (own, below), (above, own)]
    if below:
        return [(own, below)]
    return [(above, own)] if above else []


def _long(
    higher: Cell | None, above: Cell | None, own: Cell | None
) -> list[tuple[Cell | None, ...]]:
    """Return the name that stands on three lines, its value beside the last."""
    if higher is None or above is None or own is None:
        return []
    return [(higher, above, own)]


def _fragment(
    steps: Sequence[Step], at: int, step: int, analyte: int, used: set[int]
) -> Cell | None:
    other = at + step
    if not 0 <= other < len(steps) or other in used:
        return None
    here, there = steps[at].line, steps[other].line
    if steps[other].kind != "label" or here.page != there.page or here.sheet != there.sheet:
        return None
    cell = steps[other].cells[analyte]
    if cell is None or sum(c is not None for c in steps[other].cells) > 1:
        return None
    if here.sheet is not None:
        return cell if abs(here.index - there.index) == 1 and steps[at].kind == "value" else None
    gap = max(there.top - here.bottom, here.top - there.bottom)
    return cell if gap < 0.5 * here.height else None


def _better(joined: str, own: Cell | None) -> bool:
    found = analyte_in(joined)
    if found is None:
        return False
    if own is None:
        return True
    before = analyte_in(own.text)
    return before is None or (before.slug, before.basis) != (found.slug, found.basis)

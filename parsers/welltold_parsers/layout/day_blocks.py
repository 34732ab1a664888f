"""Names set in the middle of the rows of their days: each test has a block of rows, one a day.

                 03/12/2025    <0.5     18
    Benzene   5
                 06/18/2025    <0.5     22

Rows above a name would be given to the test before. Where a block begins the days begin again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from .cells import Cell, Line
from .dates import Stamp, stamp
from .roles import Plan
from .tokens import label_of
from .wraps import Step

Cells = list[Cell | None]
_NAMES = frozenset({"lab_id", "sample_id", "client_id", "point"})
_FEWEST = 2
"""Rows with days that make a block."""


def named_by_blocks(steps: Sequence[Step], plan: Plan) -> list[Step]:
    """Return the steps of a table, each row with the name of its block.

    Where names do not stand in the first rows of their blocks and the blocks are not plain, rows
    without a name stay without one, so that none is given to another test.
    """
    at, name = plan.shared.get("collected"), plan.analyte
    days = _days(steps, at)
    if name is None or len(days) < _FEWEST or _begins_named(steps, min(days), name):
        return list(steps)
    blocks = _blocks(days, len(steps))
    if not blocks or not all(_is_named(steps, a, b, name) for a, b in blocks):
        for place in days:
            if steps[place].cells[name] is None:
                steps[place].kind = "nameless"
        return list(steps)
    done = list(steps[: blocks[0][0]])
    for first, last in blocks:
        done += _filled(steps[first:last], name, set(days) & set(range(first, last)), first)
    return done


def _days(steps: Sequence[Step], at: int | None) -> dict[int, str]:
    """Return the day of each row that has one, by its place."""
    found = {}
    for place, step in enumerate(steps):
        cell = step.cells[at] if at is not None and step.kind in {"row", "value"} else None
        day = stamp(cell.text) if cell is not None else None
        if day is not None:
            found[place] = day.iso
    return found


def _begins_named(steps: Sequence[Step], first: int, name: int) -> bool:
    """Whether a name stands in the first row with a day, or above it."""
    return any(step.cells[name] is not None for step in steps[: first + 1] if step.kind != "other")


def _blocks(days: dict[int, str], end: int) -> list[tuple[int, int]]:
    """Return where each block begins and ends: there the days go back to the first ones.

    None where days go up as often as down.
    """
    places = list(days)
    down = [days[b] < days[a] for a, b in pairwise(places) if days[a] != days[b]]
    falls = sum(down)
    if 2 * falls == len(down):
        return []
    most = 2 * falls > len(down)
    again = [b for a, b in pairwise(places) if days[b] == days[a] or (days[b] < days[a]) != most]
    return list(pairwise([places[0], *again, end]))


def _is_named(steps: Sequence[Step], first: int, last: int, name: int) -> bool:
    """Whether a block holds one name of a test, in the middle."""
    found = [
        n
        for n in range(first, last)
        if steps[n].kind != "facts" and (c := steps[n].cells[name]) and label_of(c.text).match
    ]
    return len(found) == 1 and _in_middle(found[0], first, last)


def _in_middle(place: int, first: int, last: int) -> bool:
    return 2 * place == first + last - 1


def _filled(steps: Sequence[Step], name: int, days: set[int], first: int) -> list[Step]:
    """Return the rows of one block with its name, and what stands beside the name for all."""
    head = next(s for s in steps if (c := s.cells[name]) and label_of(c.text).match is not None)
    alone = first + list(steps).index(head) not in days
    done = []
    for place, step in enumerate(steps, start=first):
        if place not in days:
            if step is not head:
                done.append(step)
            continue
        step.cells[name] = head.cells[name]
        if alone:
            beside = zip(step.cells, head.cells, strict=True)
            step.cells[:] = [own if own is not None else other for own, other in beside]
        step.kind = "row"
        done.append(step)
    return done


def with_places(
    rows: Sequence[tuple[Line, Cells]], roles: Mapping[str, int]
) -> list[tuple[Line, Cells]]:
    """Give rows of samples that have only their day the place of their block, on a page.

    The place may stand in the first row of its block, in the middle, or on a line of its own.
    """
    at = roles.get("collected")
    names = [i for role, i in roles.items() if role in _NAMES]
    if at is None or not names or not rows or rows[0][0].sheet is not None:
        return list(rows)
    days = {n: day.iso for n, (_, cells) in enumerate(rows) if (day := _day_in(cells, at))}
    named = [n for n, (_, cells) in enumerate(rows) if any(cells[i] for i in names)]
    if len(days) < _FEWEST or not set(days) - set(named) or not named:
        return list(rows)
    gone: set[int] = set()
    top = named[0] == min(days)
    for first, last in _blocks(days, len(rows)):
        own = [n for n in named if first <= n < last]
        middle = len(own) == 1 and _in_middle(own[0], first, last)
        if not (own[:1] == [first] if top else middle):
            continue
        for n in range(first, last):
            head = rows[max((o for o in own if o <= n), default=own[0])][1]
            if n in days and n not in own:
                rows[n][1][:] = [
                    c or (head[i] if i in names else None) for i, c in enumerate(rows[n][1])
                ]
        gone |= set(own) - set(days)
    return [row for n, row in enumerate(rows) if n not in gone]


def _day_in(cells: Cells, at: int) -> Stamp | None:
    cell = cells[at]
    return stamp(cell.text) if cell is not None else None

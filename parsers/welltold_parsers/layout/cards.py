"""Reads cards: a grid of little boxes, each with a name, a number, its unit and a usual range.

    Iron            Copper           Lead
    0.3 ppm         < 0.1 ppm        < 5 ppb
    Goal: 0.3       Goal: 1.3        Goal: 15

A line of names with one line of values below it, or above it, and then again names: no table of
samples looks like that. Each box becomes a line of its own with the name and what is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, takewhile

from .captions import least_told
from .cells import Cell, Line, join
from .context import Context
from .tokens import analyte_in, microbial, unit_of, value_of
from .words import head_of

_FEWEST = 2
"""Names in a line, and lines of names."""
_APART = 9
"""Lines from one line of names to the next, at most."""
_EVEN = 0.2
"""Lines of names follow each other at distances that differ by no more than this share."""
_TITLED = 1.7
"""With a title of a group between them they may stand so many times as far apart."""
_TITLE = 5
"""Words of such a title."""
_ALIGNED = 4.0
_LARGER = 1.2
_MOSTLY = 0.6
_LONGEST = 40
"""Letters of a name that has room in a box."""

_Slots = list[tuple[float, float]]


def with_cards(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put a line for each box in the place of a grid of boxes; return all lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    named = [at for at, line in enumerate(lines) if _is_names(line)]
    made: dict[int, list[Line]] = {}
    for run in _runs(lines, named):
        made.update(_read(lines, run, context))
    if not made:
        return lines
    return [one for at, line in enumerate(lines) for one in made.get(at, [line])]


def _is_names(line: Line) -> bool:
    """Whether a line holds names of analytes, and beside them nothing but some other names."""
    if not all(cell.text[:1].isalpha() and len(cell.text) <= _LONGEST for cell in line.cells):
        return False
    known = [analyte_in(cell.text.rstrip(":")) is not None for cell in line.cells]
    if all(known):
        return True
    others = [cell.text for cell, one in zip(line.cells, known, strict=True) if not one]
    return sum(known) >= max(_FEWEST, _MOSTLY * len(known)) and all(map(_may_name, others))


def _may_name(text: str) -> bool:
    """Whether a text may be the name of something that is measured, and no head of a table."""
    return head_of(text) is None and value_of(text) is None


def _runs(lines: Sequence[Line], named: Sequence[int]) -> Iterator[list[int]]:
    """Yield the lines of names that follow each other at even distances."""
    run: list[int] = []
    for at in named:
        if run and not _follows(lines, run, at):
            if len(run) >= _FEWEST:
                yield run
            run = []
        if run or len(lines[at].cells) >= _FEWEST:
            run.append(at)
    if len(run) >= _FEWEST:
        yield run


def _follows(lines: Sequence[Line], run: Sequence[int], at: int) -> bool:
    if not 1 < at - run[-1] <= _APART or len(lines[at].cells) > len(lines[run[0]].cells):
        return False
    tops = [lines[n].top for n in (*run, at)]
    *steps, step = (b - a for a, b in pairwise(tops))
    even = steps[0] if steps else step
    if any(_is_title(line) for line in lines[run[-1] + 1 : at]):
        return step <= _TITLED * max([*steps, 1.0]) or not steps
    bare = _steps(lines, run)
    if steps and not bare:
        return step <= (1 + _EVEN) * even  # titles widened every step so far
    return abs(step - (bare[0] if bare else even)) <= _EVEN * even


def _is_title(line: Line) -> bool:
    """Whether a line may be the title of a group of boxes: a few words and no number."""
    text = line.text
    plain = text[:1].isalpha() and not any(c.isdigit() or c == ":" for c in text)
    return plain and len(line.cells) == 1 and len(text.split()) <= _TITLE


def _read(lines: Sequence[Line], run: Sequence[int], context: Context) -> dict[int, list[Line]]:
    """Return what stands for the lines of a grid; nothing when it is no grid of boxes."""
    step = round(lines[run[1]].top - lines[run[0]].top, 1)
    bands = _bands(lines, run, step, above=False) or _bands(lines, run, step, above=True)
    if not bands:
        return {}
    made: dict[int, list[Line]] = {}
    for at, (slots, values, others) in bands.items():
        made[at] = list(
            _boxes(lines[at], slots, lines[values], [lines[n] for n in others], context)
        )
        made |= {n: [] for n in (values, *others)}
    return made


def _bands(
    lines: Sequence[Line], run: Sequence[int], step: float, *, above: bool
) -> dict[int, tuple[_Slots, int, list[int]]]:
    """Return for each line of names its boxes, the line of values and the other lines."""
    found: dict[int, tuple[_Slots, int, list[int]]] = {}
    slots = _slots(lines, run, above=above)
    for at in run:
        near = _region(lines, at, run, step, above=above)
        own = slots[: len(lines[at].cells)] if slots else []
        fits = _while_fitting(lines, near, own)
        if at == run[-1] or all(_is_title(lines[n]) for n in near[len(fits) :]):
            near = fits  # below stands what belongs to none of the boxes, or a title
        fitting = [n for n in near if own and _fits(lines[n], own)]
        values = _values(lines, fitting, own)
        if values is None or len(fitting) != len(near):
            return {}
        if any(_slot_of(cell, own) != place for place, cell in enumerate(lines[at].cells)):
            return {}
        found[at] = (own, values, [n for n in near if n != values])
    return found


def _while_fitting(lines: Sequence[Line], near: Sequence[int], own: _Slots) -> list[int]:
    return list(takewhile(lambda n: _fits(lines[n], own), near))


def _region(
    lines: Sequence[Line], at: int, run: Sequence[int], step: float, *, above: bool
) -> list[int]:
    """Return the lines that stand in the boxes with a line of names."""
    names = lines[at]
    if not above:
        behind = next((other for other in run if other > at), None)
        if behind is not None:
            return list(range(at + 1, behind))
        last = names.top + max(_steps(lines, run), default=step) - 2
        rest = range(at + 1, min(at + _APART, len(lines)))
        return [n for n in rest if lines[n].top < last]
    first = at - 1
    if first < 0 or first in run or lines[first].bottom < names.top - step:
        return []
    behind = next((other for other in run if other > at), len(lines) + 1)
    rest = range(at + 1, min(behind - 1, len(lines), at + _APART))
    return [first, *(n for n in rest if lines[n].top < names.top + step - lines[first].height)]


def _steps(lines: Sequence[Line], run: Sequence[int]) -> list[float]:
    """Return how far lines of names stand apart that have no title between them."""
    return [
        lines[b].top - lines[a].top
        for a, b in pairwise(run)
        if not any(map(_is_title, lines[a + 1 : b]))
    ]


def _slots(lines: Sequence[Line], run: Sequence[int], *, above: bool) -> _Slots:
    """Return how far each box reaches, for texts that begin or are centred alike."""
    cells = lines[run[0]].cells
    others = [lines[at - 1 if above else at + 1] for at in run if 0 < at < len(lines) - 1]
    begun = [
        any(abs(cell.left - name.left) < _ALIGNED for cell in other.cells)
        for other in others
        for name in cells[: len(other.cells)]
    ]
    if sum(begun) > _MOSTLY * len(begun):
        edges = [c.left - _ALIGNED for c in cells]
    else:
        edges = [cells[0].left - 400.0, *((a.middle + b.middle) / 2 for a, b in pairwise(cells))]
    return list(pairwise([*edges, 1e4]))


def _slot_of(cell: Cell, slots: _Slots) -> int | None:
    """Return in which box a cell stands whole."""
    return next((at for at, (a, b) in enumerate(slots) if a <= cell.left and cell.right <= b), None)


def _fits(line: Line, slots: _Slots) -> bool:
    return bool(line.cells) and all(_slot_of(cell, slots) is not None for cell in line.cells)


def _texts(line: Line, slots: _Slots) -> dict[int, list[Cell]]:
    found: dict[int, list[Cell]] = {}
    for cell in line.cells:
        at = _slot_of(cell, slots)
        if at is not None:
            found.setdefault(at, []).append(cell)
    return found


def _values(lines: Sequence[Line], near: Sequence[int], slots: _Slots) -> int | None:
    """Return the one line of values: the only one, or the one in plainly larger letters."""
    valued = [n for n in near if _is_values(lines[n], slots) and not _ends(lines, n, near, slots)]
    valued.sort(key=lambda n: -lines[n].height)
    if len(valued) > 1 and lines[valued[0]].height < _LARGER * lines[valued[1]].height:
        return None
    return valued[0] if valued else None


def _ends(lines: Sequence[Line], at: int, near: Sequence[int], slots: _Slots) -> bool:
    """Whether the numbers of a line end what the line above them began: "Reporting limit:"."""
    if at - 1 not in near:
        return False
    over, own = _texts(lines[at - 1], slots), _texts(lines[at], slots)
    return all(place in over and over[place][-1].text.endswith(":") for place in own)


def _is_values(line: Line, slots: _Slots) -> bool:
    texts = [join(_told(cells)).text for cells in _texts(line, slots).values()]
    good = sum(value_of(t) is not None and unit_of(t) is None for t in texts)
    return good >= max(1, _MOSTLY * len(texts)) and good >= _MOSTLY * len(slots) - 1


def _told(cells: Sequence[Cell], *, letters: bool = False) -> list[Cell]:
    """Return the first cells of a box that are a value with its unit; a verdict may follow them."""
    for end in range(len(cells), 1, -1):
        text = join(cells[:end]).text
        if value_of(text, letters=letters) is not None:
            return list(cells[:end])
    return list(cells[:1]) if value_of(cells[0].text, letters=letters) else list(cells)


def _boxes(
    names: Line, slots: _Slots, values: Line, others: Sequence[Line], context: Context
) -> Iterator[Line]:
    """Yield a line for each box, with its name and what is told of it."""
    told = _texts(values, slots)
    more = [_texts(line, slots) for line in others]
    for at, name in enumerate(names.cells):
        cells = list(told.get(at, []))
        if not cells:
            continue
        units = [m[at] for m in more if at in m and unit_of(join(m[at]).text) is not None]
        match = analyte_in(name.text.rstrip(":"))
        letters = match is not None and microbial(match.slug)
        cells = _told(cells, letters=letters)
        if len(cells) == 1 and units:
            cells += units[0]
        value = join(cells)
        if value_of(value.text, letters=letters) is None:
            context.lost(value, "not_understood", f"{name.text} {value.text}")
            continue
        line = Line(names.index, page=names.page, plain_text=names.plain_text)
        line.top, line.bottom = names.top, names.bottom
        line.cells = [name, value]
        line.answer = (name, value)
        whole = [cell for m in more for cell in m.get(at, ())]
        line.least = least_told(join(whole)) if whole else None
        yield line

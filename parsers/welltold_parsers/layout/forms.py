"""Reads printed forms: a row of small keys, and a row of what was filled in right under it.

    LAB NUMBER     DATE COLLECTED   TIME
    BW-2206418     06/14/2022       7:15 AM

One such pair may be a list of one sample; several pairs below each other are a form, and so is one
that a test with its result follows, or whose keys are captions in small type.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line, join
from .dates import is_date, is_hour
from .facts import KEYS, Fact
from .tokens import analyte_in
from .words import head_of

_NEAR = 1.6
"""How far the filled-in row may stand below its keys, in heights of a line."""
_ALIGNED = 5.0
_SMALL = 0.8
"""Captions in the corner of a box are set in letters so much smaller than what is filled in."""
_TIGHT = 0.8
"""Lines of one text stand no farther apart, in heights of a line."""
_BRACKETS = re.compile(r"\([^()]*\)")
_FEWEST = 2
_HEADS = frozenset({"analyte", "result"})
"""What only the head of a table announces, never the key of a form."""


def form_pairs(lines: Sequence[Line]) -> list[tuple[Line, Line]]:
    """Return the rows of keys with the row under each, where the lines hold a form; else none."""
    pairs: list[tuple[Line, Line]] = []
    alone = False
    for at, (keys, values) in enumerate(pairwise(lines)):
        if pairs and keys is pairs[-1][1]:
            continue
        more = lines[at + 2] if at + 2 < len(lines) else None
        _join_hours(keys, values)
        _join_boxes(keys, values)
        small = _is_caption(keys, values)
        known = is_keys(keys) or (bool(pairs) and keys is _next(lines, pairs) and _asks_on(keys))
        if not small and not (known and _under(keys, values)):
            continue
        if more is None or not _goes_on(values, more) or (small and _wraps(values, more)):
            pairs.append((keys, values))
            alone = alone or small or _all_asked(keys) or (more is not None and _names_test(more))
    sample = any(role in _SAMPLE for keys, _ in pairs for role in map(_role, keys.cells))
    return pairs if (len(pairs) >= _FEWEST or alone) and sample else []


def _next(lines: Sequence[Line], pairs: Sequence[tuple[Line, Line]]) -> Line | None:
    """Return the line right below the last pair."""
    at = next(n for n, line in enumerate(lines) if line is pairs[-1][1])
    return lines[at + 1] if at + 1 < len(lines) else None


def _asks_on(line: Line) -> bool:
    """Whether a form goes on with tests made at the tap among its keys: "pH | Received"."""
    if line.sheet is not None or any(x.isdigit() for c in line.cells for x in c.text):
        return False
    told = [_role(c) in KEYS for c in line.cells]
    tests = [analyte_in(c.text) is not None for c in line.cells]
    return any(told) and all(a or b for a, b in zip(told, tests, strict=True))


def _join_hours(keys: Line, values: Line) -> None:
    """Join the hour of a day to its day, where no key stands over it: "05/12/26   9:40 AM"."""
    if values.sheet is not None or not any(map(is_hour, [c.text for c in values.cells[1:]])):
        return
    whole: list[Cell] = []
    for cell in values.cells:
        lone = not any(_aligned(key, cell) for key in keys.cells)
        if whole and lone and is_hour(cell.text) and is_date(whole[-1].text):
            whole[-1] = join([whole[-1], cell])
        else:
            whole.append(cell)
    if sum(any(_aligned(k, v) for k in keys.cells) for v in whole) == len(whole):
        values.cells = whole


def _join_boxes(keys: Line, values: Line) -> None:
    """Join what else was filled in in the box of a key: "W. BRANDT   ID 2207", "[X] Raw  [ ] New".

    Only under keys alone, and where all values fit their boxes then.
    """
    if len(values.cells) < _FEWEST or values.sheet is not None or not is_keys(keys):
        return
    if values.top - keys.bottom > _NEAR * keys.height or _role(values.cells[0]) in KEYS:
        return
    if not _HEADS.isdisjoint(map(_role, values.cells)):
        return  # the head of a table, below "SOURCE   KITCHEN   OWNER   HALLORAN T"
    whole: list[Cell] = []
    for cell in values.cells:
        lone = not any(_aligned(key, cell) for key in keys.cells)
        whole[-1:] = [join([whole[-1], cell])] if whole and lone else [*whole[-1:], cell]
    boxes = {id(k) for v in whole for k in keys.cells if _aligned(k, v)}
    if len(whole) < len(values.cells) and len(boxes) == len(whole) >= _FEWEST:
        values.cells = whole


def _all_asked(keys: Line) -> bool:
    """Whether every key ends in a colon: "Lab No.:   Sample ID:   Date Sampled:"."""
    return all(c.text.endswith(":") and c.text.count(":") == 1 for c in keys.cells)


def _is_caption(keys: Line, values: Line) -> bool:
    """Whether keys in small type stand over what was filled in, one known key among them."""
    if keys.sheet is not None or keys.page != values.page or not values.cells:
        return False
    if keys.height > _SMALL * values.height or values.top - keys.bottom > values.height:
        return False
    roles = [_role(c) for c in keys.cells]
    if "result" in roles or not KEYS.intersection(roles):
        return False  # "Property" may be a house here, and the head of a table's names elsewhere
    digits = any(x.isdigit() for c in keys.cells for x in _BRACKETS.sub("", c.text))
    return not digits and all(any(_aligned(k, v) for k in keys.cells) for v in values.cells)


def _goes_on(values: Line, more: Line) -> bool:
    if len(more.cells) == 1 and len(values.cells) > _FEWEST:
        return False  # a heading below
    return not _names_test(more) and _under(values, more)


def _wraps(values: Line, more: Line) -> bool:
    """Whether a line only ends what was filled in above it: "LAUNDRY SINK," over "COLD"."""
    near = more.top - values.bottom < _TIGHT * values.height
    digits = any(x.isdigit() for c in more.cells for x in c.text)
    return near and not digits and len(more.cells) < len(values.cells)


def _names_test(line: Line) -> bool:
    """Whether a line is the result of a test: no list of samples goes on with it."""
    return line.answer is not None or (
        len(line.cells) > 1 and analyte_in(line.cells[0].text.rstrip(":")) is not None
    )


_SAMPLE = frozenset({"lab_id", "sample_id", "client_id", "point", "collected"})


def is_keys(line: Line) -> bool:
    """Whether a line of a page holds nothing but keys without a colon."""
    if line.sheet is not None or len(line.cells) < 2:
        return False
    roles = [_role(c) for c in line.cells]
    if not _HEADS.isdisjoint(roles):
        return False
    known = sum(role in KEYS for role in roles)
    return known >= 0.5 * len(line.cells) and not any(
        x.isdigit() or x == ":" for c in line.cells if not _role(c) for x in c.text.rstrip(":")
    )


def facts_in(keys: Line, values: Line) -> list[Fact]:
    """Return the facts of one row of keys and the row under it."""
    found = []
    before = ""
    for key in keys.cells:
        role = _role(key)
        if bare_key(key.text).lower() == "time" and before == "collected":
            role = "collected_time"
        before = role
        value = next((v for v in values.cells if _aligned(key, v)), None)
        if role and value is not None:
            found.append(Fact(role, value.text, key.text, value))
    return found


def bare_key(text: str) -> str:
    """Return a key without what stands in brackets: "TIME (24 HR)"."""
    return _BRACKETS.sub("", text).strip() or text


def _role(cell: Cell) -> str:
    head = head_of(cell.text)
    if head is None or head.score < 1:
        head = head_of(bare_key(cell.text))
    return head.role if head is not None and head.score >= 1 else ""


def _under(keys: Line, values: Line) -> bool:
    """Whether the second line is filled in under the first, cell by cell."""
    if keys.page != values.page or is_keys(values) or not values.cells:
        return False
    if _role(values.cells[0]) in KEYS:
        return False  # a key of its own, with its value beside it
    if values.top - keys.bottom > _NEAR * keys.height or len(values.cells) > len(keys.cells):
        return False
    return all(any(_aligned(k, v) for k in keys.cells) for v in values.cells)


def _aligned(key: Cell, value: Cell) -> bool:
    return abs(key.left - value.left) < _ALIGNED

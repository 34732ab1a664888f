"""The lines above a head line that belong to it: a head may be stacked over several."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Line
from .earlier_columns import tells_earlier
from .head_cells import (
    SAMPLE_ROLES,
    STRONG,
    TABLE_ROLES,
    is_key,
    is_remark,
    is_value,
    overlap,
    roles_in,
)
from .title_places import is_title_row
from .tokens import analyte_in, is_number, unit_of, value_of
from .words import head_of

_BLANK_ROWS = 2
"""In a sheet the samples' rows may stand over the head with an empty row between."""
_TITLE = 4
"""Words that a title has, and a head over two columns has not."""


def stack_above(lines: Sequence[Line], at: int, floor: int, start: int | None = None) -> int:
    """Return the first line of the stacked head whose lowest line is at ``at``.

    ``start`` is the first of its lines that is known already.
    """
    first = at if start is None else start
    main = lines[at]
    pitch = lines[at + 1].top - main.top if at + 1 < len(lines) else 0.0
    while first - 1 >= floor and (
        _stacks(lines[first - 1], lines[first], main, pitch)
        or _over_one_each(lines[first - 1], lines[first], pitch)
    ):
        first -= 1
    return first


def _over_one_each(upper: Line, lower: Line, pitch: float) -> bool:
    """Whether each cell of a line stands over a cell of its own, at the pitch of the rows.

    A printed spreadsheet has the samples' numbers so, over their days.
    """
    if upper.sheet is not None or upper.page != lower.page or len(upper.cells) < 2:
        return False
    if at_rest(upper) or not 0 < lower.top - upper.top <= 1.3 * pitch:
        return False
    under = [[i for i, c in enumerate(lower.cells) if overlap(c, u)] for u in upper.cells]
    if any(len(found) != 1 for found in under) or len({f[0] for f in under}) < len(under):
        return False
    return not any(is_number(c.text) or analyte_in(c.text) for c in upper.cells)


def _stacks(upper: Line, lower: Line, main: Line, pitch: float) -> bool:
    if upper.page != main.page or upper.sheet != main.sheet:
        return False
    if _sample_row(upper, main) and _adjacent(upper, lower, pitch):
        return True
    if main.sheet is not None:
        return not at_rest(upper) and _sheet_stacks(upper, lower, main)
    far = lower.top - upper.bottom > 0.75 * main.height and not _spans(upper, lower, pitch)
    if (
        far
        or at_rest(upper)
        or any(map(is_remark, upper.cells))
        or _sticks_out(upper, lower, main)
        or _titles(upper, lower, main)
    ):
        return False
    return _page_stacks(upper, lower)


def _titles(upper: Line, lower: Line, main: Line) -> bool:
    """Whether a line begins with a title that runs over the first heads of a table.

    It stands over none of the line between, or says more than a head over two columns would.
    """
    if not upper.cells:
        return False
    if lower is main:
        return _over_whole_head(upper, main)
    title = upper.cells[0]
    wide = len(main.cells) > 1 and all(overlap(c, title) for c in main.cells[:2])
    long = len(title.text.split()) >= _TITLE
    return wide and (long or not any(overlap(c, title) for c in lower.cells))


def _over_whole_head(upper: Line, main: Line) -> bool:
    """Whether a line right over a head that lacks nothing begins with a title, not with a head.

    A title has many words and stands over two heads, or over the white between them.
    """
    title, roles = upper.cells[0], [roles_in(c) for c in main.cells]
    if len(title.text.split()) <= _TITLE or not all(roles):
        return False
    if not {"analyte", "result"} <= {role for found in roles for role in found}:
        return False
    under = sum(overlap(c, title) for c in main.cells)
    return under != 1 or not any(c.left - 6 < title.middle < c.right + 6 for c in main.cells)


def _spans(upper: Line, lower: Line, pitch: float) -> bool:
    """Whether a line at the pitch of the rows has heads that span several of those below."""
    if not 0 < lower.top - upper.top <= min(1.1 * pitch, 2.6 * lower.height):
        return False
    wide = [sum(overlap(c, u) for c in lower.cells) >= 2 for u in upper.cells if u.words]
    heads = [h for c in upper.cells if (h := head_of(c.text)) and h.score >= 0.9]
    return any(wide) and bool(heads)


def _sticks_out(upper: Line, lower: Line, main: Line) -> bool:
    """Whether a line is too wide for a head's upper line, or stands beside the table."""
    left = min(main.cells[0].left, lower.cells[0].left)
    right = max(main.cells[-1].right, lower.cells[-1].right)
    wide = max(c.right - c.left for c in upper.cells) > 0.45 * (right - left)
    return wide or any(c.right < left - 20 or c.left > right + 20 for c in upper.cells)


def _page_stacks(upper: Line, lower: Line) -> bool:
    if len(upper.cells) >= 2:
        number = any(is_value(c) and is_number(c.text) for c in upper.cells)
        return not number and not _tells_not_found(upper)
    only = upper.cells[0]
    under = [c for c in lower.cells if overlap(only, c)]
    if len(under) > 1 and only.left > lower.cells[0].right and tells_earlier(only.text):
        return True  # a group of columns, not the title of all that follows
    return len(under) == 1 and _belongs(only.text, under[0].text)


def _tells_not_found(line: Line) -> bool:
    """Whether a line is a row: a test that was not detected, the last of the list beside."""
    named = analyte_in(line.cells[0].text) is not None
    values = [value_of(c.text) for c in line.cells[1:]] if named else []
    return any(v is not None and v.state in {"below", "absent", "present"} for v in values)


def _belongs(upper: str, lower: str) -> bool:
    """Whether one line of text right above a head is a part of it."""
    if len(upper.split()) > 3:
        return False
    whole = head_of(f"{upper} {lower}")
    if whole is not None and whole.score >= STRONG:
        return True
    alone = head_of(lower)
    return (alone is None or alone.score < STRONG) and analyte_in(lower) is None


def _adjacent(upper: Line, lower: Line, pitch: float) -> bool:
    """Whether one line stands right over another, at the pitch of the rows where that is wide."""
    if upper.sheet is not None:
        return lower.index - upper.index <= _BLANK_ROWS
    wide = min(1.15 * pitch, 3 * lower.height)
    return lower.top - upper.bottom < 0.9 * lower.height or lower.top - upper.top < wide


def _sample_row(line: Line, main: Line) -> bool:
    """Whether a line gives the samples' numbers, places or dates over the columns of a table."""
    first, others = line.cells[0], line.cells[1:]
    head = head_of(first.text.rstrip(":"))
    if len(others) < 2 or head is None or head.score < STRONG:
        return False
    told = SAMPLE_ROLES | {"report_id", "reported", "number"}
    others = [c for c in others if not TABLE_ROLES.issuperset(roles_in(c) or ("",))]
    if len(others) < 2 or head.role not in told:
        return False  # beside the samples may stand a column of its own: "State Std."
    if any(roles_in(c) or c.text.endswith(":") or is_key(c) for c in others):
        return False
    under = [c for c in main.cells[1:] if any(overlap(c, o) for o in others)]
    if not under and main.cells[-1].right < others[0].left:
        return True  # the samples' columns have no other head
    return len(under) >= 0.5 * len(others) and len(under) >= 2


def _key_and_value(line: Line) -> bool:
    """Whether a row of a sheet is "Collected | 12-Mar 2024", though its columns are the table's."""
    if len(line.cells) != 2:
        return False
    key, value = head_of(line.cells[0].text), head_of(line.cells[1].text)
    known = key is not None and key.score >= STRONG and key.role not in {"result", "analyte"}
    plain = value is None or value.score < STRONG
    return known and plain and unit_of(line.cells[1].text) is None


def _sheet_stacks(upper: Line, lower: Line, main: Line) -> bool:
    if lower.index - upper.index > 1 or len(upper.cells) < 2 or _key_and_value(upper):
        return False
    if is_title_row(upper, main):
        return False
    columns = {c.left for c in main.cells}
    inside = sum(c.left in columns for c in upper.cells)
    return inside >= 1 and not any(is_number(c.text) for c in upper.cells) and len(upper.cells) >= 2


def at_rest(line: Line) -> bool:
    """Whether a line is plainly a key and its value, not a part of a head."""
    return bool([c for c in line.cells if ":" in c.text and not c.text[0].isdigit()])

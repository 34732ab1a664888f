"""Which lines are the head of a table.

A head line is told by what its cells announce, never by its looks: words like "Analyte" and
"Result" in cells of their own, or several analytes side by side with no value among them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal, NamedTuple

from .cells import Cell, Line
from .dates import is_date
from .isotopes import is_isotope
from .sheet_names import is_amount
from .title_places import is_title_row
from .tokens import analyte_in, analytes_within, is_number, microbial, unit_of, value_of
from .words import head_of, segments

SAMPLE_ROLES = frozenset(
    {
        "lab_id",
        "sample_id",
        "client_id",
        "point",
        "collected",
        "collected_time",
        "received",
        "matrix",
        "taken",
        "sample_type",
    }
)
_TABLE_ROLES = frozenset(
    {
        "unit",
        "qualifier",
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "status",
        "method",
        "cas",
        "analyzed",
    }
)
_CONTROL = re.compile(r"(?i)\bsurrogates?\b|\brecover(?:y|ies)\b|% ?rec\b|\bspike\b")
_STRONG = 0.95
_LOOK_AHEAD = 12
_APART = 3
_TITLE = 4
"""Words that a title has, and a head over two columns has not."""
_LETTERED = 2
"""Names in the line of a germ and its answer: "P" is phosphorus too."""

Kind = Literal["rows", "across", "samples"]


class HeadLine(NamedTuple):
    """A head line: of a table with analytes in rows, with analytes across, or of a sample list."""

    kind: Kind
    at: int
    """Place in the list of lines."""


def roles_in(cell: Cell) -> tuple[str, ...]:
    """Return the roles that a cell announces outright; several when heads are glued."""
    if cell.text.endswith(":"):
        return ()
    head = head_of(cell.text)
    if head and head.score >= _STRONG:
        return (head.role,)
    return tuple(role for _, _, role in segments(cell.text))


def find_head(lines: Sequence[Line], at: int) -> HeadLine | None:
    """Return what kind of head the line at this index is, or None."""
    cells = lines[at].cells
    if not _may_be_head(cells):
        return None
    roles = [role for cell in cells for role in roles_in(cell)]
    kind = _kind(lines, at, roles)
    return HeadLine(kind, at) if kind else None


def _may_be_head(cells: Sequence[Cell]) -> bool:
    """Whether nothing in a line speaks against its being a head."""
    if len(cells) < 2 and not (cells and len(segments(cells[0].text)) >= 3):
        return False
    if sum(map(_is_key, cells)) > len(cells) / 3:
        return False
    if sum(is_number(c.text) for c in cells) > 0.25 * len(cells):
        return False
    return not (keys_and_values(cells) or _is_row(cells))


def _kind(lines: Sequence[Line], at: int, roles: list[str]) -> Kind | None:
    cells, names = lines[at].cells, set(roles)
    if _rows_head(names, roles, cells):
        return "rows"
    if _across_head(lines, at, names):
        return "across"
    control = len(names) >= 2 and any(_CONTROL.search(c.text) for c in cells)
    if control or ("analyte" in names and _names_below(lines, at) >= 1):
        return "rows"
    if len(names) >= 2 and names & _TABLE_ROLES and _names_below(lines[: at + 7], at) >= 2:
        return "rows"
    dated = any(is_date(c.text) for c in cells)  # a day is what was filled in beside a key
    if len(names & SAMPLE_ROLES) >= 2 and len(roles) >= 0.6 * len(cells) and not dated:
        return "samples"
    return None


def _is_key(cell: Cell) -> bool:
    """Whether a cell is a key, alone or with its value: "Job ID: 340-71822-1"."""
    key, colon, value = cell.text.partition(":")
    if not colon or not value.strip():
        return bool(colon)
    head = head_of(key)
    return head is not None and head.score >= _STRONG


def _is_row(cells: Sequence[Cell]) -> bool:
    """Whether a line is itself a row: an analyte first, and a value behind it."""
    if not any(_valued(c) and any(x.isdigit() for x in c.text) for c in cells[1:]):
        return _is_answer(cells)
    return any(analyte_in(c.text) for c in cells)


def _is_answer(cells: Sequence[Cell]) -> bool:
    """Whether a line is a germ and its answer in one letter: "E. coli | A"."""
    named = [(at, slug) for at, c in enumerate(cells) if (slug := head_analyte(c.text))]
    if len(named) > _LETTERED or not named or not microbial(named[0][1]):
        return False
    behind = cells[named[0][0] + 1 :]
    return bool(behind) and behind[0].text.upper() in {"P", "A"}


def keys_and_values(cells: Sequence[Cell]) -> bool:
    """Whether heads and other texts take turns: "Laboratory No. | 5583 | Received | 5 May"."""
    if len(cells) not in {2, 4, 6, 8}:
        return False
    keys = [roles_in(c) for c in cells[::2]]
    if all(keys) and any(is_date(c.text) for c in cells[1::2]):
        return True  # "Reported | 10/01/2026 | Sampled by | client"
    if any(len(k) != 1 or k[0] in {"analyte", "result"} for k in keys):
        return False
    values = cells[1::2]
    if any(any(x.isdigit() for x in c.text) and not roles_in(c) for c in values):
        return True  # "Lab ID | HG-05498 | Sample Point | Well head"
    return not any(roles_in(c) for c in values)


def _rows_head(names: set[str], roles: list[str], cells: Sequence[Cell]) -> bool:
    if len(roles) < 0.4 * len(cells) or (
        any(analyte_in(c.text) for c in cells[:1]) and len(names) < 3
    ):
        return False
    core = names & {"analyte", "result"}
    if len(core) == 2:
        return True
    others = names - {"person", "remark", "status", "volume"} - SAMPLE_ROLES
    if core and len(others) >= 2:
        return True
    return core == {"result"} and bool(names & SAMPLE_ROLES)


def _across_head(lines: Sequence[Line], at: int, names: set[str]) -> bool:
    cells = lines[at].cells
    found = [c for c in cells if head_analyte(c.text)]
    samples = sum(bool(SAMPLE_ROLES.intersection(roles_in(c))) for c in cells)
    if sum(len(c.text) <= 2 for c in found) < 3 and samples + len(found) < len(cells):
        found = [c for c in found if len(c.text) > 2]
    found.extend(c for c in cells if c not in found and _many_names(c))
    several = any(_many_names(c) for c in found)
    if not found or any(_valued(c) for c in cells if c not in found):
        return False
    alone = len(found) < 2 or len({head_analyte(c.text) for c in found}) == 1
    if alone and not names & SAMPLE_ROLES and not several:
        return False
    good = 0
    for line in lines[at + 1 : at + 1 + _LOOK_AHEAD]:
        under = sum(any(_over(c, f) and _answers(c, f) for f in found) for c in line.cells)
        if len(found) >= _APART and line.sheet is None:
            under = max(under, _between_heads(line, found))
        enough = 3 if several else max(1, 0.5 * len(found))
        good += under >= enough and not any(analyte_in(c.text) for c in line.cells[:1])
    return good >= 1


def _between_heads(line: Line, found: Sequence[Cell]) -> int:
    """Count the heads that have one value before the next head begins.

    In a printed spreadsheet heads stand on the left of their cells and numbers on the right.
    """
    edges = sorted(f.left for f in found)
    ends = [*edges[1:], 2 * edges[-1] - edges[-2] if len(edges) > 1 else edges[-1]]
    good = 0
    for left, right in zip(edges, ends, strict=True):
        inside = [c for c in line.cells if left - 2 <= c.left and c.right <= right + 2]
        good += len(inside) == 1 and _valued(inside[0])
    return good


def _many_names(cell: Cell) -> bool:
    """Whether a cell holds the heads of several columns that stand very near each other."""
    if len(cell.words) < 3:
        return False
    return len({m.slug for _, _, m in analytes_within(cell.text)}) >= 3


def head_analyte(text: str) -> str | None:
    """Return the slug of the one analyte that a column head names, or None."""
    if len(text) > 90 or is_isotope(text) or is_amount(text):
        return None
    exact = analyte_in(text)
    if exact:
        return exact.slug
    head = head_of(text)
    if head and head.score >= _STRONG:
        return None
    within = {m.slug for _, _, m in analytes_within(text)}
    return within.pop() if len(within) == 1 and len(text.split()) <= 10 else None


def _names_below(lines: Sequence[Line], at: int) -> int:
    good = 0
    for line in lines[at + 1 : at + 1 + _LOOK_AHEAD]:
        cells = line.cells
        if not good and line.sheet is None and any(map(_is_key, cells)):
            break  # keys right below: a title, not a head
        if len(cells) >= 2 and any(analyte_in(c.text) for c in cells[:40]):
            good += any(_valued(c) for c in cells[1:])
    return good


def _answers(cell: Cell, head: Cell) -> bool:
    """Whether a cell can be a result under a head: "A" and "P" only under a germ."""
    if _valued(cell):
        return True
    slug = head_analyte(head.text) if len(cell.text) == 1 else None
    return slug is not None and microbial(slug) and value_of(cell.text, letters=True) is not None


def _valued(cell: Cell) -> bool:
    return value_of(cell.text) is not None and unit_of(cell.text) is None


def _over(a: Cell, b: Cell) -> bool:
    slack = 0.0 if a.line.sheet is not None else 6.0
    return min(a.right, b.right) - max(a.left, b.left) > -slack


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
    under = [[i for i, c in enumerate(lower.cells) if _over(c, u)] for u in upper.cells]
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
    if far or at_rest(upper) or _sticks_out(upper, lower, main) or _titles(upper, lower, main):
        return False
    return _page_stacks(upper, lower)


def _titles(upper: Line, lower: Line, main: Line) -> bool:
    """Whether a line begins with a title that runs over the first heads of a table.

    It stands over none of the line between, or says more than a head over two columns would.
    """
    if lower is main or not upper.cells:
        return False
    title = upper.cells[0]
    wide = len(main.cells) > 1 and all(_over(c, title) for c in main.cells[:2])
    long = len(title.text.split()) >= _TITLE
    return wide and (long or not any(_over(c, title) for c in lower.cells))


def _spans(upper: Line, lower: Line, pitch: float) -> bool:
    """Whether a line at the pitch of the rows has heads that span several of those below."""
    if not 0 < lower.top - upper.top <= min(1.1 * pitch, 2.6 * lower.height):
        return False
    wide = [sum(_over(c, u) for c in lower.cells) >= 2 for u in upper.cells if u.words]
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
        return not any(_valued(c) and is_number(c.text) for c in upper.cells)
    only = upper.cells[0]
    under = [c for c in lower.cells if _over(only, c)]
    return len(under) == 1 and _belongs(only.text, under[0].text)


def _belongs(upper: str, lower: str) -> bool:
    """Whether one line of text right above a head is a part of it."""
    if len(upper.split()) > 3:
        return False
    whole = head_of(f"{upper} {lower}")
    if whole is not None and whole.score >= _STRONG:
        return True
    alone = head_of(lower)
    return (alone is None or alone.score < _STRONG) and analyte_in(lower) is None


def _adjacent(upper: Line, lower: Line, pitch: float) -> bool:
    """Whether one line stands right over another, at the pitch of the rows where that is wide."""
    if upper.sheet is not None:
        return lower.index - upper.index <= 1
    wide = min(1.15 * pitch, 3 * lower.height)
    return lower.top - upper.bottom < 0.9 * lower.height or lower.top - upper.top < wide


def _sample_row(line: Line, main: Line) -> bool:
    """Whether a line gives the samples' numbers, places or dates over the columns of a table."""
    first, others = line.cells[0], line.cells[1:]
    head = head_of(first.text.rstrip(":"))
    if len(others) < 2 or head is None or head.score < _STRONG:
        return False
    told = SAMPLE_ROLES | {"report_id", "reported"}
    others = [c for c in others if not _TABLE_ROLES.issuperset(roles_in(c) or ("",))]
    if len(others) < 2 or head.role not in told:
        return False  # beside the samples may stand a column of its own: "State Std."
    if any(roles_in(c) or c.text.endswith(":") or _is_key(c) for c in others):
        return False
    under = [c for c in main.cells[1:] if any(_over(c, o) for o in others)]
    if not under and main.cells[-1].right < others[0].left:
        return True  # the samples' columns have no other head
    return len(under) >= 0.5 * len(others) and len(under) >= 2


def _key_and_value(line: Line) -> bool:
    """Whether a row of a sheet is "Collected | 12-Mar 2024", though its columns are the table's."""
    if len(line.cells) != 2:
        return False
    key, value = head_of(line.cells[0].text), head_of(line.cells[1].text)
    known = key is not None and key.score >= _STRONG and key.role not in {"result", "analyte"}
    plain = value is None or value.score < _STRONG
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
    return any(":" in c.text and not c.text[0].isdigit() for c in line.cells)

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
from .elements import symbols_among
from .head_cells import (
    SAMPLE_ROLES,
    TABLE_ROLES,
    head_analyte,
    is_key,
    is_remark,
    is_value,
    overlap,
    roles_in,
)
from .headings import title_with_unit
from .tokens import analyte_in, analytes_within, is_number, microbial, value_of
from .words import segments, split_unit

_CONTROL = re.compile(r"(?i)\bsurrogates?\b|\brecover(?:y|ies)\b|% ?rec\b|\bspike\b")
_YEAR = re.compile(r"(?:19|20)\d\d")
_MARK = re.compile(r"[xX✗✘✓✔]|[☒☑☐■□]|\[\s?[xX✓✔]?\s?\]")
_LOOK_AHEAD = 12
_APART = 3
_TITLED = 2
_MANY = 8
"""Heads in a table with tests across that leave no doubt what it is."""
_EDGE = 3.0
"""Points by which names may begin beside the left edge of their head."""
_LETTERED = 2
"""Names in the line of a germ and its answer: "P" is phosphorus too."""

Kind = Literal["rows", "across", "samples"]


class HeadLine(NamedTuple):
    """A head line: of a table with analytes in rows, with analytes across, or of a sample list."""

    kind: Kind
    at: int
    """Place in the list of lines."""


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
    if sum(map(is_key, cells)) > len(cells) / 3:
        return False
    if len(cells) == _TITLED and is_remark(cells[-1]):
        return False  # "ANALYSIS RESULTS   All results are in mg/L but pH. A blank means ..."
    if cells[0].line.sheet is None and any(map(_MARK.fullmatch, [c.text for c in cells])):
        return False  # one of the things named beside it was ticked
    numbers = sum([is_number(c.text) for c in cells])
    if numbers > 0.25 * len(cells) and not _years_across(cells, numbers):
        return False
    return not (keys_and_values(cells) or _is_row(cells))


def _years_across(cells: Sequence[Cell], numbers: int) -> bool:
    """Whether all numbers of a line are years, side by side behind a head of tests."""
    years = {c.text for c in cells if _YEAR.fullmatch(c.text)}
    return numbers == len(years) > 1 and "analyte" in roles_in(cells[0])


def _kind(lines: Sequence[Line], at: int, roles: list[str]) -> Kind | None:
    cells, names = lines[at].cells, set(roles)
    if _rows_head(names, roles, cells) and not (
        _many_tests(cells) and _across_head(lines, at, names)
    ):  # "Al" and "Er" among fifty symbols are no heads of limits
        return "rows"
    if _across_head(lines, at, names):
        return "across"
    control = len(names) >= 2 and any(_CONTROL.search(c.text) for c in cells)
    if control or ("analyte" in names and _names_below(lines, at) >= 1):
        return "rows"
    listed = len(names) >= 2 and names & TABLE_ROLES and _names_below(lines[: at + 7], at) >= 2
    if listed or (names <= {"result", *TABLE_ROLES} and _results_under(lines, at) >= 3):
        return "rows"
    dated = any(is_date(c.text) for c in cells)  # a day is what was filled in beside a key
    if len(names & SAMPLE_ROLES) >= 2 and len(roles) >= 0.6 * len(cells) and not dated:
        return "samples"
    return None


def _is_row(cells: Sequence[Cell]) -> bool:
    """Whether a line is itself a row: an analyte first, and a value behind it."""
    if not any(is_value(c) and any(x.isdigit() for x in c.text) for c in cells[1:]):
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
    if len(values) > 1 and all(head_analyte(c.text) for c in values):
        return False  # "Sample # | Lead | Sample # | Lead" under two ways to draw
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


def _many_tests(cells: Sequence[Cell]) -> bool:
    """Whether at least half of many heads name tests, all different."""
    if len(cells) < _MANY:
        return False
    return 2 * len({s for c in cells if (s := head_analyte(c.text)) is not None}) >= len(cells)


def _across_head(lines: Sequence[Line], at: int, names: set[str]) -> bool:
    cells = lines[at].cells
    found = [c for c in cells if head_analyte(c.text)]
    samples = sum(bool(SAMPLE_ROLES.intersection(roles_in(c))) for c in cells)
    if sum(len(c.text) <= 2 for c in found) < 3 and samples + len(found) < len(cells):
        found = [c for c in found if len(c.text) > 2]
    found.extend(c for c in cells if c not in found and _many_names(c))
    several = any(_many_names(c) for c in found)
    symbols = symbols_among([c.text for c in cells])  # "Nd" among symbols does not deny anything
    if not found or any(is_value(c) for c in cells if c not in found and c.text not in symbols):
        return False
    alone = len(found) < 2 or len({head_analyte(c.text) for c in found}) == 1
    if alone and not names & SAMPLE_ROLES and not several:
        return False
    good = 0
    for line in lines[at + 1 : at + 1 + _LOOK_AHEAD]:
        under = sum(any(overlap(c, f) and _answers(c, f) for f in found) for c in line.cells)
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
        good += len(inside) == 1 and is_value(inside[0])
    return good


def _many_names(cell: Cell) -> bool:
    """Whether a cell holds the heads of several columns that stand very near each other."""
    if len(cell.words) < 3:
        return False
    return len({m.slug for _, _, m in analytes_within(cell.text)}) >= 3


def _results_under(lines: Sequence[Line], at: int) -> int:
    """Count the rows right below that have a name under the first head, and a value under "Result".

    What stands over the names may then be a word that nobody has listed.
    """
    if lines[at].sheet is not None:
        return 0  # in a sheet nothing is told by an edge: `sheet_heads` asks what stands below
    first, *others = lines[at].cells
    titled = title_with_unit(lines[at].text) is not None  # "METALS   results in ug/L"
    if titled or roles_in(first) or is_value(first) or first.text.endswith((":", ".")):
        return 0
    over = next((c for c in others if roles_in(c) == ("result",)), None)
    if over is None or any(map(is_value, others)):
        return 0
    good = 0
    for line in lines[at + 1 : at + 1 + _LOOK_AHEAD]:
        cells = line.cells
        if line.page != lines[at].page or abs(cells[0].left - first.left) > _EDGE:
            continue
        named = len(cells) >= 2 and analyte_in(split_unit(cells[0].text)[0]) is not None
        good += named and any(is_value(c) and overlap(c, over) for c in cells[1:])
    return good


def _names_below(lines: Sequence[Line], at: int) -> int:
    good = 0
    for line in lines[at + 1 : at + 1 + _LOOK_AHEAD]:
        cells = line.cells
        if not good and line.sheet is None and any(map(is_key, cells)):
            break  # keys right below: a title, not a head
        if len(cells) >= 2 and any(analyte_in(c.text) for c in cells[:40]):
            good += any(is_value(c) for c in cells[1:])
    return good


def _answers(cell: Cell, head: Cell) -> bool:
    """Whether a cell can be a result under a head: "A" and "P" only under a germ."""
    if is_value(cell):
        return True
    slug = head_analyte(head.text) if len(cell.text) == 1 else None
    return slug is not None and microbial(slug) and value_of(cell.text, letters=True) is not None

"""Reads lines that belong to no headed table: pairs, tables without a head, letters."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .analyte_columns import analyte_columns
from .bare_keys import day_on_site
from .cells import Cell, Line, of_words
from .column import Column
from .columns import page_columns, sheet_columns
from .context import Context
from .filled_in import Filled, filled_in
from .head_cells import SAMPLE_ROLES
from .letters import is_prose, read_letter
from .listing import ListReader
from .metadata import facts_of
from .onward import goes_on
from .planning import make_plan
from .printed import Printed
from .roles import Plan, ResultColumn
from .rows import RowReader
from .stated_limits import only_explains
from .tables import Table
from .ticks import has_boxes, read_ticks
from .tokens import analyte_in, analytes_within, microbial, unit_of, value_of

_PLACES_AT_LEAST = 3
_INDENT = 3.0
_HEADING = 6
"""Words of the heading of a group of places."""
_NO_FACTS = frozenset({"other", "volume", "remark", "number", "batch"})
"""Keys that say nothing of a sample; what stands behind them may be a result."""


def read_loose(lines: Sequence[Line], context: Context, last: tuple[Table, Plan] | None) -> None:
    """Read free lines in order; ``last`` is the table that may go on here."""
    if last is not None and _continues(lines, last):
        RowReader(Table("rows", [], list(lines), last[0].columns), last[1], context).read()
        return
    if context.title_analyte is not None and _read_places(lines, context):
        return
    run: list[Line] = []
    prose: list[Line] = []
    for line in lines:
        if _read_at_once(line, context):
            continue
        filled = [] if context.closed else filled_in(line)
        ends = bool(filled) or not (prose and _near(line, prose[-1]))
        if prose and (ends or not (is_prose(line) or _ends(line))):
            _read_prose(prose, context)
            prose = []
        if not filled and (_is_result(line) or (run and _within(line, run))):
            run.append(line)
            continue
        _read_run(run, context, last)
        run = []
        if filled:
            _read_filled(filled, line, context)
        elif prose or (is_prose(line) and not facts_of(line) and not has_boxes(line)):
            prose.append(line)
        else:
            _read_line(line, context)
    _read_prose(prose, context)
    _read_run(run, context, last)


def _read_at_once(line: Line, context: Context) -> bool:
    """Read a line that needs none of its neighbours: a legend, a name with its answer."""
    if only_explains(line.text):
        context.accounts.settle(line)
        return True
    if line.answer is not None and not context.closed:
        read_answer(line, context)
        return True
    return False


def _read_filled(filled: Sequence[Filled], line: Line, context: Context) -> None:
    """Read the tests that a form asks along one line."""
    context.accounts.settle(line)
    for one in filled:
        name = one.label.text.rstrip(":")
        printed = _printed(context, name, one.label, one.value.text, one.value)
        if one.unit is not None:
            printed.cells["unit"] = one.unit
        context.emit(printed)


def _continues(lines: Sequence[Line], last: tuple[Table, Plan]) -> bool:
    """Whether these lines are the rows of the table before, on a page or sheet without a head."""
    rows = [line for line in lines if len(line.cells) >= 3]
    least = 2 if last[1].analyte is not None else 1
    if len(rows) < least or len(rows) < 0.5 * len(lines):
        return False
    return _goes_on(Table("rows", [], rows[:60], last[0].columns), last[1])


def _read_places(lines: Sequence[Line], context: Context) -> bool:
    """Read a list of places with one number each under a title that names the analyte."""
    rows = [line for line in lines if _is_place(line)]
    others = [line for line in lines if len(line.cells) > 2]
    if len(rows) < _PLACES_AT_LEAST or len(others) > len(rows) or any(map(_is_result, lines)):
        return False
    first = lines.index(rows[0])
    above = _outermost(lines, first)
    for line in lines[:above]:
        _read_line(line, context)
    columns = _two_columns(rows)
    if len(columns) < 2:
        return False
    table = Table("rows", [], list(lines[above:]), columns)
    if len(columns) == 2:
        for line in rows:
            table.settle(line, list(line.cells))
    unit = context.section.unit
    result = ResultColumn(len(columns) - 1, context.section.unit_cell, unit)
    plan = Plan(None, [result], {}, True, ["point"] * (len(columns) - 1) + ["result"])  # noqa: FBT003 - sure
    context.start_list(ListReader(table, plan, context), table.lines)
    return True


def _outermost(lines: Sequence[Line], first: int) -> int:
    """Return where the headings of the first place begin, each less indented than the next."""
    above = first
    while above and len(lines[above - 1].cells) == 1 and not facts_of(lines[above - 1]):
        upper = lines[above - 1]
        if above < first and (
            upper.cells[0].left > lines[above].cells[0].left - _INDENT
            or analytes_within(upper.text)
            or len(upper.text.split()) > _HEADING
        ):
            break
        above -= 1
    return above


def _two_columns(rows: Sequence[Line]) -> list[Column]:
    """Return the columns of places and of numbers; they may stand differently in each group."""
    if rows[0].sheet is not None:
        return sheet_columns(rows, [])
    edge = max(r.cells[0].right for r in rows)
    start = min(r.cells[1].left for r in rows)
    if edge > start:
        found = page_columns(rows, [])
        if len(found) > 2:
            return found
        edge = start = (edge + start) / 2  # numbers stand differently in each group
    left = min(r.cells[0].left for r in rows)
    return [Column(left, edge), Column(start, max(r.cells[1].right for r in rows))]


def _is_place(line: Line) -> bool:
    cells = line.cells
    return (
        len(cells) == 2
        and not facts_of(line)
        and value_of(cells[0].text) is None
        and _valued(cells[1])
        and any(c.isdigit() for c in cells[1].text)
    )


def _near(line: Line, last: Line) -> bool:
    return line.page == last.page and line.top - last.bottom < 0.7 * line.height


def _ends(line: Line) -> bool:
    """Whether a short line can end a paragraph."""
    return len(line.cells) == 1 and ":" not in line.text and not facts_of(line)


def _read_prose(prose: list[Line], context: Context) -> None:
    if not prose or read_letter(prose, context):
        return
    for line in prose:
        if not _pairs(line, context):
            context.heading(line)


def _is_result(line: Line) -> bool:
    """Whether a line names an analyte in its first cells and has a value behind it."""
    cells = line.cells
    if has_boxes(line):
        return False
    for at, cell in enumerate(cells[:2]):
        match = analyte_in(cell.text)
        if match is not None:
            letters = microbial(match.slug)
            return any(_valued(c, letters=letters) for c in cells[at + 1 :])
    return False


def _valued(cell: Cell, *, letters: bool = False) -> bool:
    return value_of(cell.text, letters=letters) is not None and unit_of(cell.text) is None


def _within(line: Line, run: Sequence[Line]) -> bool:
    """Whether a short line may be a part of the table that this run is: a fragment of a name."""
    last = run[-1]
    return (
        line.sheet is None
        and len(line.cells) == 1
        and line.top - last.bottom < 0.5 * last.height
        and abs(line.cells[0].left - last.cells[0].left) < 14
        and len(line.text.split()) <= 4
        and ":" not in line.text
    )


def _read_run(run: list[Line], context: Context, last: tuple[Table, Plan] | None) -> None:
    if not run:
        return
    if last is not None:
        table = Table("rows", [], run, last[0].columns)
        if _goes_on(table, last[1]):
            RowReader(table, last[1], context).read()
            return
    rows = [line for line in run if _is_result(line)]
    columns = sheet_columns(rows, []) if run[0].sheet is not None else page_columns(rows, [])
    table = Table("rows", [], run, columns)
    starts = analyte_columns(table, [table.cells(line) for line in rows])
    edges = [0, *starts[1:], len(columns)] if len(starts) > 1 else [0, len(columns)]
    parts = [table.part(a, b) for a, b in pairwise(edges)] if len(starts) > 1 else [table]
    for part in parts:
        plan = make_plan(part, [part.cells(line) for line in rows])
        if plan.results:
            RowReader(part, plan, context).read()


def _goes_on(table: Table, plan: Plan) -> bool:
    """Whether lines without a head fit the columns of the table before."""
    if plan.analyte is None:
        samples = [i for i, r in enumerate(plan.roles) if r in SAMPLE_ROLES]
        return goes_on(table.lines, table, samples, [r.index for r in plan.results])
    good = 0
    for line in table.lines:
        cells = table.cells(line)
        label = cells[plan.analyte]
        good += (
            label is not None
            and analyte_in(label.text) is not None
            and any((c := cells[r.index]) is not None and _valued(c) for r in plan.results)
        )
    return good >= 0.6 * len(table.lines)


def _read_line(line: Line, context: Context) -> None:
    context.facts(day_on_site(line))
    if read_ticks(line, context):
        return
    if has_boxes(line):
        context.heading(line)
        return
    facts = facts_of(line)
    told = ":" in line.text and not {f.role for f in facts} - _NO_FACTS
    if told and analytes_within(line.text) and read_letter([line], context):
        return
    if any(f.role != "other" for f in facts):
        context.facts(facts)
        return
    if _pairs(line, context):
        return
    if ":" in line.text and len(line.text.split()) <= 14 and read_letter([line], context):
        return
    context.heading(line)


def _pairs(line: Line, context: Context) -> bool:
    """Read every cell that is a name and its value; return whether any was."""
    found = [_pair(cell, context) for cell in line.cells]
    return any(found)


def _pair(cell: Cell, context: Context) -> bool:
    """Read "Nitrate: 4.2 mg/L" or "Nitrate 4.2 mg/L" in one cell."""
    if context.closed:
        return False
    words = cell.text.split()
    for size in range(min(len(words) - 1, 7), 0, -1):
        name = " ".join(words[:size]).rstrip(":=-–")
        rest = " ".join(words[size:]).lstrip(":=-– ")
        match = analyte_in(name)
        if match is None or not rest:
            continue
        if value_of(rest, letters=microbial(match.slug)) is None or unit_of(rest) is not None:
            continue
        label, value = _cut(cell, size)
        _emit(context, name, label, rest, value)
        return True
    return False


def _cut(cell: Cell, size: int) -> tuple[Cell, Cell]:
    if len(cell.words) <= size:
        return cell, cell
    return of_words(cell.words[:size], cell.line), of_words(cell.words[size:], cell.line)


def read_answer(line: Line, context: Context) -> None:
    """Read the name and the answer that a line was found to hold."""
    if line.answer is None:
        return
    label, value = line.answer
    context.accounts.settle(line)
    name = label.text.rstrip(" :.-–")
    found = analytes_within(name) if analyte_in(name) is None else ()
    if found:
        name = " ".join(name.split()[found[0][0] : found[-1][1]])
    printed = _printed(context, name, label, value.text, value)
    if line.least is not None:
        limit, unit = line.least
        printed.cells["reporting_limit"] = limit
        if unit is not None and not any(c.isdigit() for c in value.text):
            printed.cells["unit"] = unit
    context.emit(printed)


def _emit(context: Context, name: str, label: Cell, text: str, value: Cell) -> None:
    context.emit(_printed(context, name, label, text, value))


def _printed(context: Context, name: str, label: Cell, text: str, value: Cell) -> Printed:
    return Printed(
        label=name,
        label_cell=label,
        text=text,
        value_cell=value,
        draft=context.samples.current(),
        section=context.section,
    )

"""One line by itself: its keys, its boxes, a name with its value or with the answer beside it."""

from __future__ import annotations

from welltold.values import ParsedValue

from .asked import is_minus, question_in
from .bare_keys import day_on_site
from .cells import Cell, Line, join, of_words
from .context import Context
from .letters import read_letter
from .metadata import facts_of
from .printed import Printed
from .tails import compares
from .ticks import has_boxes, read_ticks
from .tokens import analyte_in, analytes_within, microbial, unit_of, value_of

_SHORT, _LONG_NUMBER = 2, 1000
_NO_FACTS = frozenset({"other", "volume", "remark", "number", "batch"})
"""Keys that say nothing of a sample; what stands behind them may be a result."""


def is_result(line: Line) -> bool:
    """Whether a line names an analyte in its first cells and has a value behind it."""
    cells = line.cells
    if has_boxes(line):
        return False
    for at, cell in enumerate(cells[:2]):
        match = analyte_in(cell.text)
        if match is not None:
            if compares(cells, at):
                return False
            letters = microbial(match.slug)
            return any(is_valued(c, letters=letters) for c in cells[at + 1 :])
    return False


def is_valued(cell: Cell, *, letters: bool = False) -> bool:
    """Whether a cell is a result and no unit; ``letters``: "A" and "P" are answers here."""
    return value_of(cell.text, letters=letters) is not None and unit_of(cell.text) is None


def read_line(line: Line, context: Context) -> None:
    """Read a line that needs none of its neighbours; one that says nothing else is a heading."""
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
    if read_pairs(line, context):
        return
    if ":" in line.text and len(line.text.split()) <= 14 and read_letter([line], context):
        return
    context.heading(line)


def read_question(line: Line, context: Context) -> bool:
    """Read a germ that a line asks for and answers: "E. coli present? No"."""
    told = question_in(line.text)
    match = analyte_in(told[0]) if told is not None and not context.closed else None
    if told is None or match is None or not microbial(match.slug):
        return False
    whole = join(line.cells)
    label, value = _cut(whole, len(line.text.split()) - 1)
    printed = printed_from(context, f"{told[0]} {told[1]}", label, told[2], value)
    printed.name = told[0]
    context.emit(printed)
    return True


def read_pairs(line: Line, context: Context) -> bool:
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
        if match is not None and context.minus and microbial(match.slug) and is_minus(words[-1]):
            rest = rest or words[-1]
        if match is None or not rest:
            continue
        told = value_of(rest, letters=microbial(match.slug))
        if told is None or unit_of(rest) is not None or _is_code(name, told):
            continue
        label, value = _cut(cell, size)
        _emit(context, name, label, rest, value)
        return True
    return False


def _is_code(name: str, value: ParsedValue) -> bool:
    """Whether two letters, a long number and a letter are a number of papers: "TC 4471 N"."""
    long = value.value is not None and value.value >= _LONG_NUMBER
    bare = value.unit_text is None and bool(value.qualifiers) and value.decimals == 0
    return len(name) <= _SHORT and name.isupper() and long and bare


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
    printed = printed_from(context, name, label, value.text, value)
    if line.least is not None:
        limit, unit = line.least
        printed.cells["reporting_limit"] = limit
        if unit is not None and not any(c.isdigit() for c in value.text):
            printed.cells["unit"] = unit
    context.emit(printed)


def _emit(context: Context, name: str, label: Cell, text: str, value: Cell) -> None:
    context.emit(printed_from(context, name, label, text, value))


def printed_from(context: Context, name: str, label: Cell, text: str, value: Cell) -> Printed:
    """Return the pieces of a result that a name and a value alone make, for the present sample."""
    return Printed(
        label=name,
        label_cell=label,
        text=text,
        value_cell=value,
        draft=context.samples.current(),
        section=context.section,
    )

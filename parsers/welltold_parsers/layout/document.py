"""Reads a whole document in order, page by page or sheet by sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice, pairwise

from welltold.messages import Message, say
from welltold.reading import Lab, Reading, Source

from ..geometry import Document
from .across import AcrossReader
from .captions import with_captions
from .cards import with_cards
from .cells import Cell, Line, join
from .choices import with_choices
from .column import Column
from .context import Context
from .corners import with_corners
from .dates import settles_day_first
from .doubt_far_units import doubt_far_units
from .doubt_limits import doubt_limits
from .doubt_samples import doubt_samples
from .doubt_sheet import doubt_sheet
from .doubt_units import doubt_units
from .form_lines import in_place, several_forms
from .forms import facts_in, form_pairs
from .grid import without_grid
from .halves import parted_halves
from .hints import Hints, Parts
from .judged import without_judging
from .lines import page_lines, sheet_lines
from .listing import ListReader
from .loose import read_answer, read_loose
from .metadata import facts_of
from .nd_words import limit_of_nd
from .numbered import without_numbers
from .offered import with_answers
from .on_site import parted_on_site
from .quarters import over_quarters
from .region_titles import PAPERS
from .remarks import remarks_in
from .repeats import merge
from .roles import Plan, analyte_columns, column_head, is_no_result, make_plan
from .rows import RowReader
from .sample_list import read_sample_list
from .splitting import split
from .statements import with_statements
from .tables import Free, Table
from .tails import without_tail
from .tokens import value_of
from .unfold import unfolded
from .unseen import all_told, shown
from .worded import with_worded
from .words import region_of, split_unit
from .wrapped_keys import with_wrapped_values

_COMMA = re.compile(r"^[<>≤≥]?\s*\d{1,3},(?:\d{1,2}|\d{4,})$|^[<>]?\s*0,\d+$")
_POINT = re.compile(r"^[<>≤≥]?\s*\d*\.\d+$")
_LOOKED_AT = 3000
_PLANNED_ON = 200
_FOOT = 4
"""Lines at the foot of a page that may be a legend."""
_BESIDE = frozenset({"invoice", "custody", "accreditation", "qc"})
"""Regions that a head announces only where no column is plainly headed as results."""
_SURROGATE = re.compile(r"(?i)\bsurrogates?\b|\bisotope dilution\b|\binternal standards?\b")
_YEARLY = re.compile(
    r"(?i)^(?:mclg\b.*|.+\bsources?\b.*|sources? (?:of|in)\b.*|range\b.*"
    r"|(?:sample )?year(?: sampled)?"
    r"|.*\bviolations?\b.*)$"
)
_YEARLY_HEADS = 3
"""A supply's yearly table has so many of a goal, a source, a range, a year, a violation."""
_CONTROL = frozenset({"recovery", "rpd", "spike", "source_result"})


def read_document(document: Document, hints: Hints | None = None) -> Reading:
    """Return the reading of an opened document; never raises for what the sheet holds."""
    parts: Parts = [page_lines(p) for p in document.pages] or [
        list(sheet_lines(shown(s))) for s in document.sheets if not s.hidden
    ]
    day_first, comma = _day_first(parts), _decimal_comma(parts)
    if hints is not None:
        parts = hints.in_plain_words(parts)
        day_first = day_first if hints.day_first is None else hints.day_first
        comma = comma if hints.decimal_comma is None else hints.decimal_comma
    context = Context(decimal_comma=comma, day_first=day_first or False)
    context.samples.order_told = day_first is not None
    context.nd_limit = limit_of_nd(_texts(parts))
    _read_parts(parts, context)
    context.end_list()
    samples = tuple(merge(s) for s in context.samples.finish())
    samples = parted_on_site(samples, parts, day_first=context.day_first)
    samples = doubt_limits(doubt_far_units(doubt_units(samples)))
    samples = doubt_samples(samples, context.samples.astray())
    samples = doubt_sheet(samples)
    return Reading(
        source=Source(
            document.file,
            document.sha256,
            document.kind,
            len(document.pages) or len(document.sheets),
        ),
        lab=Lab(context.lab_name, context.report_id),
        samples=samples,
        unread=(*context.unread, *all_told(document.sheets)),
        warnings=(*document.warnings, *_warnings(context), *_remarks(parts)),
    )


def _read_parts(parts: Sequence[Sequence[Line]], context: Context) -> None:
    last: tuple[Table, Plan] | None = None
    across: AcrossReader | None = None
    for line in chain.from_iterable(part[-_FOOT:] for part in parts):
        if line.sheet is None:
            context.look_for_legend(line)  # on the last page, for the tables of all
    for lines in parts:
        context.turn()
        context.open_sheet(lines[0].sheet if lines else None)
        context.look_for_unit(lines[:_PLANNED_ON])
        framed = with_corners(without_numbers(with_wrapped_values(lines)))
        told = _answered(framed, context)
        for piece in _up_to_answers(split(unfolded(_without_form(told, context)))):
            closed = context.closed
            if not isinstance(piece, Free):
                last = _read_table(piece, context) or last
                goes_on = piece.kind == "across" and not over_quarters(piece)
                across = AcrossReader(piece, context) if goes_on else None
            elif across is not None and across.goes_on(piece.lines):
                across.read_on(piece.lines)
            elif context.listing is not None and context.listing.fits(piece.lines):
                context.listing.read(piece.lines)
            else:
                context.look_for_title(piece.lines)
                read_loose(without_grid(piece.lines, context), context, last)
            _take_left(piece, context, closed=closed)


def _answered(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put names with their answers in the place of boxes, ticks and cards."""
    lines = parted_halves(without_judging(lines))
    for put in (
        with_choices,
        with_statements,
        with_answers,
        with_captions,
        with_cards,
        with_worded,
    ):
        lines = put(lines, context)
    return lines


def _up_to_answers(pieces: Iterable[Table | Free]) -> Iterator[Table | Free]:
    """End a table of samples where names with their answers begin: they are none of its rows."""
    for piece in pieces:
        first = next((n for n, line in enumerate(piece.lines) if line.answer is not None), None)
        if first is None or isinstance(piece, Free) or piece.kind == "rows":
            yield piece
            continue
        below = piece.lines[first:]
        piece.lines = piece.lines[:first]
        yield piece
        yield Free(below)


def _take_left(piece: Table | Free, context: Context, *, closed: bool) -> None:
    """Read the answers that no table took up, and tell the results of which nothing was made."""
    for line in context.accounts.unanswered(piece.lines):
        if not context.closed:
            read_answer(line, context)
    for line in context.accounts.missing(piece.lines, closed=closed):
        context.lost(join(line.cells), "not_understood")


def _without_form(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Take up a printed form with its keys above what was filled in; return the other lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    pairs = form_pairs(lines)
    several = several_forms(pairs)
    if not several:
        for keys, values in pairs:
            context.facts(facts_in(keys, values))
    return in_place(lines, pairs, facts=several)


def _read_table(table: Table, context: Context) -> tuple[Table, Plan] | None:
    if table.kind == "across":
        _read_across(table, context)
        return None
    table, tail = without_tail(table)
    if table.kind == "samples" and not _holds_results(table):
        read_loose(read_sample_list(table, context), context, None)
        return None
    region, turned = context.region, context.turned
    told = _told_by_heads(table)
    if told:
        context.region, context.turned = told, False
        context.accounts.settle(*table.lines)
    elif context.region in PAPERS and _plainly_results(table):
        context.region = None  # a word above was no title: "INVOICE 26-7" beside the client
    last = None
    inside = context.region
    parts = _side_by_side(table)
    section = context.section
    for part in parts:
        context.region = inside
        if len(parts) > 1:
            context.section = section
            context.heading_over(part.columns[0].left, part.columns[-1].right, part.heads[0])
        plan = make_plan(part, _value_rows(part))
        if _read_part(part, plan, context):
            last = (part, plan)
    if told:
        context.region, context.turned = region, turned
    read_loose(tail, context, None)
    return last


def _read_across(table: Table, context: Context) -> None:
    """Read a table with analytes across; one of earlier quarters is left out, and counted."""
    if not over_quarters(table):
        AcrossReader(table, context).read()
        return
    for line in filter(_has_value, table.lines):
        context.count("history")
        context.accounts.settle(line)


def _read_part(part: Table, plan: Plan, context: Context) -> bool:
    """Read one table; return whether later lines may go on with it."""
    nameless = plan.analyte is None
    if not plan.results:
        if not part.is_part:
            _without_results(part, plan, context)
    elif nameless and _is_list(plan):
        context.start_list(ListReader(part, plan, context), part.lines)
    elif nameless and context.title_analyte is None:
        _nameless(part, plan, context)
    else:
        RowReader(part, plan, context).read()
        return True
    return False


def _without_results(table: Table, plan: Plan, context: Context) -> None:
    """Take up what a table without results says all the same; its limits are accounted for."""
    limits = any(is_no_result(role) for role in plan.roles)
    for line in table.lines:
        facts = facts_of(line)
        if facts:
            context.facts(facts)
        elif len(line.cells) <= 2:
            context.heading(line)
        if limits:
            context.accounts.settle(line)


def _holds_results(table: Table) -> bool:
    """Whether a list of samples has a column of results of its own: "First Draw (ppb)"."""
    plan = make_plan(table, _value_rows(table))
    heads = [h for r in plan.results if (h := column_head(table.columns[r.index]))]
    return any(h.role in {"result", "taken"} and (h.score > 0.9 or h.unit) for h in heads)


def _is_list(plan: Plan) -> bool:
    """Whether a table has places with one number each."""
    return "point" in plan.roles and len(plan.results) == 1


def _nameless(table: Table, plan: Plan, context: Context) -> None:
    """Account for a table of values in which no column names a test."""
    for line in table.lines:
        cells = table.cells(line)
        value = cells[plan.results[0].index]
        facts = facts_of(line)
        if facts:
            context.facts(facts)
        elif context.closed or value is None or value_of(value.text) is None:
            context.heading(line)
        elif (
            plan.sure and len({*plan.roles} - {"", "unknown", "empty"}) >= 3 and len(line.cells) > 1
        ):
            context.lost(join(line.cells), "no_label")


def _value_rows(table: Table) -> list[list[Cell | None]]:
    return [table.cells(line) for line in table.lines[:_PLANNED_ON] if _has_value(line)]


def _side_by_side(table: Table) -> list[Table]:
    """Return the tables that stand beside each other under one head."""
    starts = analyte_columns(table, _value_rows(table))
    if len(starts) < 2:
        return [table]
    edges = [0, *starts[1:], len(table.columns)]
    return [table.part(a, b) for a, b in pairwise(edges)]


def _has_value(line: Line) -> bool:
    return len(line.cells) > 1 and any(value_of(c.text) is not None for c in line.cells)


def _told_by_heads(table: Table) -> str | None:
    """Return the region that the heads of a table announce: quality control, prices, a summary."""
    named = any(
        h.role == "result" and h.score > 0.9 for c in table.columns if (h := column_head(c))
    )
    if sum(_YEARLY.search(c.head) is not None for c in table.columns) >= _YEARLY_HEADS:
        return "summary"
    for column in table.columns:
        head = column_head(column)
        if head and head.role in _CONTROL and head.score > 0.6 and not _seldom(table, column):
            return "qc"
        if _SURROGATE.search(column.head):
            return "qc"
        for text in (column.head, *(c.text for c in column.head_cells)):
            found = region_of(split_unit(text)[0], "head")
            if found and not (found in _BESIDE and named):
                return found
    return None


def _plainly_results(table: Table) -> bool:
    """Whether the heads of a table name the tests, their results and their units outright."""
    roles = {h.role for c in table.columns if (h := column_head(c)) and h.score > 0.9}
    return {"analyte", "result", "unit"} <= roles and any(map(_has_value, table.lines))


def _seldom(table: Table, column: Column) -> bool:
    """Whether a column of a data file says nothing in most rows: it is for the others."""
    lines = table.lines[:_PLANNED_ON]
    if not lines or lines[0].sheet is None:
        return False
    filled = sum(any(c.left == column.left for c in line.cells) for line in lines)
    return filled <= 0.5 * len(lines)


def _texts(parts: Sequence[Sequence[Line]]) -> Iterator[str]:
    for line in islice(chain.from_iterable(parts), _LOOKED_AT):
        for cell in line.cells:
            yield cell.text


def _decimal_comma(parts: Sequence[Sequence[Line]]) -> bool:
    """Whether the document writes decimal commas: some do, and none a decimal point."""
    commas = points = 0
    for text in _texts(parts):
        if len(text) < 24:
            first, _, rest = text.partition(" ")
            word = rest.partition(" ")[0] if first in {"<", ">"} else first
            commas += _COMMA.match(word) is not None
            points += _POINT.match(word) is not None
    return commas > 0 and points == 0


def _day_first(parts: Sequence[Sequence[Line]]) -> bool | None:
    """Whether dates put the day first: some can only be read so, none the other way; None: open."""
    told = {settles_day_first(text) for text in _texts(parts) if "/" in text}
    told.discard(None)
    return told.pop() if len(told) == 1 else None


def _remarks(parts: Parts) -> Iterator[Message]:
    lines = islice(chain.from_iterable(parts), _LOOKED_AT)
    return (say("read.remark", text=text) for text in remarks_in(lines))


def _warnings(context: Context) -> Iterator[Message]:
    if context.day_first:
        yield say("read.day_first")
    for date in sorted(context.samples.unsure_dates)[:3]:
        if not context.day_first:
            yield say("read.day_or_month", date=date)
    if context.counts.get("qc"):
        yield say("read.qc_left_out", count=context.counts["qc"])
    if context.counts.get("history"):
        yield say("read.history_left_out", count=context.counts["history"])
    if context.blanks:
        names = ", ".join(dict.fromkeys(n for n in context.blanks if n)) or "1"
        yield say("read.blank_left_out", names=names)
    if context.counts.get("statistics"):
        yield say("read.statistics_left_out", count=context.counts["statistics"])
    if context.counts.get("logged"):
        yield say("read.logged")
    if context.counts.get("summary"):
        yield say("read.public_supply")

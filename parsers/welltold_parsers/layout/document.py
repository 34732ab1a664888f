"""Reads a whole document in order, page by page or sheet by sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, groupby

from welltold.reading import Lab, Reading, Source

from ..geometry import Document
from .across import AcrossReader
from .announced_regions import PLANNED_ON
from .asked import minus_answers
from .captions import with_captions
from .cards import with_cards
from .cells import Line, join
from .cells_of_two_lines import with_cells_joined
from .choices import with_choices
from .codes_told import with_codes_told
from .context import Context
from .conventions import day_first_told, decimal_comma, texts_of
from .corners import with_corners
from .counted import count_numbers
from .doubt_far_units import doubt_far_units
from .doubt_limits import doubt_limits
from .doubt_samples import doubt_samples
from .doubt_sheet import doubt_sheet
from .doubt_units import doubt_units
from .earlier_sentences import Newest, without_earlier
from .form_lines import in_place, several_forms
from .forms import facts_in, form_pairs
from .glued_keys import with_keys_parted
from .grid import without_grid
from .halves import parted_halves
from .hints import Hints, Parts
from .judged import without_judging
from .lines import page_lines, sheet_lines
from .loose import read_loose
from .nd_words import limit_of_nd
from .not_found_lists import with_not_found
from .numbered import without_numbers
from .offered import with_answers
from .on_site import parted_on_site
from .other_language import is_other_language, rows_left
from .other_matrix import without_other_matrix
from .quarters import over_quarters
from .reading_warnings import remarks_on, warnings_of
from .repeats import merge
from .roles import Plan
from .single_lines import read_answer
from .splitting import split
from .stacked_cards import with_stacked
from .stacked_values import with_values_joined
from .statements import with_statements
from .stranded import in_line, stranded
from .table_reading import read_table
from .tables import Free, Table
from .tick_tables import with_tick_tables
from .unfold import unfolded
from .unseen import all_told, shown
from .verdict_chips import without_chips
from .worded import with_worded
from .wrapped_keys import with_wrapped_values

_SEVERAL = 2
_FOOT = 4
"""Lines at the foot of a page that may be a legend."""


def read_document(document: Document, hints: Hints | None = None) -> Reading:
    """Return the reading of an opened document; never raises for what the sheet holds."""
    parts, context = _gathered(document, hints, opened=False)
    if context.shut and not any(d.results for d in context.samples.drafts):
        again = _gathered(document, hints, opened=True)
        if _mostly_known(again[1]):
            parts, context = again
    samples = tuple(merge(s) for s in context.samples.finish())
    samples = tuple(context.listed_limits.filled(s) for s in samples)
    samples = parted_on_site(samples, parts, day_first=context.day_first)
    samples = doubt_limits(doubt_far_units(doubt_units(samples)))
    samples = doubt_samples(samples, context.samples.astray())
    samples = tuple(map(context.exact.put, doubt_sheet(samples)))
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
        warnings=(*document.warnings, *warnings_of(context), *remarks_on(parts)),
        numbers=count_numbers(document, parts, context.accounts),
    )


def _gathered(document: Document, hints: Hints | None, *, opened: bool) -> tuple[Parts, Context]:
    """Return the lines of a document and what was gathered from them.

    ``opened``: headings of parts without results are passed over, each result is doubted.
    """
    parts: Parts = [page_lines(p) for p in document.pages] or [
        list(sheet_lines(shown(s))) for s in document.sheets if not s.hidden
    ]
    day_first, comma = day_first_told(parts), decimal_comma(parts)
    if hints is not None:
        parts = hints.in_plain_words(parts)
        day_first = day_first if hints.day_first is None else hints.day_first
        comma = comma if hints.decimal_comma is None else hints.decimal_comma
    parts = with_codes_told(parts)
    context = Context(decimal_comma=comma, day_first=day_first or False)
    context.opened = opened
    context.zeros.look(parts)
    context.samples.order_told = day_first is not None
    context.nd_limit = limit_of_nd(texts_of(parts))
    context.minus = minus_answers(texts_of(parts))
    _read_parts(parts, context)
    context.end_list()
    for one in stranded(context.accounts, decimal_comma=comma):
        context.lost(one.value, "number_left", one.text)
    if is_other_language(parts):
        for line in rows_left(parts, context.accounts):
            context.lost(join(line.cells), "other_language")
    return parts, context


def _mostly_known(context: Context) -> bool:
    """Whether most of what was read are tests that are known."""
    found = [r for draft in context.samples.drafts for r in draft.results]
    return 2 * sum(r.analyte is not None for r in found) > len(found)


def _read_parts(parts: Sequence[Sequence[Line]], context: Context) -> None:
    last: tuple[Table, Plan] | None = None
    across: AcrossReader | None = None
    for line in chain.from_iterable(part[-_FOOT:] for part in parts):
        if line.sheet is None:
            context.legend.look(line)  # on the last page, for the tables of all
    newest = Newest(parts)
    for part in parts:
        lines = without_other_matrix(without_earlier(part, context, newest), context)
        context.turn()
        context.open_sheet(lines[0].sheet if lines else None)
        context.look_for_unit(lines[:PLANNED_ON])
        noted = _without_limits(lines, context)
        framed = with_corners(without_numbers(with_wrapped_values(noted)))
        told = _answered(framed, context)
        for piece in _up_to_answers(_pieces(_without_form(told, context))):
            closed = context.closed
            context.accounts.pieces.append((piece, context.region if closed else None))
            if not isinstance(piece, Free):
                last = read_table(piece, context) or last
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


def _without_limits(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Take up the notes that list limits test by test; return the other lines."""
    noted = context.listed_limits.look(lines)
    context.accounts.settle(*noted)
    taken = set(map(id, noted))
    return [line for line in lines if id(line) not in taken] if taken else lines


def _answered(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put names with their answers in the place of boxes, ticks and cards."""
    lines = with_values_joined(
        with_cells_joined(parted_halves(without_judging(with_keys_parted(lines))))
    )
    lines = with_tick_tables(lines, context)
    lines = without_chips(with_not_found(lines))
    for put in (
        with_choices,
        with_statements,
        with_answers,
        with_captions,
        with_cards,
        with_stacked,
        with_worded,
    ):
        lines = put(lines, context)
    return lines


def _pieces(lines: Sequence[Line]) -> Iterator[Table | Free]:
    """Cut a page into tables and free lines; what stands apart is in no table."""
    for apart, run in groupby(lines, key=lambda line: line.apart):
        if apart:
            yield Free(list(run))
        else:
            yield from split(unfolded(list(run)))


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
        left = in_line(line, context.accounts, decimal_comma=context.decimal_comma)
        if len(left) < _SEVERAL:
            context.lost(join(line.cells), "not_understood")
            continue
        for one in left:
            context.lost(one.value, "not_understood", one.text)


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

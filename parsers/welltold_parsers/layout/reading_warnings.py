"""What a person is told about a whole sheet: what was left out, and what stays open."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice

from welltold.messages import Message, say
from welltold.speech import date_words

from .context import Context
from .conventions import LOOKED_AT
from .hints import Parts
from .other_language import is_other_language
from .remarks import remarks_in
from .trends_told import trends_in


def remarks_on(parts: Parts) -> Iterator[Message]:
    """Return what the sheet itself remarks on its results, told again."""
    if is_other_language(parts):
        yield say("read.sheet_language")
    lines = list(islice(chain.from_iterable(parts), LOOKED_AT))
    yield from (say("read.remark", text=text) for text in remarks_in(lines))
    yield from (say("read.trend", text=text) for text in trends_in(lines))


def warnings_of(context: Context) -> Iterator[Message]:
    """Yield what was left out of a reading, with how much, and which dates can be read twice."""
    if context.day_first:
        yield say("read.day_first")
    for date in sorted(context.samples.unsure_dates)[:3]:
        if not context.day_first:
            yield say("read.day_or_month", date=date_words(date))
    for what in ("qc", "history"):
        yield from _left_out(context, what)
    if context.blanks:
        names = ", ".join(dict.fromkeys(n for n in context.blanks if n)) or "1"
        yield say("read.blank_left_out", names=names)
    for what in ("statistics", "other_matrix"):
        yield from _left_out(context, what)
    if context.counts.get("logged"):
        yield say("read.logged")
    if context.counts.get("summary"):
        yield say("read.public_supply")


def _left_out(context: Context, what: str) -> Iterator[Message]:
    """Yield how many rows of one kind were left out, if any were."""
    count = context.counts.get(what)
    if count:
        yield say(f"read.{what}_left_out", count=count)

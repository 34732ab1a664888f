"""What a person is told about a whole sheet: what was left out, and what stays open."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, islice

from welltold.messages import Message, say
from welltold.speech import date_words

from .context import Context
from .conventions import LOOKED_AT
from .hints import Parts
from .remarks import remarks_in
from .trends_told import trends_in


def remarks_on(parts: Parts) -> Iterator[Message]:
    """Return what the sheet itself remarks on its results, told again."""
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

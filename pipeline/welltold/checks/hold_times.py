"""Did the bottles wait too long? Dates as far as they are printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from functools import cache

from ..analytes import registry
from ..interpretation import Check
from ..messages import say
from ..reading import Result
from ..tables import Row, read_table
from .rules import agrees, doubt, limit, not_possible, rounded, short
from .sheet import Sheet, on_site, slugs_of

HELD = "H"
"""The flag with which labs mark a test that came too late."""
ACID_METHODS = ("353.", "4500-NO3")
"""Nitrate methods that are run on acidified bottles as well."""
IN_HOURS = 72
"""Longer times are told in days."""
DAY, SECOND = timedelta(days=1), timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class Hold:
    """One row of ``data/hold_times.csv``."""

    name: str
    slugs: tuple[str, ...]
    hours: Decimal
    kept_hours: Decimal | None
    preservative: str | None


@dataclass(frozen=True, slots=True)
class Moment:
    """A printed date or time: somewhere between two instants."""

    first: datetime
    last: datetime


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield one check for each rule that concerns a test on the sheet, and one of the dates."""
    yield from _order_of_dates(sheet)
    for hold in holds():
        rows = [row for row in sheet.rows(*hold.slugs) if not on_site(row)]
        if rows:
            yield _held(sheet, hold, rows)


@cache
def holds() -> tuple[Hold, ...]:
    """Return the rules in the order of their table."""
    return tuple(_hold(row) for row in read_table("hold_times.csv"))


def moment(text: str | None) -> Moment | None:
    """Return what a date or time in ISO 8601 stands for; None where it is not one."""
    if not text:
        return None
    try:
        if len(text) <= len("2026-11-25"):
            day = datetime.combine(date.fromisoformat(text), datetime.min.time())
            return Moment(day, day + DAY - SECOND)
        instant = datetime.fromisoformat(text).replace(tzinfo=None)
    except ValueError:
        return None
    return Moment(instant, instant)


def _hold(row: Row) -> Hold:
    hours = row.number("hours")
    if hours is None or not row.text("source"):
        raise row.wrong("hours is empty")
    slugs: list[str] = []
    for name in row.text("slugs").split("|"):
        group = name.removeprefix("group:")
        of_group = (slug for slug, one in registry().items() if one.group == group)
        slugs.extend(of_group if group != name else (name,))
    return Hold(
        row.text("hold"),
        tuple(slugs),
        hours,
        row.number("kept_hours"),
        row.optional("preservative"),
    )


def _held(sheet: Sheet, hold: Hold, rows: Sequence[Result]) -> Check:
    name = f"hold_time:{hold.name}"
    waits = {i: wait for i, row in enumerate(rows) if (wait := _wait(sheet, row)) is not None}
    late = [i for i, (least, _) in waits.items() if least > hold.hours]
    if late:
        longest = max(waits[i][0] for i in late)
        return _late(sheet, hold, [rows[i] for i in late], longest)
    in_time = {i for i, (_, most) in waits.items() if most <= hold.hours and rows[i].analyzed}
    flagged = [row for i, row in enumerate(rows) if HELD in row.qualifiers and i not in in_time]
    if flagged:
        why = say("check.held_flag", flag=HELD)
        return doubt(name, None, None, why, of=slugs_of(flagged), settle="fresh_bottle")
    limit_words = time_words(hold.hours)
    if len(in_time) == len(rows):
        value = rounded(max(waits[i][0] for i in in_time))
        return agrees(name, value, "h", say("check.held_in_time", limit=limit_words))
    code = "held_open" if waits else "no_dates"
    return not_possible(name, say(f"check.{code}", limit=limit_words))


def _late(sheet: Sheet, hold: Hold, rows: Sequence[Result], waited: Decimal) -> Check:
    """Judge results that came too late for bottles without a preservative."""
    name, words = f"hold_time:{hold.name}", time_words(hold.hours)
    if hold.name == "ph":
        return _late_ph(sheet, name, rounded(waited), rows)
    if _kept(hold, rows, waited):
        return not_possible(name, say("check.held_open", limit=words))
    why = say("check.held_long", waited=time_words(waited), limit=words)
    return doubt(name, rounded(waited), "h", why, of=slugs_of(rows), settle="fresh_bottle")


def _late_ph(sheet: Sheet, name: str, value: Decimal, rows: Sequence[Result]) -> Check:
    """Judge a pH that was read in the lab: it matters where it lies near a level."""
    edges = [
        edge
        for finding in sheet.findings
        if finding.analyte == "ph"
        for level in finding.levels
        for edge in (level.low, level.value)
        if edge is not None
    ]
    values = [row.value for row in rows if row.value is not None]
    near = limit(name, "near")
    why = say("check.held_ph")
    if any(abs(number - edge) <= near for number in values for edge in edges):
        return doubt(name, value, "h", why, of=("ph",), settle="ph_at_tap")
    return agrees(name, value, "h", why, say("check.held_ph_far"))


def time_words(hours: Decimal) -> str:
    """Return a time for a sentence: in minutes, hours or days."""
    if hours < 1:
        return say("speech.time_minutes", n=short(hours * 60)).text
    if hours <= IN_HOURS:
        return say("speech.time_hours", n=short(hours)).text
    return say("speech.time_days", n=rounded(hours / 24, "1")).text


def _wait(sheet: Sheet, row: Result) -> tuple[Decimal, Decimal] | None:
    """Return the shortest and the longest time in hours until a test that the dates allow.

    Without the date of the test, the date on which the lab received the bottle is the least.
    """
    taken = moment(sheet.sample.collected)
    tested = moment(row.analyzed) or moment(sheet.sample.received)
    if taken is None or tested is None:
        return None
    least = max(_hours(tested.first - taken.last), Decimal(0))
    return least, max(_hours(tested.last - taken.first), Decimal(0))


def _hours(span: timedelta) -> Decimal:
    return Decimal(int(span.total_seconds())) / 3600


def _kept(hold: Hold, rows: Sequence[Result], hours: Decimal) -> bool:
    """Whether the bottle may have held acid, which would have kept it long enough."""
    if hold.kept_hours is None or hours > hold.kept_hours:
        return False
    methods = [row.method or "" for row in rows]
    return all(any(mark in method for mark in ACID_METHODS) for method in methods)


def _order_of_dates(sheet: Sheet) -> Iterator[Check]:
    """Yield a doubt where something happened before the bottle was filled."""
    taken = moment(sheet.sample.collected)
    if taken is None:
        return
    later: Mapping[str, Moment | None] = {
        "received": moment(sheet.sample.received),
        "tested": min(
            (one for row in sheet.sample.results if (one := moment(row.analyzed)) is not None),
            key=lambda one: one.last,
            default=None,
        ),
    }
    early = [name for name, one in later.items() if one is not None and one.last < taken.first]
    if early:
        of = slugs_of(sheet.rows(*(slug for hold in holds() for slug in hold.slugs)))
        why = say(f"check.dates_{early[0]}", collected=sheet.sample.collected)
        yield doubt("dates", None, None, why, of=of, settle="dates")

"""Puts what goes in, what was predicted and what was found side by side, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from ..analytes import registry
from ..checks.sheet import Span, in_unit
from ..interpretation import LevelUsed
from ..messages import say
from ..treatment.walk import Passage
from ..treatment.water import Amount
from ..verdicts.amounts import Amount as Told
from ..verdicts.doubt_tables import hidden_by, names
from .bottle import RULES, Bottle, is_germ, tested
from .chain import Chain
from .judging import Judged, Odd, judge
from .tables import SignRow, rule, signs, witnesses
from .weighing import Later, Seen, Weighed, hidden, weigh


def see(chain: Chain) -> tuple[Judged, ...]:
    """Return each stage with its signs, and the outcome that they lead to by themselves."""
    return tuple(
        judge(passage.draft.stage, tuple(_signs(chain, passage, at)))
        for at, passage in enumerate(chain.passages())
    )


def _signs(chain: Chain, passage: Passage, at: int) -> Iterator[Weighed]:
    """Yield the signs of a stage, each from the nearest bottle behind it that was tested for it."""
    ahead = set(chain.stages[:at])
    for row in signs(passage.draft.stage):
        number = _nearest(chain, row.analyte, at)
        if number is None or (row.ahead and row.ahead not in ahead):
            continue
        position, bottle = chain.bottles[number]
        one = weigh(_seen(chain, passage, row, at, bottle))
        if one.told and hidden(one, _later(chain.stages[at + 1 : position], row.analyte)):
            one = one.opened(say("outlet.open_hidden"))
        if one.state == "done" and bottle.misread(row.analyte):
            one = one.opened(say("outlet.open_look"))
        if one.told or row.role != "side":
            yield replace(one, bottle=number)


def _nearest(chain: Chain, slug: str, at: int) -> int | None:
    """Return which bottle is the first behind a stage that was tested for an analyte."""
    behind = (
        number
        for number, (position, bottle) in enumerate(chain.bottles)
        if position > at and slug in tested([bottle])
    )
    return next(behind, None)


def _seen(chain: Chain, passage: Passage, row: SignRow, at: int, bottle: Bottle) -> Seen:
    slug, unit, basis = row.analyte, row.unit, row.basis
    if is_germ(slug):
        return Seen(row, None, None, None, germs=(chain.germs(slug, at), bottle.germs(slug)))
    amount = passage.inlet.amount(slug, unit, basis)
    level = bottle.level(slug)
    decides = level is not None and (level.kind in RULES or slug in chain.raised)
    return Seen(
        row,
        None if amount is None else Span(amount.low, amount.high),
        _expected(passage, row),
        bottle.span(slug, unit, basis),
        _level(level, row) if level is not None and decides else None,
    )


def _expected(passage: Passage, row: SignRow) -> tuple[Decimal | None, Decimal | None] | None:
    """Return what may be predicted behind a stage; None where no source allows it."""
    told = passage.outlet.quantities().get(row.analyte)
    amount = passage.outlet.amount(row.analyte, row.unit, row.basis)
    if told is None or amount is None or told.assumed or passage.open is not None:
        return None
    low = None if told.low is None else amount.low
    high = None if told.high is None else amount.high
    return (low, high) if _promises(passage, row, high) else None


def _promises(passage: Passage, row: SignRow, high: Decimal | None) -> bool:
    """Whether a predicted range says more than that nothing may change."""
    before = passage.inlet.amount(row.analyte, row.unit, row.basis)
    if row.way != "falls" or before is None or before.high is None or high is None:
        return True
    return high < rule("unchanged") * before.high


def _level(level: LevelUsed, row: SignRow) -> Decimal | None:
    value = level.value
    if value is None:
        return None
    told = Told(value, value, more_than_low=False, found=None, unit=level.unit, basis=level.basis)
    amount = in_unit(told, row.analyte, row.unit, row.basis)
    return None if amount is None else amount.low


def _later(behind: Sequence[str], slug: str) -> Later:
    """Return what the stages further on do to an analyte."""
    ways = {row.way for stage in behind for row in signs(stage) if row.analyte == slug}
    hides = any(names(hidden_by().get(stage, ()), slug) for stage in behind)
    return Later(hides or bool(ways & {"falls", "absent"}), "rises" in ways)


def odd(chain: Chain, number: int, *, tap_named: bool) -> Odd:
    """Return what is odd about one bottle as a whole."""
    return Odd(_thinned(chain, number), _other_well(chain, number), tap_named)


def _thinned(chain: Chain, number: int) -> bool:
    """Whether the salts are gone though no stage in front of the tap takes them out."""
    for slug, thins in witnesses().items():
        before, now = _both(chain, number, slug)
        if not thins or before is None or now is None or now.high is None:
            continue
        if now.high <= rule("thinned") * before.low:
            return True
    return False


def _other_well(chain: Chain, number: int) -> bool:
    """Whether more of what no stage changes differs than agrees, and two things at least."""
    alike = [_alike(*_both(chain, number, slug)) for slug in witnesses()]
    return alike.count(False) > max(1, alike.count(True))


def _both(chain: Chain, number: int, slug: str) -> tuple[Amount | None, Span | None]:
    """Return the raw water's amount and the bottle's, of what no stage before its tap changes."""
    position, bottle = chain.bottles[number]
    later, own = _later(chain.stages[:position], slug), registry()[slug]
    if later.lowered or later.raised:
        return None, None
    return chain.water.amount(slug, own.unit, own.basis), bottle.span(slug, own.unit, own.basis)


def _alike(before: Amount | None, now: Span | None) -> bool | None:
    if before is None or now is None or before.high is None or now.high is None:
        return None
    times = rule("other_well")
    return now.low <= times * before.high and before.low <= times * now.high

"""Puts what goes in, what was predicted and what was found side by side, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..analytes import registry
from ..checks.sheet import Span, in_unit
from ..interpretation import LevelUsed
from ..messages import say
from ..treatment.drafts import Draft
from ..treatment.knowledge import stages
from ..treatment.walk import Line as Passages
from ..treatment.walk import Passage, Walker
from ..treatment.water import Amount, Water
from ..verdicts.amounts import Amount as Told
from ..verdicts.doubt_tables import hidden_by, names
from .bottle import Bottle, is_germ, tested
from .judging import Judged, judge
from .tables import SignRow, rule, signs, witnesses
from .weighing import Later, Seen, Weighed, hidden, weigh


@dataclass(frozen=True, slots=True)
class Pair:
    """The water ahead of some stages, and the bottle behind them."""

    bases: tuple[Bottle, ...]
    """What was measured ahead, the nearest bottle first; never empty."""
    water: Water
    bottle: Bottle
    stages: tuple[str, ...]
    """The stages in between."""

    def germs(self, slug: str) -> bool | None:
        """Return whether germs were found ahead of the stages."""
        told = (base.germs(slug) for base in self.bases)
        return next((one for one in told if one is not None), None)

    def ahead(self, slug: str) -> Amount | None:
        """Return what goes into the first stage, in the unit of the registry."""
        own = registry()[slug]
        return self.water.amount(slug, own.unit, own.basis)


def see(pair: Pair) -> tuple[Judged, ...]:
    """Return each stage with its signs, and the outcome that they lead to by themselves."""
    drafts = [Draft(stage, stages()[stage].place) for stage in pair.stages]
    line = Walker(pair.water).through(drafts, sized=True)
    found = tested([pair.bottle])
    return tuple(
        judge(passage.draft.stage, tuple(_signs(pair, line, at, found)))
        for at, passage in enumerate(line)
    )


def _signs(pair: Pair, line: Passages, at: int, found: frozenset[str]) -> Iterator[Weighed]:
    passage, ahead = line[at], {one.draft.stage for one in line[:at]}
    for row in signs(passage.draft.stage):
        if row.analyte not in found or (row.ahead and row.ahead not in ahead):
            continue
        one = weigh(_seen(pair, passage, row))
        if one.told and hidden(one, _later(pair.stages[at + 1 :], row.analyte)):
            one = one.opened(say("outlet.open_hidden"))
        if one.state == "done" and pair.bottle.misread(row.analyte):
            one = one.opened(say("outlet.open_look"))
        yield one


def _seen(pair: Pair, passage: Passage, row: SignRow) -> Seen:
    slug, unit, basis = row.analyte, row.unit, row.basis
    if is_germ(slug):
        return Seen(row, None, None, None, germs=(pair.germs(slug), pair.bottle.germs(slug)))
    amount = passage.inlet.amount(slug, unit, basis)
    inlet = None if amount is None else Span(amount.low, amount.high)
    level = pair.bottle.level(slug)
    return Seen(
        row,
        inlet,
        _expected(passage, row),
        pair.bottle.span(slug, unit, basis),
        None if level is None or not registry()[slug].health else _level(level, row),
    )


def _expected(passage: Passage, row: SignRow) -> tuple[Decimal | None, Decimal | None] | None:
    """Return what may be predicted behind a stage; None where no source allows it."""
    if row.role == "side" and passage.inlet.amount(row.analyte, row.unit, row.basis) is None:
        return None
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


def thinned(pair: Pair) -> bool:
    """Whether the salts are gone though no stage in front of the tap takes them out."""
    return any(
        thins and _still(pair, slug) and _gone(pair, slug) for slug, thins in witnesses().items()
    )


def other_well(pair: Pair) -> bool:
    """Whether more of what no stage changes differs than agrees, and two things at least."""
    same = [one for slug in witnesses() if _still(pair, slug) for one in _alike(pair, slug)]
    return same.count(False) > max(1, same.count(True))


def _still(pair: Pair, slug: str) -> bool:
    """Whether no stage in front of the tap changes it, and so it tells of the well."""
    later = _later(pair.stages, slug)
    return not (later.lowered or later.raised)


def _gone(pair: Pair, slug: str) -> bool:
    before, now = pair.ahead(slug), _now(pair, slug)
    if before is None or now is None or now.high is None:
        return False
    return now.high <= rule("thinned") * before.low


def _alike(pair: Pair, slug: str) -> Iterator[bool]:
    before, now = pair.ahead(slug), _now(pair, slug)
    if before is None or now is None or before.high is None or now.high is None:
        return
    times = rule("other_well")
    yield now.low <= times * before.high and before.low <= times * now.high


def _now(pair: Pair, slug: str) -> Span | None:
    own = registry()[slug]
    return pair.bottle.span(slug, own.unit, own.basis)

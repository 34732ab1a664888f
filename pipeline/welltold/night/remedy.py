"""What keeps every backwash at its rate: other clocks, other nights, twins, or a storage tank."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..interpretation import NightRemedy
from ..sizing.rules import number as sizing_number
from ..sizing.written import up
from .play import Placed, Played, play, together
from .rules import asked, gallons, number
from .supply import Supply
from .washes import Wash


@dataclass(frozen=True, slots=True)
class Mended:
    """A remedy with the worst night under it."""

    remedy: NightRemedy
    nights: tuple[tuple[Placed, ...], ...]
    """The washes of each night."""
    worst: Played
    supply: Supply


def mend(supply: Supply, washes: Sequence[Wash], first: Played) -> Mended:
    """Return the least change after which no backwash falls short for longer than a flush."""
    if not first.lasting:
        return Mended("none", (first.placed,), first, supply)
    return next(_ways(supply, washes, first))


def standing(supply: Supply, washes: Sequence[Wash]) -> int | None:
    """Return the water above the pump that carries all washes; None where no such water does."""
    plenty = sum(rate for wash in washes for rate, _ in wash.rates()) + supply.tank + _toilet()
    deep = _staggered(replace(supply, well=plenty), washes)
    return None if deep is None else plenty - min(minute.well for minute in deep.minutes)


def _ways(supply: Supply, washes: Sequence[Wash], first: Played) -> Iterator[Mended]:
    apart = _staggered(supply, washes) if len(washes) > 1 else None
    if apart is not None:
        yield Mended("stagger", (apart.placed,), apart, supply)
    if len(washes) > 1:
        yield from _nightly(supply, washes, "nights")
    if all(2 * wash.tanks <= sizing_number("most_tanks") for wash in washes):
        halves = [half for wash in washes for half in (wash.halved(), wash.halved())]
        yield from _nightly(supply, halves, "twins")
    stored = None if supply.booster is not None else _stored(supply, washes)
    yield stored or Mended("specialist", (first.placed,), first, supply)


def _staggered(supply: Supply, washes: Sequence[Wash]) -> Played | None:
    """Return the washes one after the other, as early as the well allows; None: not by morning."""
    placed: tuple[Placed, ...] = ()
    played = None
    for wash in washes:
        played = _next(supply, placed, wash)
        if played is None:
            return None
        placed = played.placed
    return played


def _next(supply: Supply, placed: tuple[Placed, ...], wash: Wash) -> Played | None:
    step, latest = int(number("step")), int(number("latest_end"))
    begin = -(-placed[-1].end // step) * step if placed else 0
    for start in range(begin, latest - wash.minutes + 1, step):
        played = play(supply, (*placed, Placed(wash, start)))
        if not played.lasting:
            return played
    return None


def _nightly(supply: Supply, washes: Sequence[Wash], remedy: NightRemedy) -> Iterator[Mended]:
    """Yield one wash a night, where that is enough; the night that takes most water is shown."""
    nights = tuple(together([wash]) for wash in washes)
    played = [play(supply, night) for night in nights]
    if not any(night.lasting for night in played):
        worst = max(played, key=lambda night: sum(minute.needed for minute in night.minutes))
        yield Mended(remedy, nights, worst, supply)


def _stored(supply: Supply, washes: Sequence[Wash]) -> Mended | None:
    """Return the night from a full storage tank; None where a day does not fill it again."""
    placed: tuple[Placed, ...] = ()
    for wash in washes:
        placed = (*placed, Placed(wash, placed[-1].end if placed else 0))
    total = _toilet() + sum(rate for wash in washes for rate, _ in wash.rates())
    if total > 24 * 60 * min(supply.pump, supply.inflow):
        return None
    peak = _toilet() + max(wash.backwash.rate for wash in washes)
    tank = asked(up(gallons(total), str(number("storage_step"))))
    stored = replace(supply, tank=tank, booster=asked(up(gallons(peak), "1")))
    return Mended("storage", (placed,), play(stored, placed), stored)


def _toilet() -> int:
    """Return one flush."""
    return asked(number("toilet"))

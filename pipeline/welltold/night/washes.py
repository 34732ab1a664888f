"""What each stage asks for while its bed is washed, minute by minute."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal
from typing import Any

from ..interpretation import Stage
from .rules import asked


@dataclass(frozen=True, slots=True)
class Draw:
    """Water drawn evenly for some minutes."""

    minutes: int
    rate: int
    """Hundredths of a gallon each minute."""


@dataclass(frozen=True, slots=True)
class Wash:
    """One stage's backwash or regeneration; its tanks are washed one after the other."""

    stage: str
    backwash: Draw
    """What lifts the bed: below this rate the bed is not cleaned."""
    rest: tuple[Draw, ...] = ()
    """Brine, rinse and refill."""
    tanks: int = 1

    @property
    def minutes(self) -> int:
        """How long all of its tanks take."""
        return self.tanks * sum(draw.minutes for draw in (self.backwash, *self.rest))

    def rates(self) -> Iterator[tuple[int, bool]]:
        """Yield what each minute asks, and whether a bed is being lifted in it."""
        for _ in range(self.tanks):
            for draw in (self.backwash, *self.rest):
                for _ in range(draw.minutes):
                    yield draw.rate, draw is self.backwash

    def halved(self) -> Wash:
        """Return one of two tanks that have half the area each."""
        rest = tuple(_half(draw) for draw in self.rest)
        return replace(self, backwash=_half(self.backwash), rest=rest, tanks=1)


def washes(stages: Iterable[Stage]) -> tuple[Wash, ...]:
    """Return the washes of the stages that have a backwash, in the order of the water."""
    return tuple(wash for stage in stages if (wash := _wash(stage)) is not None)


def _wash(stage: Stage) -> Wash | None:
    size, settings = stage.size or {}, stage.settings or {}
    gpm, minutes = size.get("backwash_gpm"), settings.get("backwash_minutes")
    if not gpm or not minutes:
        return None
    rest = [
        _draw(settings.get(f"{part}_minutes"), flow)
        for part, flow in (
            ("brine", settings.get("brine_gpm")),
            ("rinse", gpm),
            ("refill", settings.get("refill_gpm")),
        )
    ]
    told = tuple(draw for draw in rest if draw is not None)
    return Wash(stage.stage, Draw(_whole(minutes), asked(gpm)), told, _tanks(size))


def _draw(minutes: Decimal | None, gpm: Decimal | None) -> Draw | None:
    return Draw(_whole(minutes), asked(gpm)) if minutes and gpm else None


def _tanks(size: Mapping[str, Any]) -> int:
    return int(size.get("tanks") or 1)


def _whole(minutes: Decimal) -> int:
    return int(minutes.to_integral_value(ROUND_CEILING))


def _half(draw: Draw) -> Draw:
    return replace(draw, rate=-(-draw.rate // 2))

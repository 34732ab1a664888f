"""Doubts about a unit that many results share: numbers a thousand times off say so together.

One value far from what groundwater shows may be bad water; a third of a sheet's values, all off in
one direction, is a unit that was misread.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from welltold.analytes import analyte
from welltold.reading import Result, Sample
from welltold.units import unit

from .doubt import lowered

_OFF = Decimal(10)
"""So many times outside the range of natural groundwater."""
_LEAST = 3
_SHARE = 0.3
_KINDS = frozenset({"mass", "amount"})


def doubt_units(samples: Sequence[Sample]) -> tuple[Sample, ...]:
    """Return the samples, results in a doubtful unit with that doubt."""
    every = [r for sample in samples for r in sample.results]
    slipped = {name for name in {_unit(r) for r in every} if name and _slipped(every, name)}
    if not slipped:
        return tuple(samples)
    return tuple(
        replace(s, results=tuple(_doubted(r, slipped) for r in s.results)) for s in samples
    )


def _doubted(result: Result, slipped: set[str]) -> Result:
    if _unit(result) not in slipped:
        return result
    return lowered(result, "unit_slip", unit=result.unit or "")


def _unit(result: Result) -> str | None:
    found = unit(result.unit) if result.unit else None
    return found.name if found is not None and found.kind in _KINDS else None


def _slipped(every: Iterable[Result], name: str) -> bool:
    """Whether many results in one unit lie far off, more of them above than below or turned."""
    told = [d for r in every if _unit(r) == name and (d := _direction(r)) is not None]
    least = max(_LEAST, _SHARE * len(told))
    return any(told.count(side) >= least for side in (1, -1))


def _direction(result: Result) -> int | None:
    """Return 1 for far above the natural range, -1 for far below, 0 within; None: not known."""
    if result.analyte is None or result.normalized is None or result.state not in _TOLD:
        return None
    known = analyte(result.analyte)
    value = result.normalized.value
    if known.natural_high and value > known.natural_high * _OFF:
        return 1
    if result.state == "value" and known.natural_low and 0 < value < known.natural_low / _OFF:
        return -1
    return 0 if known.natural_high else None


_TOLD = frozenset({"value", "below"})

"""Levels that count several analytes together, with what was not found as an interval."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from ..errors import UnitMismatchError
from .amounts import Amount, converted
from .tables import Part, Total


@dataclass(frozen=True, slots=True)
class Summed:
    """A total, and what it was made of."""

    amount: Amount
    parts: tuple[tuple[str, Amount], ...]
    """Slug and amount of each part that was tested, in the part's own unit."""
    missing: tuple[str, ...]
    """Slugs of the parts that were not tested."""


def total_of(
    total: Total, amounts: Mapping[str, Sequence[Amount]], unit: str, basis: str | None
) -> tuple[Summed, ...]:
    """Return the total for each way to read its parts; empty when no part can be counted.

    ``amounts`` are all readings of each analyte; where a part is open the gentlest and the
    gravest reading of it are both counted.
    """
    tested = [(part, amounts[part.slug]) for part in total.parts if amounts.get(part.slug)]
    covered = {slug for part, _ in tested for slug in part.covers}
    tested = [(part, read) for part, read in tested if part.slug not in covered]
    have = {part.slug for part, _ in tested} | covered
    missing = tuple(p.slug for p in total.parts if p.slug not in have and not _spared(p, have))
    if not tested:
        return ()
    ways = (_end(tested, gravest=False), _end(tested, gravest=True))
    if None in ways:
        return ()
    found = dict.fromkeys(_summed(total, way, missing, unit, basis) for way in ways if way)
    return tuple(found)


def without_uranium(alpha: Amount, uranium: Amount | None) -> Amount:
    """Return gross alpha without the uranium in it (40 CFR 141.66(c)); amounts in pCi/L.

    Without a uranium result all of it, or none of it, may be uranium.
    """
    if uranium is None:
        return replace(alpha, low=Decimal(0), more_than_low=False)
    least = alpha.low - uranium.high if uranium.high is not None else Decimal(0)
    most = None if alpha.high is None else max(alpha.high - uranium.low, Decimal(0))
    return replace(alpha, low=max(least, Decimal(0)), high=most)


def uranium_activity(readings: Sequence[Amount]) -> Amount | None:
    """Return uranium in pCi/L, from a mass by the rule's own factor.

    Several results give the widest interval; None where there is none, or its unit does not fit.
    """
    amounts = [one for one in map(_activity, readings) if one is not None]
    if not amounts:
        return None
    highs = [one.high for one in amounts if one.high is not None]
    high = max(highs) if len(highs) == len(amounts) else None
    return replace(amounts[0], low=min(one.low for one in amounts), high=high)


def _activity(uranium: Amount) -> Amount | None:
    from ..units import uranium_activity as activity_of

    try:
        return converted(uranium, "uranium", "pCi/L", None)
    except UnitMismatchError:
        pass
    try:
        mass = converted(uranium, "uranium", "ug/L", None)
    except UnitMismatchError:
        return None
    high = None if mass.high is None else activity_of(mass.high)
    return replace(mass, low=activity_of(mass.low), high=high, unit="pCi/L")


def _spared(part: Part, have: set[str]) -> bool:
    """Whether a part need not be tested because those that it covers were."""
    return bool(part.covers) and set(part.covers) <= have


def _end(
    tested: list[tuple[Part, Sequence[Amount]]], *, gravest: bool
) -> list[tuple[Part, Amount]] | None:
    """Return every part read at its gentlest or its gravest; None where a unit does not fit."""
    way = []
    for part, read in tested:
        try:
            own = [converted(one, part.slug, part.unit, part.basis) for one in read]
        except UnitMismatchError:
            return None
        way.append((part, max(own, key=_size) if gravest else min(own, key=_size)))
    return way


def _size(amount: Amount) -> tuple[Decimal, bool, Decimal]:
    return amount.low, amount.high is None, amount.high or Decimal(0)


def _summed(
    total: Total,
    way: list[tuple[Part, Amount]],
    missing: tuple[str, ...],
    unit: str,
    basis: str | None,
) -> Summed:
    low = sum((one.low / part.divide_by for part, one in way), Decimal(0))
    highs = [None if one.high is None else one.high / part.divide_by for part, one in way]
    high = None if missing or None in highs else sum((h for h in highs if h), Decimal(0))
    found = sum(one.found is True for _, one in way)
    if found < total.found:
        low = Decimal(0)
    amount = Amount(
        low, high, any(one.more_than_low for _, one in way), found > 0, unit=unit, basis=basis
    )
    return Summed(amount, tuple((part.slug, one) for part, one in way), missing)

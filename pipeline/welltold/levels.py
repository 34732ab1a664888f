"""Published levels for drinking water, as of a date.

A pack is the levels of one authority. One row is one level over one span of time, so the level
that counts, and what its status was, follow from the date alone. Several packs are joined: the
federal one is always among them, and of each analyte the strictest level comes first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from types import MappingProxyType

from .errors import UnitMismatchError, UnknownLevelsError
from .level_packs import (
    Pack,
    Stamp,
    all_rows,
    find_pack,
    known_packs,
    stamp,
    with_federal,
)
from .level_rows import FEDERAL, KINDS, MAY_DECIDE, ROLES, Level, Role
from .messages import Message, say
from .speech import in_sentence, phrase, plain_name

__all__ = (
    "MAY_DECIDE",
    "Level",
    "Levels",
    "Pack",
    "Role",
    "all_rows",
    "find_pack",
    "in_own_unit",
    "known_packs",
    "load_levels",
    "printed_limits",
    "strictest_first",
)


@dataclass(frozen=True, slots=True)
class Levels:
    """The levels of some packs as of one day."""

    packs: tuple[str, ...]
    """The federal pack first, then those that were asked for."""
    as_of: date
    by_slug: Mapping[str, tuple[Level, ...]]
    held_back: tuple[Level, ...] = ()
    """Levels whose first day nobody read, and that were read after ``as_of``: not used."""

    def of(self, slug: str | None) -> tuple[Level, ...]:
        """Return the levels of one analyte, those that decide first; empty when it has none."""
        return self.by_slug.get(slug or "", ())

    def notes(self, slug: str | None = None) -> tuple[Message, ...]:
        """Return which levels are not used for that day: of one analyte, or a count by pack."""
        if slug is not None:
            return tuple(
                _held_back(level, self.as_of) for level in self.held_back if level.slug == slug
            )
        counted = ((pack, [lv for lv in self.held_back if lv.pack == pack]) for pack in self.packs)
        return tuple(_counted(pack, rows, self.as_of) for pack, rows in counted if rows)


def load_levels(packs: Sequence[str], as_of: date) -> Levels:
    """Return the levels of ``packs``, and the federal ones, that hold on ``as_of``.

    A pack is a known name or the path of a user's own TOML file. UnknownLevelsError for a pack
    that is not known, and for a day before a pack begins; FileMissingError and LevelsFileError
    for a file.
    """
    names = with_federal(tuple(packs))
    return _levels(names, tuple(stamp(name) for name in names), as_of)


def printed_limits(slug: str) -> frozenset[Decimal]:
    """Return the numbers a lab may print as this analyte's federal limit, outdated ones included.

    In the analyte's own unit and basis; levels in a unit that cannot become it are left out. The
    levels of other packs are not among them: some equal what labs print as their own limits.
    """
    return _printed_limits().get(slug, frozenset())


def _pack_rows(name: str, day: date) -> tuple[Level, ...]:
    pack = find_pack(name)
    if day < pack.since:
        raise UnknownLevelsError(f"{name} on {day}", f"{name} from {pack.since}")
    return all_rows(name)


@cache
def _levels(packs: tuple[str, ...], _stamps: tuple[Stamp, ...], as_of: date) -> Levels:
    rows = tuple(row for name in packs for row in _pack_rows(name, as_of))
    by_slug: dict[str, list[Level]] = {}
    for level in rows:
        if level.holds(as_of):
            by_slug.setdefault(level.slug, []).append(level)
    ordered = {slug: strictest_first(found) for slug, found in by_slug.items()}
    held_back = tuple(row for row in rows if row.role != "none" and row.held_back(as_of))
    return Levels(packs, as_of, MappingProxyType(ordered), held_back)


def strictest_first(levels: Sequence[Level]) -> tuple[Level, ...]:
    """Return health levels first, of those the strictest, and rules before advice."""
    mixed = len({(level.unit, level.basis) for level in levels}) > 1

    def importance(level: Level) -> tuple[int, bool, Decimal, int]:
        numbers = in_own_unit(level) if mixed else ()
        number = numbers[-1] if numbers else level.value or Decimal(0)
        return ROLES.index(level.role), level.value is None, number, KINDS.index(level.kind)

    return tuple(sorted(levels, key=importance))


def in_own_unit(level: Level) -> tuple[Decimal, ...]:
    """Return the level's numbers in the analyte's own unit and basis; empty where that fails."""
    from .analytes import analyte
    from .units import convert

    if level.value is None:
        return ()
    own = analyte(level.slug)
    numbers = (level.value,) if level.low is None else (level.low, level.value)
    try:
        return tuple(
            convert(number, level.slug, level.unit, level.basis, own.unit, own.basis)
            for number in numbers
        )
    except UnitMismatchError:
        return ()


@cache
def _printed_limits() -> Mapping[str, frozenset[Decimal]]:
    found: dict[str, set[Decimal]] = {}
    for level in all_rows(FEDERAL):
        if level.form != "watch_band":
            found.setdefault(level.slug, set()).update(in_own_unit(level))
    return {slug: frozenset(numbers) for slug, numbers in found.items() if numbers}


def _held_back(level: Level, day: date) -> Message:
    name = in_sentence(plain_name(level.slug) or level.slug)
    return say(
        "levels.held_back",
        programme=phrase(level.programme),
        name=name,
        read=level.effective.isoformat(),
        day=day.isoformat(),
    )


def _counted(pack: str, rows: Sequence[Level], day: date) -> Message:
    first = min(level.effective for level in rows)
    return say(
        "levels.held_back_pack",
        pack=find_pack(pack).name,
        count=len(rows),
        read=first.isoformat(),
        day=day.isoformat(),
    )

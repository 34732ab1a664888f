"""Doubts about a unit that stands far from its results: in a footnote, on another page.

A unit of the row, the column, the name or a heading right above speaks for itself. One taken from
elsewhere is doubted where it stands below its result or on another page, and where other results
of the file name units of their own that differ from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from welltold.reading import Result, Sample, Where
from welltold.units import unit

from .doubt import lowered

_OWN = 0.2
"""So large a share of results with units of their own shows that one line does not hold for all."""
_WIDE = 150.0
"""Points; a wider line is no head of one column."""
_KINDS = frozenset({"mass", "amount"})
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_DIGITS = "0123456789"


def doubt_far_units(samples: Sequence[Sample]) -> tuple[Sample, ...]:
    """Return the samples; a unit from afar is doubted where the file speaks against it."""
    every = [r for sample in samples for r in sample.results]
    far = {id(r) for r in every if _is_far(r)}
    if not far:
        return tuple(samples)
    near = [name for r in every if id(r) not in far and (name := _name(r))]
    mixed = len(near) >= _OWN * len(every)

    def doubted(result: Result) -> Result:
        if id(result) not in far:
            return result
        other = mixed and any(name != _name(result) for name in near)
        if other or _behind(result):
            return lowered(result, "unit_far", unit=result.unit or "")
        return result

    return tuple(replace(s, results=tuple(map(doubted, s.results))) for s in samples)


def _name(result: Result) -> str | None:
    found = unit(result.unit) if result.unit else None
    return found.name if found is not None and found.kind in _KINDS else None


def _first(result: Result, of: str) -> Where | None:
    for place in result.where:
        if place.of == of:
            return place
    return None


def _is_far(result: Result) -> bool:
    told, value = _first(result, "unit"), _first(result, "value")
    if told is None or value is None or _beside(told, value) or _name(result) is None:
        return False
    others = (_first(result, "label"), _first(result, "header"))
    return not any(_beside(told, p) for p in others if p) and not _above(told, value)


def _beside(told: Where, place: Where) -> bool:
    """Whether two places stand on one line."""
    if (told.page, told.sheet) != (place.page, place.sheet):
        return False
    if told.box and place.box:
        return told.box[1] < place.box[3] and place.box[1] < told.box[3]
    return _row(told) == _row(place)


def _above(told: Where, value: Where) -> bool:
    """Whether a unit stands over the value, in its column."""
    if told.page != value.page or told.sheet != value.sheet:
        return False
    if told.box and value.box:
        over = told.box[0] < value.box[2] and value.box[0] < told.box[2]
        return over and told.box[2] - told.box[0] < _WIDE and not _behind_box(told, value)
    return told.sheet is None or _letters(told) == _letters(value)


def _behind(result: Result) -> bool:
    """Whether the unit is printed below its result or on another page."""
    told, value = _first(result, "unit"), _first(result, "value")
    if told is None or value is None:
        return False
    return told.page != value.page or _behind_box(told, value)


def _behind_box(told: Where, value: Where) -> bool:
    return bool(told.box and value.box and told.box[1] > value.box[1])


def _row(place: Where) -> str:
    return (place.cell or "").lstrip(_LETTERS)


def _letters(place: Where) -> str:
    return (place.cell or "").rstrip(_DIGITS)

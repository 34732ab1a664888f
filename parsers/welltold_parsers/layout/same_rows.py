"""Rows of a long data file that say the same of another sample: understood once.

An export of fifty thousand rows has some hundred different ones beside their samples: "Nitrate,
<0.5, mg/L, EPA 353.2" comes a thousand times. The first is read as any row is; the others take its
result with the places of their own cells.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields
from functools import partial
from typing import NamedTuple

from welltold.reading import Result, Where

from .cells import Cell, Line, Of, where
from .context import Context
from .drafts import Facts
from .open_flags import not_found
from .printed import Section
from .row_samples import RowSamples

_MOST = 10_000
"""So many different rows are kept."""
_OF_THE_CELL = frozenset({"stored", "shown", "where"})
_FIELDS = tuple(f.name for f in fields(Result) if f.name not in _OF_THE_CELL)


class _Known(NamedTuple):
    """What was made of a row."""

    make: Callable[..., Result]
    """The result, but for what belongs to its cells."""
    places: tuple[tuple[Of, int] | Where, ...]
    """What stands in which column of the row, the value first; a head as its place."""


class SameRows:
    """The rows of one table with one column of results, by what they say."""

    def __init__(self, whose: RowSamples, context: Context, width: int) -> None:
        self._whose = whose
        self._context = context
        self._own = sorted(set(range(width)) - set(whose.telling))
        self._known: dict[tuple[object, ...], _Known] = {}
        self._section: Section = context.section
        self._facts: Facts | None = None
        self._marks = False, False

    def take(self, line: Line, cells: Sequence[Cell | None]) -> bool:
        """Add the result of a row whose like was read before; False: there was none."""
        if self._context.section is not self._section:  # a line between told something for all
            self._known.clear()
            self._section = self._context.section
        facts = self._whose.facts(cells)
        known = self._known.get(self._key(facts, cells))
        if known is None or self._context.closed:
            return False
        if self._whose.skipped(facts, 0):
            self._context.accounts.settle(line)
            return True
        draft = self._whose.draft(facts, 0)
        if draft.unsure:
            return False
        draft.results.append(_made(known, cells))
        self._context.accounts.settle(line)
        value = known.places[0]
        if not isinstance(value, Where) and (cell := cells[value[1]]) is not None:
            self._context.accounts.told.tell("results", cell)
        return True

    def keep(self, line: Line, cells: Sequence[Cell | None]) -> None:
        """Keep the result that was just made of a row, if it was, for the rows like it."""
        drawn = self._whose.drawn
        if drawn is None or drawn[2].unsure or not drawn[2].results or len(self._known) >= _MOST:
            return
        result = drawn[2].results[-1]
        columns = {where("value", c).cell: i for i in self._own if (c := cells[i]) is not None}
        value = result.where[0]
        if line.answer is not None or value.sheet != line.sheet or value.cell not in columns:
            return
        places = tuple(
            (p.of, columns[p.cell]) if p.cell is not None and p.cell in columns else p
            for p in result.where
        )
        make = partial(Result, **{name: getattr(result, name) for name in _FIELDS})
        self._known[self._key(drawn[0], cells)] = _Known(make, places)

    def _key(self, facts: Facts, cells: Sequence[Cell | None]) -> tuple[object, ...]:
        """Return what a row says beside its sample.

        What tells of the sample counts only where it may look like something else: keys with a
        colon, or a flag.
        """
        if facts is not self._facts:
            texts = [c.text for i in self._whose.telling if (c := cells[i]) is not None]
            self._facts = facts
            self._marks = any(":" in t for t in texts), any(map(not_found, texts))
        colon, flag = self._marks
        told = [c.text if (c := cells[i]) is not None else None for i in self._own]
        if flag:
            told += [c.text if (c := cells[i]) is not None else None for i in self._whose.telling]
        return colon, *told


def _made(known: _Known, cells: Sequence[Cell | None]) -> Result:
    """Return the result of a row like one that is known, at the places of its own cells."""
    places = []
    for place in known.places:
        if isinstance(place, Where):
            places.append(place)
        elif (cell := cells[place[1]]) is not None:
            places.append(where(place[0], cell))
    first = known.places[0]
    value = cells[first[1]] if not isinstance(first, Where) else None
    source = value.source if value is not None else None
    stored = source.stored if source is not None else None
    shown = source.text if source is not None and stored is not None else None
    return known.make(stored=stored, shown=shown, where=tuple(places))

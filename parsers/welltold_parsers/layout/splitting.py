"""Cuts a page or a sheet into tables and the free lines between them."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Line
from .column_heads import table_of
from .head_places import body_below, heads_of
from .numbered import end_of_part
from .tables import Free, Table


def split(lines: Sequence[Line]) -> list[Table | Free]:
    """Return the tables and free lines of one page or sheet, in order."""
    heads = heads_of(lines)
    pieces: list[Table | Free] = []
    done = 0
    for number, (first, main) in enumerate(heads):
        if first > done:
            pieces.append(Free(list(lines[done:first])))
        end = heads[number + 1][0] if number + 1 < len(heads) else len(lines)
        end = end_of_part(lines, first, end)
        body = body_below(lines, main, end)
        pieces.append(table_of(main, list(lines[first:body]), list(lines[body:end])))
        done = end
    if done < len(lines):
        pieces.append(Free(list(lines[done:])))
    return pieces

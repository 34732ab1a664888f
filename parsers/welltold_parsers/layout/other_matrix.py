"""Leaves out what is no water: a table of raw milk, of soil, of paint beside the water's own.

Such a part begins with a title of its own, or with a unit by weight ("mg/kg"), and ends where a
title or a unit tells of water again. Its rows are counted and told; where nothing else is on the
sheet, nothing is left out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .announced_regions import has_value
from .cells import Line
from .context import Context
from .head_cells import head_analyte
from .tokens import analytes_within

_TITLE = re.compile(
    r"(?i)(?:results? (?:of|for) )?(?:the )?"
    r"(?:soil|raw milk|(?:bulk )?tank milk|milk|sediment|sludge|biosolid|manure|compost|feed|forage"
    r"|hay|silage|food|paint|dust|wipe|swab|(?:plant |leaf )?tissue|(?:indoor )?air)s?"
    r"(?: (?:chip|sample|analys[ie]s|result|test|testing|data|quality)s?)*"
    r"(?:\s?[,:(–-].{0,60})?"
)
_WATER = re.compile(
    r"(?i)\bwaters?\b(?! softener)|(?:mg|[uµμ]g|ng|pg|pCi|Bq|CFU|MPN)\s?/\s?(?:L|100\s?mL)\b"
    r"|\bpp[mbt]\b|\bgpg\b|\bNTU\b|[uµμ]S/cm"
)
_NOT_WATER = re.compile(r"(?i)\bnot (?:of )?(?:the )?water\b")
_BY_WEIGHT = re.compile(
    r"(?i)(?<![\w/])(?:mg|[uµμ]g|ng|g)\s?/\s?(?:k?g|wipe|swab|sq\.? ?ft|ft[2²]|cm[2²]|m[3³])"
    r"(?![\w/])|\bppm \(?dry\b"
)
_CELLS = 2
"""A title stands alone on its line, or beside a date."""


def without_other_matrix(lines: Sequence[Line], context: Context) -> list[Line]:
    """Return the lines that tell of water; count the rows of the others."""
    if context.opened:
        return list(lines)
    kept: list[Line] = []
    part: list[Line] | None = None
    for at, line in enumerate(lines):
        text = " ".join(line.text.split())
        if part is None and _begins(line, text, lines[at + 1 : at + 4]):
            part = [line]
        elif part is not None and _tells_of_water(text):
            kept += [*_left_out(part, context), line]
            part = None
        elif part is not None:
            part.append(line)
        elif _BY_WEIGHT.search(text) is not None and analytes_within(text):
            _left_out([line], context)
        else:
            kept.append(line)
    return kept + _left_out(part or [], context)


def _left_out(part: Sequence[Line], context: Context) -> list[Line]:
    """Count the rows of a part; return what stands below the last: the head of what follows."""
    rows = [at for at, line in enumerate(part) if has_value(line)]
    end = rows[-1] + 1 if rows else 0
    context.accounts.settle(*part[:end])
    for _ in rows:
        context.count("other_matrix")
        context.shut = True
    return list(part[end:])


def _begins(line: Line, text: str, following: Sequence[Line]) -> bool:
    """Whether a line is the title, or the head, of a table that is not of water."""
    if len(line.cells) <= _CELLS and _TITLE.fullmatch(text) is not None:
        return any(len(x.cells) > _CELLS for x in following) and not _tells_of_water(text)
    if _BY_WEIGHT.search(text) is None or has_value(line):
        return False
    heads = [_BY_WEIGHT.sub("", c.text).strip(" ,()[]") for c in line.cells]
    return sum(head_analyte(h) is not None for h in heads if h) > 0 and not _tells_of_water(text)


def _tells_of_water(text: str) -> bool:
    return _WATER.search(_BY_WEIGHT.sub(" ", _NOT_WATER.sub(" ", text))) is not None

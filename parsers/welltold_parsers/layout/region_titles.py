"""Which texts begin a part of the sheet that holds no results, and which only look so."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .cells import Cell, Line
from .facts import Fact
from .words import heading_region

PAPERS = frozenset({"invoice", "custody", "accreditation"})
"""Papers that come with a report; beside a client's name their number begins none of them."""
_CELLS = 4
"""A heading has fewer cells."""
_CONTROL_SHEET = re.compile(
    r"(?i)^(?:lab(?:oratory)? )?(?:qc|qa|qa[ /_-]?qc)(?: (?:data|results))?$"
)
_CHART_SHEET = re.compile(r"(?i)\b(?:charts?|graphs?|plots?|trends?)\b")


def region_of_sheet(name: str | None, *, charts: bool) -> str | None:
    """Return the region that a workbook's sheet is named for; None: it may hold results.

    ``charts``: results came before, so that a sheet named for charts only draws them.
    """
    if name is None:
        return None
    if heading_region(name) == "qc" or _CONTROL_SHEET.search(name):
        return "qc"
    return "history" if charts and _CHART_SHEET.search(name) else None


def beside_keys(facts: Sequence[Fact]) -> Iterator[tuple[Cell, str]]:
    """Yield titles on one line with keys, with their region: "Case Narrative   Job ID: 340-7"."""
    told = {id(f.cell) for f in facts}
    keys = {f.key for f in facts}
    for cell in facts[0].cell.line.cells if facts else ():
        if id(cell) in told or cell.text in keys or ":" in cell.text:
            continue
        region = heading_region(cell.text)
        if region and not (region in PAPERS and any(c.isdigit() for c in cell.text)):
            yield cell, region


def is_sentence(text: str) -> bool:
    """Whether a line is a remark that only contains the words of a heading."""
    return text.rstrip().endswith(".") or text[:1] in "*†‡" or text[:1].islower()


def is_legend(text: str) -> bool:
    """Whether a line says what a short form stands for: "QC = Quality Control"."""
    return re.search(r"\S\s*=\s*\S", text) is not None


def is_row(line: Line) -> bool:
    """Whether a line has so many cells that it is no heading, unless its first cell is one.

    "Units | MAC | Well 1 | Well 2 | QC Batch" is the head of a table.
    """
    return len(line.cells) >= _CELLS and heading_region(line.cells[0].text) is None

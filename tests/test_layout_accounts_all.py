"""Nothing vanishes: each row with a test and a number gave a result, or is told as not understood.

Rows that a sheet itself gives to quality control, to earlier results or to blanks are left out, and
the reading says so; no other row may be missing. Each printed number, counted here anew, has one
role in the reading. Walked over all samples and all layouts of the
proving ground that need nothing but the development packages.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path

import pytest

from welltold.errors import WelltoldError
from welltold.reading import Reading, Where
from welltold_parsers import read
from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Document
from welltold_parsers.layout.cells import Cell, Line
from welltold_parsers.layout.lines import page_lines, sheet_lines
from welltold_parsers.layout.tokens import analyte_in, unit_of, value_of
from welltold_parsers.layout.unseen import shown
from welltold_parsers.limits import Limits

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from samples.proving.layouts import Layout, layouts, make_sheet  # noqa: E402 - no package

SHEETS = sorted(p for p in (ROOT / "samples" / "sheets").iterdir() if p.suffix != ".png")
HERE = [x for x in layouts() if not x.name.endswith(("-browser", "-writer", "-calc"))]
LEFT_OUT = {
    "read.qc_left_out",
    "read.history_left_out",
    "read.blank_left_out",
    "read.public_supply",
}


def _lines(document: Document) -> Iterator[Line]:
    for page in document.pages:
        yield from page_lines(page)
    for sheet in document.sheets:
        if not sheet.hidden:
            yield from (line for line in sheet_lines(sheet) if not line.hidden)


def _number(cell: Cell) -> bool:
    found = value_of(cell.text)
    return found is not None and found.value is not None and unit_of(cell.text) is None


def _names_and_measures(line: Line) -> bool:
    for at, cell in enumerate(line.cells[:2]):
        if analyte_in(cell.text) is not None:
            return any(map(_number, line.cells[at + 1 :]))
    return False


def _covers(place: Where, line: Line) -> bool:
    if place.box is not None:
        return place.page == line.page and place.box[1] < line.bottom and place.box[3] > line.top
    row = re.search(r"(?:L|[A-Z]+)(\d+)", place.cell or "")
    if line.page is not None:  # plain text has its places by line
        return row is not None and int(row[1]) == round(line.top / 12) + 1
    return place.sheet == line.sheet and row is not None and int(row[1]) == line.index


def vanished(document: Document, reading: Reading) -> list[str]:
    """Return the rows with a test and a number that neither results nor ``unread`` tell of."""
    places = [w for r in reading.results for w in r.where] + [u.where for u in reading.unread]
    rows = [line for line in _lines(document) if _names_and_measures(line)]
    return [x.text for x in rows if not any(_covers(place, x) for place in places)]


def numbers_on(document: Document) -> int:
    """Return how many printed words, or cells that are shown, carry a digit."""
    texts = [word.text for page in document.pages for word in page.words]
    for sheet in document.sheets:
        cells = (cell for row in shown(sheet).rows for cell in row)
        texts += [cell.text for cell in cells] if not sheet.hidden else []
    return sum(any(map(str.isdecimal, text)) for text in texts)


def adds_up(document: Document, reading: Reading) -> None:
    """Check that each number has one role, and that the values of results are among them."""
    assert reading.numbers is not None
    roles = asdict(reading.numbers)
    assert roles.pop("shown") == sum(roles.values()) == numbers_on(document)
    measured = [r for r in reading.results if any(map(str.isdecimal, r.text))]
    assert reading.numbers.results >= len({r.where[0] for r in measured})


def check(path: Path) -> None:
    try:
        reading = read(path)
    except WelltoldError:
        return  # refused with a reason; nothing is claimed to be read
    document = open_document(path, Limits())
    lost = vanished(document, reading)
    assert not lost or LEFT_OUT & {w.code for w in reading.warnings}, lost
    adds_up(document, reading)


@pytest.mark.parametrize("path", SHEETS, ids=lambda p: p.name)
def test_no_row_of_a_sample_vanishes(path: Path) -> None:
    check(path)


@pytest.mark.parametrize("layout", HERE, ids=lambda one: one.name)
def test_no_row_of_a_varied_sheet_vanishes(layout: Layout, tmp_path: Path) -> None:
    made, _ = make_sheet(layout, f"accounts {layout.name}")
    path = tmp_path / f"sheet{layout.suffix}"
    path.write_bytes(made)
    check(path)


def test_a_row_that_nothing_tells_of_is_noticed() -> None:
    path = ROOT / "samples" / "sheets" / "nitrate-bacteria.pdf"
    reading = read(path)
    blind = replace(reading, samples=(), unread=())
    assert len(vanished(open_document(path, Limits()), blind)) >= 1
    assert vanished(open_document(path, Limits()), reading) == []

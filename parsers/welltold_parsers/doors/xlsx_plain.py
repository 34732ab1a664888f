"""The rows of a worksheet in the plain form that long exports have, read without an XML parser.

Programs that write half a million cells write them all alike: numbers and shared strings, one
behind the other, nothing between. Such rows are taken up by patterns in half the time. Whatever is
not exactly of that form (a formula, a text of its own, a comment) leaves the whole sheet to the
parser.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from welltold_parsers.addresses import column
from welltold_parsers.doors.cells import Grid, stripped
from welltold_parsers.geometry import SheetCell

_BEGIN, _END, _EMPTY = b"<sheetData>", b"</sheetData>", b"<sheetData/>"
_STYLE, _VALUE = r"\d{1,6}", r"[^<>&\s]+"
_ROW = re.compile(
    r'<row r="(?P<row>[1-9]\d{0,6})"(?P<more>[^<>&]*)(?<!/)>(?P<cells>(?:<c r="[A-Z]{1,3}(?P=row)"'
    rf'(?: s="{_STYLE}")?(?: t="[ns]")?(?:/>|><v>{_VALUE}</v></c>))*+)'
)
_CELL = re.compile(rf'<c r="([A-Z]+)\d+"(?: s="({_STYLE})")?(?: t="([ns])")?><v>({_VALUE})</v>')
_HIDDEN = re.compile(r'\shidden="(?:1|true)"')
_CLOSE = "</row>"


def parted(part: bytes) -> tuple[bytes, str] | None:
    """Return a worksheet without its rows, and its rows; None: it is not of the plain form."""
    before, begun, rest = part.partition(_BEGIN)
    rows, ended, behind = rest.rpartition(_END)
    plain = rows.isascii() and _BEGIN not in rows and rows.endswith(_CLOSE.encode())
    if not begun or not ended or b"<!" in before or not plain:
        return None
    return before + _EMPTY + behind, rows.decode("ascii")


def fill(grid: Grid, rows: str, strings: Sequence[str], formats: Sequence[str]) -> bool:
    """Add the cells of plain rows to an empty grid; False: the rows are not plain all through."""
    texts = {str(number): stripped(text) for number, text in enumerate(strings)}
    codes = {str(number): code for number, code in enumerate(formats)}
    for row in _split(rows):
        found = _ROW.fullmatch(row)
        number = int(found["row"]) if found is not None else 0
        if found is None or number in grid.cells:
            return False
        if _HIDDEN.search(found["more"]):
            grid.hidden_rows.add(number)
        if not _fill_row(grid, number, found["cells"], texts, codes):
            return False
    return True


def _split(rows: str) -> Iterator[str]:
    """Yield what each row holds up to its end."""
    at = 0
    while (end := rows.find(_CLOSE, at)) >= 0:
        yield rows[at:end]
        at = end + len(_CLOSE)


def _fill_row(
    grid: Grid, row: int, cells: str, texts: Mapping[str, str], codes: Mapping[str, str]
) -> bool:
    """Add the cells of one row; False: they are out of order, or their strings are not there."""
    made: list[SheetCell] = []
    last = 0
    for letters, style, kind, value in _CELL.findall(cells):
        at = column(letters)
        if at <= last:
            return False
        last = at
        if kind != "s":
            cell = grid.number_cell(row, at, value, codes.get(style, "General"))
        elif (text := texts.get(value)) is not None:
            cell = SheetCell(row, at, text) if text else None
        else:
            return False
        if cell is not None:
            made.append(cell)
    grid.add_row(row, made)
    return True

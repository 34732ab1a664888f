"""Draws leaves with reportlab, word by word: positions only, rules here and there."""

from __future__ import annotations

import random

from reportlab.lib.pagesizes import landscape, letter
from reportlab.pdfbase.pdfmetrics import stringWidth

from ...make.canvas_sheets import Page
from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title

_FACES = (("Helvetica", "Helvetica-Bold"), ("Times-Roman", "Times-Bold"),
          ("Courier", "Courier-Bold"))  # fmt: skip
_SMALL = (432.0, 317.0)


class _Sheet:
    """The page under the pen."""

    def __init__(self, leaf: Leaf, rng: random.Random) -> None:
        size = _SMALL if leaf.small else landscape(letter) if leaf.wide else letter
        self.page = Page(size)
        self.right = size[0] - 36
        self.bottom = size[1] - 30
        self.down = 40.0
        self.plain, self.bold = rng.choice(_FACES)
        self.size = rng.choice((8.0, 8.5, 9.0)) if not leaf.small else 7.5
        self.rules = rng.choice(("none", "head", "rows"))
        self.again = rng.random() < 0.6
        self.twice = rng.random() < 0.15
        self.backwards = rng.random() < 0.2

    def face(self, *, bold: bool = False, larger: float = 0) -> None:
        self.page.font(self.bold if bold else self.plain, self.size + larger)

    def room(self, height: float) -> bool:
        """Begin a new page if there is no room; say whether there was."""
        if self.down + height <= self.bottom:
            return True
        self.page.next()
        self.down = 50.0
        return False

    def line(self, text: str, *, bold: bool = False, larger: float = 0) -> None:
        self.face(bold=bold, larger=larger)
        for part in self._wrapped(text):
            self.room(14 + larger)
            self.page.put(36, self.down, part)
            self.down += self.size + 4 + larger

    def _wrapped(self, text: str) -> list[str]:
        lines = [""]
        for word in text.split(" "):
            longer = f"{lines[-1]} {word}" if lines[-1] else word
            if stringWidth(longer, *self.page.face) > self.right - 36:
                lines.append(word)
            else:
                lines[-1] = longer
        return lines


def _widths(grid: Grid, sheet: _Sheet, room: float) -> list[float]:
    """Return the columns' widths, narrowed where the page asks for it."""
    rows = [*grid.heads, *(row for row in grid.rows if isinstance(row, list))]
    widths = []
    for at in range(grid.width):
        longest = max(stringWidth(row[at], sheet.bold, sheet.size) for row in rows)
        widths.append(longest + 9)
    if sum(widths) > room:
        sheet.size = max(4.5, sheet.size * room / sum(widths))
        return [width * room / sum(widths) for width in widths]
    spare = (room - sum(widths)) / len(widths)
    return [width + min(spare, 40) for width in widths]


def _row(
    sheet: _Sheet, grid: Grid, cells: list[str], widths: list[float], x: float, *, bold: bool
) -> None:
    sheet.face(bold=bold)
    places: list[tuple[float, str, str]] = []
    for at, (cell, width) in enumerate(zip(cells, widths, strict=True)):
        side = "right" if at in grid.right else "left"
        places.append((x + width - 6 if side == "right" else x, side, cell))
        x += width
    if sheet.backwards:
        places.reverse()
    sheet.page.line(sheet.down, places)
    if sheet.twice and bold:  # as old programs make bold letters
        sheet.page.line(sheet.down, [(at + 0.3, side, cell) for at, side, cell in places])


def _grid(sheet: _Sheet, grid: Grid, x: float = 36, room: float | None = None) -> None:
    size = sheet.size
    widths = _widths(grid, sheet, room or sheet.right - x)
    end = x + sum(widths)

    def heads() -> None:
        for row in grid.heads:
            _row(sheet, grid, row, widths, x, bold=True)
            sheet.down += sheet.size + 3
        if sheet.rules != "none" and grid.heads:
            sheet.page.rule(x, sheet.down - sheet.size + 1, end)
            sheet.down += 3

    heads()
    for cells in grid.rows:
        if not sheet.room(14) and sheet.again:
            heads()
        if isinstance(cells, str):
            sheet.face(bold=True)
            sheet.page.put(x, sheet.down + 2, cells)
            sheet.down += 3
        else:
            _row(sheet, grid, cells, widths, x, bold=False)
        if sheet.rules == "rows":
            sheet.page.rule(x, sheet.down + 3, end, 0.2)
        sheet.down += sheet.size + 5
    sheet.size = size
    sheet.down += 8


def _pairs(sheet: _Sheet, block: Pairs) -> None:
    for start in range(0, len(block.pairs), block.columns):
        sheet.room(14)
        for at, (key, value) in enumerate(block.pairs[start : start + block.columns]):
            x = 36 + at * (sheet.right - 36) / 2
            sheet.face(bold=True)
            sheet.page.put(x, sheet.down, f"{key}:")
            sheet.face()
            sheet.page.put(x + 105, sheet.down, value)
        sheet.down += sheet.size + 5
    sheet.down += 8


def _leaders(sheet: _Sheet, block: Leaders) -> None:
    sheet.face()
    for label, text in block.pairs:
        dots = (230 - stringWidth(label, *sheet.page.face)) / stringWidth(".", *sheet.page.face)
        sheet.page.put(36, sheet.down, f"{label} {'.' * int(dots)} {text}")
        sheet.down += sheet.size + 5


def _beside(sheet: _Sheet, block: Beside) -> None:
    start, half = sheet.down, (sheet.right - 36) / 2 - 8
    _grid(sheet, block.left, 36, half)
    left, sheet.down = sheet.down, start
    _grid(sheet, block.right, 36 + half + 16, half)
    sheet.down = max(left, sheet.down)


def _draw(sheet: _Sheet, block: Block) -> None:
    match block:
        case Title():
            sheet.line(block.text, bold=True, larger=6)
        case Line():
            sheet.line(block.text, bold=block.strong)
            sheet.down += 5
        case Pairs():
            _pairs(sheet, block)
        case Grid():
            _grid(sheet, block)
        case Beside():
            _beside(sheet, block)
        case Leaders():
            _leaders(sheet, block)
        case Break():
            sheet.room(9_999)


def make(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the PDF of a leaf."""
    sheet = _Sheet(leaf, rng)
    for block in leaf.blocks:
        _draw(sheet, block)
    return sheet.page.done()

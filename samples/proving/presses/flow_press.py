"""Sets leaves with reportlab's flowing tables: wrapped cells, boxes, zebra stripes."""

from __future__ import annotations

import io
import random
from html import escape
from typing import Any

from reportlab.lib.colors import HexColor, black
from reportlab.lib.pagesizes import landscape, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable, PageBreak, Paragraph, SimpleDocTemplate, Spacer, Table

from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title

_FACES = (("Helvetica", "Helvetica-Bold"), ("Times-Roman", "Times-Bold"))


class _Look:
    """Fonts, colours and rules of one leaf."""

    def __init__(self, rng: random.Random, room: float) -> None:
        plain, bold = rng.choice(_FACES)
        size = rng.choice((7.5, 8, 8.5))
        self.room = room
        self.plain = ParagraphStyle("p", fontName=plain, fontSize=size, leading=size + 2)
        self.bold = ParagraphStyle("b", parent=self.plain, fontName=bold)
        self.title = ParagraphStyle("t", parent=self.bold, fontSize=15, leading=19)
        self.end = ParagraphStyle("r", parent=self.plain, alignment=2)
        self.table = rng.choice(("grid", "stripes", "lines", "plain"))
        self.tint = HexColor(rng.choice(("#dfe8f2", "#e8efdd", "#f3e6df", "#e6e6e6")))
        self.repeat = rng.random() < 0.6

    def rules(self, heads: int) -> list[tuple[Any, ...]]:
        """Return the table's style commands."""
        made: list[tuple[Any, ...]] = [("VALIGN", (0, 0), (-1, -1), "TOP"),
                                       ("TOPPADDING", (0, 0), (-1, -1), 1.5),
                                       ("BOTTOMPADDING", (0, 0), (-1, -1), 2)]  # fmt: skip
        if self.table == "grid":
            made.append(("GRID", (0, 0), (-1, -1), 0.4, black))
        if self.table == "stripes":
            made.append(("ROWBACKGROUNDS", (0, heads), (-1, -1), [None, self.tint]))
        if self.table == "lines":
            made.append(("LINEBELOW", (0, 0), (-1, -1), 0.2, black))
        if heads:
            made.append(("BACKGROUND", (0, 0), (-1, heads - 1), self.tint))
        return made


def _widths(grid: Grid, look: _Look, room: float) -> tuple[list[float], float]:
    """Return the columns' widths, and the size at which no word of theirs is cut."""
    rows = [*grid.heads, *(row for row in grid.rows if isinstance(row, list))]
    size = look.bold.fontSize
    least, wanted = [0.0] * grid.width, [0.0] * grid.width
    for row in rows:
        for at, cell in enumerate(row):
            words = [stringWidth(word, look.bold.fontName, size) for word in cell.split()]
            least[at] = max(least[at], *words, 6.0)
            wanted[at] = max(wanted[at], min(sum(words) + 3 * len(words), 130))
    pad = 13.0 * grid.width
    if sum(least) + pad > room:
        size *= (room - pad) / sum(least)
        least = [width * (room - pad) / sum(least) for width in least]
    widths = [max(pair) for pair in zip(least, wanted, strict=True)]
    spare = room - pad - sum(least)
    more = sum(widths) - sum(least) or 1
    share = [(a, b - a) for a, b in zip(least, widths, strict=True)]
    return [13 + low + spare * extra / more for low, extra in share], size * 0.99


def _grid(grid: Grid, look: _Look, room: float) -> Table:
    widths, size = _widths(grid, look, room)
    plain, bold, end = (
        ParagraphStyle(style.name, parent=style, fontSize=size, leading=size + 2)
        for style in (look.plain, look.bold, look.end)
    )
    rows: list[list[Any]] = [[Paragraph(escape(c), bold) for c in row] for row in grid.heads]
    rules = look.rules(len(grid.heads))
    for row in grid.rows:
        if isinstance(row, str):
            rules.append(("SPAN", (0, len(rows)), (-1, len(rows))))
            rows.append([Paragraph(escape(row), bold), *[""] * (grid.width - 1)])
            continue
        rows.append([
            Paragraph(escape(cell), end if at in grid.right else plain)
            for at, cell in enumerate(row)
        ])  # fmt: skip
    return Table(rows, widths, repeatRows=len(grid.heads) if look.repeat else 0, style=rules)


def _pairs(block: Pairs, look: _Look) -> Table:
    cells = []
    for key, value in block.pairs:
        cells.append(Paragraph(escape(key), look.bold))
        cells.append(Paragraph(escape(value), look.plain))
    wide = 2 * block.columns
    cells += [""] * (-len(cells) % wide)
    rows = [cells[at : at + wide] for at in range(0, len(cells), wide)]
    return Table(rows, [look.room / wide] * wide)


def _beside(block: Beside, look: _Look) -> Table:
    half = look.room / 2 - 8
    sides = [_grid(side, look, half) for side in (block.left, block.right)]
    return Table([sides], [look.room / 2] * 2, style=[("VALIGN", (0, 0), (-1, -1), "TOP")])


def _flow(block: Block, look: _Look) -> list[Flowable]:
    made: list[Flowable] = []
    match block:
        case Title():
            made = [Paragraph(escape(block.text), look.title)]
        case Line():
            style = look.bold if block.strong else look.plain
            made = [Paragraph(escape(block.text), style), Spacer(1, 5)]
        case Pairs():
            made = [_pairs(block, look), Spacer(1, 8)]
        case Grid():
            made = [_grid(block, look, look.room), Spacer(1, 8)]
        case Beside():
            made = [_beside(block, look)]
        case Leaders():
            lines = [f"{escape(a)} {'.' * 20} {escape(b)}" for a, b in block.pairs]
            made = [Paragraph(line, look.plain) for line in lines]
        case Break():
            made = [PageBreak()]
    return made


def make(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the PDF of a leaf."""
    size = landscape(letter) if leaf.wide else letter
    out = io.BytesIO()
    template = SimpleDocTemplate(out, pagesize=size, leftMargin=40, rightMargin=40, topMargin=40,
                                 bottomMargin=40, invariant=1)  # fmt: skip
    look = _Look(rng, size[0] - 92)
    template.build([flowable for block in leaf.blocks for flowable in _flow(block, look)])
    return out.getvalue()

"""Sets leaves with typst, in several looks."""

from __future__ import annotations

import random
from dataclasses import dataclass

from ...make import press
from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title

_FONTS = ("Libertinus Serif", "Liberation Sans", "DejaVu Sans", "Liberation Serif",
          "New Computer Modern", "Liberation Mono", "DejaVu Serif")  # fmt: skip
_STROKES = {
    "ruled": "stroke: none",
    "zebra": "stroke: none, fill: (x, y) => if calc.odd(y) { luma(240) }",
    "boxed": "stroke: .4pt",
    "lines": "stroke: (x, y) => (bottom: .3pt + luma(160))",
    "bare": "stroke: none",
    "shaded": "stroke: (left: .3pt, right: .3pt), fill: (x, y) => if y == 0 { luma(220) }",
}


@dataclass(slots=True)
class _Look:
    table: str
    size: float
    repeat: bool


def _text(text: str) -> str:
    """Return text as a typst string, shown as it is."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _grid(grid: Grid, look: _Look) -> str:
    align = ["right" if at in grid.right else "left" for at in range(grid.width)]
    cells = []
    head = []
    for cells_above in grid.heads:
        head += [f"strong({_text(cell)})" for cell in cells_above]
    if head:
        line = ", table.hline(stroke: .8pt)" if look.table == "ruled" else ""
        repeat = str(look.repeat).lower()
        cells.append(f"table.header(repeat: {repeat}, {', '.join(head)}{line})")
    for row in grid.rows:
        if isinstance(row, str):
            cells.append(f"table.cell(colspan: {grid.width}, strong({_text(row)}))")
        else:
            cells += [_text(cell) for cell in row]
    inset = "inset: (x: 4pt, y: 3.2pt)"
    widths = f"columns: {grid.width}"
    start = f"{widths}, {inset}, align: ({', '.join(align)},), {_STROKES[look.table]}"
    return f"#table({start}, {', '.join(cells)})\n"


def _pairs(block: Pairs) -> str:
    cells = [f"[#{_text(key + ':')}], [#{_text(value)}]" for key, value in block.pairs]
    return f"#grid(columns: {2 * block.columns}, gutter: 6pt, {', '.join(cells)})\n"


def _leaders(block: Leaders) -> str:
    lines = [f"#{_text(a)} #box(width: 1fr, repeat[.]) #{_text(b)}" for a, b in block.pairs]
    return "#block(width: 70%)[" + " \\\n".join(lines) + "]\n"


def _beside(block: Beside, look: _Look) -> str:
    sides = f"[{_grid(block.left, look)}], [{_grid(block.right, look)}]"
    return f"#grid(columns: (1fr, 1fr), gutter: 8pt, {sides})\n"


def _set(block: Block, look: _Look) -> str:
    made = ""
    match block:
        case Title():
            made = f'#text({look.size + 6}pt, weight: "bold")[#{_text(block.text)}]\n\n'
        case Line():
            made = f"#{'strong' if block.strong else 'text'}({_text(block.text)})\n\n"
        case Pairs():
            made = _pairs(block)
        case Grid():
            made = _grid(block, look)
        case Beside():
            made = _beside(block, look)
        case Leaders():
            made = _leaders(block)
        case Break():
            made = "#pagebreak()\n"
    return made


def make(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the PDF of a leaf in a look of its own."""
    most = max((len(b.heads[0]) for b in leaf.blocks if isinstance(b, Grid) and b.heads), default=3)
    size = rng.choice((9, 10, 10.5)) - 0.6 * max(0, most - 6)
    look = _Look(rng.choice(list(_STROKES)), max(size, 5.5), rng.random() < 0.6)
    page = 'paper: "us-letter", margin: 16mm'
    if leaf.wide:
        page += ", flipped: true"
    if leaf.small:
        page = "width: 6in, height: 4.4in, margin: 9mm"
    start = f'#set page({page})\n#set text(font: "{rng.choice(_FONTS)}", size: {look.size}pt)\n'
    return press.typst_pdf(start + "\n".join(_set(block, look) for block in leaf.blocks))

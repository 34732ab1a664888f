"""Writes leaves as text: separated values in several encodings, or fixed-width columns."""

from __future__ import annotations

import csv
import io
import random
import textwrap

from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title
from .book_press import pages_of

_ENCODINGS = ("utf-8", "utf-8-sig", "cp1252", "utf-16")


def make_separated(leaf: Leaf, rng: random.Random) -> bytes:
    """Return separated values; a lab with decimal commas uses semicolons."""
    mark = ";" if leaf.lab.comma else rng.choice((",", ",", ";", "\t"))
    out = io.StringIO()
    writer = csv.writer(out, delimiter=mark, lineterminator=rng.choice(("\r\n", "\n")))
    for rows in pages_of(leaf):
        writer.writerows(row.cells for row in rows)
    text = out.getvalue()
    encoding = rng.choice(_ENCODINGS)
    if encoding == "cp1252":
        text = text.replace("μ", "µ").replace("—", "-")
    return text.encode(encoding)


def _grid(grid: Grid) -> list[str]:
    rows = [*grid.heads, *(row for row in grid.rows if isinstance(row, list))]
    widths = [max(len(row[at]) for row in rows) for at in range(grid.width)]

    def line(cells: list[str]) -> str:
        sides = [
            f"{cell:>{width}}" if at in grid.right else f"{cell:<{width}}"
            for at, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        return "  ".join(sides).rstrip()

    made = [line(row) for row in grid.heads]
    if made:
        made.append("  ".join("-" * width for width in widths))
    return [*made, *(row if isinstance(row, str) else line(row) for row in grid.rows), ""]


def _beside(block: Beside) -> list[str]:
    left, right = _grid(block.left), _grid(block.right)
    width = max(map(len, left)) + 5
    right += [""] * (len(left) - len(right))
    return [f"{a:<{width}}{b}".rstrip() for a, b in zip(left, right, strict=False)]


def _text(block: Block) -> list[str]:
    made: list[str] = []
    match block:
        case Title():
            made = [block.text.upper(), ""]
        case Line():
            made = [*textwrap.wrap(block.text, 78), ""]
        case Pairs():
            made = [*(f"{key + ':':<26}{value}" for key, value in block.pairs), ""]
        case Grid():
            made = _grid(block)
        case Beside():
            made = _beside(block)
        case Leaders():
            made = [f"{label + ' ':.<34} {text}" for label, text in block.pairs]
        case Break():
            made = ["\f"]
    return made


def make_fixed(leaf: Leaf, rng: random.Random) -> bytes:
    """Return a print file with columns told by position only."""
    lines = [line for block in leaf.blocks for line in _text(block)]
    end = rng.choice(("\r\n", "\n"))
    return (end.join(lines) + end).encode("utf-8")

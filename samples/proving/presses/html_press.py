"""Writes leaves as HTML: for the browser, for the office suite, or saved under the name .xls."""

from __future__ import annotations

import random
from html import escape

from ...make import press
from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title

_TABLES = (
    "table.g{border-collapse:collapse;width:100%} "
    ".g td,.g th{border:1px solid #999;padding:3px 5px}",
    "table.g{border-collapse:collapse} .g td,.g th{padding:3px 14px 3px 0} .g th{border-bottom:2px "
    "solid #333;text-align:left}",
    "table.g{border-collapse:collapse;width:100%} .g tr:nth-child(even) td{background:#eef3f0} "
    ".g th{background:#2d5a4a;color:#fff} .g td,.g th{padding:4px 6px;text-align:left}",
    "table.g{border-collapse:separate;border-spacing:0 2px;width:100%} .g td{background:#f4f4f4;"
    "padding:3px 8px} .g th{font-weight:normal;font-style:italic;text-align:left}",
)  # fmt: skip
_FONTS = ("Liberation Sans", "Liberation Serif", "DejaVu Sans", "DejaVu Serif")


def _row(cells: list[str], grid: Grid, tag: str = "td") -> str:
    made = []
    for at, cell in enumerate(cells):
        side = ' style="text-align:right"' if at in grid.right else ""
        made.append(f"<{tag}{side}>{escape(cell)}</{tag}>")
    return f"<tr>{''.join(made)}</tr>\n"


def _grid(grid: Grid) -> str:
    rows = "".join(_row(row, grid, "th") for row in grid.heads)
    head = f"<thead>{rows}</thead>" if rows else ""
    body = ""
    for row in grid.rows:
        if isinstance(row, str):
            body += f'<tr><td colspan="{grid.width}"><b>{escape(row)}</b></td></tr>\n'
        else:
            body += _row(row, grid)
    return f'<table class="g">{head}<tbody>{body}</tbody></table>\n'


def _pairs(block: Pairs) -> str:
    made = ""
    for at in range(0, len(block.pairs), block.columns):
        cells = [f"<td><b>{escape(a)}</b></td><td>{escape(b)}&nbsp;&nbsp;</td>"
                 for a, b in block.pairs[at : at + block.columns]]  # fmt: skip
        made += f"<tr>{''.join(cells)}</tr>\n"
    return f"<table>{made}</table><br>\n"


def _beside(block: Beside) -> str:
    sides = f"<td>{_grid(block.left)}</td><td>{_grid(block.right)}</td>"
    return f'<table width="100%"><tr valign="top">{sides}</tr></table>\n'


def _block(block: Block) -> str:
    made = ""
    match block:
        case Title():
            made = f"<h2>{escape(block.text)}</h2>\n"
        case Line():
            text = f"<b>{escape(block.text)}</b>" if block.strong else escape(block.text)
            made = f"<p>{text}</p>\n"
        case Pairs():
            made = _pairs(block)
        case Grid():
            made = _grid(block)
        case Beside():
            made = _beside(block)
        case Leaders():
            lines = (f"<p>{escape(a)} ........ {escape(b)}</p>\n" for a, b in block.pairs)
            made = "".join(lines)
        case Break():
            made = '<div style="page-break-before:always"></div>\n'
    return made


def page(leaf: Leaf, rng: random.Random) -> str:
    """Return the leaf as one page of HTML."""
    turn = "size: letter landscape;" if leaf.wide else "size: letter;"
    if leaf.small:
        turn = "size: 6in 5in;"
    size = 8 if leaf.wide else rng.choice((8.5, 9, 9.5))
    style = f"@page{{{turn} margin:14mm}} body{{font:{size}pt '{rng.choice(_FONTS)}'}} "
    body = "".join(_block(block) for block in leaf.blocks)
    return (
        f'<!doctype html><html><head><meta charset="utf-8"><style>{style}{rng.choice(_TABLES)}'
        f"</style></head><body>\n{body}</body></html>"
    )


def make(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the page as the browser prints it."""
    return press.html_pdf(page(leaf, rng))


def make_office(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the page as the office suite's text program prints it."""
    made = press.office_pdfs({"sheet.html": page(leaf, rng).encode()}, "writer_pdf_Export")
    return made["sheet.html"]


def make_file(leaf: Leaf, rng: random.Random) -> bytes:
    """Return the page itself, for a portal's export."""
    return page(leaf, rng).encode()

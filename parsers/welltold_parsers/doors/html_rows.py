"""Rows of a web page that is set without tables: blocks alike, each with its cells side by side.

<div class="row"><div>Arsenic</div><div>0.5 µg/L</div><div>EPA limit 10 µg/L</div></div>
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

from .html_style import columns_of

if TYPE_CHECKING:
    from lxml import etree

ROW = "row"
"""The role, of the standard for screen readers, that an element in the place of a row has."""
_ROWS = ("a", "article", "button", "div", "label", "li", "p", "section", "span")
_CELLS = frozenset(
    re.findall(r"\w+", "a b code dd div dt em h2 h3 h4 h5 h6 i label p small span strong td th var")
)
_NOT_WITHIN = frozenset(("table", "dl", "nav", "select"))
_INSIDE = ("table", "dl", "ul", "ol", "input", "textarea", "form")
_BLANKS = re.compile(r"[\s\xa0]+")
_NUMBER = re.compile(r"[<>≤≥]?\s*[\d.,]+")
_MOST_CELLS = 12
_LONG = 90
"""Letters of the longest name of a test."""
_LONGEST = 300
_ALIKE = 3
"""So many rows of one kind make a list."""
_FLAT_CELLS = 4


def mark_rows(root: etree._Element) -> None:
    """Give the role of a row to every element that stands for one row of a table.

    Such an element holds two to twelve short pieces and no text of its own, and at least three on
    the page have its class or its shape; or the page itself gives it that role.
    """
    for container, columns in columns_of(root):
        _fold(container, columns)
    found = [element for element in root.iter(*_ROWS) if _may_be_row(element)]
    shapes = Counter(shape for element in found for shape in set(_shapes(element)))
    rows: set[etree._Element] = set()
    for element in found:
        told = element.get("role") == ROW
        if not told and max(shapes[shape] for shape in _shapes(element)) < _ALIKE:
            continue
        if _holds_rows(element, shapes) or any(a in rows for a in element.iterancestors()):
            continue
        rows.add(element)
        element.set("role", ROW)


def is_row(element: etree._Element) -> bool:
    """Whether an element was marked as a row."""
    return element.get("role") == ROW and element.tag in _ROWS and bool(len(element))


def cells_in(element: etree._Element) -> list[etree._Element]:
    """Return the pieces of a row, the empty ones too: they keep their place."""
    return [child for child in element if child.tag in _CELLS]


def _fold(container: etree._Element, columns: int) -> None:
    """Put the cells of a grid without rows into rows: each so many as it has columns."""
    cells = list(container.iterchildren("*"))
    flat = all(c.tag in _CELLS and next(c.iter(*_INSIDE), None) is None for c in cells)
    if columns < 2 or len(cells) < _FLAT_CELLS or len(cells) % columns or not flat:
        return
    if any(_holds_cells(cell) for cell in cells):
        return
    for start in range(0, len(cells), columns):
        row = container.makeelement("div", {"role": ROW})
        cells[start].addprevious(row)
        row.extend(cells[start : start + columns])


def _holds_cells(cell: etree._Element) -> bool:
    """Whether a piece of a grid is a card of several lines, no cell."""
    return sum(child.tag in {"div", "p", "h2", "h3", "h4"} for child in cell) > 1


def _may_be_row(element: etree._Element) -> bool:
    if _said(element.text) or any(_said(child.tail) for child in element):
        return False
    cells = cells_in(element)
    if not 2 <= len(cells) <= _MOST_CELLS or len(cells) < _elements(element):
        return False
    texts = [_BLANKS.sub(" ", "".join(map(str, cell.itertext()))).strip() for cell in cells]
    told = [text for text in texts if text]
    if len(told) < 2 or len(told[0]) > _LONG or max(map(len, told)) > _LONGEST:
        return False
    if _NUMBER.fullmatch(told[0]) or any(":" in text for text in told[1:] if len(told) > 2):
        return False
    if any(next(cell.iter(*_INSIDE), None) is not None for cell in cells):
        return False
    return all(outer.tag not in _NOT_WITHIN for outer in element.iterancestors())


def _elements(element: etree._Element) -> int:
    return sum(child.tag not in {"br", "hr"} for child in element.iterchildren("*"))


def _shapes(element: etree._Element) -> Iterator[tuple[str, ...]]:
    """Give what an element has in common with the other rows: its class, or its pieces."""
    for name in element.get("class", "").split()[:1]:
        yield str(element.tag), "." + name
    yield str(element.tag), *(str(cell.tag) for cell in cells_in(element))


def _holds_rows(element: etree._Element, shapes: Counter[tuple[str, ...]]) -> bool:
    """Whether the pieces of an element are rows themselves, told by their being alike."""
    kinds = Counter(
        (child.tag, child.get("class"))
        for child in cells_in(element)
        if _may_be_row(child) and max(shapes[shape] for shape in _shapes(child)) >= _ALIKE
    )
    return max(kinds.values(), default=0) > 1


def _said(text: str | None) -> bool:
    return bool(text and text.strip(" \t\r\n\xa0"))

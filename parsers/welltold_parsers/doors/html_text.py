"""Text of an HTML element as it is seen: lines, raised marks, filled-in fields."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

from welltold_parsers.doors.html_pairs import is_pairs, pairs_of
from welltold_parsers.doors.html_rows import cells_in, is_row
from welltold_parsers.doors.raised import behind_number, superscript

_BLOCKS = frozenset(
    re.findall(
        r"\w+",
        "address article aside blockquote br center dd div dl dt fieldset figcaption footer form "
        "h1 h2 h3 h4 h5 h6 header hr li main nav ol option p pre section table td th tr ul",
    )
)
"""Elements that begin and end a line."""
_UNSEEN = frozenset(
    ("head", "script", "style", "template", "noscript", "title", "object", "select")
)
_HIDDEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
_BLANKS = re.compile(r"[\s\xa0]+")
_MARKS_MORE = frozenset(("aria-label", "title", "data-tip", "data-tooltip"))
"""Attributes of an element that says more when it is pressed or pointed at."""
_TICKS = {True: "☑", False: "☐"}


def is_hidden(element: etree._Element) -> bool:
    """Whether an element is in the file but not on the page."""
    return "hidden" in element.attrib or bool(_HIDDEN.search(element.get("style", "")))


def lines_of(element: etree._Element) -> Iterator[str | etree._Element]:
    """Return the lines below ``element`` in order, and in their places what has cells, unread.

    That is a table, a list of terms, or a block in the place of a row.
    """
    line: list[str] = []
    walker = etree.iterwalk(element, events=("start", "end", "comment", "pi"))
    for event, node in walker:
        if event in {"comment", "pi"}:
            line.append(node.tail or "")
            continue
        breaks = node.tag in _BLOCKS
        if event == "end":
            if node is element:
                break
            if breaks:
                yield from _finished(line)
            line.append(node.tail or "")
            continue
        if breaks:
            yield from _finished(line)
        if node is not element and (node.tag in _UNSEEN or is_hidden(node) or _only_asks(node)):
            walker.skip_subtree()
        elif node is not element and (node.tag == "table" or is_pairs(node) or is_row(node)):
            walker.skip_subtree()
            yield node
        else:
            line.append(_own_text(node, line))
    yield from _finished(line)


def _only_asks(node: etree._Element) -> bool:
    """Whether an element is a mark to press for more: a "?" behind the name of a test."""
    if node.tag != "button" and _MARKS_MORE.isdisjoint(node.attrib):
        return False
    text = "".join(map(str, node.itertext())).strip()
    return node.tag not in _BLOCKS and len(text) == 1 and not text.isdigit()


def _finished(line: list[str]) -> Iterator[str]:
    text = _BLANKS.sub(" ", "".join(line)).strip()
    line.clear()
    if text:
        yield text


def _own_text(node: etree._Element, before: list[str]) -> str:
    """Return the text of an element before its first child."""
    text = node.text or ""
    if node.tag == "input":
        kind = node.get("type", "text").lower()
        if kind in {"checkbox", "radio"}:
            return f" {_TICKS['checked' in node.attrib]} "
        return node.get("value", "") if kind in {"text", "number", "date"} else ""
    if node.tag == "sup" and text:
        return _raised(text, before)
    return text


def _raised(mark: str, line: list[str]) -> str:
    """Return a raised mark so that it cannot be taken for digits of the number before it."""
    before = "".join(line)
    if not before[-1:].isdigit():
        return mark
    words = before.rsplit(maxsplit=2)
    power = behind_number(words[-2] if len(words) > 1 else "", words[-1], mark.strip())
    return power.removeprefix(words[-1]) if power else superscript(mark)


def text_of(element: etree._Element) -> str:
    """Return all text below ``element``, tables included, one line each."""
    parts: list[str] = []
    for part in lines_of(element):
        if isinstance(part, str):
            parts.append(part)
        elif part.tag == "dl":
            parts.extend(" ".join(row) for row in pairs_of(part, text_of))
        elif is_row(part):
            parts.append(" ".join(filter(None, map(text_of, cells_in(part)))))
        else:
            rows = (" ".join(map(text_of, cells_of(row))) for row in rows_of(part))
            parts.extend(row for row in rows if row.strip())
    return "\n".join(parts)


def rows_of(table: etree._Element) -> list[etree._Element]:
    """Return the rows of a table, not those of tables inside it."""
    return [row for row in table.iter("tr") if next(row.iterancestors("table"), None) is table]


def cells_of(row: etree._Element) -> list[etree._Element]:
    """Return the cells of a row that are seen."""
    return [cell for cell in row if cell.tag in {"td", "th"} and not is_hidden(cell)]

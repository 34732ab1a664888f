"""Lists of terms on a web page: each term and what is said of it make one line of cells."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lxml import etree

_PARTS = ("dt", "dd")


def is_pairs(element: etree._Element) -> bool:
    """Whether an element is a list of terms without tables in it."""
    return element.tag == "dl" and next(element.iter("table"), None) is None


def pairs_of(element: etree._Element, text_of: Callable[[etree._Element], str]) -> list[list[str]]:
    """Return the terms of a list in order, each with what is said of it: "Collected", a day."""
    rows: list[list[str]] = []
    for part in element.iter(*_PARTS):
        if next(part.iterancestors(*_PARTS), None) is not None:
            continue  # a list within a list is a part of what is said
        text = text_of(part)
        if part.tag == "dt" or not rows:
            rows.append([text])
        else:
            rows[-1].append(text)
    return [row for row in rows if any(row)]

"""Lists of what was looked for and not found, each test with the limit it is below.

    Compounds not detected (detection limit in parentheses, µg/L)
    Acetochlor (.05)        Diazinon (.05)        Metribuzin (.05)

The limit may stand in brackets, behind "<", or in a place of its own beside the name; or the whole
list runs on as a sentence: "Not detected: acetochlor (0.05), alachlor (0.05)".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from .cells import Cell, Line
from .headings import cell_of
from .tokens import analyte_in, is_number, label_of, unit_of, value_of
from .words import head_of

_NOT = re.compile(
    r"(?i)\b(?:none of (?:\w+ ){1,5}(?:was|were|is|are) (?:detected|found)"
    r"|(?:not|none|never|non)[ -]?(?:were |was |been |be )?(?:detect(?:ed|s|ions?)?|found)"
    r"|un-?detected|below (?:the |their |its |our )?(?:\w+ )?(?:reporting|detection|quantitation)"
    r" (?:limit|level)s?|no (?:se )?detectad[ao]s|no encontrad[ao]s)\b"
)
_WHAT = re.compile(
    r"(?i)\b(?:compounds?|analytes?|pesticides?|chemicals?|substances?|contaminants?|parameters?"
    r"|constituents?|metabolites?|herbicides?|insecticides?|vocs?|pfas|metals|tests|following"
    r"|these|compuestos|par[áa]metros|plaguicidas)\b"
)
_LIMIT = re.compile(r"(?i)\b(?:limits?|l[íi]mites?|levels?|m?rl|mdl|pql|lo[dqr]|dl)\b")
_AT = re.compile(
    r"(?i)\b(?:limits?|levels?|above|below|at|m?rl|mdl|pql|lo[dqr]|dl)\b(?: of)?[\s:=(<]*"
    r"(?P<limit>\d*\.?\d+)\s*(?P<unit>[^\s\d(),;:]+)"
)
"""One limit for the whole list: "none was found at or above 0.5 ug/L"."""
_EXPLAINS = re.compile(
    r"(?i)\b(?:shown|reported|listed|marked|indicated|denoted|flagged|given) (?:as|by|with)\b|="
    r"|\b(?:if|when|where|may|should)\b"
)
_MANY_WORDS = 24
_ITEM = re.compile(
    r"^(?P<name>.*?\S)\s*[(\[]\s*<?\s*(?P<limit>\d*\.?\d+)\s*(?P<unit>[^\s\d()\[\]]+)?\s*[)\]]$"
)
_LESS = re.compile(r"^(?P<name>.*?\S)\s*<\s*(?P<limit>\d*\.?\d+)\s*(?P<unit>[^\s\d]+)?$")
_BETWEEN = re.compile(r"[,;]\s+(?:and |or |y )?|\s+[•·|]\s+")
_FEWEST = 2
_KNOWN = 0.6
"""So large a share of the names is known in a list of tests."""
_SAID = "not detected"


class _Item(NamedTuple):
    name: Cell
    least: Cell | None
    unit: Cell | None


def with_not_found(lines: Sequence[Line]) -> Sequence[Line]:
    """Put a line with its answer in the place of each item of such lists; return all lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    made: list[Line] = []
    at = 0
    while at < len(lines):
        line = lines[at]
        made.append(line)
        at += 1
        begun = _heading(line.text)
        if begun is None:
            continue
        behind, said = begun
        end, items = _listed(line, behind, lines[at:])
        names = [_known(item.name.text) for item in items]
        if len(items) < _FEWEST or sum(names) < _KNOWN * len(names):
            continue
        unit = _unit_of_list(line, *lines[at : at + 1])
        least = _least_of_list(line)
        made.extend(_answered(item, said, unit, least) for item in items)
        at += end
    return made


def _heading(text: str) -> tuple[str, str] | None:
    """Return what stands behind the colon of such a heading, and its words for "not found"."""
    head, _, behind = text.partition(":")
    told = _NOT.search(head)
    if told is None or _EXPLAINS.search(head) or len(head.split()) > _MANY_WORDS:
        return None
    if told.start() > 0 and not _WHAT.search(head):
        return None
    if analyte_in(head[: told.start()].strip(" .:,-")) is not None:
        return None
    said = told[0]
    value = value_of(said)
    return behind, said if value is not None and value.state == "below" else _SAID


def _listed(heading: Line, behind: str, below: Sequence[Line]) -> tuple[int, list[_Item]]:
    """Return how many lines below a heading belong to its list, and the items."""
    run = _run_on(heading, behind, below)
    if run[1]:
        return run
    first = below[:1] if below and _only_heads(below[0]) else []
    limits = _LIMIT.search(" ".join(line.text for line in (heading, *first))) is not None
    items: list[_Item] = []
    end = 0
    for at, line in enumerate(below):
        if line.page != heading.page:
            break
        found = _items_of(line.cells, limits=limits)
        if found:
            items += found
            end = at + 1
        elif items or at > 1 or not _only_heads(line):
            break
        elif (words := " ".join(c.text for c in line.cells)) and _says_result(words):
            return 0, []
    return end, items


def _only_heads(line: Line) -> bool:
    return all((h := head_of(c.text)) is not None and h.score > _KNOWN for c in line.cells)


def _says_result(text: str) -> bool:
    """Whether a head below such a heading names results: then it heads a plain table."""
    return (
        re.search(r"(?i)\b(?:results?|found|concentrations?|amounts?|values?)\b", text) is not None
    )


def _items_of(cells: Sequence[Cell], *, limits: bool) -> list[_Item]:
    """Return the items of a line; none where any of it is something else."""
    items: list[_Item] = []
    at = 0
    while at < len(cells):
        cell = cells[at]
        at += 1
        own = _item(cell, cell.text)
        if own is not None:
            items.append(own)
            continue
        if not _known(cell.text):
            return []
        least = cells[at] if limits and at < len(cells) and _is_least(cells[at].text) else None
        at += least is not None
        unit = cells[at] if least and at < len(cells) and unit_of(cells[at].text) else None
        at += unit is not None
        items.append(
            _Item(cell, cell_of(least, least.text.strip("()[]< ")) if least else None, unit)
        )
    return items


def _is_least(text: str) -> bool:
    return is_number(text.strip("()[]< "))


def _item(cell: Cell, text: str) -> _Item | None:
    """Return a name with the limit that stands behind it."""
    found = _ITEM.match(text) or _LESS.match(text)
    if found is None or not any(c.isalpha() for c in found["name"]):
        return None
    unit = found["unit"]
    if unit is not None and unit_of(unit) is None:
        return None
    return _Item(
        cell_of(cell, found["name"]),
        cell_of(cell, found["limit"]),
        cell_of(cell, unit) if unit is not None else None,
    )


def _run_on(heading: Line, behind: str, below: Sequence[Line]) -> tuple[int, list[_Item]]:
    """Return the lines and items of a list that runs on as a sentence."""
    text, end, cell = behind.strip(), 0, heading.cells[-1]
    starts = [(0, cell)]
    last = heading
    for line in below:
        if len(line.cells) != 1 or line.page != heading.page or text.endswith("."):
            break
        if line.top - last.bottom > line.height or _heading(line.text) is not None:
            break
        if not text and not _BETWEEN.search(line.text):
            break
        starts.append((len(text) + 1, line.cells[0]))
        text = f"{text} {line.text}" if text else line.text
        last = line
        end += 1
    pieces = list(_pieces(text.rstrip(". ")))
    items = []
    for start, piece in pieces:
        at = next(c for begin, c in reversed(starts) if begin <= start or begin == 0)
        item = _item(at, piece)
        if item is None and not _known(piece):
            return 0, []
        items.append(item or _Item(cell_of(at, piece), None, None))
    return (end, items) if len(items) > _FEWEST else (0, [])


def _pieces(text: str) -> Iterator[tuple[int, str]]:
    """Yield the pieces of a list with their places; a comma within a name parts none."""
    start = 0
    for match in _BETWEEN.finditer(text):
        if text[: match.start()].count("(") == text[: match.start()].count(")"):
            yield start, re.sub(r"^(?:and|or|y) ", "", text[start : match.start()].strip())
            start = match.end()
    if text[start:].strip():
        yield start, re.sub(r"^(?:and|or|y) ", "", text[start:].strip())


def _known(name: str) -> bool:
    return analyte_in(name) is not None or label_of(name).match is not None


def _unit_of_list(heading: Line, *below: Line) -> Cell | None:
    """Return the unit that a heading names: "(detection limit in parentheses, µg/L)".

    Else the line below it, where that is a head: "Compound | RL (ug/L)".
    """
    heads = [line for line in below if _only_heads(line)]
    for cell in (c for line in (heading, *heads) for c in line.cells):
        for word in reversed(re.split(r"[\s,;:()\[\]]+", cell.text)):
            named = "/" in word or word.lower() in {"ppb", "ppm", "ppt"}
            if named and unit_of(word) is not None:
                return cell_of(cell, word)
    return None


def _least_of_list(heading: Line) -> tuple[Cell, Cell] | None:
    """Return the one limit that a heading names for all items, with its unit."""
    found = _AT.search(heading.text)
    if found is None or unit_of(found["unit"]) is None:
        return None
    cell = heading.cells[-1]
    return cell_of(cell, found["limit"]), cell_of(cell, found["unit"])


def _answered(item: _Item, said: str, unit: Cell | None, least: tuple[Cell, Cell] | None) -> Line:
    at = item.name.line
    line = Line(at.index, page=at.page, plain_text=at.plain_text)
    line.top, line.bottom = at.top, at.bottom
    value = cell_of(item.name, said)
    line.cells = [item.name, value]
    line.answer = (item.name, value)
    line.apart = True
    if item.least is not None:
        line.least = (item.least, item.unit or unit)
    else:
        line.least = least
    return line

"""Keys and values on a sheet: "Lab ID: 123", a date beside "Collected", a unit for the page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from welltold.units import unit, units_in

from .blocks import names_in
from .cells import Cell, Line, join
from .dates import stamp
from .head_cells import SAMPLE_ROLES
from .words import head_of

KEYS = SAMPLE_ROLES | frozenset(
    [
        "report_id",
        "lab_name",
        "reported",
        "person",
        "coll_recd",
        "analyzed",
        "prepared",
        "unit",
        "method",
        "batch",
        "time_other",
        "volume",
        "remark",
        "number",
    ]
)
_PLACE_KEYS = frozenset({"point", "client_id", "matrix", "person", "taken"})
_BARE_KEYS = SAMPLE_ROLES | {"report_id", "person", "reported"}
_PIECES = re.compile(r"\s{2,}|\s+[|·•–—]\s+|;\s+|,\s+(?=[A-Z])")
_RUN_TOGETHER = re.compile(
    r"(?i)^((?:lab |client |field )?(?:sample|bottle|lab|specimen|kit)"
    r"(?: ?(?:id|no\.?|number|#))?):?"
    r"\s+((?=\S*\d)\S+)\s+(.*?)"
    r"[\s,(]*\b(collected|sampled|date collected|date sampled|taken)\b:?\s+(?:on )?(.{6,30})$"
)
_IDENTITY = frozenset({"lab_id", "sample_id", "client_id", "point"})
_DATES = frozenset({"collected", "received", "reported"})
_NUMBERS = frozenset({"lab_id", "sample_id", "client_id", "report_id"})
_COLON = re.compile(r"(?<!\d)\s*[:=](?!/)|(?<=\d)\s*:(?=\s)")
_UNIT_LINE = re.compile(
    r"(?i)\b(?:results?|values?|units?|concentrations?|resultados|unidades)\b[^.;\d]{0,60}$|\bunless\b|^\W*all\b"
)
_NO_UNIT_LINE = re.compile(
    r"(?i)\b(limit|level|above|below|exceed\w*|standard|mcl|detected|grains? per gallon =)\b|="
)
_ALL_RESULTS = re.compile(r"(?i)^\W*all results\b[^.;:=<>]*\bin\b[^.;:=<>]*$")
"""A unit for all, and for the limits with them: "(all results, RL and MCL in ug/L)"."""
_NO_PLACE = re.compile(r"(?i)^(?:page|p\.|pg\.?|p[aá]gina) ?\d|\blab(?:s|oratory|oratories)?$")
"""What stands beside a sample's number and is no place: "Page 2 of 3", a laboratory's name."""
_ALL_IN = re.compile(r"(?i)all (?:results |values )?(?:in )?\S+")
"""A cell that states the unit beside keys: "all mg/L"."""
_BESIDE_TEXT = 3
"""Cells of a line with a text, a key and its value."""
_KNOWN = 0.95
_OFFERED = 3
_PLACE_WORDS = 6
_LARGER = 1.5
_LAB_NUMBER = re.compile(
    r"(?i)\blab(?:oratory)? (?:sample )?(?:no\.?|number|id|#):? ?"
    r"((?=[^\s,;]*\d[^\s,;]*\d)[\w/.-]*\w)"
)
_LONGEST_KEY = 6


class Fact(NamedTuple):
    """One key with its value."""

    role: str
    text: str
    key: str
    cell: Cell


def facts_of(line: Line) -> list[Fact]:
    """Return the keys and values on a line; empty when it is no such line."""
    found: list[Fact] = []
    open_key: tuple[str, str] | None = None
    for cell in _with_colons(line.cells):
        pairs = _pairs(cell.text)
        if open_key and not (pairs and pairs[0][2] == 0):
            end = pairs[0][2] if pairs else len(cell.text)
            text = cell.text[:end].strip()
            if text and not _is_choice(open_key[0], line):
                found.append(Fact(open_key[0], text, open_key[1], cell))
            open_key = None
        for role, key, _, text in pairs:
            if text:
                found.append(Fact(role, text, key, cell))
                open_key = None
            else:
                open_key = (role, key)
    if found and line.sheet is None:
        values = {id(f.cell) for f in found}
        apart = [c for c in line.cells if ":" not in c.text and id(c) not in values]
        found.extend(f for c in apart if (f := led_by_key(c.text, c)) is not None)
        found.extend(_parted(line, {id(c) for c in apart}))
    found = found or _beside(line) or _led(line)
    found.extend(_number_within(line, found))
    return [*_named_before(line, found), *found] if found else _last(line)


def _number_within(line: Line, found: Sequence[Fact]) -> Iterator[Fact]:
    """Yield the laboratory's number in a line that tells of the day of collection and has no other.

    "Sampled: 5/6/2026, kitchen tap. Laboratory: Alder Analytical, lab no. AA-0506-3, received ..."
    """
    roles = {f.role for f in found}
    if line.sheet is None and "collected" in roles and roles.isdisjoint(_NUMBERS - {"report_id"}):
        for match in _LAB_NUMBER.finditer(line.text):
            yield Fact("lab_id", match[1], "", line.cells[0])
            return


def _is_choice(role: str, line: Line) -> bool:
    """Whether a form offers several places behind a key: "Sample point:  Kitchen  Bath  Tank"."""
    offered = sum(":" not in cell.text for cell in line.cells)
    return role == "point" and line.sheet is None and offered == len(line.cells) - 1 >= _OFFERED


def _with_colons(cells: Sequence[Cell]) -> list[Cell]:
    """Return the cells, one that begins with a colon joined to its key: "LAB ID    : 26-17"."""
    whole: list[Cell] = []
    for cell in cells:
        if whole and cell.text.startswith(":") and ":" not in whole[-1].text:
            whole[-1] = join([whole[-1], cell])
        else:
            whole.append(cell)
    return whole


def _parted(line: Line, apart: set[int]) -> Iterator[Fact]:
    """Yield keys without a colon that stand with their value on a line with other keys."""
    before: Cell | None = None
    taken: set[int] = set()
    for cell, after in pairwise(line.cells):
        offered = before is not None and id(before) in apart - taken
        before = cell
        if id(cell) not in apart or id(after) not in apart or offered:
            continue  # "Supply type:  Drilled  Dug  Spring  Cistern" offers, and names no spring
        head, other = head_of(cell.text), head_of(after.text)
        plain = other is None or other.score < 1
        if plain and head and head.score >= 1 and head.role in _BARE_KEYS:
            taken |= {id(cell), id(after)}
            yield Fact(head.role, after.text, cell.text, after)


def _named_before(line: Line, found: list[Fact]) -> Iterator[Fact]:
    """Yield the sample's name and number before the day of collection, where no key tells them."""
    if not any(f.role == "collected" for f in found) or any(f.role in _IDENTITY for f in found):
        return
    texts: list[str] = []
    for cell in line.cells:
        at = cell.text.find(found[0].key) if found[0].key else -1
        if at >= 0 or cell is found[0].cell:
            texts.append(cell.text[: max(at, 0)])
            break
        texts.append(cell.text)
    for role, text in names_in(texts):
        yield Fact(role, text, "", line.cells[0])


def _led(line: Line) -> list[Fact]:
    """Read cells that begin with their key: "Kit 88214"; one more cell is the place."""
    found: list[Fact] = []
    units: list[Fact] = []
    plain: list[tuple[str, Cell]] = []
    for cell in line.cells:
        inline = list(_inline(cell))
        found.extend(inline)
        if inline:
            continue
        for piece in _PIECES.split(cell.text):
            fact = led_by_key(piece, cell)
            if fact:
                found.append(fact)
            elif spelled := _ALL_IN.fullmatch(piece) and unit_for_all(piece):
                units.append(Fact("unit", spelled, "", cell))
            elif _may_be_place(piece) and not _is_title(cell, line):
                plain.append((piece, cell))
    sample = any(f.role in {"lab_id", "sample_id", "client_id"} for f in found)
    apart = {id(cell) for _, cell in plain}
    if sample and len(apart) == 1 and not any(f.role == "point" for f in found):
        place, cell = plain[0]
        whole = len(plain) > 1 and not any(f.cell is cell for f in found)
        found.append(Fact("point", cell.text if whole else place, "", cell))
    return [*found, *units] if found else []


def _may_be_place(text: str) -> bool:
    short = len(text.split()) <= _PLACE_WORDS and sum(c.isalpha() for c in text) > 3
    return short and _NO_PLACE.search(text) is None


def _is_title(cell: Cell, line: Line) -> bool:
    """Whether a cell of a page is set in letters much larger than another on its line."""
    least = min(c.bottom - c.top for c in line.cells)
    return line.sheet is None and cell.bottom - cell.top > _LARGER * least


def _inline(cell: Cell) -> Iterator[Fact]:
    """Facts run together in one text: "Sample 0004-01 North well Collected 08/21/26"."""
    match = _RUN_TOGETHER.match(cell.text)
    head = head_of(match[1]) if match else None
    if not match or not head or head.role not in _NUMBERS:
        return
    day = stamp(match[5])
    second = head_of(match[4])
    if day is None or second is None or second.role not in _DATES:
        return
    yield Fact(head.role, match[2], match[1], cell)
    place = match[3].strip(" -–—|,;:")
    if place:
        yield Fact("point", place, "", cell)
    yield Fact(second.role, match[5], match[4], cell)


def led_by_key(text: str, cell: Cell) -> Fact | None:
    """Return the fact in a text that begins with a key and goes on with a date or a number."""
    words = text.split()
    for size in range(min(4, len(words) - 1), 0, -1):
        key, rest = " ".join(words[:size]), " ".join(words[size:])
        head = head_of(key)
        if not head or head.score < 1 or head.role not in _BARE_KEYS:
            continue
        if head.role in _DATES:
            day = stamp(rest)
            fits = day is not None and day.start <= 3 and len(rest) - day.end <= 3
        else:
            first = words[size].lstrip("#")
            fits = (
                head.role in _NUMBERS
                and any(c.isdigit() for c in first[:9])
                and len(words) - size <= 3
            )
            if len(words) - size > 1 and not fits:
                fits = (
                    head.role in _NUMBERS
                    and any(c.isdigit() for c in words[-1])
                    and len(words) - size == 2
                )
        if fits:
            return Fact(head.role, rest, key, cell)
    return None


def _beside(line: Line) -> list[Fact]:
    """Read keys without a colon, each with its value in the next cell or behind it in its own.

    Only where the whole line is made so; else a place called "Well 3" would be a key.
    """
    found: list[Fact] = []
    cells = list(line.cells)
    while cells:
        cell = cells.pop(0)
        head = head_of(cell.text)
        if head and head.score >= 1 and head.role in _BARE_KEYS:
            other = head_of(cells[0].text) if cells else None
            if not cells or (other and other.score >= 0.98 and (len(cells) > 1 or not found)):
                return []  # but the last of "... | Sampled by | client" is a value
            value = cells.pop(0)
            found.append(Fact(head.role, value.text, cell.text, value))
            continue
        fact = led_by_key(cell.text, cell) or (_led_place(cell) if found or cells else None)
        if fact is None:
            return []
        found.append(fact)
    keyed = any(f.key and f.role != "point" for f in found)
    return found if keyed or len(line.cells) == 2 else []


def _last(line: Line) -> list[Fact]:
    """Read a key and its number or day at the end of a page's line that says something else first.

    "12877 Range Rd 8, Sedge Co.   Sampled   06/02/2026": an address beside the sample.
    """
    if line.sheet is not None or len(line.cells) != _BESIDE_TEXT:
        return []
    text, cell, value = line.cells
    head = head_of(text.text)
    if (head is not None and head.score >= _KNOWN) or led_by_key(text.text, text):
        return []
    fact = led_by_key(f"{cell.text} {value.text}", value)
    return [fact] if fact is not None and fact.text == value.text else []


def _led_place(cell: Cell) -> Fact | None:
    """Return the fact in "Description Well head": a key and what stands behind it."""
    words = cell.text.split()
    for size in range(min(3, len(words) - 1), 0, -1):
        key = " ".join(words[:size])
        head = head_of(key)
        if head and head.score >= 1 and head.role in _PLACE_KEYS:
            if head.role == "person" and words[size][0].isdigit():
                return None  # "LOT 14 NEW WELL" is a place
            return Fact(head.role, " ".join(words[size:]), key, cell)
    return None


@lru_cache(maxsize=4096)
def _pairs(text: str) -> tuple[tuple[str, str, int, str], ...]:
    """Return (role, key, where the key starts, value) for each known key before a colon."""
    if (":" not in text and "=" not in text) or text.count("=") > 1:
        return ()  # "ND = not detected. DL = detection limit" explains, it names no sample
    keys: list[tuple[str, str, int, int]] = []
    floor = 0
    for match in _COLON.finditer(text):
        key = _key_before(text, floor, match.start())
        if key:
            keys.append((*key, match.end()))
            floor = match.end()
    pairs = []
    for number, (role, key_text, start, end) in enumerate(keys):
        stop = keys[number + 1][2] if number + 1 < len(keys) else len(text)
        pairs.append((role, key_text, start, text[end:stop].strip(" ,;|")))
    return tuple(pairs)


def _key_before(text: str, floor: int, end: int) -> tuple[str, str, int] | None:
    """Return the longest known key that ends here: its role, text and start."""
    starts = [m.start() for m in re.finditer(r"\S+", text[floor:end])][-_LONGEST_KEY:]
    for start in starts:
        piece = text[floor + start : end]
        head = head_of(piece)
        if head and head.score >= 0.98 and head.role in KEYS:
            return head.role, piece, floor + start
    if starts and not floor and len(starts) <= 4:
        head = head_of(text[:end])
        if head and head.role in KEYS and head.score > 0.6:
            return head.role, text[:end], 0
        return "other", text[:end], 0
    return None


@lru_cache(maxsize=2048)
def unit_for_all(text: str) -> str | None:
    """Return the unit that one line states for a whole page or section."""
    units = units_in(text)
    if len({unit(u) for u in units}) != 1:
        return None
    at = text.find(units[0])
    before, behind = text[: max(at, 0)], text[at + len(units[0]) :]
    ruled = _NO_UNIT_LINE.search(text) and not _ALL_RESULTS.match(text)
    if any(c.isdigit() for c in before) or ruled:
        return None
    if _UNIT_LINE.search(before) or re.search(r"(?i)\bunless\b", behind):
        return units[0]
    return None


def sample_facts(facts: list[Fact]) -> Iterator[tuple[str, str]]:
    """Yield the facts that describe a sample, a joined "collected / received" taken apart."""
    for fact in facts:
        if fact.role == "coll_recd":
            both = re.split(r"\s*/\s*(?=\D*\d+[/-]\d+[/-])|\s{2,}|\s+-\s+", fact.text)
            if len(both) == 2:
                yield "collected", both[0]
                yield "received", both[1]
        elif fact.role in SAMPLE_ROLES or fact.role == "report_id":
            yield fact.role, fact.text

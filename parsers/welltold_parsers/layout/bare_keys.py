"""Keys without a colon: "Kit 88214", "Sampled by | client", "Sample 4 Well 2 Collected 8/21"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from .cells import Cell, Line
from .dates import is_date, is_hour, stamp
from .facts import BARE_KEYS, DATES, NUMBERS, Fact
from .stated_units import unit_for_all
from .words import head_of

_PLACE_KEYS = frozenset({"point", "client_id", "matrix", "person", "taken"})
_PIECES = re.compile(r"\s{2,}|\s+[|·•–—]\s+|;\s+|,\s+(?=[A-Z])")
_RUN_TOGETHER = re.compile(
    r"(?i)^((?:lab |client |field )?(?:sample|bottle|lab|specimen|kit)"
    r"(?: ?(?:id|no\.?|number|#))?):?"
    r"\s+((?=\S*\d)\S+)\s+(.*?)"
    r"[\s,(]*\b(collected|sampled|date collected|date sampled|taken)\b:?\s+(?:on )?(.{6,30})$"
)
_NO_PLACE = re.compile(r"(?i)^(?:page|p\.|pg\.?|p[aá]gina) ?\d|\blab(?:s|oratory|oratories)?$")
"""What stands beside a sample's number and is no place: "Page 2 of 3", a laboratory's name."""
_TITLE = re.compile(r"(?i)\b(?:report|certificate)\b|\b(?:analysis|examination|results?) of\b")
_ALL_IN = re.compile(r"(?i)all (?:results |values )?(?:in )?\S+")
"""A cell that states the unit beside keys: "all mg/L"."""
_BESIDE_TEXT = 3
"""Cells of a line with a text, a key and its value."""
_ON_SITE = re.compile(r"(?i)\bfield\W*$|\bon[- ]site\W*$|\bat the well\W*$")
_ASIDE = re.compile(r"\s*\([^()]*\)$")
"""What stands in brackets behind a day: "collected 5/11/2026 8:20 AM (vials 3390-1)"."""
_SEVERAL = 2
_KNOWN = 0.95
_PLACE_WORDS = 6
_LARGER = 1.5
_ZONE = 4
"""Letters behind a day or an hour: " PDT"."""
_EIGHT = re.compile(r"(?:19|20)\d{6}\b")
_STATION = re.compile(r"(?i)(?:station|site)(?: (?:no\.?|id|number))? (?P<number>\d{8,15})\b")
"""The number of a place in a network of wells."""
_ZIP = re.compile(r"ID \d{5}(?:-\d{4})?")
"""The end of an address in Idaho."""


def keys_among_others(line: Line, apart: set[int]) -> Iterator[Fact]:
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
        if plain and head and head.score >= 1 and head.role in BARE_KEYS:
            taken |= {id(cell), id(after)}
            yield Fact(head.role, after.text, cell.text, after)


def facts_led_by_keys(line: Line) -> list[Fact]:
    """Read cells that begin with their key: "Kit 88214"; one more cell is the place."""
    found = list(_station(line))
    if found:
        return found
    units: list[Fact] = []
    plain: list[tuple[str, Cell]] = []
    for cell in line.cells:
        inline = list(_run_together(cell))
        found.extend(inline)
        if inline:
            continue
        for piece in _PIECES.split(cell.text):
            if piece != cell.text and _ZIP.fullmatch(piece):
                continue
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


def _station(line: Line) -> Iterator[Fact]:
    """Yield the name of a station behind its long number: "STATION 452207116300401 Elm School"."""
    number = _STATION.match(line.text)
    name = " ".join(line.text[number.end() :].split()) if number else ""
    if number and 0 < len(name.split()) <= _PLACE_WORDS and _PIECES.search(name) is None:
        yield Fact("point", name, number[0], line.cells[-1])


def _may_be_place(text: str) -> bool:
    short = len(text.split()) <= _PLACE_WORDS and sum(map(str.isalpha, text)) > 3
    return short and _NO_PLACE.search(text) is None


def _is_title(cell: Cell, line: Line) -> bool:
    """Whether a cell of a page names the sheet, or is set in letters much larger than another."""
    if line.sheet is None and _TITLE.search(cell.text):
        return True
    least = min(c.bottom - c.top for c in line.cells)
    return line.sheet is None and cell.bottom - cell.top > _LARGER * least


def _run_together(cell: Cell) -> Iterator[Fact]:
    """Facts run together in one text: "Sample 0004-01 North well Collected 08/21/26"."""
    match = _RUN_TOGETHER.match(cell.text)
    head = head_of(match[1]) if match else None
    if not match or not head or head.role not in NUMBERS:
        return
    day = stamp(match[5])
    second = head_of(match[4])
    if day is None or second is None or second.role not in DATES:
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
        key = " ".join(words[:size])
        head = head_of(key)
        if not head or head.score < 1 or head.role not in BARE_KEYS:
            continue
        rest = " ".join(words[size:])
        if head.role in DATES:
            rest = _ASIDE.sub("", rest)
            day = stamp(rest, packed=_EIGHT.match(rest) is not None)
            fits = day is not None and day.start <= 3 and len(rest) - day.end <= _ZONE
        else:
            first = words[size].lstrip("#")
            fits = (
                head.role in NUMBERS
                and any(c.isdigit() for c in first[:9])
                and len(words) - size <= 3
            )
            if len(words) - size > 1 and not fits:
                fits = (
                    head.role in NUMBERS
                    and any(c.isdigit() for c in words[-1])
                    and len(words) - size == 2
                )
        if fits:
            return Fact(head.role, rest, key, cell)
    return None


def keys_in_a_row(text: str, cell: Cell) -> list[Fact]:
    """Return the facts of a text that is nothing but keys, each with its number or its day.

    "Sample SMP-0099 Collected 05-13-2026" before "Type: Routine": a portal's line over a table.
    """
    words = text.split()
    starts: list[int] = []
    at = 0
    while at < len(words):
        size = _key_at(words, at)
        if size:
            starts.append(at)
        at += size or 1
    if not starts or starts[0]:
        return []
    facts = [
        led_by_key(" ".join(words[start:end]).strip(" ,;|"), cell)
        for start, end in pairwise([*starts, len(words)])
    ]
    return [f for f in facts if f is not None] if None not in facts else []


def _key_at(words: Sequence[str], at: int) -> int:
    """Return how many words make the key of a number or of a day that begins here; 0: none."""
    for size in range(min(3, len(words) - at), 0, -1):
        head = head_of(" ".join(words[at : at + size]))
        if head is not None and head.score >= 1 and head.role in NUMBERS | DATES:
            return size
    return 0


def led_by_number(line: Line) -> bool:
    """Whether a line begins with the number of a sample behind its key: "LAB ID R26-117-002"."""
    fact = led_by_key(line.cells[0].text, line.cells[0])
    return fact is not None and fact.role in NUMBERS


def values_beside_keys(line: Line) -> list[Fact]:
    """Read keys without a colon, each with its value in the next cell or behind it in its own.

    Only where the whole line is made so; else a place called "Well 3" would be a key.
    """
    found: list[Fact] = []
    cells = list(line.cells)
    while cells:
        cell = cells.pop(0)
        head = head_of(cell.text)
        if head and head.score >= 1 and head.role in BARE_KEYS:
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


def key_at_the_end(line: Line) -> list[Fact]:
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


def keys_within(line: Line) -> list[Fact]:
    """Read keys with their values in the next cells, two or more, on a page's line of other words.

    "B. Laboratory (county)   Lab no.   AC-9127   Date collected   06-10-26   after flushing".
    """
    if line.sheet is not None:
        return []
    pairs = ((c, v, led_by_key(f"{c.text} {v.text}", v)) for c, v in pairwise(line.cells))
    found = [f for c, v, f in pairs if f is not None and f.text == v.text and f.key == c.text]
    return found if len({f.role for f in found}) == len(found) >= _SEVERAL else []


def place_led(line: Line) -> list[Fact]:
    """Read "Sampling point Well #2 raw": a cell that begins with a key of two words for the place.

    What stands beside it need not be a key.
    """
    if line.sheet is not None or len(line.cells) < _SEVERAL:
        return []
    for cell in line.cells:
        fact = _led_place(cell)
        if fact is None or fact.role != "point" or " " not in fact.key:
            continue
        named = fact.text[:1].isupper() or fact.text[:1].isdigit()
        if any((h := head_of(c.text)) is not None and h.score >= _KNOWN for c in line.cells):
            continue
        if named and len(fact.text.split()) <= _PLACE_WORDS and not fact.text.endswith("."):
            return [fact]
    return []


def day_on_site(line: Line) -> list[Fact]:
    """Return the day behind "Field: Date" on a page's line, whatever boxes follow it."""
    for at, cell in enumerate(line.cells[1:-1], start=1):
        asked = cell.text.lower().strip(" .:") == "date" and line.sheet is None
        if asked and _ON_SITE.search(line.cells[at - 1].text):
            day, *behind = line.cells[at + 1 :]
            hour = behind[0].text if behind and is_hour(behind[0].text) else ""
            if is_date(day.text):
                return [Fact("collected", f"{day.text} {hour}".strip(), cell.text, day)]
    return []


def _led_place(cell: Cell) -> Fact | None:
    """Return the fact in "Description Well head": a key and what stands behind it."""
    words = cell.text.split()
    for size in range(min(3, len(words) - 1), 0, -1):
        key = " ".join(words[:size])
        head = head_of(key)
        if head and head.score >= 1 and head.role in _PLACE_KEYS:
            if head.role == "person" and words[size][0].isdigit():
                return None  # "LOT 14 NEW WELL" is a place
            rest = " ".join(words[size:])
            other = head_of(rest)
            if other is not None and other.score >= _KNOWN and other.role == head.role:
                return None  # "Sample Location Description" heads a table
            return Fact(head.role, rest, key, cell)
    return None

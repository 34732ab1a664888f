"""Keys and values on a line: "Lab ID: 123", a date beside "Collected", a number in a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .bare_keys import (
    facts_led_by_keys,
    key_at_the_end,
    keys_among_others,
    keys_in_a_row,
    keys_within,
    led_by_key,
    place_led,
    values_beside_keys,
)
from .blocks import names_in
from .cells import Cell, Line, join
from .colon_keys import keyed_values
from .dates import stamp
from .facts import IDENTITY, NUMBERS, Fact
from .head_cells import SAMPLE_ROLES
from .tokens import analyte_in

_OFFERED = 3
_LAB_NUMBER = re.compile(
    r"(?i)\blab(?:oratory)? (?:sample )?(?:no\.?|number|id|#):? ?"
    r"((?=[^\s,;]*\d[^\s,;]*\d)[\w/.-]*\w)"
)


def facts_of(line: Line) -> list[Fact]:
    """Return the keys and values on a line; empty when it is no such line."""
    found: list[Fact] = []
    open_key: tuple[str, str] | None = None
    for cell in _with_colons(line.cells):
        pairs = keyed_values(cell.text)
        if open_key and not (pairs and pairs[0][2] == 0):
            end = pairs[0][2] if pairs else len(cell.text)
            text = cell.text[:end].strip()
            if text and not _is_choice(open_key[0], line):
                found.append(Fact(open_key[0], text, open_key[1], cell))
            open_key = None
        if pairs and pairs[0][2] > 0 and not open_key:
            found.extend(keys_in_a_row(cell.text[: pairs[0][2]], cell))
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
        found.extend(keys_among_others(line, {id(c) for c in apart}))
    found = found or values_beside_keys(line) or facts_led_by_keys(line)
    found.extend(_number_within(line, found))
    return (
        [*_named_before(line, found), *found]
        if found
        else key_at_the_end(line) or keys_within(line) or place_led(line)
    )


def facts_beside_result(line: Line) -> list[Fact]:
    """Return what the first cell of a line tells of the sample, where a result follows it.

    "Collected: 4/6/26 0815   Free Cl2   0.4   mg/L": what was measured at the tap stands beside.
    """
    first = line.cells[0]
    if line.sheet is not None or ":" not in first.text or analyte_in(first.text) is not None:
        return []
    pairs = keyed_values(first.text)
    return [Fact(r, text, key, first) for r, key, _, text in pairs if text and r in SAMPLE_ROLES]


def _number_within(line: Line, found: Sequence[Fact]) -> Iterator[Fact]:
    """Yield the laboratory's number in a line that tells of the day of collection and has no other.

    "Sampled: 5/6/2026, kitchen tap. Laboratory: Alder Analytical, lab no. AA-0506-3, received ..."
    """
    roles = {f.role for f in found}
    if line.sheet is None and "collected" in roles and roles.isdisjoint(NUMBERS - {"report_id"}):
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


def _named_before(line: Line, found: list[Fact]) -> Iterator[Fact]:
    """Yield the sample's name and number before the day of collection, where no key tells them."""
    dated = any(f.role == "collected" and stamp(f.text) is not None for f in found)
    if not dated or any(f.role in IDENTITY for f in found):
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

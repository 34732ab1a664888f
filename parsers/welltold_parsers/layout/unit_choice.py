"""Which unit a result has: from its own cell out to a line for the whole page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from welltold.analytes import Analyte, analyte, registry
from welltold.levels import printed_limits
from welltold.units import normalize, unit
from welltold.values import ParsedValue

from .cells import Cell
from .printed import Printed
from .tokens import Label, value_of

_LAB_LIMITS = ("reporting_limit", "detection_limit")
_MASS = frozenset({"mass", "amount", "charge"})
_COUNTS = frozenset({"count", "organisms", "presence"})
BACTERIA = frozenset({"microbial"})
_NO_UNIT = frozenset({"SU", "ratio", "P/A", ""})
_READ_WITH = re.compile(
    r"(?i)(?:(?:our|my|own|field|hand[- ]?held|pocket|lab|test|drop)\s+)*"
    r"(?:meters?|probes?|(?:test )?strips?|kits?)"
)
"""What a number was read with, in the place of a unit."""
_PER = re.compile(r"(?i)\(?((?:per |/ ?)1?0?0? ?ml)\)?$")
_NOUN = re.compile(r"(?i)([a-z]+(?: forming units?)?)(?:/| per )")
"""What a unit counts in a volume: "Colonies per 100 mL"."""
_NEVER_NEGATIVE = frozenset({"mass", "amount", "organisms"})
"""Kinds of units of which there cannot be less than none; a count of rays less its blank can."""


class Chosen(NamedTuple):
    """A unit as printed, where it stands, and how it was found."""

    text: str | None
    cell: Cell | None
    how: str


def choose(printed: Printed, label: Label, value: ParsedValue) -> Chosen:
    """Return the unit of a result; notes doubts where it is open, odd or named twice."""
    slug = label.match.slug if label.match else None
    limits = _of_limit(printed, value)
    if limits is not None:
        return limits
    cell = printed.cells.get("unit")
    if cell and slug and not value.unit_text and not label.unit and _plain(slug, cell.text):
        return Chosen(cell.text, cell, "column")
    options = list(_options(printed, label, value))
    fitting = [o for o in options if _fits(slug, o) and not _answer_only(o, value)]
    if not fitting:
        return _none_fits(printed, slug, options, value)
    best = fitting[0]
    _check(printed, slug, best, fitting)
    return _with_volume(_with_noun(best, fitting), printed.section.volume)


def _with_noun(chosen: Chosen, fitting: list[Chosen]) -> Chosen:
    """Return "per mL" in a name with what is counted, where the head tells it: "Colonies"."""
    bare = _PER.match(chosen.text or "")
    if bare is None:
        return chosen
    nouns = (_NOUN.match(o.text or "") for o in fitting[1:])
    whole = next((f"{noun[1]} {bare[1]}" for noun in nouns if noun), None)
    return chosen._replace(text=whole) if whole and unit(whole) else chosen


def _with_volume(chosen: Chosen, volume: str | None) -> Chosen:
    """Return a count without its volume with that of the heading: "MPN" under "per 100 mL"."""
    text = chosen.text or ""
    if volume is None or not text.isalpha():
        return chosen
    bare, whole = unit(text), unit(f"{text}/100 mL")
    same = bare is not None and whole is not None and bare.name == whole.name
    return chosen._replace(text=f"{text} {volume}") if same else chosen


def _of_limit(printed: Printed, value: ParsedValue) -> Chosen | None:
    """Return the limit's own unit, where a result has no number but its limit."""
    if value.state != "below" or value.value is not None or value.unit_text:
        return None
    cell = printed.cells.get("limit_unit")
    if cell is None:
        return None if "unit" in printed.cells else _beside_limits(printed)
    number = printed.cells.keys() & {"reporting_limit", "detection_limit"}
    return Chosen(cell.text, cell, "column") if number and unit(cell.text) else None


def _beside_limits(printed: Printed) -> Chosen | None:
    """Return the unit that stands with each number that the laboratory reports down to: "1 ppb"."""
    cells = [c for r in _LAB_LIMITS if (c := printed.cells.get(r)) is not None]
    told = [(text, c) for c in cells if (text := _limit_unit(c.text, "")) is not None]
    known = [u.name for text, _ in told if (u := unit(text)) is not None]
    if not told or len(known) < len(cells) or len(set(known)) > 1:
        return None
    return Chosen(told[0][0], told[0][1], "column")


@lru_cache(maxsize=4096)
def _plain(slug: str, spelled: str) -> bool:
    """Whether a unit in a column of its own leaves no question."""
    found = unit(spelled)
    if found is None or not fits(slug, spelled):
        return False
    return not found.ambiguous or kind_of(slug) == found.kind


def _options(printed: Printed, label: Label, value: ParsedValue) -> Iterator[Chosen]:
    if value.unit_text:
        yield Chosen(value.unit_text, printed.value_cell, "value")
    cell = printed.cells.get("unit")
    blank = cell is None or not cell.text.strip("-—–_. ") or _READ_WITH.fullmatch(cell.text)
    if cell is not None and not blank:
        yield Chosen(cell.text, cell, "column")
    if label.unit:
        yield Chosen(label.unit, printed.label_cell, "label")
    far = [Chosen(printed.head_unit, printed.head, "header")] if printed.head_unit else []
    if printed.section.unit:
        section = Chosen(printed.section.unit, printed.section.unit_cell, "section")
        far = [section, *far] if _below_head(printed) else [*far, section]
    yield from far
    page = printed.cells.get("page_unit")
    if page is not None:
        yield Chosen(page.text, page, "page")
    for role in ("limit_unit", "reporting_limit", "detection_limit", "printed_limit"):
        cell = printed.cells.get(role)
        found = _limit_unit(cell.text, role) if cell is not None else None
        if found:
            yield Chosen(found, cell, "limit")


def _below_head(printed: Printed) -> bool:
    """Whether the heading that tells a unit stands within the table, under the head's line."""
    head, heading = printed.head, printed.section.unit_cell
    if head is None or heading is None:
        return False
    one, other = head.line, heading.line
    same = (one.page, one.sheet) == (other.page, other.sheet)
    return same and (other.moved, other.index) > (one.moved, one.index)


def _limit_unit(text: str, role: str) -> str | None:
    if role == "limit_unit":
        return text
    parsed = value_of(text)
    return parsed.unit_text if parsed else None


@lru_cache(maxsize=2048)
def kind_of(slug: str) -> str | None:
    """Return the dimension of an analyte's own unit."""
    own = unit(analyte(slug).unit)
    return own.kind if own else None


@lru_cache(maxsize=8192)
def fits(slug: str, spelling: str) -> bool:
    """Whether a unit can be a unit of this analyte."""
    found = unit(spelling)
    if found is None:
        return False
    own = kind_of(slug)
    if own is None or found.kind == own:
        return True
    bacteria = analyte(slug).group in BACTERIA
    return {found.kind, own} <= _MASS or (bacteria and found.kind not in _MASS | {"activity"})


@lru_cache(maxsize=512)
def settles(slug: str, spelling: str) -> bool:
    """Whether a unit is of a kind that only this analyte has: conductance, turbidity."""
    found = unit(spelling)
    if found is None or found.kind != kind_of(slug):
        return False
    return sum(kind_of(other) == found.kind for other in registry()) == 1


def _fits(slug: str | None, option: Chosen) -> bool:
    text = option.text or ""
    if option.how in {"value", "column"}:
        return slug is None or unit(text) is None or fits(slug, text)
    return unit(text) is not None if slug is None else fits(slug, text)


def _answer_only(option: Chosen, value: ParsedValue) -> bool:
    """Whether a unit from afar counts answers, and the result is a number."""
    if option.how in {"value", "column"} or value.value is None or value.present is not None:
        return False
    found = unit(option.text or "")
    return found is not None and found.kind == "presence"


def needs_unit(known: Analyte | None, value: ParsedValue) -> bool:
    """Whether a result without a unit leaves a question."""
    if value.state in {"present", "absent", "blank", "unreadable", "trace"}:
        return False
    if known is not None and (known.unit in _NO_UNIT or known.unit == ""):
        return False
    if known is not None and known.group in BACTERIA and value.value is None:
        return False  # "not found" says of a germ that it is absent
    return value.value is not None or value.state == "below"


def _none_fits(
    printed: Printed, slug: str | None, options: list[Chosen], value: ParsedValue
) -> Chosen:
    known = analyte(slug) if slug else None
    near = next((o for o in options if o.how in {"value", "column"}), None)
    if near is not None:
        if needs_unit(known, value) or value.state == "value":
            printed.doubt("unit_odd", unit=near.text or "")
        return near
    if needs_unit(known, value):
        printed.doubt("unit_missing")
    return Chosen(None, None, "none")


def _check(printed: Printed, slug: str | None, best: Chosen, fitting: list[Chosen]) -> None:
    text = best.text or ""
    meaning = unit(text)
    if meaning is None:
        printed.doubt("unit_unknown", unit=text)
        return
    if best.how in {"limit", "section", "page"}:
        printed.doubt(f"unit_from_{best.how}", unit=text)
    if meaning.ambiguous and not (slug and kind_of(slug) == meaning.kind):
        printed.doubt("unit_ambiguous", unit=text)
    for other in fitting[1:]:
        over = best.how == "section" and other.how == "header"
        if (over or other.how in {"value", "column", "label"}) and other.text:
            second = unit(other.text)
            kinds = {second.kind, meaning.kind} if second else set()
            if "presence" in kinds and kinds <= _COUNTS:
                continue  # "Total Coliform (P/A)" beside "/100 mL" says one thing
            if second and (second.name, second.kind) != (meaning.name, meaning.kind):
                printed.doubt("unit_two_ways", unit=text, other=other.text)


def limit_agrees(slug: str, text: str, spelled: str, basis: str | None) -> bool | None:
    """Whether a printed limit is a known level in this unit; None when it tells nothing.

    False only where the number would be a known level in a unit a thousand times larger or smaller.
    """
    parsed = value_of(text)
    known = printed_limits(slug)
    if parsed is None or parsed.value is None or not known:
        return None
    number = normalize(slug, parsed.value, parsed.unit_text or spelled, basis)
    if number is None:
        return None
    if number.value in known:
        return True
    shifted = {number.value * 1000, number.value / Decimal(1000)}
    return False if shifted & known else None


def never_negative(known: Analyte | None, spelled: str | None) -> bool:
    """Whether a number below zero must mean something else: "not found", or a slip of the pen."""
    spelled = spelled or (known.unit if known is not None else None)
    found = unit(spelled) if spelled is not None else None
    return found is not None and found.kind in _NEVER_NEGATIVE

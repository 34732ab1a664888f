"""The grammar of a printed result: "<0.5", "0.31 J", "ND (0.5)", "TNTC", "5.0 ± 0.4 pCi/L".

``parse_value`` says what a cell states and never more. A number is a Decimal of the printed digits;
"not found" is never 0; what has two readings, or none, gives None, so that the caller can put it
among the lines that a person has to look at.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from .printed_numbers import LONGEST, PLAIN, leading_number, looks_like_number, tidy
from .printed_tails import is_unit, read_tail
from .printed_words import flags_in, means_below, without_marks, word_state
from .reading import Operator, State

__all__ = ["ParsedValue", "looks_like_number", "parse_value"]


@dataclass(frozen=True, slots=True)
class ParsedValue:
    """What one printed result says."""

    state: State
    operator: Operator = "="
    value: Decimal | None = None
    """The printed number; the limit itself for ``<`` and ``>``; None where none is printed."""
    present: bool | None = None
    """For the answer of a presence/absence test."""
    qualifiers: tuple[str, ...] = ()
    decimals: int | None = None
    """Digits behind the point, once a power of ten is written out."""
    uncertainty: Decimal | None = None
    """The figure behind ``±``, in the same unit."""
    unit_text: str | None = None
    """The unit as printed in the same cell."""
    text: str = ""
    """The cell exactly as printed."""


def parse_value(
    text: str, *, decimal_comma: bool = False, presence_letters: bool = False
) -> ParsedValue | None:
    """Return what a printed result says, or None when the text is no result.

    ``decimal_comma``: the sheet is known to print "0,5" for one half; then "1.234" is 1234.
    ``presence_letters``: the column is known to hold presence/absence answers, so that "A", "P",
    "N", "D" and "none" count. Never raises.
    """
    return _parse(text, comma=decimal_comma, letters=presence_letters)


@lru_cache(maxsize=16384)
def _parse(text: str, *, comma: bool, letters: bool) -> ParsedValue | None:
    if not comma and PLAIN.fullmatch(text):
        return ParsedValue(
            "value", value=Decimal(text), decimals=len(text.partition(".")[2]), text=text
        )
    if len(text) > 4 * LONGEST:
        return None
    cell = tidy(text)
    if len(cell) > LONGEST:
        return None
    found = (
        _words_only(cell, letters=letters)
        or _number(cell, comma=comma)
        or _words_and_limit(cell, comma=comma)
    )
    return replace(found, text=text) if found else None


def _words_only(cell: str, *, letters: bool) -> ParsedValue | None:
    """Read a cell of words: "ND", "Absent in 100 mL", "TNTC *", "ND U", "ND ug/L"."""
    state = word_state(cell, letters=letters)
    if state is not None:
        return _from_word(state, ("U",) if cell in {"U", "u"} else ())
    bare, footnotes = without_marks(cell)
    head, _, tail = bare.rpartition(" ")
    if footnotes and (state := word_state(bare, letters=letters)):
        return _from_word(state, footnotes)
    for place in (m.end() for m in re.finditer(" ", bare)):
        head, tail = bare[:place].strip(), bare[place:]
        state = word_state(head, letters=letters)
        if state is None:
            continue
        if is_unit(tail):
            return replace(_from_word(state, footnotes), unit_text=tail)
        flags = flags_in(tail)
        if flags is not None and state != "blank":
            return _from_word(state, flags + footnotes)
    return None


_OPERATORS: Mapping[State, Operator] = {"below": "<", "above": ">"}


def _from_word(state: State, qualifiers: tuple[str, ...]) -> ParsedValue:
    operator = _OPERATORS.get(state, "=")
    present = {"absent": False, "present": True}.get(state)
    return ParsedValue(state, operator, present=present, qualifiers=qualifiers)


_SIGN = re.compile(
    r"(?P<less><|(?:LT|less than|below|under|menor (?:que|a))\b) ?"
    r"|(?P<more>>|(?:GT|greater than|more than|over|above|mayor (?:que|a))\b) ?",
    re.IGNORECASE,
)
_SIGN_GLUED = re.compile(r"(?P<less>LT|lt)(?=[.0-9])|(?P<more>GT|gt)(?=[.0-9])")
_FLAG_BEFORE = re.compile(
    r"(?P<flag>\*{1,3}|[~≈]|[UJ](?= )|(?:ca|approx|est)\b\.?)\s*(?=[<>.+\-0-9])"
)


def _number(cell: str, *, comma: bool) -> ParsedValue | None:
    """Read a cell that begins with a number, or with a flag or a sign before one."""
    before = _FLAG_BEFORE.match(cell)
    rest = cell[before.end() :] if before else cell
    sign = _SIGN.match(rest) or _SIGN_GLUED.match(rest)
    number = leading_number(rest[sign.end() :] if sign else rest, decimal_comma=comma)
    if number is None:
        return None
    tail = read_tail(number.rest, comma=comma, bare_integer=number.bare_integer)
    if tail is None or (sign and (number.value < 0 or tail.uncertainty is not None)):
        return None
    state: State = "value" if sign is None else "below" if sign["less"] else "above"
    found = ParsedValue(
        state,
        _OPERATORS.get(state, "="),
        number.value,
        qualifiers=(before["flag"], *tail.qualifiers) if before else tail.qualifiers,
        decimals=number.decimals,
        uncertainty=tail.uncertainty,
        unit_text=tail.unit_text,
    )
    return _settled(found, tail.word)


def _settled(found: ParsedValue, word: State | None) -> ParsedValue | None:
    """Let a flag or a word beside the number say what the number is."""
    if word in {"absent", "present"}:
        return _with_presence(found, present=word == "present")
    if (word == "below" or means_below(found.qualifiers)) and found.state == "above":
        return None
    if word == "below" or means_below(found.qualifiers):
        found = replace(found, state="below", operator="<")
    if found.state != "below" or found.value is None:
        return found
    if found.value > 0 and found.uncertainty is None:
        return found
    # A zero, a negative or a counted activity beside "not detected" is no limit.
    return replace(found, value=None, decimals=None)


def _with_presence(found: ParsedValue, *, present: bool) -> ParsedValue | None:
    """Join a count with the answer beside it, "<1 (Absent)"; None where the two contradict."""
    counted = found.state != "below" and found.value is not None and found.value > 0
    return replace(found, present=present) if counted == present else None


_WITH_LIMIT = frozenset({"below", "too_many", "above", "absent", "present"})
_WORDS_THEN = re.compile(
    r"(?P<words><? ?[A-Za-z][A-Za-z./ -]*?)(?P<joint>[\s@:,=(\[<>]+(?:(?:at|to|RL|"
    r"MRL|MDL|PQL|LOQ|LOD|DL|LOR|limit)\b[\s:=@<]*)*)(?P<limit>\.?,?[0-9].*?)[)\]]?"
)


def _words_and_limit(cell: str, *, comma: bool) -> ParsedValue | None:
    """Read words with a limit behind them: "ND (0.5)", "ND<0.5", "ND @ 0.5", "TNTC (>200)"."""
    match = _WORDS_THEN.fullmatch(cell)
    if match is None:
        return None
    state = word_state(match["words"])
    limit = _number(match["limit"], comma=comma) if state in _WITH_LIMIT else None
    if state is None or limit is None or limit.state != "value" or limit.value is None:
        return None
    joint = match["joint"]
    if state in {"absent", "present"}:
        counted = replace(limit, state="below") if "<" in joint else limit
        agrees = _with_presence(counted, present=state == "present")
        return _from_word(state, limit.qualifiers) if agrees else None
    if limit.value <= 0 or (">" if state == "below" else "<") in joint:
        return None
    if joint.isspace() and limit.value < 10 and not limit.decimals:
        return _from_word(state, limit.qualifiers)  # "ND 1": a limit or a footnote
    qualifiers = ("U", *limit.qualifiers) if match["words"] == "U" else limit.qualifiers
    operator: Operator = "<" if state == "below" else ">"
    return replace(limit, state=state, operator=operator, qualifiers=qualifiers)

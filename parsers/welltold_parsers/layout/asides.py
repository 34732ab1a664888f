"""What stands in brackets, or behind "at", beside a result and is no part of it.

"56 mg/L (3.3 gpg)" says one thing twice; "0.05 mg/L (limit 0.3)" names a limit; "7.4 at 21 C" says
how warm the water was. In a sentence whole clauses are such asides.
"""

from __future__ import annotations

import re

from welltold.units import unit
from welltold.values import ParsedValue, parse_value
from welltold_parsers.answers import kind_of

_BRACKET = re.compile(r"^(?P<own>.*?\S)\s*[(\[]\s*(?P<aside>[^()\[\]]{1,40}?)\s*[)\]]$")
_LIMIT = re.compile(
    r"(?i)^(?:(?:epa|state|federal|legal|your|the|drinking water)\s)*"
    r"(?:s?mcl|hal|al|action level|(?:legal |health )?limit|max(?:imum|\.)?(?: level| limit)?"
    r"|std|standard|guideline|goal)\b(?:\sis)?[\s:=]*(?P<limit>.*)$"
)
_LAB_LIMIT = re.compile(
    r"(?i)^(?:m?rl|mdl|mdc|mda|lld|pql|loq|lod|lor|dl|(?:reporting|detection) limit)\b[\s:=<]*"
    r"(?P<limit>.*)$"
)
_DETECTION = re.compile(r"(?i)(?:mdl|mdc|mda|lld|lod|dl|detection limit)\b")
_SPREAD = re.compile(r"±|\+ ?/ ?-|\+-")
_YIELDS = re.compile(r"(?:\s+[CT]:\s?(?:NA|\d+\s?%))+$")
"""How much of a carrier and a tracer was found again, behind a result: "C:88% T:NA"."""
_SECOND = re.compile(
    r"(?i)\((?![^()]*\b(?:MD[CAL]|RL|DL|LLD|det))[^()]*\b(?:TPU|CSU|unc|err|sigma)"
)
"""A head that says what stands in brackets: a second uncertainty, no limit."""
_JUDGED = frozenset({"meets", "fails"})
_REMARK = re.compile(r"[a-z]{4,}(?: [a-z]{3,}){0,3}")
"""Plain words, as in "41 (moderately soft)"; flags have capitals or are short."""
_WARMTH = re.compile(r"^(?P<own>.*\d)\s*(?:@|\bat\b)\s*\d{1,2}(?:\.\d)?\s?(?:°|deg\.?)?\s?[CF]$")
_AMOUNT = r"\d[\d.,]*(?<![.,])(?:\s?[A-Za-zµ]+/[A-Za-z]+|\s?pp[bm]| parts per \w+)?"
_IN_SENTENCE = re.compile(
    r"(?i)\s*\([^()]*\b(?:limit|level|standard|maximum|s?mcl|goal|guideline|recommended)\b[^()]*\)"
    r"|(?:,|\b(?:is|are|was|were))\s*(?:which is |and is |that is )?(?:also |well |far |just )?"
    r"(?:below|under|above|over|(?:higher|lower|greater|less|more) than) "
    r"(?:the|its|epa'?s?|federal|state)\b(?! (?:\w+ )?(?:detection|reporting|quant))[^.;,\d]*?"
    r"(?:\b(?:limit|level|standard|guideline|goal|recommended|maximum)s?\b"
    r"(?:\s(?:limit|level|standard|guideline|maximum|value|of|is|at))*"
    rf"(?:\s{_AMOUNT})?|{_AMOUNT}"
    r" (?:(?:that|which) [\w ]{3,30}(?:allow|recommend|set)\w*"
    r"|(?:\w+ ){0,2}(?:limit|standard|level|guideline|goal|maximum)s?\b))"
    r"|\bexceed\w* (?:the|its|epa'?s?|federal|state)\b[^.;,\d]*?"
    r"\b(?:limit|level|standard|guideline|goal|maximum)s?\b"
    rf"(?:\s(?:of|is|at)\s{_AMOUNT})?"
    r"|,?\s*(?:as )?compared? (?:with|to) (?:the|an?|its|epa'?s?)?\b[^.;,]*?"
    r"\b(?:limit|level|standard|guideline|maximum|goal)s?\b"
    r"(?:\s(?:of|is|at)\s[<>]?\s?\d[\d.,]*(?<![.,])(?:\s?[A-Za-zµ]+/[A-Za-z]+|\s?pp[bm])?)?"
)


def without_aside(text: str) -> str | None:
    """Return a result's text without what stands beside it in brackets; None: nothing does."""
    warmth = _WARMTH.match(text)
    text = _YIELDS.sub("", text)
    if (parted := warmth["own"] if warmth else _with_unit_behind(text)) is not None:
        return parted
    found = _BRACKET.match(text)
    if found is None:
        return text if _SPREAD.search(text) and parse_value(text) is not None else None
    if _least_beside(found) is not None or _SPREAD.match(found["aside"]):
        return found["own"]
    aside = found["aside"]
    plain = _REMARK.fullmatch(aside) and unit(aside) is None and parse_value(aside) is None
    if plain or kind_of(aside) in _JUDGED:
        return found["own"]
    told = _LIMIT.match(aside) or _LAB_LIMIT.match(aside)
    if told and parse_value(told["limit"]) is not None:
        return found["own"]
    return found["own"] if _twice(parse_value(found["own"]), parse_value(aside)) else None


def tells_yields(text: str) -> bool:
    """Whether a text says only how much of a carrier and a tracer was found again: no result."""
    return _YIELDS.fullmatch(f" {text}") is not None


def _with_unit_behind(text: str) -> str | None:
    """Return "21.4 ± 4.9 pCi/L" of "21.4 ± 4.9 (2.3) pCi/L"; None for any other text."""
    head, _, last = text.rpartition(" ")
    if not head.endswith((")", "]")) or not _SPREAD.search(head) or unit(last) is None:
        return None
    own = without_aside(head)
    return f"{own} {last}" if own is not None else None


def _least_beside(found: re.Match[str]) -> str | None:
    """Return the number in brackets behind what was counted: "21.4 ± 4.9 (2.3)"."""
    named = _LAB_LIMIT.match(found["aside"])
    text = named["limit"] if named else found["aside"]
    own, least = parse_value(found["own"]), parse_value(text)
    if own is None or own.uncertainty is None or least is None or least.value is None:
        return None
    return text if least.unit_text is None and least.uncertainty is None else None


def least_counted(text: str, head: str) -> str | None:
    """Return the least that could be counted, in brackets behind a result and how far it is off.

    Unless the head says that a second uncertainty stands there.
    """
    text = _YIELDS.sub("", text)
    bare, _, last = text.rpartition(" ")
    found = _BRACKET.match(bare if unit(last) is not None else text)
    return _least_beside(found) if found is not None and not _SECOND.search(head) else None


def _twice(own: ParsedValue | None, other: ParsedValue | None) -> bool:
    """Whether two values with units of their own say one thing twice."""
    if own is None or other is None or own.unit_text is None or other.unit_text is None:
        return False
    one, two = unit(own.unit_text), unit(other.unit_text)
    return one is not None and two is not None and one.name != two.name


def limit_beside(text: str) -> str | None:
    """Return the limit of a rule that stands in brackets behind a result."""
    found = _BRACKET.match(text)
    told = _LIMIT.match(found["aside"]) if found else None
    return told["limit"] if told and parse_value(told["limit"]) is not None else None


def lab_limit(text: str) -> tuple[str, str] | None:
    """Return the role and number of a cell that names a limit of the laboratory's: "DL 0.5"."""
    told = _LAB_LIMIT.match(text.strip(" ()[]"))
    value = parse_value(told["limit"]) if told else None
    if told is None or value is None or value.value is None or value.unit_text is not None:
        return None
    role = "detection_limit" if _DETECTION.match(text.strip(" ()[]")) else "reporting_limit"
    return role, told["limit"]


def sentence_without_limits(text: str) -> str:
    """Return a text of the same length with blanks where it only compares with a limit."""
    return _IN_SENTENCE.sub(lambda m: " " * len(m[0]), text)

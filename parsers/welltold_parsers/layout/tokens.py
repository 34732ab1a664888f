"""What one piece of text can be: a value, a unit, a method, a CAS number, an analyte's name.

Every question is answered once per text and kept: on a lab sheet the same texts come again.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from welltold.analytes import Match, analyte, identify, known_names, normalise
from welltold.units import Unit, basis_of, unit
from welltold.values import ParsedValue, parse_value
from welltold_parsers.answers import answers_in

from .asides import without_aside
from .dates import is_date
from .draws import draw_of
from .words import split_unit

_CAS = re.compile(r"\d{2,7}-\d{2}-\d")
_METHOD = re.compile(
    r"(?i)^(?:(?:us)?\s?epa|e|m|sm|apha|astm|hach|usgs|sw[- ]?846|aoac|iso|en|niosh|lachat|idexx"
    r"|quick\s?chem|std\.? meth(?:od)?s?|standard methods?|method)"
    r"[\s:#-]*[a-z]?-?\d[\w.,:;/ ()+-]*$"
    r"|^\d{4}[ -]?[A-Z][\w .()+-]{0,14}$|^\d{3}\.\d(?:\s?[A-Z]|,? ?rev.*)?$"
    r"|^(?:colilert|colisure|field)\b.{0,12}$"
)
_NUMBER = re.compile(r"[-+]?(?:\d[\d,. ]*|\.\d+)(?:[eE][-+]?\d+)?")
_BRACED = re.compile(r"/\((\d{0,3} ?m[lL])\)")
"""The volume of a count in brackets: "0 n/(100mL)"."""
_WITH_COMMA = re.compile(r"[<>≤≥]?\s*(?:\d{1,3},\d{1,2}|0,\d+)\s*(?!\d)[A-Za-zµμ°%]")
"""A number before its unit whose comma parts no thousands: "7,4 mg/L"."""
_QUALIFIER = re.compile(
    r"(?:[A-Z]{1,3}\d?|[A-Z]{1,2}(?:[,/; ]+[A-Z]{1,3})+|[*†‡#^]{1,3}|[a-z]|\d)$"
)
_MARKS = re.compile(
    r"(?:\s*[*†‡§^]+|\s*\(\d{1,2}\)|\s*\[\d[\d.,]{0,5}\]|(?<=[a-z)])[¹²³⁴⁵⁶⁷⁸⁹]+)+$|^[*†‡§^]+\s*"
)
_BOUND = re.compile(r"(?i)(?<=\))\s*\((?:min|max)\.?\)$")
"""Whether the level beside it is a least or a most: "Residual Chlorine (mg/l) (Min)"."""
_NOTED = re.compile(r"(?P<name>[^(\[,–—]+?)(?:\s*[(\[,–—]|\s+-)\s*(?P<note>[^()]{4,40})[)\]]?$")
_NUMBERED = re.compile(r"^\d{1,3}[.)]?\s+([A-Z][A-Za-z].*)$")
_BRACKET = re.compile(r"^(.{3,}?)\s*\(([A-Z][A-Za-z]{1,5})\)$")
_BY_METHOD = re.compile(
    r"(?i)[\s,-]+by(?:\s+(?:SM|EPA|ASTM|method|calc\w*)?[\s.]*(?:[\dA-Z][\w./-]*)?)?$"
)
_AT_DEGREES = re.compile(
    r"(?i)(?:[\s,]+(?:at|@|temp\w*\.?(?: of)?)\s*|\s*@\s*|\s*\((?:at |@ ?|temp\w*\.? )?)"
    r"\d{1,2}(?:\.\d+)?\s?(?:°|º|deg(?:rees|\.)?)?\s?(?:C|F|celsius)\)?$"
)
_RECKONED = re.compile(
    r"(?i)\s*\((?:(?:by )?calc\w*\.?|estimated|(?:EC|conductivity|cond\.?) ?[x×*] ?0?[.\d]+)\)$"
)
_LAST_BRACKET = re.compile(r"\(([^()]+)\)$")
_OPEN_BRACKET = re.compile(r"\s*\([^()]*$")
_BEGUN = 10
"""Letters that the beginning of a name needs."""
_SHORT_FORM = 3
_MADE_FROM_OTHERS = frozenset({"compensated"})
"""Before a name: a figure for sizing, made from several results ("compensated hardness")."""
_LONGEST_NAME = 7


class Label(NamedTuple):
    """An analyte's label taken apart."""

    name: str
    unit: str | None
    """The unit within the label, as printed."""
    match: Match | None


@lru_cache(maxsize=16384)
def value_of(
    text: str, *, decimal_comma: bool = False, letters: bool = False
) -> ParsedValue | None:
    """Return the result that a text is, or None; never a date or a long text."""
    if len(text) > 60 or is_date(text):
        return None
    if "/(" in text and (plain := _BRACED.sub(r"/\1", text)) != text:
        found = value_of(plain, decimal_comma=decimal_comma, letters=letters)
        return replace(found, text=text) if found is not None else None
    comma = decimal_comma or _WITH_COMMA.match(text) is not None
    found = parse_value(text, decimal_comma=comma, presence_letters=letters)
    if found is None and not any(c.isdigit() for c in text):
        return _judged(text)
    if found is not None:
        return found
    if text[-1:].isalpha():
        found = _with_unit(text, decimal_comma=comma)
    own = without_aside(text) if found is None else None
    if own is not None:
        found = parse_value(own, decimal_comma=comma, presence_letters=letters)
        return replace(found, text=text) if found is not None else None
    return found


def _judged(text: str) -> ParsedValue | None:
    """Parse an answer with the judgement that fits it: "PRESENT (unsafe)", "Safe - absent"."""
    answers = answers_in(text)
    told = [a for a in answers if a.kind in {"absent", "present"}]
    if len(told) != 1 or len(answers) < 2:
        return None
    fitting = "meets" if told[0].kind == "absent" else "fails"
    if any(a.kind != fitting for a in answers if a is not told[0]):
        return None
    rest = list(text)
    for answer in answers:
        rest[answer.start : answer.end] = " " * (answer.end - answer.start)
    if any(c.isalnum() for c in rest):
        return None
    found = parse_value(text[told[0].start : told[0].end])
    return replace(found, text=text) if found is not None else None


def _with_unit(text: str, *, decimal_comma: bool) -> ParsedValue | None:
    """Parse a value with its unit where both together are not understood: "ND (0.5) ug/L"."""
    words = text.split()
    for at in range(1, min(len(words), 5)):
        unit_text = " ".join(words[at:])
        if unit(unit_text) is None:
            continue
        found = parse_value(" ".join(words[:at]), decimal_comma=decimal_comma)
        if found is not None and found.unit_text is None:
            return replace(found, unit_text=unit_text, text=text)
    return None


@lru_cache(maxsize=16384)
def is_number(text: str) -> bool:
    """Whether a text is one plain number."""
    return _NUMBER.fullmatch(text) is not None


@lru_cache(maxsize=4096)
def is_denial(text: str) -> bool:
    """Whether a text says no in words that end in a yes: "None Detected", "Not Present"."""
    before, _, last = text.rpartition(" ")
    if not before or any(c.isdigit() for c in text):
        return False
    whole, end = value_of(text), value_of(last)
    denied = whole is not None and whole.present is not True
    return denied and end is not None and end.present is True


@lru_cache(maxsize=8192)
def unit_of(text: str) -> Unit | None:
    """Return the unit that a whole text spells, or None."""
    return unit(text) if len(text) < 40 else None


@lru_cache(maxsize=8192)
def is_method(text: str) -> bool:
    """Whether a text is the number of an analytical method."""
    return len(text) < 50 and _METHOD.match(text) is not None


@lru_cache(maxsize=8192)
def is_cas(text: str) -> bool:
    """Whether a text is a CAS number with a right check digit."""
    if not _CAS.fullmatch(text):
        return False
    digits = [int(c) for c in text if c.isdigit()]
    return sum(i * d for i, d in enumerate(reversed(digits[:-1]), 1)) % 10 == digits[-1]


@lru_cache(maxsize=8192)
def is_qualifier(text: str) -> bool:
    """Whether a text looks like a lab's flag: U, J, JB, H/U, *, a."""
    return len(text) <= 9 and _QUALIFIER.match(text) is not None


@lru_cache(maxsize=16384)
def label_of(text: str, cas: str | None = None) -> Label:
    """Take an analyte's label apart; fuzzy names allowed."""
    bare = _without_temperature(_bare(text) or text)
    name, spelled = split_unit(bare)
    if not name:
        name, spelled = bare, None
    match = identify(name, cas)
    if spelled and (match is None or normalise(bare) in known_names()):
        whole = identify(bare, None)
        if whole is not None and (match is None or whole.slug != match.slug):
            return Label(bare, None, whole)  # "Hydrogen ion (pH)" is no hydrogen in units of pH
    if match is None:
        ways = (
            _without_method,
            _reckoned,
            _without_bracket,
            _without_number,
            _in_bracket,
            _without_draw,
        )
        match = next((m for way in ways if (m := way(name))), None)
    return Label(name, spelled, match)


def _bare(text: str) -> str:
    """Return a label without footnote marks and the like."""
    return _BOUND.sub("", _MARKS.sub("", text.rstrip(" :;.")).strip())


def _without_temperature(label: str) -> str:
    """Return a label without the temperature at which it was read: "pH at 21.4 C".

    A conductance is another one at another temperature, unless that is the usual one.
    """
    start = _AT_DEGREES.sub("", label)
    if start == label or identify(label, fuzzy=False) is not None:
        return label
    match = identify(start, fuzzy=False)
    known = match is not None and match.slug != "specific_conductance"
    return start if known else label


def _without_method(name: str) -> Match | None:
    """Identify a name before the method that it was made by: "Total Hardness by 2340B"."""
    start = _BY_METHOD.sub("", name)
    match = identify(start, fuzzy=False) if start != name else None
    return match if match is not None and match.how == "exact" else None


def _reckoned(name: str) -> Match | None:
    """Identify a name before how it was reckoned: "Total Dissolved Solids (EC x 640)"."""
    start = _RECKONED.sub("", name)
    return identify(start, fuzzy=False) if start != name else None


def _without_draw(name: str) -> Match | None:
    """Identify a name before how and where its bottle was filled: "Lead (first draw, kitchen)"."""
    found = _NOTED.match(name)
    if found is None or draw_of(found["note"].lower()) is None:
        return None
    match = identify(found["name"], fuzzy=False)
    return match if match is not None and not analytes_within(found["note"]) else None


def _without_number(name: str) -> Match | None:
    """Identify a name behind the number of its line: "12 Copper, Total"."""
    found = _NUMBERED.match(name)
    match = identify(found[1]) if found else None
    return match if match is not None and match.how == "exact" else None


def _in_bracket(name: str) -> Match | None:
    """Identify a long name by the short one in brackets behind it: "... acid (6:2 FTS)"."""
    found = _LAST_BRACKET.search(name)
    if found and identify(name[: found.start()], fuzzy=False) is not None:
        return _named_twice(name)
    match = identify(found[1], fuzzy=False) if found and len(found[1]) > 2 else None
    return replace(match, how="fuzzy", score=0.9) if match and match.how == "exact" else None


def _named_twice(name: str) -> Match | None:
    """Identify a name with another of its names in brackets; two different ones leave it open."""
    found = _LAST_BRACKET.search(name)
    if found is None or len(found[1]) < _SHORT_FORM:
        return None
    first, second = (identify(t, fuzzy=False) for t in (name[: found.start()].strip(), found[1]))
    same = first is not None and second is not None and first.slug == second.slug
    return first if same else None


def _without_bracket(name: str) -> Match | None:
    """Identify a name by what stands before a short form in brackets that is not known itself."""
    found = _BRACKET.match(name)
    if not found or identify(found[2], fuzzy=False) is not None:
        return None
    match = identify(found[1], fuzzy=False)
    return replace(match, how="fuzzy", score=0.9) if match and match.how == "exact" else None


@lru_cache(maxsize=1024)
def begun(name: str) -> Match | None:
    """Identify a name that is cut off at its end, if only one analyte has names that begin so."""
    bare = _OPEN_BRACKET.sub("", name)
    whole = identify(bare, fuzzy=False) if bare != name else None
    if whole is not None:
        return replace(whole, how="fuzzy", score=0.9)
    start = normalise(name)
    if len(start) < _BEGUN:
        return None
    slugs = {m.slug for n in known_names() if n.startswith(start) and (m := identify(n))}
    return Match(slugs.pop(), None, None, "fuzzy", 0.8) if len(slugs) == 1 else None


@lru_cache(maxsize=16384)
def analyte_in(text: str) -> Match | None:
    """Return the analyte that a label names exactly (or by a CAS number in it), or None."""
    if len(text) > 90 or not any(c.isalpha() for c in text):
        return None
    bare = _bare(text)
    if normalise(bare) in known_names():
        return identify(bare)
    name = split_unit(bare)[0] or bare
    if len(name.split()) > 9:
        return None
    whole = identify(bare, fuzzy=False) if name != bare else None  # "pH at 25 °C"
    return identify(name, fuzzy=False) or whole or _without_number(name) or _named_twice(name)


@lru_cache(maxsize=2048)
def microbial(slug: str) -> bool:
    """Whether an analyte is a germ or an indicator of germs, so that "A" and "P" are answers."""
    return analyte(slug).group == "microbial"


@lru_cache(maxsize=4096)
def analytes_within(text: str) -> tuple[tuple[int, int, Match], ...]:
    """Return the analytes named within a sentence: (first word, behind the last, match)."""
    words = [w.strip("()[],.;:!?\"'") for w in text.split()]
    found = []
    start = 0
    while start < len(words):
        if basis := _basis_at(words, start):
            start += basis
            continue
        if words[start].lower() in _MADE_FROM_OTHERS:
            start += 2
            continue
        for size in range(min(_LONGEST_NAME, len(words) - start), 0, -1):
            piece = " ".join(words[start : start + size])
            if _is_name(piece, size):
                match = identify(piece)
                if match is not None:
                    found.append((start, start + size, match))
                    start += size - 1
                    break
        start += 1
    return tuple(found)


def _is_name(piece: str, size: int) -> bool:
    return piece == "pH" or ((size > 1 or len(piece) > 2) and normalise(piece) in known_names())


def _basis_at(words: list[str], start: int) -> int:
    """Return how many words "as calcium carbonate" has here; 0: no basis begins here."""
    if words[start] != "as":
        return 0
    sizes = (size for size in (2, 1) if basis_of(" ".join(words[start + 1 : start + 1 + size])))
    return 1 + next(sizes, -1)

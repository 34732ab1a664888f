"""What the words in column heads and headings announce, from the data files.

A head is compared by its key: lower case, joined capitals parted, punctuation as blanks. A head
that is a listed phrase names its role outright; a longer one is searched for the longest phrase.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from welltold.analytes import identify
from welltold.tables import read_table
from welltold.units import trailing_unit, unit

_JOINED = re.compile(r"(?<=[a-z])(?=[A-Z])")
_NOT_WORD = re.compile(r"[^\w%+]+|_")
_FOOTNOTE = re.compile(r"(?<=[A-Za-z)]{2})(?:[¹²³⁴-⁹]+(?:[,⁾][¹²³⁴-⁹]*)*|\s?[(\[]\d{1,2}[)\]])$")
"""The mark of a footnote behind a head: "Standard¹", "Limit (2)"."""
_DOTTED = re.compile(r"\b(\w)\.(?=\w\b)")
_DOTTED_UNIT = re.compile(
    r"^(?P<name>.*[A-Za-z0-9)])[_. ]+(?P<mass>[mun]g)\.?[Ll][._](?:as[._])?"
    r"(?P<basis>CaCO3|NO3|PO4|N|P)$"
)
"""A name in which full stops stand for what a program does not allow: "Hardness_mg.L.CaCO3"."""
_CAMEL_UNIT = re.compile(r"^(?P<name>.*[a-z0-9)])_?(?P<mass>[MUN]g)(?:Per)?L$")
"""A unit as the last word of a name in joined capitals: "LeadUgL"."""
_NOTED_UNIT = re.compile(r"^(?P<name>.*\w)\s*[(\[]\s*(?P<unit>[^()\[\]]+?)\s*\([^()]*\)\s*[)\]]$")
"""A unit with a note behind it: "Tot N (mg/L (0<mdl))"."""
_BLANK_IN_UNIT = re.compile(r"/\s?\d+_[A-Za-z]+$")
"""A unit in which "_" stands for a blank: "COLI_FEC_NMP/100_mL"."""
_COUNTED = re.compile(r"^(?P<name>[A-Z]{3,4})\s?(?P<per>/\s?(?:1 ?|100 ?)?m[lL])$")
"""A count in so much water: "HPC/mL"."""
_OWN_HEADS = frozenset({"qualifier", "unit", "reporting_limit", "method", "detect_flag", "status"})
"""What stands beside a result under a head of its own: "Result Flag" glued is two heads."""
_SIDES = re.compile(r"\s+/\s+")
_SPREAD_ALONE = re.compile(r"\W*(?:±|\+\s?/\s?-|\+-)\s*(?:[12]\s?(?:σ|sigma|s))?\W*")
_SPREAD = re.compile(r"\s*(?:±|\+/-)\s*")
_GLUED = 7
"""Letters of a head that can be told for several words written as one."""
_VAGUE = frozenset(
    ["value", "values", "level", "levels", "amount", "conc", "concentration", "wert", "valeur"]
)
"""Words of a result that stand over limits as well: "Max. Acc. Value"."""
_WANTED = frozenset(
    re.findall(
        r"\w+",
        "acceptable allowable allowed desirable desired guide guideline highest ideal max maximum"
        " permissible permitted recommended reference target",
    )
)
_LIMITS = frozenset({"printed_limit", "goal"})
_LONGEST = 8
"""A head of more words is a sentence."""


class Head(NamedTuple):
    """What one head announces."""

    role: str
    score: float
    """1.0 for a listed phrase, less for a phrase within a longer head."""
    unit: str | None
    """The unit that the head carries, as printed."""


def head_key(text: str) -> str:
    """Return the head as it is compared with the listed phrases."""
    plain = _JOINED.sub(" ", _FOOTNOTE.sub("", text)).lower().replace("#", " no ")
    return " ".join(_NOT_WORD.sub(" ", _DOTTED.sub(r"\1", plain)).split())


@cache
def _phrases() -> Mapping[str, str]:
    found: dict[str, str] = {}
    for row in read_table("header_words.csv"):
        found.setdefault(head_key(row.text("phrase")), row.text("role"))
    return found


@cache
def _squeezed() -> Mapping[str, str]:
    """Return the phrases of several words as one: a data base writes "RESULTMEASUREUNIT"."""
    several = ((phrase.replace(" ", ""), role) for phrase, role in _phrases().items())
    return {word: role for word, role in several if len(word) >= _GLUED}


@cache
def _regions() -> Mapping[str, Mapping[str, str]]:
    found: dict[str, dict[str, str]] = {"heading": {}, "name": {}, "code": {}, "head": {}}
    for row in read_table("region_words.csv"):
        found[row.text("where")].setdefault(head_key(row.text("phrase")), row.text("region"))
    return found


@lru_cache(maxsize=8192)
def head_of(text: str) -> Head | None:
    """Return the role that a column head announces, or None."""
    if len(text) > 90:
        return None
    key = head_key(text)
    exact = _phrases().get(key) or (_squeezed().get(key) if " " not in key else None)
    if exact or _SPREAD_ALONE.fullmatch(text):
        return Head(exact or "uncertainty", 1.0, None)
    told = _in_two_languages(text)
    if told:
        return Head(told, 0.99, None)
    bare, spelled = split_unit(text)
    role = _phrases().get(head_key(bare)) if bare else None
    if role:
        counts = role == "number" and unit(text) is not None  # "Number per 100 mL"
        return None if counts else Head(role, 0.98, spelled)
    noted = _NOTED_TEST.match(text)
    if noted and _phrases().get(head_key(noted[1])) == "analyte" and not _says_more(noted[2]):
        return Head("analyte", 0.97, None)
    part = _before_spread(bare) or _part(head_key(bare))
    return Head(part[0], part[1], spelled) if part else None


def _says_more(note: str) -> bool:
    """Whether a note in brackets is a head, a unit or a test of its own."""
    return head_key(note) in _phrases() or unit(note) is not None or identify(note) is not None


def _in_two_languages(text: str) -> str | None:
    """Return the role of a head that says one thing twice: "ID Labo / Lab ID"."""
    sides = _SIDES.split(text)
    roles = {_phrases().get(head_key(side)) for side in sides}
    return roles.pop() if len(sides) > 1 and len(roles) == 1 else None


def _before_spread(text: str) -> tuple[str, float] | None:
    """Return the role of a head that names a result and, behind a sign, how far it may be off."""
    first = _SPREAD.split(text)[0]
    found = _phrases().get(head_key(first)) if first != text else None
    return ("result", 0.97) if found == "result" else None


_NOTED_TEST = re.compile(r"(\w[^()]*?)\s*\(([^()]+)\)$")
"""A head with a note on how it was tested: "Test (membrane filter)"."""
_BY_TOOL = re.compile(r"(?i)\s*\((?:meter|(?:test )?strips?|(?:test )?kit|probe|field)\)$")
"""What a number was read with, behind the unit: "T.D.S., PPM (METER)"."""


@lru_cache(maxsize=8192)
def split_unit(text: str) -> tuple[str, str | None]:
    """Return a head or label without its unit, and the unit as printed."""
    found = trailing_unit(text) or trailing_unit(_BY_TOOL.sub("", text))
    if found:
        return found[0].strip(" ,:;-"), found[1]
    inside = re.search(r"[(\[]\s*(?:in\s+|as\s+)?([^()\[\]]+?)\s*[)\]]\s*[*†]*$", text)
    if inside and unit(inside[1]):
        return text[: inside.start()].strip(), inside[1]
    if _BLANK_IN_UNIT.search(text) and (found := trailing_unit(text.replace("_", " "))):
        return found
    noted = _NOTED_UNIT.match(text)
    if noted and unit(noted["unit"]):
        return noted["name"], noted["unit"]
    return _unit_of_name(text) or (text, None)


def _unit_of_name(text: str) -> tuple[str, str] | None:
    """Return a column's name without the unit that it ends in, and that unit in plain spelling."""
    if (counted := _COUNTED.match(text)) and unit(text) is None:
        return counted["name"], counted["per"]
    found = _DOTTED_UNIT.match(text)
    if found:
        return found["name"], f"{found['mass']}/L as {found['basis']}"
    found = _CAMEL_UNIT.match(text)
    return (found["name"], f"{found['mass'].lower()}/L") if found else None


def _part(key: str) -> tuple[str, float] | None:
    """Return the longest listed phrase within a key, the last one of equals."""
    tokens = key.split()
    if not 2 <= len(tokens) <= _LONGEST:
        return None
    phrases = _phrases()
    for size in range(len(tokens) - 1, 0, -1):
        for start in range(len(tokens) - size, -1, -1):
            phrase = " ".join(tokens[start : start + size])
            role = phrases.get(phrase)
            if role == "result" and phrase in _VAGUE:
                role = next((r for t in tokens if (r := phrases.get(t)) in _LIMITS), role)
            if role:
                return role, 0.45 + 0.4 * size / len(tokens)
    return None


@lru_cache(maxsize=4096)
def segments(text: str) -> tuple[tuple[int, int, str], ...]:
    """Cut a line of glued heads into listed phrases: (first word, behind the last, role).

    Empty when some word belongs to none, or when the whole is one phrase.
    """
    words = text.split()
    if not 2 <= len(words) <= 24:
        return ()
    phrases = _phrases()
    keys = _keys(words)
    best: list[tuple[int, tuple[tuple[int, int, str], ...]] | None] = [(0, ())]
    for end in range(1, len(words) + 1):
        options = []
        for start in range(max(0, end - 5), end):
            before = best[start]
            role = phrases.get(" ".join(k for k in keys[start:end] if k)) if keys[start] else None
            role = role or _wanted(keys[start:end])
            if end - start > 1 and phrases.get(keys[start]) == "result" and role in _OWN_HEADS:
                continue
            if before is not None and role and role != "limit_unit":
                options.append((before[0] + 1, (*before[1], (start, end, role))))
        best.append(min(options, key=lambda o: (o[0], -o[1][0][1])) if options else None)
    found = best[-1]
    return found[1] if found and found[0] > 1 else ()


def _wanted(keys: Sequence[str]) -> str | None:
    """Return the role of a head of several words that asks for a value: "Desired Value"."""
    *before, last = keys
    asks = last in _VAGUE and before and all(key in _WANTED for key in before)
    return "printed_limit" if asks else None


def _keys(words: list[str]) -> list[str]:
    """Return the words as they are compared; a bracket goes with the word before it."""
    keys: list[str] = []
    depth = 0
    for word in words:
        inside = depth > 0 or word.startswith("(")
        depth += word.count("(") - word.count(")")
        keys.append("" if inside and keys else head_key(word))
    return keys


@lru_cache(maxsize=4096)
def region_of(text: str, place: str) -> str | None:
    """Return the region that a whole heading, sample name, type code or head announces."""
    return _regions()[place].get(head_key(text))


@lru_cache(maxsize=4096)
def heading_region(text: str) -> str | None:
    """Return the region that a heading line announces, also where the phrase is only its start."""
    key = head_key(text)
    known = _regions()["heading"]
    if key in known:
        return known[key]
    tokens = key.split()
    if len(tokens) > 12:
        return None
    for size in range(min(len(tokens), 6), 0, -1):
        for start in (0, len(tokens) - size):
            region = known.get(" ".join(tokens[start : start + size]))
            if region and (size >= 2 or len(tokens) <= 3):
                return region
    return None

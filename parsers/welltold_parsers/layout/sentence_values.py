"""Reads the numbers that sentences tell: "Your water contains 1.4 mg/L of iron".

A clause counts only when it says one thing: one analyte or two, a number with a unit near each, and
no word of a limit, an advice, a wish or an earlier year.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from welltold.analytes import Match, analyte

from .general_words import speaks_in_general
from .tokens import analytes_within, microbial, unit_of, value_of

_OTHER = re.compile(
    r"(?i)\b(limits?|standards?|maximum|mcl|action levels?|guide(?:line)?s?|recommended"
    r"|last (?:year|time|test(?:ed)?|sampled?)|previous\w*|earlier|by the driller"
    r"|should|must|if|may|can|could|would|exceed\w*|above|below the"
    r"|over(?: the|(?= \d))|typical\w*|usually"
    r"|normal\w*|average|health effects|cause[sd]?"
    r"|common|means|indicates?|method|epa|allows?|permits?|for [\w ]{2,30} it is"
    r"|level is \d|considered|example|please"
    r"|drinking water levels?|levels? for|public suppl\w+|allowed|federal"
    r"|recover(?:y|ies|ed)|spike[ds]?|surrogates?|(?:method|trip|field) blanks?|lcsd?|rpd|qc"
    r"|treatment|goal|advisory|because|for more|coolers?|(?:at|on|upon) (?:receipt|arrival)"
    r"|receipt temp\w*|neighbou?r\w*|most (?:of the )?wells|other wells|commonly"
    r"|in (?:this|our) (?:township|area|county|region|district))\b"
)
"""Words of a clause that speaks of something else than this water today."""
_EXPLAINS = re.compile(
    r"(?i:\W*(?:code\s)?)(?:ND|[BM][DR]L|NA|[A-Z]\d?|\d{1,2}|[A-Z]{1,3}(?= ?=))\s*[:=]\s"
)
_NUMBER = re.compile(
    r"(?:[<>≤≥]\s?|(?:less|more|fewer|greater) than |below |under |not (?:detected|found) at )?"
    r"(?<![\w.^-])(?:\d[\d,]*(?:\.\d+)?|\.\d+)(?![\w-])"
)
_RANGE = re.compile(r"(?i)\bbetween\s+\d[\d.,]*(?:\s[^\s\d]+)?\s+and\s+\d[\d.,]*")
"""A range, of which neither end was found: "between 2,000 and 10,000 pCi/L"."""
_VOLUME = re.compile(r"(?i)(?<![Uun] )(?<!s )\b(?:in|per|por|en) (?:a |the )?100[- ]?ml\b")
"""The volume that was looked through, not the unit of a count ("12 CFU per 100 mL")."""
_YOURS = re.compile(
    r"(?i)\byour (?:water|well|sample)(?: water)? (?:has|had|holds|held|contain(?:s|ed)|showed)\b"
)
_YOUR_OWN = re.compile(
    r"(?i)\b(?:your|our|the)(?:\s[\w-]+){0,2}?\s*$|\b(?:your|our)\b(?:\s[\w-]+){0,3}?\s*$"
)
_RESULT_IS = re.compile(
    r"(?i)^\s*(?P<what>results?|concentrations?|contents?|values?|readings?|levels?|counts?)?"
    r"\s*(?:,|\(|\bof\b|\bwas\b|\bis\b|\bat\b|\bwere\b|\bmeasured\b)\s*(?:at\s|of\s)?$"
)
_OTHER_DAY = re.compile(
    r"(?i)\b(?:last (?:year|time|test\w*|sampl\w*)|previous\w*|earlier|ago|by the driller)\b"
)
_FINDS = re.compile(
    r"(?i)\b(?:was|were|found|detected|measured|contain(?:s|ed)|tested|came|showed|reported|had|has"
    r"|your|(?:water|it) is|fue|fueron)\b"
)
_NO_AMOUNTS = frozenset({"temperature", "percent", "length", "volume", "time"})
"""Kinds of units that sentences about the sampling and the laboratory use too."""
_REACH = 9
"""Words between an analyte and its value."""


@dataclass(slots=True)
class Said:
    """One result that a sentence tells."""

    match: Match
    name: str
    text: str
    plain: bool
    """Whether the clause says this and nothing else."""
    basis: str = ""
    """Words behind the unit that say the basis: "as nitrogen"."""


def speaks_of_other(clause: str) -> bool:
    """Whether a clause speaks of a limit, an advice, another day or another water."""
    return _OTHER.search(clause) is not None


def speaks_of_other_day(clause: str) -> bool:
    """Whether a clause speaks of an earlier test of this water."""
    return _OTHER_DAY.search(clause) is not None


def explains_flag(clause: str) -> bool:
    """Whether a clause is the meaning of a flag: "ND: nitrite not detected at 0.01 mg/L"."""
    return _EXPLAINS.match(clause) is not None


def values_in(clause: str) -> Iterator[Said]:
    """Yield what one clause says, one result for each analyte with a value behind it."""
    if explains_flag(clause):
        return
    clause = _RANGE.sub(lambda found: re.sub(r"\d[\d.,]*", "some", found[0]), clause)
    words = clause.split()
    found = without_repeats(analytes_within(clause))
    names = {m.slug for _, _, m in found}
    if not found or len(names) != len(found) or len(found) > 2:
        return
    other = _is_aside(clause)
    for number, (start, end, match) in enumerate(found):
        stop = found[number + 1][0] if number + 1 < len(found) else len(words)
        before = " ".join(words[max(0, start - 6) : start])
        after = " ".join(words[end : min(stop, end + _REACH + 6)])
        if microbial(match.slug):
            before, after = _VOLUME.sub("", before), _VOLUME.sub("", after)
        name = _name(words[start:end])
        if other:
            said = _your_own(match, name, before, after)
        else:
            said = _value(match, name, after)
            if said is None and len(found) == 1:
                said = _value(match, name, before)
        if said is not None:
            yield said


def value_of_the_paragraph(clause: str, text: str) -> Iterator[Said]:
    """Yield what "Your water has 3.7 parts per billion" says of a paragraph's only analyte."""
    yours = _YOURS.search(clause)
    if yours is None or speaks_of_other(clause) or analytes_within(clause):
        return
    found = analytes_within(text)
    if len({match.slug for _, _, match in found}) != 1:
        return
    start, end, match = found[0]
    said = _value(match, _name(text.split()[start:end]), clause[yours.end() :])
    if said is not None:
        said.plain = False
        yield said


def numbers_told(clause: str) -> int:
    """Return how many numbers with a unit of its own a clause about this water holds."""
    if _is_aside(clause) and not _names_yours(clause):
        return 0
    if explains_flag(clause) or not _FINDS.search(clause):
        return 0
    return numbers_in_units(clause)


def numbers_in_units(clause: str) -> int:
    """Return how many numbers of a clause have a unit of their own that results have."""
    text = _VOLUME.sub("", clause)
    spelled = (_unit_behind(text[n.end() :]) for n in _NUMBER.finditer(text))
    units = (unit_of(one) for one in spelled if one is not None)
    return sum(unit is not None and unit.kind not in _NO_AMOUNTS for unit in units)


def _is_aside(clause: str) -> bool:
    return speaks_of_other(clause) or speaks_in_general(clause)


def _names_yours(clause: str) -> bool:
    """Whether a clause speaks of "your nitrate"."""
    words = clause.lower().split()
    return any("your" in words[max(0, at - 2) : at] for at, _, _ in analytes_within(clause))


def without_repeats(found: Sequence[tuple[int, int, Match]]) -> list[tuple[int, int, Match]]:
    """Take a name and its second form in brackets as one: "Escherichia coli (E. coli)"."""
    kept: list[tuple[int, int, Match]] = []
    for start, end, match in found:
        if kept and kept[-1][2].slug == match.slug and start - kept[-1][1] <= 1:
            kept[-1] = (kept[-1][0], end, kept[-1][2])
        else:
            kept.append((start, end, match))
    return kept


def _name(words: Sequence[str]) -> str:
    name = " ".join(words).strip("()[],.;:!?\"' ")
    return name + ")" * (name.count("(") - name.count(")"))


def _your_own(match: Match, name: str, before: str, after: str) -> Said | None:
    """Read "Your sodium level (38 mg/L)", whatever else the clause speaks of; never for sure."""
    number = _NUMBER.search(after)
    if speaks_of_other_day(f"{before} {after}"):
        return None
    own = _YOUR_OWN.search(before)
    link = _RESULT_IS.match(after[: number.start()]) if number else None
    if own is None or link is None:
        return None
    if "your" not in own[0].lower() and not (link["what"] or "").lower().startswith("result"):
        return None
    said = _value(match, name, after)
    if said is not None:
        said.plain = False
    return said


def _value(match: Match, name: str, text: str) -> Said | None:
    """Read the first number with a unit."""
    for number in _NUMBER.finditer(text):
        if len(text[: number.start()].split()) > _REACH:
            return None
        unit = _unit_behind(text[number.end() :])
        if unit is not None and _is_share(unit, match):
            continue  # "takes out 97 percent of the radon"
        if unit is not None:
            alone = len(_NUMBER.findall(text)) == 1
            short = _without_basis(unit)
            basis = unit[len(short) :].strip()
            return Said(match, name, f"{number[0]} {short}", alone, basis)
        if analyte(match.slug).unit == "SU" and value_of(number[0]):
            return Said(match, name, number[0], plain=False)
    return None


def _is_share(unit: str, match: Match) -> bool:
    """Whether a unit is percent, in which this analyte is not told."""
    found, own = unit_of(unit), unit_of(analyte(match.slug).unit)
    percent = found is not None and found.kind == "percent"
    return percent and (own is None or own.kind != "percent")


def _unit_behind(text: str) -> str | None:
    """Return the longest unit that a text begins with, as printed."""
    tail = text.split()
    for size in range(min(5, len(tail)), 0, -1):
        unit = " ".join(tail[:size]).rstrip(".,; )")
        if unit.count("(") > unit.count(")"):
            continue  # "milligrams per liter (mg/L)" says its unit twice
        if unit_of(unit) is not None and unit not in {"in", "a"}:
            return unit
    return None


def _without_basis(unit: str) -> str:
    """Return the unit without the words of its basis: "mg/L" of "mg/L as nitrogen"."""
    bare = re.split(r"\s+\(?as\s", unit, maxsplit=1)[0]
    return bare if unit_of(bare) is not None else unit

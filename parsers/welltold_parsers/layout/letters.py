"""Reads results from sentences: letters, bacteria slips, the words under a table.

A sentence counts only when it says one thing: one analyte, one value or one answer near it, and no
word of a limit, an advice, a wish or an earlier year.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from welltold.analytes import Match, analyte

from .asides import sentence_without_limits
from .cells import Cell, Line, join
from .context import Context
from .printed import Printed
from .tokens import analytes_within, microbial, unit_of, value_of

_CLAUSES = re.compile(
    r"(?<![\s(][A-Z])(?<!^[A-Z])(?<=[\w)% ])[.!?]\s+(?=[A-Z])|;\s+"
    r"|,?\s+(?:and|but|while|whereas)\s+(?=[^,.;]*\b(?:was|were|is|are)\b)"
    r"|,\s+(?=which\b|so\b|y\b)"
)
_OTHER = re.compile(
    r"(?i)\b(limits?|standards?|maximum|mcl|action levels?|guide(?:line)?s?|recommended"
    r"|last (?:year|time|test(?:ed)?|sampled?)|previous\w*|earlier|by the driller"
    r"|should|must|if|may|can|could|would|exceed\w*|above|below the|over the|typical\w*|usually"
    r"|normal\w*|average|health effects|cause[sd]?"
    r"|common|means|indicates?|method|epa|allows?|permits?|for [\w ]{2,30} it is"
    r"|level is \d|considered|example|please"
    r"|drinking water levels?|levels? for|public suppl\w+|allowed|federal"
    r"|recover(?:y|ies|ed)|spike[ds]?|surrogates?|(?:method|trip|field) blanks?|lcsd?|rpd|qc"
    r"|treatment|goal|advisory|because|for more|coolers?|(?:at|on|upon) (?:receipt|arrival)"
    r"|receipt temp\w*|neighbou?r\w*|most (?:of the )?wells|other wells|commonly"
    r"|in (?:this|our) (?:township|area|county|region|district))\b"
)
_LIMIT = re.compile(
    r"(?i)\b(?:limits?|levels?|mcl|guidelines?|maximum|epa|allow(?:s|ed)|standards?(?! units?))\b"
)
"""What follows in such a sentence may still be a limit, though its own clause does not say so."""
_SENTENCE_ENDS = re.compile(r"[.!?]\s+$")
_VERB = re.compile(
    r"(?i)\b(?:was|were|is|are|had|has|have|found|detected|measured|contain\w*|tested|came|show\w*"
    r"|absent|present|fue|eran?|son|es)\b"
)
_ABSENT = re.compile(
    r"(?i)\b(absent|not (?:found|present|detected)|none (?:detected|found)|negative"
    r"|ausentes?|no detectad[oa]s?|negativ[oa])\b"
)
_PRESENT = re.compile(r"(?i)\b(present|positive|detected|found|presentes?|positiv[oa])\b")
_ANSWER = re.compile(r"(?i)\b(?:absent|present)\b")
_EXPLAINS = re.compile(r"\W*(?:ND|BDL|BRL|[A-Z])\s*[:=]\s")
"""A flag with its meaning: "ND: nitrite not detected at 0.01 mg/L"."""
_NONE_OF = re.compile(r"(?i)\b(?:no|not|without|free of|sin)\s+(?:any\s+|signs of\s+)?$")
_NUMBER = re.compile(
    r"(?:[<>≤≥]\s?|(?:less|more|fewer|greater) than |below |under |not (?:detected|found) at )?"
    r"(?<![\w.^-])(?:\d[\d,]*(?:\.\d+)?|\.\d+)(?![\w-])"
)
_DAY = re.compile(
    r"(?i)\b(?:collected|sampled|taken|drawn|muestreada|tomada)\s+(?:on\s+|el\s+)?"
    r"((?:[A-Z][a-z]{2,9}\.?\s+\d{1,2},?\s+\d{4})|\d[\d/.-]{5,9}\d)"
)
_DAY_BEFORE = re.compile(
    r"\bOn ([A-Z][a-z]{2,9}\.?\s+\d{1,2},?\s+\d{4})\b[^;]{0,60}?\b(?:collected|sampled|took|drew)\b"
)
_DAY_OF = re.compile(
    r"\b(?:of|on|from)\s+([A-Z][a-z]{2,9}\.?\s+\d{1,2},?\s+\d{4}|\d[\d/.-]{5,9}\d)"
)
_SAMPLE = re.compile(
    r"(?i)\b(?:sample\s+(?:no\.?\s*|number\s+|#\s*)?|lab(?:oratory)?\s+(?:no\.?|number|#)\s*)"
    r"((?=\S*\d)[\w][\w/.-]*\w)"
)
_BEFORE = re.compile(r"(?i)\b(?:previous\w*|earlier|prior|last (?:sample|test))\b[^.]*$")
"""The number behind is that of another sample: "Previous sample: 5/3/2021, lab no. 21-044"."""
_BETWEEN = re.compile(r",\s+which\s[^.,;\d]*,(?=\s+(?:was|were|is|are)\b)")
"""What is said between commas of a test, before its answer."""
_YOURS = re.compile(
    r"(?i)\byour (?:water|well|sample)(?: water)? (?:has|had|holds|held|contain(?:s|ed)|showed)\b"
)
_PLACE = re.compile(
    r"\b(?:from|of|at) (?:your|the) ([a-z][a-z ]{2,28}?),?\s+"
    r"(?:of|on|was|were|collected|taken|sampled)\b"
)
_REPORT = re.compile(
    r"(?i)\b(?:report|certificate|informe)\s+(?:no\.?|number|#)?\s*([A-Z]{0,4}[-/]?\d[\w/-]*)"
)
_NOT_ABOVE = re.compile(
    r"(?i)\b(not (?:detected|found)) (?:at or )?above"
    r"(?= (?:a (?:detection |reporting )?limit of )?[.\d])"
)
_VOLUME = re.compile(r"(?i)\b(?:in|per|por|en) (?:a )?(?:the )?100[- ]?ml\b")
_HEADED = 60
"""Words before a colon so near the start speak for all that follows: "Action levels: ..."."""
_REACH = 9
"""Words between an analyte and its value."""


@dataclass(slots=True)
class _Told:
    match: Match
    name: str
    text: str
    unit: str | None
    plain: bool
    basis: str = ""
    """Words behind the unit that say the basis: "as nitrogen"."""


def is_prose(line: Line) -> bool:
    """Whether a line is running text."""
    if line.sheet is not None and len(line.cells) > 1:
        return False
    words = line.text.split()
    if len(words) < 5 or len(line.cells) > 3:
        return False
    firsts = [w.strip("(")[:1] for w in words]
    letters = sum(c.isalpha() for c in firsts)
    small = sum(c.islower() for c in firsts)
    return letters >= 0.6 * len(words) and small >= 0.3 * len(words)


def read_letter(lines: Sequence[Line], context: Context) -> bool:
    """Read the results in a paragraph; return whether there were any."""
    text, starts = _run_together(lines)
    text = _NOT_ABOVE.sub(lambda m: f"{m[1]} at".ljust(len(m[0])), sentence_without_limits(text))
    text = _BETWEEN.sub(lambda m: " " * len(m[0]), text)
    _sample(text, context)
    report = _REPORT.search(text)
    if report and context.report_id is None:
        context.report_id = report[1]
        context.samples.note("report_id", report[1])
    before, colon, _ = text.partition(":")
    if context.closed or (colon and len(before) < _HEADED and _OTHER.search(before)):
        return False
    any_told = beside_limit = False
    for start, clause in _clauses(text):
        if _SENTENCE_ENDS.search(text[:start]):
            beside_limit = False
        elif text[:start].endswith("; "):
            if beside_limit and not _VERB.search(_ANSWER.sub("", clause)):
                continue  # "Lead action level 15 ppb; copper 1.3 ppm": one verb, one list of limits
            beside_limit = False
        beside_limit = beside_limit or _LIMIT.search(clause) is not None
        for told in (*_told(clause), *_of_the_paragraph(clause, text)):
            told.plain = told.plain and not beside_limit
            cell = _cell(lines, starts, start + clause.find(told.text.split(" ")[0]))
            label = _cell(lines, starts, start + clause.find(told.name.split(" ")[0]))
            _emit(context, told, label, cell)
            any_told = True
    return any_told


def _sample(text: str, context: Context) -> None:
    """Take up what a sentence says of the sample: its number, its place, its day."""
    number = _SAMPLE.search(text)
    if number and _BEFORE.search(text, 0, number.start()):
        number = None
    if number:
        context.samples.note("sample_id", number[1])
    place = _PLACE.search(text)
    if place and (number or _DAY.search(text)):
        context.samples.note("point", place[1])
    day = (
        _DAY.search(text)
        or _DAY_BEFORE.search(text)
        or (number and _DAY_OF.search(text, number.end()))
    )
    if day:
        context.samples.note("collected", day[1])


def _run_together(lines: Sequence[Line]) -> tuple[str, list[int]]:
    starts, text = [], ""
    for line in lines:
        starts.append(len(text))
        text += " ".join(line.text.split()) + " "
    return text, starts


def _clauses(text: str) -> Iterator[tuple[int, str]]:
    start = 0
    for match in _CLAUSES.finditer(text):
        yield start, text[start : match.start()]
        start = match.end()
    yield start, text[start:].strip()


def _cell(lines: Sequence[Line], starts: Sequence[int], at: int) -> Cell:
    number = max(i for i, s in enumerate(starts) if s <= max(at, 0))
    return join(lines[number].cells)


def _told(clause: str) -> Iterator[_Told]:
    """Yield what one clause says, one result for each analyte with a value behind it."""
    if _OTHER.search(clause) or _EXPLAINS.match(clause):
        return
    words = clause.split()
    found = _without_repeats(analytes_within(clause))
    names = {m.slug for _, _, m in found}
    if not found or len(names) != len(found) or len(found) > 2:
        return
    for number, (start, end, match) in enumerate(found):
        stop = found[number + 1][0] if number + 1 < len(found) else len(words)
        before = " ".join(words[max(0, start - 6) : start])
        after = " ".join(words[end : min(stop, end + _REACH + 6)])
        name = " ".join(words[start:end]).strip("()[],.;:!?\"' ")
        name += ")" * (name.count("(") - name.count(")"))
        told = _answer(match, name, before, after, len(words)) or _value(match, name, after)
        if told is None and len(found) == 1:
            told = _value(match, name, before)
        if told is not None:
            yield told


def _of_the_paragraph(clause: str, text: str) -> Iterator[_Told]:
    """Yield what "Your water has 3.7 parts per billion" says of a paragraph's only analyte."""
    yours = _YOURS.search(clause)
    if yours is None or _OTHER.search(clause) or analytes_within(clause):
        return
    found = analytes_within(text)
    if len({match.slug for _, _, match in found}) != 1:
        return
    start, end, match = found[0]
    name = " ".join(text.split()[start:end]).strip("()[],.;:!?\"' ")
    told = _value(match, name, clause[yours.end() :])
    if told is not None:
        told.plain = False
        yield told


def _without_repeats(found: Sequence[tuple[int, int, Match]]) -> list[tuple[int, int, Match]]:
    """Take a name and its second form in brackets as one: "Escherichia coli (E. coli)"."""
    kept: list[tuple[int, int, Match]] = []
    for start, end, match in found:
        if kept and kept[-1][2].slug == match.slug and start - kept[-1][1] <= 1:
            kept[-1] = (kept[-1][0], end, kept[-1][2])
        else:
            kept.append((start, end, match))
    return kept


def _answer(match: Match, name: str, before: str, after: str, length: int) -> _Told | None:
    """Read an answer of a presence test."""
    if not microbial(match.slug) or _NUMBER.search(_VOLUME.sub("", after)):
        return None
    absent = _ABSENT.search(after)
    if absent:
        return _Told(match, name, absent[1], None, length <= 14)
    present = _PRESENT.search(after)
    if present and len(after[: present.start()].split()) <= 5:
        word = "absent" if _NONE_OF.search(before + " ") else present[1]
        if word == "absent":
            return _Told(match, name, "not detected", None, plain=False)
        return _Told(match, name, "present", None, length <= 14)
    return None


def _value(match: Match, name: str, text: str) -> _Told | None:
    """Read the first number with a unit."""
    for number in _NUMBER.finditer(text):
        if len(text[: number.start()].split()) > _REACH:
            return None
        tail = text[number.end() :].split()
        for size in range(min(5, len(tail)), 0, -1):
            unit = " ".join(tail[:size]).rstrip(".,; )")
            if unit_of(unit) is not None and unit not in {"in", "a"}:
                alone = len(_NUMBER.findall(text)) == 1
                short = _without_basis(unit)
                told = _Told(match, name, f"{number[0]} {short}", short, plain=alone)
                told.basis = unit[len(short) :].strip()
                return told
        if analyte(match.slug).unit == "SU" and value_of(number[0]):
            return _Told(match, name, number[0], None, plain=False)
    return None


def _without_basis(unit: str) -> str:
    """Return the unit without the words of its basis: "mg/L" of "mg/L as nitrogen"."""
    bare = re.split(r"\s+\(?as\s", unit, maxsplit=1)[0]
    return bare if unit_of(bare) is not None else unit


def _emit(context: Context, told: _Told, label: Cell, value: Cell) -> None:
    printed = Printed(
        label=told.name,
        label_cell=label,
        text=told.text,
        value_cell=value,
        draft=context.samples.current(),
        section=context.section,
        name=f"{told.name} {told.basis}" if told.basis else None,
    )
    if not told.plain:
        printed.doubt("sentence")
    context.emit(printed)

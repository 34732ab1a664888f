"""Reads results from sentences: letters, bacteria slips, the words under a table.

Numbers are read clause by clause, answers such as "not found" sentence by sentence. A sentence that
tells a result of this water and was not understood is left to a person.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .asides import sentence_without_limits
from .cells import Cell, Line
from .claims import Claim, claims_in, names_in
from .context import Context
from .general_words import tells_of_this_water, without_equations
from .headings import cell_of
from .printed import Printed
from .sentence_values import (
    Said,
    explains_flag,
    numbers_told,
    speaks_of_other,
    value_of_the_paragraph,
    values_in,
)
from .stated_limits import limit_said
from .tokens import microbial, value_of
from .told_words import Paragraph
from .unit_choice import limit_agrees

_SENTENCE_END = r"(?<![\s(][A-Z])(?<!^[A-Z])(?<=[\w)% ])[.!?]\s+(?=[A-Z])|;\s+"
"""A stop before a capital, but not the one in "E. coli"."""
_CLAUSES = re.compile(
    _SENTENCE_END + r"|,?\s+(?:and|but|while|whereas)\s+(?=[^,.;]*\b(?:was|were|is|are)\b)"
    r"|,\s+(?=which\b|so\b|y\b)|(?<=[a-z]{4})[.!?]\s+(?=\d)"
)
_JOINS = re.compile(r"(?i)\b(?:and|but|while|whereas)\b")
_SENTENCES = re.compile(_SENTENCE_END + r"|,\s+(?=which\b|so\b)")
_LIMIT = re.compile(
    r"(?i)\b(?:limits?|levels?|mcl|guidelines?|maximum|epa|allow(?:s|ed)|standards?(?! units?)"
    r"|reportable)\b"
)
"""What follows in such a sentence may still be a limit, though its own clause does not say so."""
_SENTENCE_ENDS = re.compile(r"[.!?]\s+$")
_VERB = re.compile(
    r"(?i)\b(?:was|were|is|are|had|has|have|found|detected|measured|contain\w*|tested|came|show\w*"
    r"|absent|present|fue|eran?|son|es)\b"
)
_ANSWER = re.compile(r"(?i)\b(?:absent|present)\b")
_DAY = re.compile(
    r"(?i)\b(?:collected|sampled|taken|drawn|muestreada|tomada)\s+(?:on\s+|el\s+)?"
    r"((?:[A-Z][a-z]{2,9}\.?\s+\d{1,2},?\s+\d{4})|\d[\d/.-]{5,9}\d)"
)
_DAY_BEFORE = re.compile(
    r"\bOn ([A-Z][a-z]{2,9}\.?\s+\d{1,2},?\s+\d{4})\b[^;]{0,100}?"
    r"\b(?:collected|sampled|took|drew)\b"
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
_ASIDE = re.compile(
    r"(?:(?<=[.!?] )|^)If you (?:have|use|own|plan|wish|want)\b[^.,;]{0,60}, (?=please note\b)"
    r"|\b[Pp]lease note(?: that)?\b(?=[^.;]*\b(?:was|were|is)\b)"
    r"|\b(?:which )?(?:is|was|are|were) (?:with)?in the (?:normal|usual|typical) range\b"
)
"""What a letter says around a result and beside it, and what would make it seem an advice."""
_METHOD = re.compile(r"\b(?:SM|EPA|ASTM|USGS|AOAC)\s+\d{3,4}[\w.-]*(?:\s[A-H]\b)?")
"""The number of a method, which is nothing that was found: "SM 2340 C"."""
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
_SOUGHT = re.compile(r"(?i)find|found|detect|present|encontr")
"""What a chemical's "no" needs behind it: "no lead pipes" is no result."""
_HEADED = 60
"""Words before a colon so near the start speak for all that follows: "Action levels: ..."."""


@dataclass(frozen=True, slots=True)
class _Found:
    """Something that a paragraph tells, and where in its text."""

    at: int
    value_at: int
    said: Said | None
    """``None``: it tells a result, and which one was not understood."""
    text: str


def is_prose(line: Line) -> bool:
    """Whether a line is running text."""
    if line.sheet is not None and len(line.cells) > 1:
        return False
    words = line.text.split()
    if len(words) < 5 or len(line.cells) > 3:
        return False
    firsts = [w.strip("(")[:1] for w in words]
    letters = sum([c.isalpha() for c in firsts])
    small = sum([c.islower() for c in firsts])
    return letters >= 0.6 * len(words) and small >= 0.3 * len(words)


def read_letter(lines: Sequence[Line], context: Context) -> bool:
    """Read the results in a paragraph; return whether there were any."""
    whole = Paragraph(lines)
    raw = whole.text
    text = _NOT_ABOVE.sub(lambda m: f"{m[1]} at".ljust(len(m[0])), sentence_without_limits(raw))
    text = without_equations(text)
    for idle in (_BETWEEN, _ASIDE, _METHOD):
        text = idle.sub(lambda m: " " * len(m[0]), text)
    _sample(text, context)
    report = _REPORT.search(text)
    if report and context.report_id is None:
        context.report_id = report[1]
        context.samples.note("report_id", report[1])
    before, colon, _ = text.partition(":")
    if context.closed or (colon and len(before) < _HEADED and speaks_of_other(before)):
        return False
    found = _numbers(text)
    found += _answers(text, [(one.at, one.said.match.slug) for one in found if one.said])
    for one in sorted(found, key=lambda one: one.at):
        if one.said is None:
            context.lost(whole.line_at(one.value_at), "sentence_open", one.text)
        else:
            name, value = whole.line_at(one.at), whole.line_at(one.value_at)
            exact = (
                whole.cell_at(one.at, one.said.name, one.text),
                whole.cell_at(one.value_at, one.said.text, one.text),
            )
            context.exact.keep(one.said.name, one.said.text, (name, value), exact)
            limit = limit_said(raw[one.at :]) if one.said.text == "not detected" else None
            _emit(context, one.said, name, value, limit)
    return bool(found)


def _numbers(text: str) -> list[_Found]:
    """Return the numbers that the clauses of a paragraph tell."""
    found = []
    beside_limit = False
    for start, clause in _clauses(text, _CLAUSES):
        if _SENTENCE_ENDS.search(text[:start]):
            beside_limit = False
        elif text[:start].endswith("; "):
            if beside_limit and not _VERB.search(_ANSWER.sub("", clause)):
                continue  # "Lead action level 15 ppb; copper 1.3 ppm": one verb, one list of limits
            beside_limit = False
        beside_limit = beside_limit or _LIMIT.search(clause) is not None
        said = [*values_in(clause), *value_of_the_paragraph(clause, text)]
        for one in said:
            if beside_limit and _is_level(one, clause):
                continue
            one.plain = one.plain and not beside_limit
            at = start + clause.find(one.name.split(" ")[0])
            value_at = start + clause.find(one.text.split(" ")[0])
            found.append(_Found(at, value_at, one, clause))
        if numbers_told(clause) and len(said) < max(len(names_in(clause)), 1):
            found.append(_Found(start, start, None, clause))
    return found


def _is_level(one: Said, clause: str) -> bool:
    """Whether a number is a known level, and its clause does not say that it was found."""
    if tells_of_this_water(clause):
        return False
    return limit_agrees(one.match.slug, one.text, "", one.match.basis) is True


def _answers(text: str, valued: Sequence[tuple[int, str]]) -> list[_Found]:
    """Return what the sentences of a paragraph say was found and was not, without a number."""
    found: list[_Found] = []
    rule = False
    sentences = [(*one, tuple(claims_in(one[1]))) for one in _clauses(text, _SENTENCES)]
    if not any(claims for _, _, claims in sentences):
        return found
    for start, sentence, claims in sentences:
        rule = speaks_of_other(sentence) or (rule and text[:start].endswith("; "))
        bare = _VERB.search(_ANSWER.sub("", sentence)) is None
        if explains_flag(sentence) or (rule and bare):
            continue  # "Standard: total coliform absent; E. coli absent"
        told = {slug for at, slug in valued if start <= at < start + len(sentence)}
        for claim in claims:
            if claim.match.slug in told or not _counts(claim, sentence):
                continue
            at = start + claim.start
            said = None
            if claim.told != "open":
                said = Said(claim.match, claim.name, _printed_answer(claim), claim.plain)
            found.append(_Found(at, at, said, sentence))
    return found


def _counts(claim: Claim, sentence: str) -> bool:
    """Whether a claim is a result: of a germ, or "not detected" of anything else."""
    if microbial(claim.match.slug):
        return True
    denied = claim.told == "absent" and _SOUGHT.search(claim.text) is not None
    return denied and not numbers_told(sentence)


def _printed_answer(claim: Claim) -> str:
    """Return the words of an answer; plain ones where the printed ones surround the name."""
    value = value_of(claim.text)
    if value is not None and value.present is (claim.told == "present"):
        return claim.text
    return "present" if claim.told == "present" else "not detected"


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


def _clauses(text: str, ends: re.Pattern[str]) -> Iterator[tuple[int, str]]:
    start = 0
    for match in ends.finditer(text):
        if _JOINS.search(match[0]) and not _VERB.search(text, start, match.start()):
            continue  # "Nitrate, nitrite and fluoride were ..."
        yield start, text[start : match.start()]
        start = match.end()
    yield start, text[start:].strip()


def _emit(context: Context, told: Said, label: Cell, value: Cell, limit: str | None) -> None:
    printed = Printed(
        label=told.name,
        label_cell=label,
        text=told.text,
        value_cell=value,
        draft=context.samples.current(),
        section=context.section,
        name=f"{told.name} {told.basis}" if told.basis else None,
    )
    if limit is not None:
        number, _, unit = limit.lstrip("< ").partition(" ")
        printed.cells["reporting_limit"] = cell_of(value, number)
        printed.cells["unit"] = cell_of(value, unit)
    if not told.plain:
        printed.doubt("sentence")
    context.emit(printed)

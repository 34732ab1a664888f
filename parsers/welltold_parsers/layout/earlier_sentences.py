"""Takes out of running text what it tells of an earlier test: "The 2019 sample had 5.1 mg/L".

What is cut are whole clauses. A sentence that compares two days is left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from .cells import Cell, Line, of_words
from .claims import claims_in
from .context import Context
from .conventions import texts_of
from .dates import stamp
from .sentence_values import numbers_in_units

_SENTENCE = re.compile(r"(?<=[a-z0-9)%L])[.!?]\s+(?=[A-Z(]|(?:19|20)\d\d\b)|;\s+")
_CLAUSE = re.compile(r"(?:,\s+|\s+)(?:and|but|while|whereas|though)\s+|,\s+")
_TESTED = r"(?:samples?|sampling|tests?|testing|results?|analys[ei]s|readings?|reports?)"
_DATED = (
    r"(?:[A-Z][a-z]{2,8}\.?\s+(?:\d{1,2},?\s+)?|\d{1,2}[/-](?:\d{1,2}[/-])?)?"
    r"(?P<{0}>(?:19|20)\d\d)(?![\d/.-]*\d)"
)
_WORDED = re.compile(
    rf"(?i)\b(?:prior|previous|earlier|last|past|former)\s+(?:[a-z]+\s+){{0,2}}?{_TESTED}\b"
)
_OF_YEAR = re.compile(
    rf"(?<![\w/.-]){_DATED.replace('{0}', 'one')}\s+(?:[a-z]+\s+){{0,3}}?{_TESTED}\b"
    rf"|(?i:\b{_TESTED})(?:\s+[a-z]+){{0,3}}?\s*[,(]?\s*(?:of|from|in|on|dated)\s+"
    rf"{_DATED.replace('{0}', 'two')}"
    rf"|(?<![\w-])[Ii]n\s+{_DATED.replace('{0}', 'three')}"
)
_MADE = re.compile(
    r"(?i)\b(?:drilled|dug|built|made|constructed|completed|installed|replaced|repaired|certified"
    r"|adopted|revised|amended|edition|rule|act|code|methods?|since)(?:\s+\w+)?\s*$"
)
_COMPARES = re.compile(
    r"(?i)\b(?:rose|risen|fell|fallen|(?:in|de)creas\w+|went|gone|dropped|declined|changed?|compared"
    r"|than|from \S+ \S+ (?:\S+ )?to|up from|down from|unchanged|similar|same|as in"
    r"|(?:un)?like|since|after|following|because|due to|in response)\b"
)
_NOW = re.compile(
    r"(?i)\b(?:now|today|current\w*|this (?:time|year|sample|test)|at present|latest)\b"
)
_ASIDE = re.compile(r"(?i)(?:which|that|it) (?:was|were|had|read)\b")
_NEAR = 0.7
_EDGE = 4.0
_NEW = 2
"""A bare year tells of another test only where it lies so many years back."""


def without_earlier(lines: Sequence[Line], context: Context, newest: Newest) -> Sequence[Line]:
    """Return the lines of a page without the clauses that tell of an earlier test."""
    cut = False
    for paragraph in _paragraphs(lines):
        text = " ".join(cell.text for cell in paragraph)
        spans = earlier_spans(text, newest) if _may_tell(text) else []
        for _ in spans:
            context.count("history")
        if spans:
            _cut(paragraph, spans)
            cut = True
    return [line for line in lines if line.cells] if cut else lines


class Newest:
    """The newest year that a document tells as part of a day."""

    __slots__ = ("_parts", "_year")

    def __init__(self, parts: Sequence[Sequence[Line]]) -> None:
        self._parts = parts
        self._year: int | None = None

    @property
    def year(self) -> int:
        """The year; 0 where no day is told."""
        if self._year is None:
            found = (stamp(text) for text in texts_of(self._parts) if "/" in text or "20" in text)
            self._year = max((int(day.iso[:4]) for day in found if day), default=0)
        return self._year


def earlier_spans(text: str, newest: Newest) -> list[tuple[int, int]]:
    """Return where the clauses of a paragraph stand that tell of an earlier test."""
    found: list[tuple[int, int]] = []
    led = False  # the part before a semicolon tells of an earlier test, the numbers follow
    for start, end in _parts_of(text, _SENTENCE):
        sentence = text[start:end]
        numbers = numbers_in_units(sentence) > 0 or bool(claims_in(sentence))
        if numbers and _COMPARES.search(sentence) is None:
            now = _NOW.search(sentence) is not None
            spans = [(0, end - start)] if led and not now else _clauses_cut(sentence, newest)
            found.extend((start + a, start + b) for a, b in spans)
        told = not numbers and _tells(text, start, end, newest)
        led = told and text[end : end + 1] == ";"
    return found


def _clauses_cut(sentence: str, newest: Newest) -> list[tuple[int, int]]:
    clauses = list(_parts_of(sentence, _CLAUSE))
    told = next((n for n, c in enumerate(clauses) if _tells(sentence, *c, newest)), None)
    if told is None:
        return []
    last = told + 1
    aside = _ASIDE.match(sentence, *clauses[told]) is not None
    while last < len(clauses) and not aside and not _NOW.search(sentence, *clauses[last]):
        last += 1
    return [(clauses[told][0], clauses[last - 1][1])]


def _tells(text: str, start: int, end: int, newest: Newest) -> bool:
    """Whether a clause names an earlier test, by a word or by its year."""
    if _NOW.search(text, start, end):
        return False
    if _WORDED.search(text, start, end):
        return True
    for found in _OF_YEAR.finditer(text, start, end):
        year = next(int(y) for y in found.groupdict().values() if y)
        if year <= newest.year - _NEW and not _MADE.search(text, start, found.start()):
            return True
    return False


def _parts_of(text: str, ends: re.Pattern[str]) -> Iterable[tuple[int, int]]:
    start = 0
    for found in ends.finditer(text):
        yield start, found.start()
        start = found.end()
    yield start, len(text)


def _may_tell(text: str) -> bool:
    return _WORDED.search(text) is not None or _OF_YEAR.search(text) is not None


def _paragraphs(lines: Sequence[Line]) -> list[list[Cell]]:
    """Return the first cells of lines that follow each other at one left edge."""
    found: list[list[Cell]] = []
    for line in lines:
        if line.sheet is not None or not line.cells:
            continue
        first, last = line.cells[0], found[-1][-1] if found else None
        near = last is not None and line.top - last.line.bottom < _NEAR * line.height
        if last is not None and near and abs(first.left - last.left) < _EDGE:
            found[-1].append(first)
        else:
            found.append([first])
    return found


def _cut(paragraph: Sequence[Cell], spans: Sequence[tuple[int, int]]) -> None:
    """Take the words of these parts of a paragraph off its lines."""
    at = 0
    for cell in paragraph:
        kept = []
        for word in cell.words:
            middle = at + len(word.text) // 2
            if not any(a <= middle < b for a, b in spans):
                kept.append(word)
            at += len(word.text) + 1
        if len(kept) < len(cell.words):
            rest = [of_words(tuple(kept), cell.line)] if kept else []
            cell.line.cells = [*rest, *cell.line.cells[1:]]

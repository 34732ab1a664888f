"""Which character separates the cells of a text, if any."""

from __future__ import annotations

import csv
import re
from collections import Counter
from itertools import islice

CANDIDATES = "\t;|,"
_LOOK_AT = 64 * 1024
_RECORDS = 400
_ENOUGH = 0.45
_WORDS_BETWEEN = 2.5
"""Words between the commas of a sentence, on average and at least."""
_TYPED = re.compile(r'^"?sample"?([\t;|,])"?point"?\1"?collected"?\1"?taken"?\1', re.I | re.M)
"""The head of the table that `welltold template reading` writes: remarks stand above it."""
_RULER = re.compile(r"^ *(?:-{3,} {1,}){2,}-{3,} *$", re.M)
"""A line of dashes under the heads of columns that are made of blanks."""
_DECLARED = re.compile(r'\s*"?sep=([^\r\n"])"?[ \t;,]*(?:\r\n|\r|\n)', re.IGNORECASE)


def declared_separator(text: str) -> tuple[str, int] | None:
    """Return the separator of a first line ``sep=;`` and where the next line begins, or None."""
    found = _DECLARED.match(text)
    return (found[1], found.end()) if found else None


def find_separator(text: str) -> str | None:
    """Return the separator of ``text``, or None when its lines do not split alike.

    For each candidate the records of the beginning are counted (line breaks inside quotes do not
    end a record). Score: the share of records that split at all, times the share of those as wide
    as the record before or behind them, since a key-value preamble and a table have each a width
    of their own; a record that only lacks cells at its end counts half, for titles and footers.
    The best score wins, then the most columns.
    """
    declared = declared_separator(text)
    if declared:
        return declared[0]
    head = text[:_LOOK_AT]
    typed = _TYPED.search(head)
    if typed:
        return typed[1]
    if len(text) > _LOOK_AT:
        head = head[: head.rfind("\n") + 1] or head
    if _RULER.search(head):
        return None
    scored = [(*_score(head, candidate), candidate) for candidate in CANDIDATES]
    score, _, best = max(scored, key=lambda entry: (round(entry[0], 1), entry[1]))
    return best if score >= _ENOUGH else None


def _score(text: str, separator: str) -> tuple[float, int]:
    """Return how well the separator fits (0 to 1) and the common number of columns."""
    try:
        reader = csv.reader(text.splitlines(keepends=True), delimiter=separator)
        records = [record for record in islice(reader, _RECORDS) if any(map(str.strip, record))]
    except csv.Error:
        return 0.0, 0
    widths = [len(record) for record in records if len(record) > 1]
    if not widths or (len(widths) < 2 and len(records) > 1):
        return 0.0, 0
    common = Counter(widths).most_common(1)[0][0]
    fitting = sum(
        1.0 if width == common or _in_a_run(widths, at) else 0.5 * (width < common)
        for at, width in enumerate(widths)
    )
    prose = _prose_share(records, separator)
    return (len(widths) / len(records)) * (fitting / len(widths)) * (1 - prose), common


def _in_a_run(widths: list[int], at: int) -> bool:
    """Return whether a record is as wide as the two before, around or behind it."""
    return any(
        len(trio := widths[start : start + 3]) == 3 and len(set(trio)) == 1
        for start in range(max(at - 2, 0), at + 1)
    )


def _prose_share(records: list[list[str]], separator: str) -> float:
    """Return the share of the records with commas that read like a sentence."""
    split = [record for record in records if len(record) > 1]
    if separator != "," or not split:
        return 0.0
    return sum(map(_is_sentence, split)) / len(split)


def _is_sentence(record: list[str]) -> bool:
    """Whether each comma has a blank behind it, and there are more words than short cells hold."""
    words = sum(len(cell.split()) for cell in record)
    blanks = all(cell[:1] == " " or not cell for cell in record[1:])
    return blanks and words >= _WORDS_BETWEEN * len(record)

"""What a text by itself looks like: the name of a test, a number somebody measured, or both."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from welltold.analytes import Match

from .cells import Line
from .dates import is_date
from .tokens import analyte_in, analytes_within, is_method, label_of, unit_of, value_of
from .unit_choice import kind_of

_LONGEST = 10
"""A text of more words is a sentence."""
_HEAD = 6
"""The head of a column has no more words."""
_NEAR = 2
"""A number stands so many words behind its name: "Nickel (dissolved) 1.34"."""
_NAMED = 4
"""So many words before "was" may name a test."""
_SCALE = 4
"""So many numbers that grow from nought are a scale under a bar."""
_SAYS_MORE = re.compile(
    r"(?i)\b(?:limits?|levels?|mcls?|mclg|standards?|guidelines?|range|typical|scale|goal|max\w*"
    r"|recommended|allow\w*|advisory|per|page|method|epa|above|below|over|under|than|if|is|are"
    r"|can|may|will|should|after|before)\b|=|\w\.$"
)
"""Words of limits, of advice and of sentences: a number beside them is no result left out."""
_SAID = re.compile(r" (?:was|were|of|at|is|measured) (?:about |only |less than )?(?=[<>]?\.?\d)")
"""What stands between a test and its number in a sentence: "the hardness was 21 grains"."""
_OF_OTHERS = re.compile(
    r"(?i)\b(?:limits?|levels?|mcls?|standards?|guidelines?|above|below|over|under|than|max\w*|goal"
    r"|advisory|average|typical\w*|median|blood|most|many|some|last|previous\w*|earlier)\b"
)
"""Words of sentences that tell of limits, of other wells and of other years."""
_ODD = re.compile(r"[<>]?(?=.*\d)[\dOolI]*(?:[.,][\dOolI]+)+")
"""A number with two points, or with letters that look like digits."""
_AMOUNT = re.compile(r"[<>~=≤≥]?-?(?:\d[\d,]*\.?\d*|\.\d+)")


def is_amount(text: str, *, decimal_comma: bool = False) -> bool:
    """Whether a text is a number that somebody measured, or says that nothing was found."""
    value = value_of(text, decimal_comma=decimal_comma)
    if value is None:
        return _is_odd(text)
    if unit_of(text) is not None or text.endswith(":"):
        return False
    return value.value is not None or value.state == "below"


def _is_odd(text: str) -> bool:
    """Whether a text is a number that nobody can read for sure, with its unit: "1.3.4 mg/L"."""
    number, _, rest = text.partition(" ")
    if _ODD.fullmatch(number) is None or is_date(text) or is_method(text):
        return False
    return not rest or unit_of(rest) is not None


def measured(text: str) -> Match | None:
    """Return the test that a text names, but for temperatures: most are those on arrival."""
    match = analyte_in(text)
    return match if match is not None and not _is_temperature(match) else None


def is_pair(text: str) -> bool:
    """Whether a short text has the name of a test and a number behind it: "Nickel .1.34"."""
    words = text.split()
    if not 1 < len(words) <= _LONGEST or not _AMOUNT.search(text) or _SAYS_MORE.search(text):
        return False
    if is_date(text) or is_method(text) or label_of(text).match is not None:
        return False
    found = analytes_within(text)
    if not found or found[0][0] > 0 or _is_temperature(found[0][2]):
        return False
    behind = words[found[0][1] :]
    return any(_AMOUNT.fullmatch(w.strip("().,;:=")) for w in behind[:_NEAR])


def said_in(text: str) -> Iterator[tuple[int, int]]:
    """Yield where a sentence names a test and gives its number: the place of each by words."""
    if _OF_OTHERS.search(text):
        return
    for found in _SAID.finditer(text):
        before = text[: found.start()].split()
        named = analytes_within(" ".join(before[-_NAMED:]))
        if named and named[-1][1] == len(before[-_NAMED:]) and not _is_temperature(named[-1][2]):
            first = len(before) - (named[-1][1] - named[-1][0])
            yield first, len(text[: found.end()].split())


def is_head(text: str) -> bool:
    """Whether a short text names one test: "Copper", "First draw Lead"."""
    if len(text.split()) > _HEAD or _SAYS_MORE.search(text):
        return False
    return analyte_in(text) is not None or len(analytes_within(text)) == 1


def names_test(head: str) -> bool:
    """Whether the head of a column names a test, among other words or alone."""
    match = analyte_in(head)
    found = [match] if match is not None else [m for _, _, m in analytes_within(head)]
    return any(not _is_temperature(one) for one in found)


def is_scale(line: Line) -> bool:
    """Whether a line is the scale of a bar: "0  0.5  1.0  1.5"."""
    values = [v.value for c in line.cells if (v := value_of(c.text)) is not None]
    told: Sequence[object] = [v for v in values if v is not None]
    grows = all(a < b for a, b in pairwise(v for v in values if v is not None))
    return len(told) >= _SCALE and told[0] == 0 and grows


def _is_temperature(match: Match) -> bool:
    return kind_of(match.slug) == "temperature"

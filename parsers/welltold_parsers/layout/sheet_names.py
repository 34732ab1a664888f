"""How the heads of a data file belong together: "TP_ugL" and "TPFlag", "ref1" and "ref1_avg"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from welltold.tables import read_table

from .words import head_key, split_unit

_SERVING = (
    r"(?:(?:remark|rmk|qualifier|qual|flag|lab)[\s_.-]?codes?|flags?|qual(?:ifier)?s?"
    r"|rmrk|rmk|remarks?|units?|uom|mdl|mrl|rl|dl|pql|loq|lod|detection[\s_.-]?limit|reporting[\s_.-]?limit|method|sign"
    r"|less[\s_.-]?than|lt|cens(?:ored)?"
    r"|non[\s_.-]?detect(?:ed|s)?|detect(?:ed|[\s_.-]?flag)?|(?<=[_. ])(?:q|nd|code))"
)
_SERVED = re.compile(rf"(?i){_SERVING}$")
_COMPANION = re.compile(rf"(?i)^(?P<stem>.*?[a-z0-9)].*?)[\s_.-]*(?P<word>{_SERVING})$")
_BEFORE = re.compile(
    r"(?i)^(?P<word>flag|qual(?:ifier)?|remark|rmk|sign|r|mdl|rl|units?|cens(?:ored)?|nd|lt"
    r"|less[_. ]?than)[_. ](?P<stem>.+)$"
)
_VALUE = re.compile(r"(?i)[\s_.-]+(?:values?|val|results?|conc(?:entration)?|amount|numeric)$")
_MINUTES = re.compile(r"(?i)(?<=\d)[\s-]*min\b")
"""No minimum: "2 min flush"."""
_ROLES = {
    "unit": "unit",
    "units": "unit",
    "uom": "unit",
    "mdl": "detection_limit",
    "dl": "detection_limit",
    "lod": "detection_limit",
    "detectionlimit": "detection_limit",
    "mrl": "reporting_limit",
    "rl": "reporting_limit",
    "pql": "reporting_limit",
    "loq": "reporting_limit",
    "reportinglimit": "reporting_limit",
    "method": "method",
    "sign": "sign",
    "lessthan": "sign",
    "lt": "sign",
    "cens": "sign",
    "censored": "sign",
    "nd": "sign",
    "nondetect": "sign",
    "nondetected": "sign",
    "nondetects": "sign",
    "detect": "detect_flag",
    "detected": "detect_flag",
    "detectflag": "detect_flag",
}


@lru_cache(maxsize=8)
def column_words(kind: str) -> frozenset[str]:
    """Return the words of heads that tell what a column of numbers is, by what they tell."""
    return frozenset(
        row.text("word") for row in read_table("column_words.csv") if row.text("kind") == kind
    )


@lru_cache(maxsize=4096)
def stem_of(text: str) -> str:
    """Return a head without its unit and its marks, for comparing heads with one another."""
    bare = split_unit(text)[0] or text
    return re.sub(r"[\W_]+", "", bare.lower().replace("+", "plus"))


def without_value(text: str) -> str:
    """Return a head without the word that says it holds the numbers: "TP.value" is TP."""
    return _VALUE.sub("", text) or text


def companion_of(text: str, stems: Mapping[str, int]) -> tuple[str, int] | None:
    """Return the role and the column that a head such as "TPFlag" names, among known stems."""
    for pattern in (_COMPANION, _BEFORE):
        if pattern is _COMPANION and _SERVED.search(text) is None:
            continue
        found = pattern.match(text)
        if found:
            at = stems.get(stem_of(found["stem"]))
            if at is not None:
                word = re.sub(r"[\W_]+", "", found["word"].lower())
                return _ROLES.get(word, "qualifier"), at
    return None


def looks_like_code(text: str) -> bool:
    """Whether a head names a number that counts or numbers something: "CHR_UID", "row_no"."""
    words = head_key(text).split()
    return bool(words) and (words[-1] in column_words("code") or words[0] in {"id", "uid", "code"})


def is_count(text: str) -> bool:
    """Whether a head counts tests or samples: "Samples", "n"."""
    words = head_key(text).split()
    return words == ["n"] or bool(column_words("count") & set(words))


@lru_cache(maxsize=4096)
def is_amount(text: str) -> bool:
    """Whether a head tells how much of something was fed or pumped: "Cl2 lb", "Fluoride used"."""
    words = head_key(split_unit(text)[0]).split()
    return len(words) > 1 and words[-1] in column_words("amount")


def measures_the_well(label: str, unit: str) -> bool:
    """Whether a row tells of the well and not of its water: "Static water level" in feet."""
    amount = unit.strip(" ().").lower() in column_words("amount")
    return amount and bool(column_words("metadata") & set(head_key(label).split()))


def is_metadata(text: str) -> bool:
    """Whether numbers under a head say where, when or how often, not what is in the water."""
    return (
        looks_like_code(text)
        or is_count(text)
        or is_amount(text)
        or bool(column_words("metadata") & set(head_key(text).split()))
    )


_COUNTED = re.compile(
    r"(?i)(?:(?:no\.?|number|count) of )?(?:wells|samples|taps|homes|sites) (?:with|above|over)\b"
)
"""A head over counts of wells: "Wells with coliform"."""
_OF_OTHERS = frozenset(
    ["avg", "average", "mean", "median", "min", "max", "highest", "lowest", "maximum", "minimum"]
)
"""Words of a number that is made of other results, or one of them chosen."""


@lru_cache(maxsize=4096)
def statistic(text: str) -> str | None:
    """Return the role of a head that is a statistic of other columns: "ref1_avg", "tp_stdev_2"."""
    words = head_key(_MINUTES.sub("", text)).split()
    found = column_words("statistic") & set(words)
    if _COUNTED.match(text):
        return "previous"
    if not found or len(words) < 2:
        return None
    return "previous" if found & _OF_OTHERS else "uncertainty"


def summarises(text: str) -> bool:
    """Whether the name of a row says that it is made of the rows above: "Average", "Max"."""
    words = set(head_key(text).split())
    made = column_words("summary")
    return bool(words & made) and words <= made | column_words("filler")


def same_column(texts: Sequence[tuple[str, str]]) -> bool:
    """Whether two columns hold the same numbers, written in two ways ("1E-3" and "0.001")."""
    pairs = [(a, b) for a, b in texts if a and b]
    return len(pairs) >= 2 and all(a == b or _same_number(a, b) for a, b in pairs)


def _same_number(a: str, b: str) -> bool:
    try:
        return float(a.lstrip("<> ")) == float(b.lstrip("<> "))
    except ValueError:
        return False

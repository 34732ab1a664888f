"""What the cells beside a number say about it: signs, flags and conditions.

A laboratory may print the limit, or 0, as a plain number and say "not found" somewhere else: a "U"
in the flag column, a "<" in a column of signs, an "N" in a detection column, "Not Detected" in a
condition.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from welltold.reading import Operator, State
from welltold.values import ParsedValue

from .empties import says_nothing
from .printed import Printed
from .tokens import value_of
from .words import head_key

_SPLIT = re.compile(r"[,;/\s]+")
_ND_FLAG = re.compile(r"^(?:U|UJ|UB|UH|UN|ND|BRL|BDL|BQL|<|˂|<MDL|<RL)$")
_NEGATIVE = re.compile(r"\bnon|\bnd\b|less than|\blt\b|censor|\bsign\b|remark|\brmk\b|below")
"""Heads of Y/N columns whose Y means "not found"."""
_FLAG_LIMIT = re.compile(
    r"(?i)<\s*(?:the\s+)?(?:M?RL|MDL|DL|LOD|LOQ|PQL|QL|LOR)?\s*[:=]?\s*(\d+(?:\.\d*)?|\.\d+)(?![\w%])"
)
"""A flag that names the limit: "<MRL 6", "E, <MRL 20"."""
_WORDS = re.compile(r"\b[a-z]{3,}\b.*\b[a-z]{3,}\b")
"""A note is no list of flags: "new pump"."""
_GREATER = frozenset({">", "≥", "GT", "G"})
_LESS = frozenset({"<", "˂", "≤", "‹", "LT", "K", "ND", "U", "L"})
_NO = frozenset({"n", "no", "false", "0", "nd", "not detected", "u"})
_YES = frozenset({"y", "yes", "true", "1"})
_CONDITIONS: tuple[tuple[re.Pattern[str], str | None], ...] = (
    (
        re.compile(
            r"^[^<]*> ?(?:au |à la |la |le |the )*(?:seuil|limite?|lo[dq]|[mr]dl|rl|mrl|pql)\b"
            r"(?! de saturation)"
        ),
        None,
    ),
    (re.compile(r"between|present below|detected not quantified|below quant|^traces?\b"), "trace"),
    (
        re.compile(
            r"not detected|non ?detect|^nd$|below .*(?:detection|reporting) l|not present|<"
            r"|non d[ée]tect|inf[ée]rieure? |no detectad|por debajo|menor (?:que|al?) "
            r"|nicht nachgewiesen|unter (?:der )?(?:bestimm|nachweis)|niet aangetoond"
            r"|onder (?:de )?(?:rapportage|bepalings|detectie)"
        ),
        "below",
    ),
    # the codes of a French list of remarks: 2 below detection, 7 traces, 10 below quantification
    (re.compile(r"^(?:2|7|10)$"), "below"),
    (re.compile(r"^3$|present above|above .*quant|> "), "above"),
)


@lru_cache(maxsize=4096)
def flags_of(text: str) -> tuple[str, ...]:
    """Return the qualifiers in a flag cell, in order."""
    plain = _FLAG_LIMIT.sub("", text).strip("() ,;")
    if says_nothing(plain) or (" " in plain and (len(plain) > 12 or _WORDS.search(plain))):
        return ()
    return tuple(flag for flag in _SPLIT.split(plain) if flag and flag not in {"-", "--"})


def settle(
    printed: Printed, value: ParsedValue | None, flags: tuple[str, ...]
) -> ParsedValue | None:
    """Return the result with what its neighbours say taken into account; None: still no result."""
    condition = _condition(printed.text_of("condition")) or _told_in_flags(printed)
    limit = _limit_in(printed.text_of("qualifier"))
    silent = value is None or value.state == "blank"
    if limit is not None and (silent or (value is not None and value.value == limit)):
        told = value or _made("below", "<", printed.text)
        return replace(told, state="below", operator="<", value=limit)
    if value is None and any(c.isdigit() for c in printed.text):
        printed.doubt("limit_not_found")  # a number stands there that was not understood
    if value is None or (silent and (condition or any(map(_nd, flags)))):
        return _without_number(printed, condition, flags)
    if printed.zero_below and value.state == "value" and value.value == 0:
        return replace(value, state="below", operator="<", value=None, decimals=None)
    return _with_sign(printed, value, condition, flags) if value.state == "value" else value


def _with_sign(
    printed: Printed, value: ParsedValue, condition: str | None, flags: tuple[str, ...]
) -> ParsedValue:
    """Return a plain number as what the signs beside it make of it."""
    sign = (printed.text_of("sign") or "").strip().upper()
    if sign in _GREATER:
        return replace(value, state="above", operator=">")
    less = sign in _LESS or sign.lower() in _YES
    if less or condition == "below" or _undetected(printed) or any(map(_nd, flags)):
        return _below(printed, value)
    if condition == "above":
        return replace(value, state="above", operator=">")
    return value


def _limit_in(text: str | None) -> Decimal | None:
    """Return the limit that a flag names beside a result."""
    found = _FLAG_LIMIT.search(text) if text and "<" in text else None
    return Decimal(found[1]) if found else None


def limit_for(
    reporting: Decimal | None, detection: Decimal | None, printed: Printed
) -> Decimal | None:
    """Return the limit that "not detected" without a number stands for; doubted where it is open.

    Where the sheet prints two and does not tell, it is the higher one: it claims the least.
    """
    if reporting is None or detection is None or reporting == detection:
        return reporting if reporting is not None else detection
    if printed.nd_limit is None:
        printed.doubt("nd_limit_open", higher=str(reporting), lower=str(detection))
    return detection if printed.nd_limit == "detection_limit" else reporting


def below_limit(
    printed: Printed,
    value: ParsedValue,
    flags: tuple[str, ...],
    reporting: Decimal | None,
    detection: Decimal | None,
) -> Decimal | None:
    """Return the number that a result is below, where a flag stands beside what was measured.

    "0.10 U" beside a limit of 0.74 was measured, and is below 0.74. A laboratory that prints the
    limit in place of the result prints one of the limits, or a number between the two.
    """
    number = value.value
    limits = [x for x in (reporting, detection) if x is not None and x > 0]
    flagged = any(map(_nd, flags)) and "<" not in printed.text
    if value.state != "below" or number is None or not limits or not flagged:
        if flagged and number is not None and value.uncertainty is not None:
            printed.doubt("limit_not_found")  # it was counted, and is no limit itself
        return number
    if "limit_unit" in printed.cells or min(limits) <= number <= max(limits):
        return number
    if number > max(limits):
        printed.doubt("flag_above_limit")
        return number
    if number < 0 and value.uncertainty is None:
        printed.doubt("flag_on_negative")
    return limit_for(reporting, detection, printed)


@lru_cache(maxsize=4096)
def says_below(text: str) -> bool:
    """Whether a text says in words alone that nothing was found: "nicht nachweisbar"."""
    value = value_of(text) if any(map(str.isalpha, text)) else None
    return value is not None and value.state == "below" and value.value is None


def _told_in_flags(printed: Printed) -> str | None:
    """Return "below" where a column of flags or remarks says so in words."""
    texts = (cell.text for role, cell in printed.cells.items() if role.startswith("qualifier"))
    return "below" if any(map(says_below, texts)) else None


def says_not_found(text: str) -> bool:
    """Whether a text is one or several flags, one of which says "not found"."""
    return any(map(_nd, flags_of(text)))


def _nd(flag: str) -> bool:
    return _ND_FLAG.match(flag) is not None


def _below(printed: Printed, value: ParsedValue) -> ParsedValue:
    if value.value == 0:
        printed.doubt("flag_on_zero")
        return replace(value, state="below", operator="<", value=None, decimals=None)
    return replace(value, state="below", operator="<")


def _undetected(printed: Printed) -> bool:
    cell = printed.cells.get("detect_flag")
    if cell is None:
        return False
    head = printed.cells.get("detect_flag_head")
    negative = head is not None and bool(_NEGATIVE.search(head_key(head.text)))
    key = head_key(cell.text)
    return key in (_YES if negative else _NO) or (not negative and key.startswith("non"))


def _condition(text: str | None) -> str | None:
    if not text:
        return None
    if says_below(text):
        return "below"
    key = text.lower()
    return next((state for pattern, state in _CONDITIONS if pattern.search(key)), None)


def _without_number(
    printed: Printed, condition: str | None, flags: tuple[str, ...]
) -> ParsedValue | None:
    """Return a result whose cell is empty or a dash, told by a flag or a condition alone."""
    text = printed.text
    if condition == "trace":
        printed.doubt("condition_no_value")
        return _made("trace", "=", text)
    if condition == "above":
        printed.doubt("condition_no_value")
        return _made("above", ">", text)
    if condition == "below" or any(map(_nd, flags)) or _undetected(printed):
        return _made("below", "<", text)
    return None


def _made(state: State, operator: Operator, text: str) -> ParsedValue:
    return ParsedValue(state, operator, text=text)

"""Numbers as they are printed: thousands marks, powers of ten, look-alike signs.

A form with two readings is refused: "1,23" is no thousands, "0,5" has a decimal comma and counts
only where the sheet is known to use one, "10³" may be a power or a footnote.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

LARGEST_POWER = 30
LONGEST = 120
"""Characters of a cell; longer text is prose, not a result."""

_NO_MORE = r"(?![0-9]|[.,][0-9]|[ ']?[0-9])"
_POINT = (
    r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?"
    r"|[1-9][0-9]{0,2}(?: [0-9]{3})+(?:\.[0-9]*)?"
    r"|[0-9]+(?:\.[0-9]*)?|\.[0-9]+"
)
_COMMA = (
    r"[1-9][0-9]{0,2}(?:\.[0-9]{3})+(?:,[0-9]*)?"
    r"|[1-9][0-9]{0,2}(?: [0-9]{3})+(?:,[0-9]*)?"
    r"|[0-9]+(?:,[0-9]*)?|,[0-9]+"
)
_POWER = (
    r"(?:[eE](?P<e>[+-]?[0-9]{1,3})| [eE](?P<es>[+-][0-9]{1,3})"
    r"| ?[xX×*·] ?10 ?(?:\^ ?\(?(?P<hat>[+-]?[0-9]{1,2})\)?|(?P<minus>[+-][0-9]{1,2})"
    r"|(?P<raised>[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]{1,2})))(?![0-9])"
)
_NUMBERS = {
    comma: re.compile(rf"(?P<number>[+-]?(?:{form}){_NO_MORE})(?:{_POWER})?")
    for comma, form in ((False, _POINT), (True, _COMMA))
}
PLAIN = re.compile(r"[+-]?(?:[0-9]{1,20}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})")
"""The commonest form, decided without looking further."""

_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-")
_LOOK_ALIKES = str.maketrans(
    {
        **dict.fromkeys("‹＜〈⟨〈˂❮﹤≤≦⩽≺", "<"),
        **dict.fromkeys("›＞〉⟩〉˃❯﹥≥≧⩾≻", ">"),
        **dict.fromkeys("−‐‑﹣－", "-"),
        **dict.fromkeys("\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008", " "),
        **dict.fromkeys("\u2009\u200a\u202f\u205f\u3000", " "),
        **dict.fromkeys("\u200b\u200e\u200f\u2060\ufeff\u00ad", None),
        "＝": "=",
        "＋": "+",
    }
)
_ENTITIES = {
    "lt": "<",
    "gt": ">",
    "le": "<",
    "ge": ">",
    "nbsp": " ",
    "thinsp": " ",
    "plusmn": "±",
    "micro": "µ",
    "minus": "-",
    "times": "×",
}
_ENTITY = re.compile(rf"&({'|'.join(_ENTITIES)});")
_DASH_SIGN = re.compile(r"^[–—](?=\.?[0-9])")
_OR_EQUAL = re.compile(r"([<>])=|=([<>])")


@dataclass(frozen=True, slots=True)
class PrintedNumber:
    """A number at the start of a text."""

    value: Decimal
    decimals: int
    """Digits behind the point once it is written out without a power of ten."""
    rest: str
    """What stands behind it, untouched."""
    bare_integer: bool
    """Whether it is only digits, so that a raised figure behind it may be a power."""


def tidy(text: str) -> str:
    """Return a cell's text with look-alike signs and odd blanks replaced by the plain ones."""
    if "&" in text:
        text = _ENTITY.sub(lambda match: _ENTITIES[match[1]], text)
    text = " ".join(text.translate(_LOOK_ALIKES).split())
    return _OR_EQUAL.sub(r"\1\2", _DASH_SIGN.sub("-", text))


def leading_number(text: str, *, decimal_comma: bool) -> PrintedNumber | None:
    """Return the number with which a tidied text begins, or None."""
    match = _NUMBERS[decimal_comma].match(text)
    if match is None:
        return None
    digits = match["number"].replace(" ", "")
    digits = digits.replace(".", "").replace(",", ".") if decimal_comma else digits.replace(",", "")
    if len(digits) > 40:
        return None
    power = match["e"] or match["es"] or match["hat"] or match["minus"] or match["raised"]
    exponent = int(power.translate(_SUPERSCRIPTS)) if power else 0
    if abs(exponent) > LARGEST_POWER:
        return None
    value = Decimal(f"{Decimal(digits).scaleb(exponent):f}") if exponent else Decimal(digits)
    written = len(digits.partition(".")[2])
    bare = not power and digits.isdigit()
    return PrintedNumber(value, max(0, written - exponent), text[match.end() :], bare)


def looks_like_number(text: str) -> bool:
    """Tell cheaply whether a word may be a printed number, with a sign or a flag or without."""
    return _LOOKS.match(text) is not None


_LOOKS = re.compile(
    r"\s*(?:[<>≤≥‹›＜＞˂˃]|&[lg]t;)?=?\s*[+\-−–]?[0-9]*[.,]?[0-9][0-9., ]*"
    r"(?:[eE][+-]?[0-9]+|\s*[xX×]\s*10\S*)?"
    r"\s*(?:\(?[A-Za-z]{1,2}[+-]?\)?|[*†‡¹²³]+|%)?\s*$"
)

"""What a person typed as a result, when a comma may be a decimal comma or part thousands."""

from __future__ import annotations

from typing import Literal

from .values import ParsedValue, parse_value

Commas = Literal["yes", "no", "both"]
"""How numbers are written: with a decimal comma, with a decimal point, or in both ways."""


class TwoWaysError(ValueError):
    """What was typed can be read as two numbers. Fields: the text."""


def typed_value(text: str, *, commas: Commas, letters: bool = False) -> ParsedValue | None:
    """Return what was typed, or None when it is no result.

    ``commas`` tells how numbers are written around it. ``letters``: a single letter may answer for
    a germ. Raises TwoWaysError.
    """
    wanted = text.strip()
    point = parse_value(wanted, presence_letters=letters)
    comma = parse_value(wanted, decimal_comma=True, presence_letters=letters)
    if not (point and comma) or point.value == comma.value:
        return point or comma
    if commas == "yes" and "." not in wanted:
        return comma
    if commas == "no" and "," not in wanted:
        return point
    raise TwoWaysError(text)


def needs_comma(text: str) -> bool:
    """Whether the text is a result only if its comma is a decimal comma."""
    return parse_value(text) is None and parse_value(text, decimal_comma=True) is not None

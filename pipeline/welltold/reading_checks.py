"""What a reading that comes back from JSON has to keep, beyond the types of its fields."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Any, get_args, get_type_hints

from .analytes import registry
from .correcting import WrongEntryError, normal_form, says
from .jsonform import json_name
from .messages import say
from .printed_numbers import PLAIN
from .reading import Normalized, Reading, Result
from .unit_spellings import unit as unit_of
from .values import parse_value

LONGEST_NUMBER = 60
"""Characters, and powers of ten, in a number: far more than any laboratory prints."""
_OURS = {Reading: {"schema", "doubts"}, Result: {"use"}}
"""Keys that are published beside the fields."""
_NEAR = Decimal("1e-9")
"""Share by which a number may differ after its way through JSON."""


def unknown_keys(found: Any, kind: Any, place: str = "") -> Iterator[tuple[str, str]]:
    """Yield place and name of each key that the contract does not know."""
    if isinstance(found, dict):
        known = _parts(kind)
        for name, value in found.items():
            if name in known:
                yield from unknown_keys(value, known[name], f"{place}{name}.")
            elif known and name not in _OURS.get(kind, ()):
                yield place, name
    elif isinstance(found, list):
        for number, value in enumerate(found):
            yield from unknown_keys(value, kind, f"{place}{number}.")


@cache
def _parts(kind: Any) -> dict[str, Any]:
    """Return the dataclass in each field of a dataclass, by published name; None for plain ones."""
    if not is_dataclass(kind):
        return {}
    hints = get_type_hints(kind)
    return {json_name(field.name): _record(hints[field.name]) for field in fields(kind)}


def _record(hint: Any) -> Any:
    """Return the dataclass inside a type such as ``tuple[Where, ...]``, or None."""
    if is_dataclass(hint):
        return hint
    return next((one for one in map(_record, get_args(hint)) if one is not None), None)


def checked(result: Result) -> Result:
    """Return the result with its printed digits, and with the basis that its unit tells.

    Raises WrongEntryError that names the field, "" for the result as a whole.
    """
    if result.analyte is not None and result.analyte not in registry():
        raise WrongEntryError("analyte", say("correct.analyte_unknown", slug=result.analyte).text)
    if not 0 <= result.confidence <= 1:
        raise WrongEntryError("confidence", say("correct.confidence").text)
    if result.decimals is not None and not 0 <= result.decimals <= LONGEST_NUMBER:
        raise WrongEntryError("decimals", say("correct.decimals", most=LONGEST_NUMBER).text)
    digits = with_digits(result)
    if result.correction is None and not _text_agrees(digits):
        told = say("correct.text_differs", text=result.text, value=result.value)
        raise WrongEntryError("", told.text)
    return _with_basis(digits)


def _text_agrees(result: Result) -> bool:
    """Whether a plain printed number is the one that is stored."""
    if result.state != "value" or not PLAIN.fullmatch(result.text):
        return True
    return any(says(result.text, result.value, comma=comma) for comma in (False, True))


def with_digits(result: Result) -> Result:
    """Return the result with the digits that JSON's numbers have lost: 4.20, twenty decimals."""
    value = result.value
    if value is None:
        return result
    digits = _printed(result.stated, value) or _closed(value, result.decimals)
    normal = result.normalized
    if normal is not None and normal.value == value:
        normal = replace(normal, value=digits)
    return replace(result, value=digits, normalized=normal)


def _printed(text: str, value: Decimal) -> Decimal | None:
    """Return the number in the text where it is the same as far as JSON keeps digits."""
    for comma in (False, True):
        parsed = parse_value(text, decimal_comma=comma)
        number = parsed.value if parsed else None
        if number is not None and float(number) == float(value):
            return number
    return None


def _closed(value: Decimal, decimals: int | None) -> Decimal:
    """Return the number with the zeros behind its point that were printed."""
    try:
        longer = value.quantize(Decimal(1).scaleb(-(decimals or 0)))
    except InvalidOperation:
        return value  # more digits than numbers are computed with
    return longer if longer == value else value


def _with_basis(result: Result) -> Result:
    spelled = unit_of(result.unit) if result.unit else None
    basis = result.basis or (spelled.basis if spelled else None)
    normal = result.normalized
    expected = None
    if result.analyte is not None and result.value is not None and result.unit:
        expected = normal_form(result.analyte, result.value, result.unit, basis)
    if normal is None:
        return replace(result, basis=basis, normalized=expected)
    if not _agrees(result, normal, expected, named=spelled is not None):
        told = say("correct.normalized_differs", value=normal.value, unit=normal.unit)
        raise WrongEntryError("normalized", told.text)
    return replace(result, basis=basis)


def _agrees(
    result: Result, normal: Normalized, expected: Normalized | None, *, named: bool
) -> bool:
    """Whether a stored normalized value follows from number and unit."""
    if result.analyte is None or result.value is None:
        return False
    own = registry()[result.analyte]
    if (normal.unit, normal.basis) != (own.unit, own.basis):
        return False
    if expected is None:
        return not named and normal.value == result.value
    return abs(normal.value - expected.value) <= abs(expected.value) * _NEAR

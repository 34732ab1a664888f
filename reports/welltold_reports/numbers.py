"""Numbers and units as a homeowner reads them.

No exponents, a comma between thousands, never more digits than the lab printed, and a unit in
which the level is a number of 1 or more (40 CFR 141.153(d) asks this of utilities).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from .wording import word

_DOWN = {"g/L": "mg/L", "mg/L": "ug/L", "ug/L": "ng/L"}
"""The next smaller unit; each step is a factor of 1,000."""
_FAMILIAR = {"mg/L": "unit_ppm", "ug/L": "unit_ppb", "ng/L": "unit_ppt"}
_PRINTED = {
    "ug/L": "µg/L",
    "uS/cm": "µS/cm",
    "SU": "",
    "P/A": "",
    "ratio": "",
    "degC": "°C",
    "degF": "°F",
}
MG_PER_GRAIN = Decimal("17.118")
"""mg/L as CaCO3 in one grain per US gallon: 64.79891 mg / 3.785411784 L."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """A unit for the reader, and by how many decimal places a value moves to get there."""

    unit: str
    places: int = 0

    def of(self, value: Decimal) -> Decimal:
        """Return the value in this unit, with as many digits as it had."""
        return value.scaleb(self.places)


def reader_unit(unit: str, yardstick: Decimal | None) -> Scaled:
    """Return the unit in which ``yardstick`` (the level, else the value) is 1 or more."""
    places = 0
    while yardstick and yardstick.scaleb(places) < 1 and unit in _DOWN:
        unit, places = _DOWN[unit], places + 3
    return Scaled(unit, places)


def scaled_between(unit: str, other: str) -> Scaled | None:
    """Return how ``unit`` becomes ``other`` by moving the point; None where it does not."""
    for first, last, sign in ((unit, other, 1), (other, unit, -1)):
        step, places = first, 0
        while step != last and step in _DOWN:
            step, places = _DOWN[step], places + 3
        if step == last:
            return Scaled(other, sign * places)
    return None


def unit_words(unit: str | None) -> str:
    """Return the unit as it is printed for a reader: ``ug/L`` is "µg/L", pH has none."""
    return _PRINTED.get(unit or "", unit or "")


def unit_in_words(unit: str | None) -> str:
    """Return "parts per billion" for ``ug/L``; "" for a unit without such words."""
    name = _FAMILIAR.get(unit or "")
    return word(name) if name else ""


def plain(value: Decimal) -> str:
    """Return the number without an exponent, with commas: 1.2E+4 is "12,000"."""
    return f"{value:,f}"


def with_unit(value: Decimal | str, unit: str | None) -> str:
    """Return "12 mg/L", or "6.1" for a unit that is not printed."""
    shown = plain(value) if isinstance(value, Decimal) else value
    return f"{shown} {unit_words(unit)}".strip()


def digits_of(value: Decimal) -> int:
    """Return how many significant digits a printed number has."""
    return max(len(value.as_tuple().digits), 1)


def digits_only(value: Decimal) -> str:
    """Return the digits of a number without its place: 0.012 and 12 have the same."""
    return "".join(map(str, value.normalize().as_tuple().digits))


def rounded(value: Decimal, digits: int, against: tuple[Decimal, ...] = ()) -> Decimal:
    """Return ``value`` with so many significant digits, never on the wrong side of a level.

    A value just above a level must not be printed as the level itself, so digits are added until
    the rounded number compares with every number of ``against`` as the true one does.
    """
    for keep in range(digits, digits + 12):
        candidate = _significant(value, keep)
        if all(_sign(candidate - level) == _sign(value - level) for level in against):
            return candidate
    return value


def familiar(value: Decimal, unit: str | None, digits: int) -> str:
    """Return the amount in a familiar unit ("16 parts per billion"), or "" if there is none."""
    name = _FAMILIAR.get(unit or "")
    if not name:
        return ""
    shown = rounded(value, digits)
    return with_words(shown, word(f"{name}_one" if shown == 1 else name))


def grains(value: Decimal) -> str:
    """Return a hardness in mg/L as CaCO3 as "about 12 grains per gallon"."""
    return word("familiar_about", value=grain_count(value), unit=word("unit_gpg"))


def grain_count(value: Decimal) -> str:
    """Return a hardness in mg/L as CaCO3 as grains per gallon, two digits."""
    return plain(_significant(value / MG_PER_GRAIN, 2))


def with_words(value: Decimal, unit: str) -> str:
    """Return a number with the name of its unit."""
    return word("familiar_exact", value=plain(value), unit=unit)


def trimmed(value: Decimal) -> Decimal:
    """Return the number without zeros behind the decimal point: a level of 0.010 x 1,000 is 10."""
    short = value.normalize()
    return short.quantize(Decimal(1)) if short == short.to_integral_value() else short


def _significant(value: Decimal, digits: int) -> Decimal:
    if not value:
        return value
    step = Decimal(1).scaleb(value.adjusted() - digits + 1)
    if len(value.as_tuple().digits) > digits:
        value = value.quantize(step, ROUND_HALF_UP)
    return value.quantize(Decimal(1)) if step > 1 else value


def _sign(difference: Decimal) -> int:
    return (difference > 0) - (difference < 0)

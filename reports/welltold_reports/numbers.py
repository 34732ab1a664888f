"""Numbers and units as a homeowner reads them.

No exponents, a comma between thousands, never more digits than the lab printed, and a unit in
which the level is a number of 1 or more (40 CFR 141.153(d) asks this of utilities).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from .wording import word

Ratio = Literal["far_below", "below", "just_below", "at", "just_above", "times"]

_DOWN = {"g/L": "mg/L", "mg/L": "ug/L", "ug/L": "ng/L"}
"""The next smaller unit; each step is a factor of 1,000."""
_FAMILIAR = {"mg/L": "unit_ppm", "ug/L": "unit_ppb", "ng/L": "unit_ppt"}
_PRINTED = {"ug/L": "µg/L", "uS/cm": "µS/cm", "SU": "", "P/A": "", "degC": "°C", "degF": "°F"}
MG_PER_GRAIN = Decimal("17.118")
"""mg/L as CaCO3 in one grain per US gallon: 64.79891 mg / 3.785411784 L."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """A unit for the reader, and what to multiply by to get there."""

    unit: str
    factor: Decimal

    def of(self, value: Decimal) -> Decimal:
        """Return the value in this unit."""
        return value * self.factor


def reader_unit(unit: str, yardstick: Decimal | None) -> Scaled:
    """Return the unit in which ``yardstick`` (the level, else the value) is 1 or more."""
    factor = Decimal(1)
    while yardstick and yardstick * factor < 1 and unit in _DOWN:
        unit, factor = _DOWN[unit], factor * 1000
    return Scaled(unit, factor)


def unit_words(unit: str | None) -> str:
    """Return the unit as it is printed for a reader: ``ug/L`` is "µg/L", pH has none."""
    return _PRINTED.get(unit or "", unit or "")


def plain(value: Decimal) -> str:
    """Return the number without an exponent, with commas: 1.2E+4 is "12,000"."""
    return f"{value:,f}" if value.as_tuple().exponent != 0 else f"{int(value):,}"


def with_unit(value: Decimal | str, unit: str | None) -> str:
    """Return "12 mg/L", or "6.1" for a unit that is not printed."""
    shown = plain(value) if isinstance(value, Decimal) else value
    return f"{shown} {unit_words(unit)}".strip()


def digits_of(value: Decimal) -> int:
    """Return how many significant digits a printed number has."""
    return max(len(value.as_tuple().digits), 1)


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
    return with_words(rounded(value, digits), word(name)) if name else ""


def grains(value: Decimal) -> str:
    """Return a hardness in mg/L as CaCO3 as "about 12 grains per gallon"."""
    amount = _significant(value / MG_PER_GRAIN, 2)
    return word("familiar_about", value=plain(amount), unit=word("unit_gpg"))


def with_words(value: Decimal, unit: str) -> str:
    """Return a number with the name of its unit."""
    return word("familiar_exact", value=plain(value), unit=unit)


def ratio_class(value: Decimal, level: Decimal) -> Ratio:
    """Return how a value stands to a level that is above 0, from the unrounded quotient."""
    if value == level:
        return "at"
    edges: tuple[tuple[Decimal, Ratio], ...] = (
        (Decimal("0.5"), "far_below"),
        (Decimal("0.9"), "below"),
        (Decimal(1), "just_below"),
    )
    for edge, name in edges:
        if value < edge * level:
            return name
    return "just_above" if value <= Decimal("1.1") * level else "times"


def times(value: Decimal, level: Decimal) -> str:
    """Return the quotient with two digits: "1.6", "23"."""
    quotient = value / level
    whole = quotient.quantize(Decimal(1), ROUND_HALF_UP)
    return plain(whole if whole >= 10 else quotient.quantize(Decimal("0.1"), ROUND_HALF_UP))


def ratio_words(value: Decimal, level: Decimal) -> str:
    """Return how a value stands to a level, in words."""
    kind = ratio_class(value, level)
    return word(f"ratio_{kind}", r=times(value, level)) if kind == "times" else word(f"ratio_{kind}")


def _significant(value: Decimal, digits: int) -> Decimal:
    if not value:
        return value
    exponent = value.adjusted() - digits + 1
    if exponent >= value.as_tuple().exponent:  # type: ignore[operator]  # finite: exponent is int
        value = value.quantize(Decimal(1).scaleb(exponent), ROUND_HALF_UP)
    return value.quantize(Decimal(1)) if value.as_tuple().exponent > 0 else value  # type: ignore[operator]  # finite: exponent is int


def _sign(difference: Decimal) -> int:
    return (difference > 0) - (difference < 0)

"""Areas of tanks and rates of flow through a bed."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from .rules import number
from .stock import Medium

_PI = Decimal("3.14159265358979")
_TWENTY = Decimal(20)


def area_ft2(diameter_in: Decimal) -> Decimal:
    """Return the area of a round tank: a quarter of pi times the diameter in feet, squared."""
    return _PI / 4 * (diameter_in / 12) ** 2


def casing_gal(casing_in: Decimal, column_ft: Decimal) -> Decimal:
    """Return the gallons in so many feet of casing; the water column, not the depth."""
    return area_ft2(casing_in) * column_ft * number("bed_gal_ft3")


def peak_rate(medium: Medium) -> Decimal | None:
    """Return the highest rate for a short time, gpm a square foot."""
    if medium.service is None:
        return None
    return medium.peak or number("peak_over_service") * medium.service


@lru_cache(maxsize=512)
def backwash_rate(medium: Medium, celsius: Decimal | None = None) -> Decimal:
    """Return the backwash rate, gpm a square foot; warm water is thinner and needs more.

    Colder water is never used to ask for less. Viscosity: Kestin, Sokolov and Wakeham 1978.
    """
    base = number("backwash_celsius")
    if celsius is None or celsius <= base:
        return medium.backwash
    thinner = viscosity(base) / viscosity(celsius)
    return medium.backwash * thinner ** number("viscosity_share")


def viscosity(celsius: Decimal) -> Decimal:
    """Return the viscosity of water, mPa s, from 0 to 40 C; Kestin and others 1978."""
    cold = _TWENTY - celsius
    power = (
        cold
        / (celsius + 96)
        * (Decimal("1.2364") - Decimal("0.00137") * cold + Decimal("0.0000057") * cold**2)
    )
    return Decimal("1.002") * Decimal(10) ** power


def backwash_gpm(medium: Medium, diameter_in: Decimal, celsius: Decimal | None = None) -> Decimal:
    """Return the gpm that the backwash of one tank asks for."""
    return backwash_rate(medium, celsius) * area_ft2(diameter_in)

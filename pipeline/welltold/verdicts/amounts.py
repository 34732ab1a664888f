"""What a printed result says about the amount in the water: an interval, with its unit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ..conversion import URANIUM_PCI_PER_UG
from ..messages import Message, say
from ..reading import Result
from .tables import words

if TYPE_CHECKING:
    from ..levels import Level

ZERO = Decimal(0)
WHOLE_BOTTLE = Decimal("1.1")
"""A count below this means that nothing grew in 100 mL: the ten-tube test prints "<1.1" for no
growth in any tube (its table in Standard Methods 9221); larger limits mean that less was tested."""
ACTIVITIES = frozenset({"pCi/L", "Bq/L"})
UNITLESS = frozenset({"ratio", "SU"})
MASSES = frozenset({"mg/L", "ug/L", "ng/L", "g/L"})


@dataclass(frozen=True, slots=True)
class Amount:
    """The amount that is possible, from ``low`` to ``high``."""

    low: Decimal
    high: Decimal | None
    """None: no upper end is known."""
    more_than_low: bool
    """Whether ``low`` itself is excluded ("> 200")."""
    found: bool | None
    """Whether anything was found; None: that is the open question."""
    unit: str | None = None
    """Canonical spelling; None for present or absent, where no unit is needed."""
    basis: str | None = None
    of: str = ""
    """Which reading of the sheet this is, when there are several ("NO3", another number)."""
    digits: int | None = None
    """Significant digits that the lab printed; None for an amount that was worked out."""

    @property
    def exact(self) -> bool:
        """Whether low and high are one number."""
        return self.low == self.high and not self.more_than_low


@dataclass(frozen=True, slots=True)
class Possible:
    """All amounts that one printed result can stand for, or why there is none."""

    amounts: tuple[Amount, ...]
    problem: Message | None = None


def possible(result: Result, name: str) -> Possible:
    """Return what the result can stand for; several amounts where the sheet leaves it open."""
    if result.state == "unreadable":
        return Possible((), say("verdict.unreadable", name=name, text=result.text))
    if result.state in {"present", "absent"}:
        return Possible((_presence(found=result.state == "present"),))
    limitless = result.state == "below" and _limit(result) is None
    if limitless and (result.value is None or result.value >= 0):
        return Possible((_presence(found=False),))
    return _measured(result, name)


def _measured(result: Result, name: str) -> Possible:
    """Return the amounts of a result that has a number; they need a unit."""
    unit, basis, problem = _unit_of(result, name)
    if problem is not None:
        return Possible((), problem)
    bases = (basis,) if basis is not None else words(result.analyte).bases
    amounts = tuple(
        replace(_net(amount, unit), unit=unit, basis=one, of=one or "" if len(bases) > 1 else "")
        for amount in (_interval(result), *_alternatives(result))
        for one in bases or (None,)
    )
    mistake = _mistake(result, unit, name)
    return Possible(amounts) if mistake is None else Possible((), mistake)


def germ_amounts(result: Result) -> tuple[Amount, ...]:
    """Return what a germ result stands for; only found or not found matters, so no unit."""
    found = _germ_found(result)
    main = _presence(found=found)
    if found is None and result.state == "below":
        main = replace(main, high=_limit(result))
    others = [
        _presence(found=bool(one.value)) for one in result.alternatives if one.value is not None
    ]
    return tuple(dict.fromkeys((main, *others)))


def in_unit(amount: Amount, slug: str, level: Level) -> Amount:
    """Return the amount in the level's unit and basis; UnitMismatchError."""
    if slug == "uranium" and amount.unit in ACTIVITIES and level.unit in MASSES:
        amount = _uranium_mass(amount)
    return converted(amount, slug, level.unit, level.basis)


def _uranium_mass(amount: Amount) -> Amount:
    """Return the mass of uranium that an activity can stand for, in ug/L.

    0.67 pCi for each microgram (40 CFR 141.25, note 12) is the least that is seen: groundwater
    often holds more uranium-234, so the same activity can be less mass, and never more.
    """
    own = converted(amount, "uranium", "pCi/L", None)
    high = None if own.high is None else own.high / URANIUM_PCI_PER_UG
    return replace(own, low=ZERO, high=high, more_than_low=False, unit="ug/L")


def converted(amount: Amount, slug: str, unit: str, basis: str | None) -> Amount:
    """Return the amount in another unit and basis; UnitMismatchError."""
    from ..units import convert

    def change(value: Decimal) -> Decimal:
        if amount.unit is None or (amount.unit, amount.basis) == (unit, basis):
            return value
        return convert(value, slug, amount.unit, amount.basis, unit, basis)

    high = None if amount.high is None else change(amount.high)
    return replace(amount, low=change(amount.low), high=high, unit=unit, basis=basis)


def below_background(result: Result) -> bool:
    """Whether the lab counted less than its background: a net count, and no mistake."""
    from ..units import unit

    known = unit(result.unit) if result.unit else None
    negative = result.state == "value" and result.value is not None and result.value < 0
    return negative and known is not None and known.name in ACTIVITIES


def _net(amount: Amount, unit: str | None) -> Amount:
    """Return an amount that was counted; less than the background means that none was found."""
    if unit not in ACTIVITIES or amount.low >= 0:
        return amount
    return replace(amount, low=ZERO, high=ZERO, found=False, digits=None)


def _mistake(result: Result, unit: str | None, name: str) -> Message | None:
    """Return why the number cannot be, whatever the water; None when it can."""
    own, value = words(result.analyte), result.value
    if value is None:
        return None
    if unit in MASSES and value < 0:
        return say("verdict.below_zero", name=name, text=result.text)
    too_low = own.least is not None and value < own.least
    if too_low or (own.most is not None and value > own.most):
        return say("verdict.impossible", name=name, text=result.text)
    return None


def _presence(*, found: bool | None) -> Amount:
    return Amount(ZERO, None, more_than_low=bool(found), found=found)


def _germ_found(result: Result) -> bool | None:
    """Whether germs were found. A total coliform plate too crowded to count says neither.

    A crowded plate without identified coliforms asks for a new sample (40 CFR 141.21 of 1989).
    """
    if result.present is not None:
        return result.present
    if result.state == "too_many":
        return None if result.analyte == "total_coliform" else True
    if result.state == "below":
        limit = _limit(result)
        return False if limit is None or limit <= WHOLE_BOTTLE else None
    if result.state in {"value", "above"}:
        return bool(result.value) or result.state == "above"
    return {"present": True, "trace": True, "absent": False}.get(result.state)


def _interval(result: Result) -> Amount:
    digits = _digits(result.value)
    if result.state == "below":
        limit = _limit(result)
        return Amount(ZERO, limit, more_than_low=False, found=False, digits=_digits(limit))
    if result.state == "above":
        return Amount(result.value or ZERO, None, more_than_low=True, found=True, digits=digits)
    if result.state == "value" and result.value is not None:
        return _number(result.value)
    high = _limit(result) if result.state == "trace" else None
    return Amount(ZERO, high, more_than_low=True, found=True, digits=_digits(high))


def _number(value: Decimal) -> Amount:
    return Amount(value, value, more_than_low=False, found=value > 0, digits=_digits(value))


def _digits(value: Decimal | None) -> int | None:
    return None if value is None else len(value.as_tuple().digits)


def _alternatives(result: Result) -> tuple[Amount, ...]:
    """Return the other readings of the same place; only numbers can be compared."""
    values = dict.fromkeys(one.value for one in result.alternatives if one.value is not None)
    own = result.value if result.state == "value" else None
    return tuple(replace(_number(value), of=f"{value:f}") for value in values if value != own)


def _limit(result: Result) -> Decimal | None:
    """Return the limit of a non-detect, in the printed unit; what is not above zero is none."""
    printed = result.value if result.state == "below" else None
    limits = (printed, result.reporting_limit, result.detection_limit)
    return next((limit for limit in limits if limit is not None and limit > 0), None)


def _no_unit_needed(slug: str | None) -> str | None:
    """Return the unit of an analyte that is told as a bare number; None for all others."""
    from ..analytes import registry

    own = registry().get(slug or "")
    return own.unit if own is not None and own.unit in UNITLESS else None


def _unit_of(result: Result, name: str) -> tuple[str | None, str | None, Message | None]:
    """Return canonical unit and basis of the printed number, or why they are not known.

    A dash in the column of units is no unit.
    """
    from ..units import unit

    settled = result.normalized
    basis = result.basis or (settled.basis if settled else None)
    if result.unit is None or not any(map(str.isalnum, result.unit.replace("%", "p"))):
        own = words(result.analyte).bare_unit or _no_unit_needed(result.analyte)
        if own is not None:
            return own, basis, None
        if settled is not None and settled.value == result.value:
            return settled.unit, basis, None
        return None, None, say("verdict.no_unit", name=name)
    known = unit(result.unit)
    if known is None:
        return None, None, say("verdict.strange_unit", name=name, unit=result.unit)
    if known.basis and result.basis not in {None, known.basis}:
        told = say("verdict.basis_clash", name=name, unit=result.unit, basis=result.basis)
        return None, None, told
    return known.name, result.basis or known.basis or basis, None

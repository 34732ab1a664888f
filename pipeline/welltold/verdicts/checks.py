"""Does the sheet agree with itself? Three checks that need no chemistry beyond arithmetic."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal

from ..errors import UnitMismatchError
from ..interpretation import Check
from ..messages import Message, say
from ..reading import Fraction, Result
from .amounts import Amount, converted, possible
from .names import name_of
from .wording import plain

CALCIUM, MAGNESIUM = Decimal("2.497"), Decimal("4.118")
"""Hardness as CaCO3 of 1 mg/L of the ion; Standard Methods 2340 B."""
TOLERANCE = Decimal("0.10")
"""Common practice, no source: flag a difference of more than ten percent."""
DISSOLVED_MORE = Decimal("1.2")
"""Common practice, no source: flag a dissolved part over 1.2 times the total."""


def checks(results: Sequence[Result]) -> tuple[Check, ...]:
    """Return the checks that this sheet asks for; those that lack a number say so."""
    return (*_hardness(results), *_nitrogen(results), *_dissolved(results))


def _hardness(results: Sequence[Result]) -> Iterator[Check]:
    printed = _measured(results, "hardness", "mg/L", "CaCO3")
    if printed is None:
        return
    calcium = _measured(results, "calcium", "mg/L", "Ca")
    magnesium = _measured(results, "magnesium", "mg/L", "Mg")
    if calcium is None or magnesium is None or printed == 0:
        why = (say("verdict.check_hardness_missing"),)
        yield Check("hardness_of_parts", "not_possible", None, None, why)
        return
    added = calcium * CALCIUM + magnesium * MAGNESIUM
    fields = {"sum": f"{_short(added)} mg/L", "printed": f"{plain(printed)} mg/L"}
    yield _check("hardness_of_parts", (printed - added) / added if added else None, fields)


def _nitrogen(results: Sequence[Result]) -> Iterator[Check]:
    total = _interval(results, "nitrate_nitrite", "mg/L", "N")
    nitrate = _interval(results, "nitrate", "mg/L", "N")
    nitrite = _interval(results, "nitrite", "mg/L", "N")
    if total is None or nitrate is None or nitrite is None:
        return
    low = nitrate.low + nitrite.low
    high = None if None in {nitrate.high, nitrite.high} else nitrate.high + nitrite.high  # type: ignore[operator]  # neither is None here
    apart = Decimal(0)
    if total.high is not None and low > 0 and total.high < low:
        apart = (total.high - low) / low
    if high is not None and high > 0 and total.low > high:
        apart = (total.low - high) / high
    fields = {"sum": f"{plain(low)} mg/L", "printed": _printed(total)}
    yield _check("nitrogen_of_parts", apart, fields)


def _dissolved(results: Sequence[Result]) -> Iterator[Check]:
    slugs = dict.fromkeys(r.analyte for r in results if r.fraction == "dissolved" and r.analyte)
    for slug in slugs:
        part = _of_fraction(results, slug, "dissolved")
        whole = _of_fraction(results, slug, "total")
        if part is None or whole is None or whole.high is None:
            continue
        apart = Decimal(0)
        limit = _limit(results, slug)
        if part.low > whole.high * DISSOLVED_MORE and part.low - whole.high > limit:
            apart = (part.low - whole.high) / whole.high if whole.high else Decimal(1)
        unit = part.unit or ""
        fields = {
            "name": name_of(slug, slug),
            "dissolved": f"{plain(part.low)} {unit}",
            "total": f"{plain(whole.high)} {unit}",
        }
        why = (say("verdict.check_dissolved", **fields), _verdict(doubt=apart > 0))
        yield Check(
            f"dissolved_over_total:{slug}",
            "doubt" if apart else "agrees",
            _percent(apart),
            "%",
            why,
        )


def _check(name: str, apart: Decimal | None, fields: dict[str, str]) -> Check:
    """Return a check from how far the printed number lies from the one worked out."""
    doubt = apart is None or abs(apart) > TOLERANCE
    code = "verdict.check_hardness" if name.startswith("hardness") else "verdict.check_nitrogen"
    why = (say(code, **fields), _verdict(doubt=doubt))
    return Check(name, "doubt" if doubt else "agrees", _percent(apart), "%", why)


def _verdict(*, doubt: bool) -> Message:
    return say("verdict.check_doubt" if doubt else "verdict.check_agrees")


def _percent(apart: Decimal | None) -> Decimal | None:
    return None if apart is None else (apart * 100).quantize(Decimal("0.1"), ROUND_HALF_UP)


def _short(value: Decimal) -> str:
    return plain(value.quantize(Decimal(1).scaleb(value.adjusted() - 2), ROUND_HALF_UP))


def _printed(total: Amount) -> str:
    if total.high is None:
        return f"more than {plain(total.low)} mg/L"
    return f"{plain(total.high)} mg/L" if total.exact else f"less than {plain(total.high)} mg/L"


def _measured(results: Sequence[Result], slug: str, unit: str, basis: str) -> Decimal | None:
    """Return a number that was measured, in the unit and basis; None for everything else."""
    found = _interval(results, slug, unit, basis)
    return found.low if found is not None and found.exact else None


def _interval(results: Sequence[Result], slug: str, unit: str, basis: str) -> Amount | None:
    """Return the one amount of an analyte; None where there is none, or more than one."""
    rows = [r for r in results if r.analyte == slug and r.state != "blank"]
    total = [r for r in rows if r.fraction != "dissolved"] or rows
    amounts = [amount for result in total for amount in possible(result, slug).amounts]
    if len(amounts) != 1 or amounts[0].unit is None:
        return None
    try:
        return converted(amounts[0], slug, unit, basis)
    except UnitMismatchError:
        return None


def _of_fraction(results: Sequence[Result], slug: str, fraction: Fraction) -> Amount | None:
    """Return the amount of one fraction, both in the unit of the total."""
    rows = {r.fraction: r for r in results if r.analyte == slug and r.state != "blank"}
    result, total = rows.get(fraction), rows.get("total")
    if result is None or total is None:
        return None
    amounts, wholes = possible(result, slug).amounts, possible(total, slug).amounts
    if not amounts or not wholes or wholes[0].unit is None or amounts[0].unit is None:
        return None
    try:
        return converted(amounts[0], slug, wholes[0].unit, wholes[0].basis)
    except UnitMismatchError:
        return None


def _limit(results: Sequence[Result], slug: str) -> Decimal:
    """Return the reporting limit printed beside the total; 0 where none is printed."""
    limits = (r.reporting_limit for r in results if r.analyte == slug and r.fraction == "total")
    return next((limit for limit in limits if limit is not None), Decimal(0))

"""Turns a value into another unit and another basis, exactly where the definition is exact.

Inside one dimension a factor does it (``data/factors.csv``). Between mass, amount and charge, and
between two bases ("as N", "as NO3", "as CaCO3"), the molar masses in ``data/bases.csv`` do it. What
these tables do not answer is refused, never guessed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Context, Decimal, localcontext
from functools import cache

from .errors import UnitMismatchError
from .reading import Normalized
from .tables import read_table
from .unit_spellings import MASS_KINDS, Unit, factors, fold, unit

DIGITS = 18
"""Significant digits of a converted value: more than any lab prints, fewer than the arithmetic."""
NORMALIZED_DIGITS = 12
URANIUM_PCI_PER_UG = Decimal("0.67")
"""pCi per microgram of natural uranium; 40 CFR 141.25, note 12 of the table of methods, as cited by
EPA. Real groundwater often has more."""


@dataclass(frozen=True, slots=True)
class Form:
    """One form in which an analyte's amount can be stated; masses in mg."""

    per_mmol: Decimal | None
    """mg of this form for one mmol of the analyte's own particles."""
    per_meq: Decimal | None
    """mg of this form for one meq."""


@dataclass(frozen=True, slots=True)
class _Side:
    unit: Unit
    basis: str | None

    def __str__(self) -> str:
        return self.unit.name if self.basis is None else f"{self.unit.name} as {self.basis}"


@cache
def forms() -> Mapping[str, Mapping[str, Form]]:
    """Return the forms of each analyte by slug and basis."""
    rows: dict[str, dict[str, Form]] = {}
    charges: dict[str, Decimal] = {}
    for row in read_table("bases.csv"):
        mass, species, equivalents = (
            row.number(column) for column in ("molar_mass", "species", "equivalents")
        )
        if mass is None:
            raise row.wrong("molar_mass is empty")
        slug = row.text("analyte")
        rows.setdefault(slug, {})[row.text("basis")] = Form(
            mass / species if species else None, mass / equivalents if equivalents else None
        )
        if species and equivalents:
            charges.setdefault(slug, equivalents / species)
    return {slug: _completed(of, charges.get(slug)) for slug, of in rows.items()}


def _completed(of: dict[str, Form], charge: Decimal | None) -> dict[str, Form]:
    """Add what one mmol weighs "as CaCO3", which the charge of the particle decides."""
    return {
        basis: Form(form.per_meq * charge, form.per_meq)
        if form.per_mmol is None and form.per_meq and charge
        else form
        for basis, form in of.items()
    }


@cache
def own_bases() -> Mapping[str, str]:
    """Return the basis that a sheet means when it names none, where there is only one."""
    return {
        row.text("analyte"): row.text("basis")
        for row in read_table("bases.csv")
        if row.cells["own"] == "yes"
    }


def convert(  # noqa: PLR0913, PLR0917 - what both sides are takes three words each
    value: Decimal,
    analyte_slug: str,
    unit: str,
    basis: str | None,
    to_unit: str,
    to_basis: str | None,
) -> Decimal:
    """Return ``value`` in another unit and on another basis.

    ``unit`` and ``to_unit`` are canonical names or known spellings; a basis that a spelling implies
    counts when none is given. Raises UnitMismatchError when a unit is unknown, when the dimensions
    differ, when a basis is contradicted or needed and open, or when no molar mass is on record.
    """
    given = _side(analyte_slug, unit, basis, to_unit)
    wanted = _side(analyte_slug, to_unit, to_basis, unit)
    if given == wanted or _same_scale(given, wanted):
        return value
    with localcontext(Context(prec=28)):
        if given.unit.kind in MASS_KINDS and wanted.unit.kind in MASS_KINDS:
            converted = _by_mass(value, analyte_slug, given, wanted)
        elif given.unit.kind == wanted.unit.kind and given.basis == wanted.basis:
            converted = _from_base(_to_base(value, given.unit), wanted.unit)
        else:
            raise _mismatch(analyte_slug, given, wanted, "they measure different things")
    return _tidy(converted, DIGITS)


def _side(slug: str, spelling: str, basis: str | None, other: str) -> _Side:
    found = _unit_of(slug, spelling)
    if found is None:
        raise UnitMismatchError(slug, spelling, other, f"{spelling!r} is not a known unit")
    if found.basis and basis and found.basis != basis:
        raise UnitMismatchError(slug, f"{spelling} as {basis}", other, "the basis is contradicted")
    named = found.basis or basis
    if named is None and found.kind in MASS_KINDS:
        named = own_bases().get(slug)
    return _Side(found, named)


@cache
def _exceptions() -> Mapping[tuple[str, str], str]:
    """Return the spellings that mean something else beside one analyte."""
    return {
        (row.text("analyte"), fold(row.text("spelling")).lower()): row.text("unit")
        for row in read_table("units_by_analyte.csv")
    }


def _unit_of(slug: str, spelling: str) -> Unit | None:
    """Return what a spelling means beside this analyte; letter case is looked at by ``unit``."""
    found = unit(spelling)
    if found is None or not found.ambiguous:
        return found
    other = _exceptions().get((slug, fold(spelling).lower()))
    return unit(other) if other else found


def _same_scale(given: _Side, wanted: _Side) -> bool:
    """Whether the number stays as it is (CFU and MPN, NTU and FNU), digits and all."""
    one, other = factors()[given.unit.name], factors()[wanted.unit.name]
    return one == other and given.basis == wanted.basis


def _to_base(value: Decimal, of: Unit) -> Decimal:
    factor = factors()[of.name]
    return (value - Decimal(factor.zero)) * Decimal(factor.multiply_by)


def _from_base(value: Decimal, of: Unit) -> Decimal:
    factor = factors()[of.name]
    return value / Decimal(factor.multiply_by) + Decimal(factor.zero)


def _by_mass(value: Decimal, slug: str, given: _Side, wanted: _Side) -> Decimal:
    """Convert within and between mass, amount and charge, through what both sides share."""
    based = _to_base(value, given.unit)
    if given.unit.kind == wanted.unit.kind and (
        given.basis == wanted.basis or given.unit.kind != "mass"
    ):
        return _from_base(based, wanted.unit)
    for common in ("charge", "amount"):
        per_given = _weight(slug, given, common)
        per_wanted = _weight(slug, wanted, common)
        if per_given is not None and per_wanted is not None:
            return _from_base(based / per_given * per_wanted, wanted.unit)
    raise _mismatch(slug, given, wanted, _why_not(slug, given, wanted))


def _weight(slug: str, side: _Side, common: str) -> Decimal | None:
    """Return how many base units of this side make one meq (or one mmol), or None."""
    of = forms().get(slug, {})
    if side.unit.kind == "mass":
        form = of.get(side.basis or "")
        return None if form is None else form.per_meq if common == "charge" else form.per_mmol
    if side.unit.kind == common:
        return Decimal(1)
    charge = _charge(of)
    return 1 / charge if charge and common == "charge" else None


def _charge(of: Mapping[str, Form]) -> Decimal | None:
    """Return the meq in one mmol of the analyte's particles."""
    return next((f.per_mmol / f.per_meq for f in of.values() if f.per_mmol and f.per_meq), None)


def _why_not(slug: str, given: _Side, wanted: _Side) -> str:
    if slug not in forms():
        return "no molar mass is on record for it"
    if any(side.unit.kind == "mass" and side.basis is None for side in (given, wanted)):
        return "the sheet does not say as what it counts"
    return "no molar mass is on record for this basis"


def _mismatch(slug: str, given: _Side, wanted: _Side, reason: str) -> UnitMismatchError:
    return UnitMismatchError(slug, str(given), str(wanted), reason)


def _tidy(value: Decimal, digits: int) -> Decimal:
    """Round to ``digits`` significant digits and drop closing zeros, never into an exponent."""
    rounded = Context(prec=digits).create_decimal(value)
    exponent = rounded.normalize().as_tuple().exponent
    if not isinstance(exponent, int):
        return rounded
    return rounded.quantize(Decimal(1).scaleb(min(exponent, 0)), context=Context(prec=60))


def normalize(
    slug: str, value: Decimal, unit_spelling: str, basis: str | None
) -> Normalized | None:
    """Return a printed value in the analyte's own unit and basis, from the registry.

    None when the unit is not known, when it does not fit the analyte, or when the basis decides the
    number and the sheet leaves it open. Look at ``unit(...).ambiguous`` beside it. Raises
    UnknownAnalyteError for a slug that is not in the registry.
    """
    from .analytes import analyte

    own = analyte(slug)
    try:
        converted = convert(value, slug, unit_spelling, basis, own.unit, own.basis)
    except UnitMismatchError:
        return None
    if converted != value:
        converted = _tidy(converted, NORMALIZED_DIGITS)
    return Normalized(converted, own.unit, own.basis)


def uranium_activity(mass: Decimal) -> Decimal:
    """Return the regulatory activity in pCi/L of a uranium mass in ug/L.

    Only for taking uranium off gross alpha; a measured mass is compared with the mass limit as it
    is, because the true ratio differs from well to well.
    """
    return mass * URANIUM_PCI_PER_UG


def uranium_mass(activity: Decimal) -> Decimal:
    """Return the mass in ug/L that the regulatory factor gives for pCi/L; overstates it often."""
    with localcontext(Context(prec=28)):
        return _tidy(activity / URANIUM_PCI_PER_UG, NORMALIZED_DIGITS)

"""Waters for the tests of the simulation, made by hand."""

from __future__ import annotations

from decimal import Decimal

from welltold.analytes import registry
from welltold.interpretation import Finding
from welltold.reading import Operator, Result, Sample
from welltold.site import Site, Well
from welltold.treatment.water import Water


def finding(slug: str, value: str, **more: object) -> Finding:
    """Return one finding in the unit and basis of the registry; ``<`` in front means a limit."""
    own = registry()[slug]
    operator: Operator = "<" if value.startswith("<") else "="
    number = Decimal(value.lstrip("<"))
    fields: dict[str, object] = {"unit": own.unit, "basis": own.basis, "operator": operator}
    fields.update(more)
    return Finding(slug, slug, value, "watch", value=number, **fields)  # type: ignore[arg-type]  # each test names real fields


def water(
    celsius: str | None = "12", *, field_ph: bool = True, more: tuple[Finding, ...] = (), **of: str
) -> Water:
    """Return a water; the pH was read at the well unless ``field_ph`` is False."""
    sample = Sample()
    if field_ph and "ph" in of:
        ph = Result("ph", "pH (field)", of["ph"], "value", "=", Decimal(of["ph"]), unit="SU")
        sample = Sample(results=(ph,))
    well = Well(water_temperature_c=None if celsius is None else Decimal(celsius))
    findings = tuple(finding(slug, value) for slug, value in of.items())
    return Water(findings + more, sample, Site(well=well))

"""Findings for the tests of the treatment room, made by hand."""

from __future__ import annotations

from decimal import Decimal

from welltold.interpretation import Finding, LevelUsed, Verdict
from welltold.reading import Operator, Sample
from welltold.site import Site
from welltold.treatment import Plan, consider

UNITS: dict[str, tuple[str, str | None]] = {
    "alkalinity": ("mg/L", "CaCO3"),
    "arsenic": ("mg/L", None),
    "arsenic_iii": ("ug/L", None),
    "benzene": ("ug/L", None),
    "boron": ("mg/L", None),
    "color": ("CU", None),
    "copper": ("mg/L", None),
    "fluoride": ("mg/L", None),
    "gross_alpha": ("pCi/L", None),
    "hardness": ("mg/L", "CaCO3"),
    "hydrogen_sulfide": ("mg/L", None),
    "iron": ("mg/L", None),
    "lead": ("mg/L", None),
    "manganese": ("mg/L", None),
    "methane": ("mg/L", None),
    "nitrate": ("mg/L", "N"),
    "nitrite": ("mg/L", "N"),
    "pfoa": ("ng/L", None),
    "ph": ("SU", None),
    "radium_226_228": ("pCi/L", None),
    "radon": ("pCi/L", None),
    "sodium": ("mg/L", None),
    "sulfate": ("mg/L", None),
    "tannin": ("mg/L", None),
    "total_coliform": ("CFU/100mL", None),
    "total_dissolved_solids": ("mg/L", None),
    "trichloroethylene": ("ug/L", None),
    "turbidity": ("NTU", None),
    "uranium": ("ug/L", None),
    "uv_transmittance": ("%", None),
    "zinc": ("mg/L", None),
}


def finding(
    slug: str,
    value: str,
    verdict: Verdict = "nuisance_only",
    *,
    operator: Operator = "=",
    **more: object,
) -> Finding:
    """Return one finding in the usual unit of its analyte."""
    unit, basis = UNITS[slug]
    fields: dict[str, object] = {"unit": unit, "basis": basis, **more}
    return Finding(
        slug,
        slug,
        value,
        verdict,
        operator=operator,
        value=Decimal(value),
        **fields,  # type: ignore[arg-type]  # each test names real fields
    )


def health(slug: str, value: str, **more: object) -> Finding:
    """Return a health concern."""
    return finding(slug, value, "health_concern", **more)  # type: ignore[arg-type]  # as above


def quiet(slug: str, value: str, **more: object) -> Finding:
    """Return a finding without concern."""
    return finding(slug, value, "no_concern_found", **more)  # type: ignore[arg-type]  # as above


def bacteria(slug: str = "total_coliform", *, found: bool = True) -> Finding:
    """Return the result of a presence test."""
    verdict: Verdict = "health_concern" if found else "no_concern_found"
    text = "Present" if found else "Absent"
    return Finding(slug, slug, text, verdict, present=found, urgency="now" if found else None)


def level(
    value: str, unit: str, kind: str = "primary_limit", basis: str | None = None
) -> LevelUsed:
    """Return a published level."""
    return LevelUsed("EPA", kind, Decimal(value), unit, basis, "in force", "40 CFR 141.62")  # type: ignore[arg-type]  # a kind


def plan(*findings: Finding, site: Site | None = None, sample: Sample | None = None) -> Plan:
    """Return what is to be considered."""
    return consider(findings, sample or Sample(), site or Site())


def trains(told: Plan) -> list[list[str]]:
    """Return the names of the stages of each train."""
    return [[stage.stage for stage in train.stages] for train in told.trains]


def steps(told: Plan) -> set[str]:
    """Return the codes of the steps."""
    return {step.step for step in told.steps}


def refused(told: Plan) -> dict[str, str]:
    """Return the refused stages with their reasons in one text."""
    return {no.stage: " ".join(why.text for why in no.why) for no in told.refused}

"""One possible case: the findings, the sample and the site with a thing put at one value."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from ..analytes import registry
from ..interpretation import Finding, LevelUsed, Verdict
from ..reading import Fraction, Result, Sample
from ..site import Site, Well
from ..site_keys import Timed

_HEALTH = frozenset({"primary_limit", "action_level", "treatment_technique"})
_GAL = Decimal(5)


@dataclass(frozen=True, slots=True)
class Case:
    """All that the choice of stages starts from."""

    findings: tuple[Finding, ...]
    sample: Sample
    site: Site
    beside: tuple[Sample, ...] = ()

    def with_value(self, old: Finding, value: Decimal) -> Case:
        """Return the case with one finding known to be this value, in its own unit."""
        new = known_as(old, value)
        return replace(self, findings=tuple(new if one is old else one for one in self.findings))

    def with_part(self, whole: Finding, slug: str, value: Decimal, *, dissolved: bool) -> Case:
        """Return the case with a part of a finding, in the unit of the whole."""
        fraction: Fraction | None = "dissolved" if dissolved else None
        part = Finding(
            slug, slug, str(value), "no_concern_found", fraction, "=", value, unit=whole.unit
        )
        return replace(self, findings=(*self.findings, part))

    def with_field_ph(self, old: Finding, value: Decimal) -> Case:
        """Return the case with a pH that was read at the well."""
        row = Result("ph", "Field pH", str(value), "value", value=value, unit="SU")
        sample = replace(self.sample, results=(*self.sample.results, row))
        return replace(self.with_value(old, value), sample=sample)

    def with_pump(self, gpm: Decimal, at_psi: Decimal | None) -> Case:
        """Return the case with this flow from a bucket; ``at_psi`` None: at an open tap."""
        timed = Timed(_GAL, 60 * _GAL / gpm)
        return self.with_well(
            replace(self.site.well, bucket=timed, gauge_psi=at_psi, drawdown=None, pump_gpm=None)
        )

    def with_well(self, well: Well) -> Case:
        """Return the case with other facts of the well."""
        return replace(self, site=replace(self.site, well=well))


def known_as(finding: Finding, value: Decimal) -> Finding:
    """Return a finding whose value is known; its verdict follows where a level lies between.

    This only tries what would be chosen; what the report says of the result does not change.
    """
    return replace(
        finding,
        verdict=_verdict(finding, value),
        operator="=",
        value=value,
        low=None,
        high=None,
        confidence=1.0,
    )


def _verdict(finding: Finding, value: Decimal) -> Verdict:
    after = _passed(finding, value)
    if finding.verdict != "cant_tell" and finding.value is not None:
        before = Decimal(0) if finding.operator == "<" else finding.value
        if _passed(finding, before) == after:
            return finding.verdict
    if not after:
        return "no_concern_found"
    kinds = {level.kind for level in after}
    own = registry().get(finding.analyte or "")
    # an advisory may be for health or for taste; the registry tells which kind of matter it is
    health = kinds & _HEALTH or ("advisory" in kinds and own is not None and own.health)
    return "health_concern" if health else "nuisance_only"


def _passed(finding: Finding, value: Decimal) -> tuple[LevelUsed, ...]:
    return tuple(level for level in finding.levels if _passes(finding, level, value))


def _passes(finding: Finding, level: LevelUsed, value: Decimal) -> bool:
    alike = (level.unit, level.basis) == (finding.unit, finding.basis)
    if not alike or level.value is None or level.kind == "goal":
        return False
    return value > level.value or (level.low is not None and value < level.low)

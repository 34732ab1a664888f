"""What the sheet and the site leave open, each with the cheap test that would settle it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from ..interpretation import Finding
from ..simulation.raw import celsius_span, ph_at_well
from ..sizing import pump_flow
from ..sizing.rules import number
from ..stage_files import stage_names
from ..thresholds import threshold
from ..treatment.knowledge import conditions, needs, options
from ..treatment.water import Water
from .cheap import cheap_tests
from .pipes import TEST as LEAD_TEST
from .pipes import first_draw_open, with_first_draw
from .possible import Case
from .spread import Spread, short, spread_of

_HARDENERS = frozenset({"alkalinity", "calcium", "magnesium"})
"""No condition asks for them, and what a stage does hangs on them."""
Put = Callable[[Case, float], Case]


@dataclass(frozen=True, slots=True)
class Unsure:
    """One thing that is not known exactly."""

    test: str
    """The cheap test that would settle it."""
    about: str | None
    """Slug, where the test may be made for several analytes."""
    put: Put
    """Puts the thing at a share of its range, 0 to 1."""

    @property
    def name(self) -> str:
        """Stable name: ``field_ph``, ``repeat_test:nitrate``."""
        return f"{self.test}:{self.about}" if self.about else self.test


def unsure_in(case: Case) -> tuple[Unsure, ...]:
    """Return everything that is open in a case, always in the same order."""
    water = Water(case.findings, case.sample, case.site, case.beside)
    pipes = [Unsure(LEAD_TEST, None, with_first_draw)] if first_draw_open(water) else []
    return (*_findings(case), *_at_the_well(water), *_parts(water), *pipes, *_pump(case))


@cache
def _asked() -> frozenset[str]:
    """Return the slugs of which a number decides for or against a stage."""
    rows = {row.fact for stage in stage_names() for row in conditions(stage)}
    named = {row.need for row in needs().values()}
    tests = {test.fact for need in named for one in options(need) for test in one.tests}
    wanted = {row.test.fact for row in needs().values() if row.test}
    return frozenset(rows | tests | wanted | _HARDENERS)


def _findings(case: Case) -> Iterator[Unsure]:
    for finding in case.findings:
        if finding.analyte is None or finding.verdict == "not_tested":
            continue
        spread = spread_of(finding, case.sample)
        if spread and (finding.analyte in _asked() or _across(finding, spread)):
            yield Unsure(spread.test, finding.analyte, _value(finding, spread))


def _across(finding: Finding, spread: Spread) -> bool:
    """Return whether a level lies between the ends."""
    ends = (level.value for level in finding.levels if level.unit == finding.unit)
    low, high = min(spread.low, *spread.others, spread.high), max(spread.high, spread.low)
    return any(end is not None and low <= end <= high for end in ends)


def _value(finding: Finding, spread: Spread) -> Put:
    def put(case: Case, share: float) -> Case:
        return case.with_value(_now(case, finding), spread.at(share))

    return put


def _now(case: Case, finding: Finding) -> Finding:
    """Return the finding as it stands in a case in which other things were put already."""
    of = (finding.analyte, finding.label, finding.text, finding.fraction)
    alike = (one for one in case.findings if (one.analyte, one.label, one.text, one.fraction) == of)
    return next(alike)


def _at_the_well(water: Water) -> Iterator[Unsure]:
    acid = _one(water, "ph")
    if acid is not None and not ph_at_well(water):
        yield Unsure("field_ph", None, _field_ph(acid))
    low, high = celsius_span(water)
    if low != high:
        yield Unsure("water_temperature", None, _warmth(low, high))
    smelled = "rotten_egg_cold" in water.site.tap.observations
    if smelled and not water.of("hydrogen_sulfide", "sulfide"):
        yield Unsure("hydrogen_sulfide_at_well", None, _sulfide)


def _one(water: Water, slug: str) -> Finding | None:
    """Return the one number of an analyte in all, not of its dissolved part."""
    found = [one for one in water.of(slug) if one.fraction != "dissolved"]
    if len(found) != 1 or not found[0].value or found[0].operator not in {"=", None}:
        return None
    return found[0]


def _field_ph(finding: Finding) -> Put:
    def put(case: Case, share: float) -> Case:
        now = _now(case, finding)
        value = float(now.value or 0) + cheap_tests()["field_ph"].at(share)
        return case.with_field_ph(now, short(value))

    return put


def _warmth(low: float, high: float) -> Put:
    def put(case: Case, share: float) -> Case:
        celsius = short(low + share * (high - low))
        return case.with_well(replace(case.site.well, water_temperature_c=celsius))

    return put


def _sulfide(case: Case, share: float) -> Case:
    value = short(cheap_tests()["hydrogen_sulfide_at_well"].at(share))
    slug = "hydrogen_sulfide"
    smelled = Finding(
        slug, slug, str(value), "nuisance_only", operator="=", value=value, unit="mg/L"
    )
    return replace(case, findings=(*case.findings, smelled))


def _parts(water: Water) -> Iterator[Unsure]:
    iron, arsenic = _one(water, "iron"), _one(water, "arsenic")
    if iron is not None and len(water.of("iron")) == 1:
        yield Unsure("dissolved_iron", None, _part(iron, "iron", _dissolved_range(water)))
    if arsenic is not None and not water.of("arsenic_iii", "arsenic_v"):
        row = cheap_tests()["arsenic_iii"]
        yield Unsure("arsenic_iii", None, _part(arsenic, "arsenic_iii", (row.at(0), row.at(1))))


def _dissolved_range(water: Water) -> tuple[float, float]:
    """Return the share of dissolved iron; the look of a fresh glass makes it narrower."""
    low, high = (cheap_tests()["dissolved_iron"].at(share) for share in (0, 1))
    seen = water.site.tap.observations
    if "rusty_at_once" in seen:
        return low, float(threshold("iron_mostly_rust"))
    if "clear_then_rusty" in seen:
        return float(threshold("iron_mostly_dissolved")), high
    return low, high


def _part(whole: Finding, slug: str, ends: tuple[float, float]) -> Put:
    def put(case: Case, share: float) -> Case:
        now = _now(case, whole)
        value = short(float(now.value or 0) * (ends[0] + share * (ends[1] - ends[0])))
        return case.with_part(now, slug, value, dissolved=slug == whole.analyte)

    return put


def _pump(case: Case) -> Iterator[Unsure]:
    pump, bucket = pump_flow(case.site), case.site.well.bucket
    if pump.gpm is None:
        yield Unsure("pump_bucket", None, _new_bucket)
    elif not pump.proven:
        yield Unsure("pump_at_30_psi", None, _under_pressure(pump.gpm))
    elif pump.how == "bucket" and bucket and bucket.seconds > 1:
        yield Unsure("bucket_again", None, _other_time)


def _new_bucket(case: Case, share: float) -> Case:
    return case.with_pump(short(cheap_tests()["pump_bucket"].at(share)), None)


def _under_pressure(gpm: Decimal) -> Put:
    def put(case: Case, share: float) -> Case:
        flow = gpm * short(cheap_tests()["pump_at_30_psi"].at(share))
        return case.with_pump(flow, number("pressure_to_prove"))

    return put


def _other_time(case: Case, share: float) -> Case:
    bucket = case.site.well.bucket
    if bucket is None:
        return case
    seconds = bucket.seconds + short(cheap_tests()["bucket_again"].at(share))
    return case.with_well(replace(case.site.well, bucket=replace(bucket, seconds=seconds)))

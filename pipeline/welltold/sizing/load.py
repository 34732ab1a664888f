"""What the water loads a softener with."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC


@dataclass(frozen=True, slots=True)
class Grains:
    """What a softener has to take up, with the high end of what reaches it."""

    plain_gpg: Decimal
    compensated_gpg: Decimal
    a_day: Decimal | None
    """None: nobody told how many people there are."""
    iron: bool


def grains(job: Job) -> Grains | None:
    """Write and return the load of a softener; None if the hardness has no upper end."""
    page = job.page
    hardness = job.high("hardness", "mg/L", "CaCO3")
    if hardness is None:
        page.ask("hardness_open", rule("grain_mg_l").citation)
        return None
    iron = _counted(job, "iron", "iron_counted_mg_l")
    manganese = _counted(job, "manganese", "manganese_counted_mg_l")
    per_iron, per_manganese = rule("iron_factor"), rule("manganese_factor")
    grain = rule("grain_mg_l")
    plain = hardness / grain.value
    full = compensated(plain, (iron, per_iron.value), (manganese, per_manganese.value))
    told = {"mg": hardness, "grain": grain.value}
    page.put("settings.hardness_gpg", plain, "gpg", "plain_hardness", grain, **told)
    _write_added(job, plain)
    metals = (per_iron, per_manganese)
    told = {"iron": iron, "manganese": manganese, "kfe": metals[0].value, "kmn": metals[1].value}
    page.put("settings.compensated_gpg", full, "gpg", "compensated", *metals, plain=plain, **told)
    if job.amount("iron", "mg/L") is None:
        page.ask("iron_open", per_iron.citation)
    a_day = _write_day(job, full)
    return Grains(plain, full, a_day, iron >= number("iron_seen_mg_l"))


def _write_day(job: Job, full_gpg: Decimal) -> Decimal | None:
    """Write and return the grains of a day; None: nobody told how many people there are."""
    gallons = job.house.gal_day
    if gallons is None:
        return None
    a_day, told = gallons * full_gpg, {"gal": gallons, "gpg": full_gpg}
    job.page.put("size.load_grains_per_day", a_day, "grains", "load", ARITHMETIC, **told)
    return a_day


def _write_added(job: Job, plain_gpg: Decimal) -> None:
    """Write what the stages ahead add to the hardness of the raw water, if they add any."""
    raw = getattr(job.inlet, "raw", None)
    before = raw.amount("hardness", "mg/L", "CaCO3") if raw is not None else None
    if before is None or before.high is None:
        return
    first = before.high / number("grain_mg_l")
    if plain_gpg > first:
        told = {"after": plain_gpg, "before": first}
        added = plain_gpg - first
        job.page.put("settings.added_gpg", added, "gpg", "added", rule("grain_mg_l"), **told)


def _counted(job: Job, slug: str, least: str) -> Decimal:
    """Return what counts as hardness of a metal: nothing where there is hardly any."""
    high = job.high(slug, "mg/L") or Decimal(0)
    return high if high >= number(least) else Decimal(0)


def compensated(hardness_gpg: Decimal, *metals: tuple[Decimal, Decimal]) -> Decimal:
    """Return hardness with an allowance for metals, grains a gallon.

    Each metal with its mg/L and the grains a gallon that one mg/L counts for.
    """
    return hardness_gpg + sum((mg * factor for mg, factor in metals), Decimal(0))

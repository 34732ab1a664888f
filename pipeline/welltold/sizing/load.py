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
    plain = hardness / number("grain_mg_l")
    full = compensated(plain, (iron, per_iron.value), (manganese, per_manganese.value))
    page.put(
        "settings.hardness_gpg",
        plain,
        "gpg",
        "plain_hardness",
        rule("grain_mg_l"),
        mg=hardness,
        grain=number("grain_mg_l"),
    )
    _write_added(job, plain)
    page.put(
        "settings.compensated_gpg",
        full,
        "gpg",
        "compensated",
        per_iron,
        per_manganese,
        plain=plain,
        iron=iron,
        manganese=manganese,
        kfe=per_iron.value,
        kmn=per_manganese.value,
    )
    if job.amount("iron", "mg/L") is None:
        page.ask("iron_open", per_iron.citation)
    a_day = None
    if job.house.gal_day is not None:
        a_day = job.house.gal_day * full
        page.put(
            "size.load_grains_per_day",
            a_day,
            "grains",
            "load",
            ARITHMETIC,
            gal=job.house.gal_day,
            gpg=full,
        )
    return Grains(plain, full, a_day, iron >= number("iron_seen_mg_l"))


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

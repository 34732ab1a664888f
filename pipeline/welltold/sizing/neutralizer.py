"""An acid neutralizer: its bed, the first fill and the media used in a year."""

from __future__ import annotations

from decimal import Decimal

from .bed import Bed
from .beds import smallest_bed
from .iron_load import wash
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE, Sized
from .stages_beds import size_bed
from .washing import Cycle
from .writing import write_bed


def size_neutralizer(job: Job) -> Sized:
    """Return a neutralizer that is washed; one with upward flow among the other ways."""
    sized = size_bed(job, _rhythm, _media)
    if not sized.refused:
        return sized
    upflow = _upflow(job.afresh())
    more = () if upflow is None else (upflow,)
    return job.page.sized(
        job.stage,
        service_gpm=sized.service_gpm,
        backwash_gpm=sized.backwash_gpm,
        fits=sized.fits,
        instead=(*more, *sized.instead),
    )


def _rhythm(job: Job, bed: Bed) -> Cycle:  # noqa: ARG001 - one kind of rhythm among others
    iron = job.high("iron", "mg/L")
    much = iron is None or iron > number("iron_weekly_mg_l")
    name = "neutral_iron_days" if much else "neutral_days"
    days = number(name)
    job.page.put("settings.interval_days", days, "days", "interval_fixed", rule(name))
    return wash(days)


def _media(job: Job, bed: Bed, cycle: Cycle) -> None:  # noqa: ARG001 - what every filter's extra gets
    """Write first fill, use a year, and when to top up."""
    fill = _write_fill(job, bed)
    _slow_enough(job, bed)
    rise = hardness_rise(job)
    if rise is None:
        job.page.ask("co2_open", ARITHMETIC)
    elif job.house.gal_day is not None:
        _write_use(job, fill, rise, job.house.gal_day)


def _write_fill(job: Job, bed: Bed) -> Decimal:
    """Write and return the pounds of the first fill."""
    page, ft3, dense = job.page, bed.media_ft3, rule("calcite_lb_ft3")
    fill, told = ft3 * dense.value, {"ft3": ft3, "dense": dense.value}
    page.put("size.first_fill_lb", fill, "lb", "first_fill", dense, **told)
    if bed.medium.medium == "calcite_magnesia":
        share = rule("magnesia_share")
        part, told = ft3 * share.value, {"ft3": ft3, "percent": share.value * 100}
        page.put("size.magnesia_ft3", part, "ft3", "magnesia", share, **told)
    return fill


def _write_use(job: Job, fill_lb: Decimal, rise_mg_l: Decimal, gal_day: Decimal) -> None:
    """Write what dissolves in a year, and the days until a part of the fill is gone."""
    page, day_lb = job.page, media_lb_day(rise_mg_l, gal_day)
    yearly, told = day_lb * number("days_in_year"), {"rise": rise_mg_l, "gal": gal_day}
    source = rule("co2_hardness")
    page.put("use_per_year.media_lb_per_year", yearly, "lb", "media_year", source, **told)
    if day_lb > 0:
        share = rule("calcite_refill_share")
        days = (fill_lb * share.value / day_lb).to_integral_value()
        told = {"fill": fill_lb, "percent": share.value * 100, "day": day_lb}
        page.put("settings.top_up_days", days, "days", "top_up", share, **told)


def _slow_enough(job: Job, bed: Bed) -> None:
    """Write whether the two-hour flow is slow enough for the full rise of pH."""
    slow, flow = rule("neutral_gpm_ft2"), job.house.sustained_gpm
    if flow is not None and flow > slow.value * bed.area_ft2:
        rate = flow / bed.area_ft2
        job.page.ask("slow_enough", slow.citation, rate=rate, most=slow.value)


def hardness_rise(job: Job) -> Decimal | None:
    """Return the most calcium carbonate that the carbon dioxide of the inlet can dissolve, mg/L."""
    gas = job.amount("carbon_dioxide", "mg/L")
    if gas is None or gas.high is None:
        return None
    return gas.high * number("co2_hardness")


def media_lb_day(rise_mg_l: Decimal, gal_day: Decimal) -> Decimal:
    """Return the media dissolved in a day, pounds: mg/L times gallons."""
    return rise_mg_l * gal_day * Decimal("3.785411784") / Decimal("453592.37")


def _upflow(job: Job) -> Sized | None:
    """Return a bed with upward flow, which needs no backwash; only for water without iron."""
    iron = job.high("iron", "mg/L")
    bed = smallest_bed(job.media[0], job.flow)
    if bed is None or iron is None or iron > number("upflow_iron_mg_l"):
        return None
    write_bed(job, bed)
    job.page.put("size.upflow", True, "", "upflow", PRACTICE)  # noqa: FBT003 - a figure that is yes
    job.page.ask("upflow_clean", PRACTICE)
    _media(job, bed, wash(Decimal(1)))
    return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)

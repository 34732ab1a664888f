"""How much water a house asks for: at once, for two hours, and in a day."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ..interpretation import Condition, Worked
from ..site import Site
from .rules import number, rule
from .sized import Page


@dataclass(frozen=True, slots=True)
class House:
    """What a house asks for; US gallons."""

    peak_gpm: Decimal
    """At once; for one bathroom where nobody told how many there are."""
    sustained_gpm: Decimal | None
    """The day's use within two hours; None: nobody told how many people there are."""
    gal_day: Decimal | None
    people: int | None
    conditions: tuple[Condition, ...] = ()
    worked: tuple[Worked, ...] = ()


def house(site: Site) -> House:
    """Return what the home of a site asks for; what nobody told is asked."""
    page = Page()
    people = site.home.people
    gal_day = None if people is None else people * number("people_gal_day")
    sustained = None if gal_day is None else two_hour_peak(gal_day)
    if gal_day is None or sustained is None or people is None:
        page.ask("people", rule("people_gal_day").citation)
    else:
        each = rule("people_gal_day")
        page.put("size.gal_day", gal_day, "gpd", "gal_day", each, people=people, each=each.value)
        page.put(
            "size.sustained_gpm", sustained, "gpm", "two_hours", rule("peak_minutes"), gal=gal_day
        )
    peak = _peak(site, sustained, page)
    return House(peak, sustained, gal_day, people, tuple(page.conditions), tuple(page.worked))


def _peak(site: Site, sustained: Decimal | None, page: Page) -> Decimal:
    baths = site.home.bathrooms
    base, each = rule("bath_base_gpm"), rule("bath_each_gpm")
    if baths is None:
        page.ask("bathrooms", base.citation)
    counted = max(baths or Decimal(1), Decimal(1))
    gpm = max(base.value + each.value * counted, sustained or Decimal(0))
    code = "baths" if baths is not None else "baths_least"
    page.put(
        "size.service_gpm", gpm, "gpm", code, base, baths=counted, base=base.value, each=each.value
    )
    return gpm


def two_hour_peak(gal_day: Decimal) -> Decimal:
    """Return the flow that would pass the day's use in two hours; Penn State Extension, 2022."""
    return gal_day / number("peak_minutes")

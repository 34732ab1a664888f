"""A reverse osmosis unit at the tap: what it makes in a day at this temperature and pressure."""

from __future__ import annotations

from decimal import Decimal

from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, Sized
from .written import up


def size_membrane(job: Job) -> Sized:
    """Return a membrane: gallons a day, storage tank, waste; a booster pump below 40 psi."""
    page = job.page
    rated = rule("membrane_rated_gpd")
    feed = job.site.well.pressure_psi
    page.put("size.rated_gpd", rated.value, "gpd", "membrane_rated", rated)
    least = rule("pressure_for_membrane")
    if feed is not None and feed[0] < least.value:
        page.put("size.booster", True, "", "membrane_booster", least, psi=feed[0])  # noqa: FBT003 - a figure that is yes
    wanted = None if job.house.people is None else _write_wanted(job, job.house.people)
    _write_production(job, rated.value, wanted)
    return page.sized(job.stage, service_gpm=number("tap_gpm"))


def _write_wanted(job: Job, people: int) -> Decimal:
    """Write what is drunk in a day, the tank for it and the waste; return the gallons a day."""
    page, each = job.page, rule("drunk_gal_person")
    wanted = people * each.value
    told = {"people": people, "each": each.value}
    page.put("size.wanted_gpd", wanted, "gpd", "membrane_wanted", each, **told)
    share, waste = rule("membrane_tank_share"), rule("membrane_waste")
    tank = up(wanted / share.value)
    page.put("size.tank_gal", tank, "gal", "membrane_tank", share, wanted=wanted)
    yearly = wanted * waste.value * number("days_in_year")
    told = {"wanted": wanted, "each": waste.value}
    page.put("use_per_year.waste_gal_per_year", yearly, "gal", "membrane_waste", waste, **told)
    return wanted


def _write_production(job: Job, rated: Decimal, wanted: Decimal | None) -> None:
    """Write what is made in a day by two rules, and whether the lower is enough."""
    page, feed, celsius = job.page, job.site.well.pressure_psi, job.celsius
    solids = job.high("total_dissolved_solids", "mg/L")
    if celsius is None or feed is None or solids is None:
        # the pressure is a condition of the stage itself
        if solids is None:
            page.ask("membrane_open", ARITHMETIC)
        elif celsius is None:
            page.ask("membrane_warm", ARITHMETIC)
        return
    pressure = max(feed[0], rule("pressure_for_membrane").value)
    rated_psi = number("membrane_rated_psi")
    made = production_gpd(rated, celsius, pressure, solids)
    told = {"rated": rated, "cold": warm_factor(celsius), "net": net_psi(pressure, solids)}
    sources = (rule("membrane_warm_share"), rule("osmotic_psi_mg_l"), rule("membrane_tank_psi"))
    page.put("size.makes_gpd", made, "gpd", "membrane_makes", *sources, **told, rated_psi=rated_psi)
    cold, net = warm_factor_exponential(celsius), net_psi(feed[1], solids)
    most, told = rated * cold * net / rated_psi, {"rated": rated, "cold": cold, "net": net}
    kelvin = rule("membrane_warm_kelvin")
    page.put(
        "size.makes_at_most_gpd", most, "gpd", "membrane_most", kelvin, **told, rated_psi=rated_psi
    )
    if wanted is not None:
        page.ask("membrane_enough", ARITHMETIC, holds=made >= wanted, made=made, wanted=wanted)


def warm_factor(celsius: Decimal) -> Decimal:
    """Return the share of the production at 25 C: 3 % less for each degree colder (WQA)."""
    return max(1 - number("membrane_warm_share") * (25 - celsius), Decimal(0))


def warm_factor_exponential(celsius: Decimal) -> Decimal:
    """Return the same share by the exponential rule, which gives more in cold water."""
    kelvin = celsius + Decimal("273.15")
    return (number("membrane_warm_kelvin") * (1 / Decimal("298.15") - 1 / kelvin)).exp()


def net_psi(feed_psi: Decimal, solids_mg_l: Decimal) -> Decimal:
    """Return what is left to push water through: feed less osmotic pressure less the tank."""
    osmotic = solids_mg_l * number("osmotic_psi_mg_l")
    return max(feed_psi - osmotic - number("membrane_tank_psi"), Decimal(0))


def production_gpd(
    rated_gpd: Decimal, celsius: Decimal, feed_psi: Decimal, solids_mg_l: Decimal
) -> Decimal:
    """Return the gallons a day at this temperature and pressure; the lower of the two rules."""
    return (
        rated_gpd
        * warm_factor(celsius)
        * net_psi(feed_psi, solids_mg_l)
        / number("membrane_rated_psi")
    )

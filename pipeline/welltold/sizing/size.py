"""Sizes one stage: for the water that reaches it, the house and the pump."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import lru_cache

from ..messages import Language, spoken
from ..site import Home, Site, Well
from .adsorbers import size_adsorber
from .carbon import size_carbon
from .contact import size_retention
from .exchangers import size_anion
from .feeds import size_feed, size_soda_ash
from .filters import size_air_filter, size_filter, size_particles
from .house import House, house
from .job import Job
from .membrane import size_membrane
from .neutralizer import size_neutralizer
from .pump import PumpFlow, pump_flow
from .shelf import Shelf
from .shelf_sizing import size_from
from .shock import size_shock
from .sized import Inlet, Sized
from .small import size_cartridge, size_lamp, size_specialist, size_tap
from .softener import size_softener
from .tannin import size_tannin

_SIZERS: Mapping[str, Callable[[Job], Sized]] = {
    "air_injection_filter": size_air_filter,
    "anion_exchanger": size_anion,
    "arsenic_adsorber": size_adsorber,
    "aerator": size_specialist,
    "calcite_magnesia_neutralizer": size_neutralizer,
    "calcite_neutralizer": size_neutralizer,
    "carbon_block_tap": size_tap,
    "carbon_filter": size_carbon,
    "chlorine_feed": size_feed,
    "copper_zinc_filter": size_filter,
    "distiller": size_tap,
    "fluoride_adsorber": size_adsorber,
    "greensand_filter": size_filter,
    "lead_cartridge": size_tap,
    "multi_layer_filter": size_particles,
    "oxidizing_filter": size_filter,
    "permanganate_feed": size_feed,
    "peroxide_feed": size_feed,
    "retention_tank": size_retention,
    "reverse_osmosis": size_membrane,
    "sediment_filter": size_cartridge,
    "shock_chlorination": size_shock,
    "soda_ash_feed": size_soda_ash,
    "softener": size_softener,
    "tannin_exchanger": size_tannin,
    "ultrafilter": size_cartridge,
    "uv": size_lamp,
}


def size_stage(
    stage: str,
    needs: Collection[str],
    inlet: Inlet,
    site: Site,
    shelf: Shelf | None = None,
) -> Sized:
    """Return one stage sized for what reaches it; KeyError on a stage that has no size.

    ``needs`` are names of ``needs.csv``. Upper ends of what reaches it decide; what has none, or
    was never told, is asked in a condition and its figures are left out.
    """
    job, sizer = job_of(stage, needs, inlet, site), _SIZERS[stage]
    if site.equipment.after:
        job.page.refuse("behind_equipment")
        return job.page.sized(stage)
    return sizer(job) if shelf is None else size_from(shelf, job, sizer)


def job_of(stage: str, needs: Collection[str], inlet: Inlet, site: Site) -> Job:
    """Return one stage to be sized, with what pump and house ask and give."""
    pump, home = _facts(site.well, site.home, spoken())
    return Job(stage, frozenset(needs), inlet, site, home, pump)


def sizer_of(stage: str) -> Callable[[Job], Sized] | None:
    """Return what sizes a stage; None: nothing does."""
    return _SIZERS.get(stage)


@lru_cache(maxsize=64)
def _facts(well: Well, home: Home, language: Language) -> tuple[PumpFlow, House]:
    """Return what pump and house of a site give and ask for, in the language spoken now."""
    del language
    site = Site(home=home, well=well)
    return pump_flow(site), house(site)

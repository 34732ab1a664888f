"""What to do with equipment that is in the house already: keep, set anew, or replace."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import replace
from decimal import Decimal

from ..interpretation import Existing
from ..messages import Message, say
from ..site import EquipmentUnit, Site
from .job import Job
from .rules import line, number
from .size import job_of, sizer_of
from .sized import PRACTICE, Inlet, Sized
from .stock import Tank, media, tanks
from .written import shown


def advise_existing(
    unit: EquipmentUnit, inlet: Inlet, site: Site, needs: Collection[str] = ()
) -> Existing:
    """Return what to do with one unit in the water that reaches it, with the reasons.

    ``replace`` only where its tank is too small or the pump cannot wash it; age alone asks for a
    test. ``cant_tell`` where tank, pump or water is not known.
    """
    if site.equipment.after:
        return _open(unit, "existing_behind")
    job = job_of(unit.stage, needs, inlet, site)
    sizer = sizer_of(unit.stage)
    if sizer is None or not job.media:
        return _open(unit, "existing_no_size")
    tank = _tank(unit)
    if tank is None:
        return _open(unit, "existing_unknown")
    filled = media().get(unit.medium or "", job.media[0])
    tried = replace(job, tanks=(tank,), filled=filled, in_place=True)
    built = sizer(tried)
    if built.refused and unit.stage == "softener" and not built.instead:
        built = _with_more_salt(sizer, tried, built)
    if built.refused:
        return Existing(unit.stage, "replace", {}, (*built.refused, *_notes(unit, tank)))
    if built.fits is None or not built.settings:
        return _open(unit, "existing_open", *_notes(unit, tank))
    return _kept(unit, tank, built)


def _with_more_salt(sizer: Callable[[Job], Sized], job: Job, before: Sized) -> Sized:
    """Return a small softener with the largest dose in print, if it lasts long enough with that."""
    most = line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")[-1].x
    built = sizer(replace(job.afresh(), salt_lb_ft3=most))
    if built.refused:
        return before
    return replace(built, cautions=(*built.cautions, say("sizing.existing_more_salt")))


def _tank(unit: EquipmentUnit) -> Tank | None:
    """Return the tank in place; what it holds is the usual filling where nobody told."""
    if unit.tank_in is None:
        return None
    alike = [tank for tank in tanks() if tank.diameter_in >= unit.tank_in]
    nearest = alike[0] if alike else tanks()[-1]
    ft3 = unit.media_ft3 or nearest.media_ft3
    return Tank(unit.tank_in, nearest.height_in, ft3, PRACTICE)


def _kept(unit: EquipmentUnit, tank: Tank, built: Sized) -> Existing:
    salt = built.settings.get("salt_lb")
    why = [say("sizing.existing_fits"), say("sizing.existing_set")]
    anew = False
    if isinstance(salt, Decimal) and unit.salt_lb is not None and unit.salt_lb != salt:
        anew = True
        why.append(say("sizing.existing_salt", salt=shown(unit.salt_lb), wanted=shown(salt)))
    if unit.metered is False:
        anew = True
        why.append(say("sizing.existing_timer"))
    settings = tuple(one for one in built.worked if one.of.startswith("settings."))
    return Existing(
        unit.stage,
        "reset" if anew or (isinstance(salt, Decimal) and unit.salt_lb is None) else "keep",
        built.settings,
        (*why, *built.cautions, *_notes(unit, tank)),
        settings,
    )


def _notes(unit: EquipmentUnit, tank: Tank) -> Iterator[Message]:
    if unit.media_ft3 is None:
        yield say("sizing.existing_filling", ft3=shown(tank.media_ft3))
    years = number("resin_years" if unit.stage == "softener" else "bed_lasts_years")
    if unit.age_years is not None and unit.age_years >= years:
        yield say("sizing.existing_old", age=shown(unit.age_years), years=shown(years))


def _open(unit: EquipmentUnit, code: str, *more: Message) -> Existing:
    return Existing(unit.stage, "cant_tell", {}, (say(f"sizing.{code}"), *more))

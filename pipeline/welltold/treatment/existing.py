"""What to do with the equipment that is in the house already."""

from __future__ import annotations

from collections.abc import Sequence

from ..interpretation import Existing
from ..messages import say
from ..site import EquipmentUnit, Site
from ..sizing import advise_existing
from .knowledge import NOT_EQUIPMENT, stages
from .walk import Passage
from .weights import Chosen
from .words import text


def existing(site: Site, trains: Sequence[Chosen]) -> tuple[Existing, ...] | None:
    """Return what to do with each unit, in the water that reaches it in the best train that has it.

    None where the site file names no equipment.
    """
    units = _units(site)
    if not units:
        return None
    return tuple(_advised(unit, site, _reached(unit.stage, trains)) for unit in units)


def _units(site: Site) -> tuple[EquipmentUnit, ...]:
    told = {unit.stage for unit in site.equipment.unit}
    named = (EquipmentUnit(stage) for stage in site.equipment.in_place if stage not in told)
    return tuple(unit for unit in (*site.equipment.unit, *named) if unit.stage != NOT_EQUIPMENT)


def _reached(stage: str, trains: Sequence[Chosen]) -> Passage | None:
    """Return where the unit stands in the best train, or what stands there in its place.

    In its place stands what answers a need that the unit could answer too.
    """
    lines = [passage for train in trains for passage in train.line]
    same = (passage for passage in lines if passage.draft.stage == stage)
    treats = set(stages()[stage].treats)
    alike = (passage for passage in lines if treats & set(passage.draft.because))
    return next(same, None) or next(alike, None)


def _advised(unit: EquipmentUnit, site: Site, passage: Passage | None) -> Existing:
    if passage is None:
        return Existing(unit.stage, "cant_tell", {}, (say("treatment.existing_not_called"),))
    told = advise_existing(unit, passage.inlet, site, passage.draft.because)
    built = passage.built if passage.draft.stage == unit.stage else None
    if told.do != "cant_tell" or stages()[unit.stage].backwash or built is None:
        return told
    upkeep = text(f"treatment.upkeep_{unit.stage}")
    why = say("treatment.existing_renew", upkeep=upkeep)
    return Existing(unit.stage, "reset", built.settings, (why, *built.cautions))

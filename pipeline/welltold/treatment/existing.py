"""What to do with the equipment that is in the house already."""

from __future__ import annotations

from collections.abc import Sequence

from ..interpretation import Existing
from ..messages import say
from ..site import EquipmentUnit, Site
from ..sizing import advise_existing
from .walk import Passage
from .weights import Chosen


def existing(site: Site, trains: Sequence[Chosen]) -> tuple[Existing, ...] | None:
    """Return what to do with each unit, in the water that reaches it in the best train that has it.

    None where the site file names no equipment.
    """
    units = _units(site)
    if not units:
        return None
    return tuple(_advised(unit, site, _found(unit.stage, trains)) for unit in units)


def _units(site: Site) -> tuple[EquipmentUnit, ...]:
    told = {unit.stage for unit in site.equipment.unit}
    named = (EquipmentUnit(stage) for stage in site.equipment.in_place if stage not in told)
    return (*site.equipment.unit, *named)


def _found(stage: str, trains: Sequence[Chosen]) -> Passage | None:
    lines = (passage for train in trains for passage in train.line)
    return next((passage for passage in lines if passage.draft.stage == stage), None)


def _advised(unit: EquipmentUnit, site: Site, passage: Passage | None) -> Existing:
    if passage is None:
        return Existing(unit.stage, "cant_tell", {}, (say("treatment.existing_not_called"),))
    return advise_existing(unit, passage.inlet, site, passage.draft.because)

"""What gives water on that night: well, pump, and the tank behind the pump."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from ..interpretation import Stage
from ..site import Site, Well
from ..sizing import pump_flow
from ..sizing.hydraulics import casing_gal
from .rules import given, number


@dataclass(frozen=True, slots=True)
class Supply:
    """Hundredths of a gallon, flows of them each minute."""

    pump: int
    inflow: int
    """What runs into the well while its water is below rest; the pump's own where nobody knows."""
    well: int
    """Water above the pump at rest; 0 where nobody knows."""
    tank: int
    """What the pressure tank gives between pump off and pump on, or a storage tank's content."""
    booster: int | None = None
    """The booster pump behind a storage tank; None: the tank is a pressure tank."""


def supply_of(site: Site, stages: Iterable[Stage]) -> Supply | None:
    """Return what the site gives; None where nobody timed the pump.

    A storage tank with its booster pump, where sizing chose one, stands in the pressure tank's
    place. A pressure tank is taken at its emptiest when the night begins.
    """
    flow, well = pump_flow(site).gpm, site.well
    if flow is None:
        return None
    pump = given(flow)
    inflow = pump if well.yield_gpm is None else given(well.yield_gpm)
    standing = given(water_above_pump(well) or Decimal(0))
    sizes = [stage.size for stage in stages if stage.size and "booster_gpm" in stage.size]
    if sizes:
        tank = max(given(size["storage_gal"]) for size in sizes)
        booster = max(given(size["booster_gpm"]) for size in sizes)
        return Supply(pump, inflow, standing, tank, booster)
    return Supply(pump, inflow, standing, given(drawdown_gal(well)))


def water_above_pump(well: Well) -> Decimal | None:
    """Return the gallons that stand above the pump at rest; None where that was not told."""
    if well.depth_ft is None or well.static_ft is None or well.casing_in is None:
        return None
    column = well.depth_ft - well.static_ft - number("pump_above_bottom")
    return casing_gal(well.casing_in, max(column, Decimal(0)))


def drawdown_gal(well: Well) -> Decimal:
    """Return the gallons of the pressure tank: as drawn in the test, else those of a small one."""
    return number("tank_drawdown") if well.drawdown is None else well.drawdown.gallons

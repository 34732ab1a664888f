"""What the pump gives against what the largest backwash of a train asks of it."""

from __future__ import annotations

from decimal import Decimal

from ..interpretation import Flow
from ..site import Site
from ..sizing import pump_flow
from .walk import Line


def flow_of(site: Site, line: Line) -> Flow:
    """Return the flow of a train; backwashes never run at once, so the largest one counts.

    Storage and a booster pump do not make the well pump give more: ``fits`` speaks of the pump.
    """
    pump = pump_flow(site)
    built = [passage.built for passage in line if passage.built is not None]
    largest = max((one.backwash_gpm for one in built if one.backwash_gpm is not None), default=None)
    fits = None if largest is None else pump.carries(largest)
    return Flow(_shown(pump.gpm), _shown(largest), fits)


def _shown(gpm: Decimal | None) -> Decimal | None:
    """Return a flow without the digits that a division leaves behind; ``fits`` is told before."""
    return None if gpm is None else min(gpm, round(gpm, 4), key=lambda one: len(str(one)))

"""The water balance of one night, minute by minute, without a drop lost or made.

Each minute: drawn from the well = delivered + change of the tank, and
run into the well = drawn from it + change of the water in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .supply import Supply


@dataclass(frozen=True, slots=True)
class Minute:
    """One minute, in hundredths of a gallon; well and tank at its end."""

    needed: int
    gets: int
    pumped: int
    arrives: int
    well: int
    tank: int


def balance(supply: Supply, needed: Iterable[int]) -> Iterator[Minute]:
    """Yield each minute of a night from what is asked of the taps and valves in it.

    A pressure switch starts the pump when the tank is empty and stops it when it is full again; a
    storage tank is filled whenever it is not full. The well gives no more than stands above the
    pump and runs in; it never fills above its water level at rest.
    """
    stored = supply.booster is not None
    well, tank, on = supply.well, supply.tank if stored else 0, False
    for asked in needed:
        drawn = asked if supply.booster is None else min(asked, supply.booster)
        gives = supply.pump
        if not (on or stored):
            # the pump runs only for the part of the minute that the tank leaves it
            gives = supply.pump * (asked - tank) // asked if asked > tank else 0
            on = asked > tank
        gives = min(gives, well + supply.inflow, drawn + supply.tank - tank)
        gets = min(drawn, tank + gives)
        tank += gives - gets
        arrives = min(supply.inflow, supply.well - well + gives)
        well += arrives - gives
        on = on and tank < supply.tank
        yield Minute(asked, gets, gives, arrives, well, tank)

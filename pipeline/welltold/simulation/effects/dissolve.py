"""Calcite and magnesia neutralisers: what the bed dissolves, from least to most."""

from __future__ import annotations

import math

import numpy as np

from ...chemistry.arrays import Array
from ..batch import ALKALINITY, CARBON, HARD, HARDNESS, SOLIDS, Batch
from ..equilibrium import CALCITE, MAGNESIA, add, until_full
from ..kinetics import Bed, dissolved_in
from ..refusal import StageRefused
from .run import Run

CM, CM_S_PER_GPM_FT2 = 2.54, 0.0679097
"""Centimetres in an inch; speed in the empty tank for 1 gpm a square foot."""
GIVEN = ("calcium", ALKALINITY, SOLIDS)
"""What calcite adds to."""


def dissolve_calcite(batch: Batch, run: Run) -> None:
    """Dissolve calcite: the most is equilibrium, the least what the time in the bed allows.

    With magnesia in the bed the most goes on to where magnesia itself is full, and the least is
    that of the calcite alone.
    """
    if CARBON not in batch.values:
        raise StageRefused(run.stage, ("ph", ALKALINITY))
    if not batch.has("calcium"):
        raise StageRefused(run.stage, ("calcium",))
    full = until_full(batch, CALCITE)
    most = _checked(full.amount, run)
    bed = _bed(run)
    magnesia = bool(run.row.given.get("magnesia"))
    if magnesia:
        bed = Bed(bed.depth_cm * (1 - float(run.row.given["share"])), bed.speed_cm_s, bed.grain_cm)
    least = np.minimum(dissolved_in(batch, full, bed), most)
    add(batch, CALCITE, least + batch.dissolve * (most - least))
    if magnesia:
        add(batch, MAGNESIA, batch.dissolve * _checked(until_full(batch, MAGNESIA).amount, run))
        batch.open_up |= {"magnesium"} & batch.open_up
    if "carbon_dioxide" in batch.open_up:
        batch.open_up |= {*GIVEN, HARDNESS, *(HARD if magnesia else ())}
    sized = "service_gpm" in run.size
    batch.mark(("ph", *GIVEN, HARDNESS), verified=run.row.verified and sized)


def _checked(amount: Array, run: Run) -> Array:
    if not np.all(np.isfinite(amount)):
        raise StageRefused(run.stage, outside="ph")
    return amount


def _bed(run: Run) -> Bed:
    """Return the bed as it is sized, or as it is usually laid out."""
    given, flow = run.row.given, run.number("service_gpm")
    tank, depth = run.number("tank_in"), run.number("bed_depth_in")
    speed = float(given["gpm_ft2"])
    if flow is not None and tank is not None:
        speed = flow / ((run.number("tanks") or 1.0) * math.pi / 4 * (tank / 12) ** 2)
    if depth is None:
        depth = float(given["depth_in"])
    return Bed(depth * CM, speed * CM_S_PER_GPM_FT2, float(given["grain_mm"]) / 10)

"""The library of effects: what a stage file's ``do`` names.

An effect is a function of the batch (which it changes in place), what the file gives it, and the
surroundings of the stage. Charges stay balanced and nothing is lost: what leaves an ion's place is
made up by another ion or by alkalinity.
"""

from __future__ import annotations

from collections.abc import Mapping

from .dissolve import dissolve_calcite
from .dose import dose_chlorine, dose_soda_ash
from .exchange import exchange_anions, exchange_cations
from .leave import leave, reject, strip, test_outlet
from .oxidize import oxidize
from .run import Effect

LIBRARY: Mapping[str, Effect] = {
    "dissolve_calcite": dissolve_calcite,
    "dose_chlorine": dose_chlorine,
    "dose_soda_ash": dose_soda_ash,
    "exchange_anions": exchange_anions,
    "exchange_cations": exchange_cations,
    "leave": leave,
    "oxidize": oxidize,
    "reject": reject,
    "strip": strip,
    "test_outlet": test_outlet,
}

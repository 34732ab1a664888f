"""What PHREEQC 3 makes of the same waters (Parkhurst and Appelo 2013), ion pairs on."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
from numpy.typing import NDArray
from phreeqpython.viphreeqc import VIPhreeqc

Array = NDArray[np.float64]
MEQ = 50.0435
PER_MEQ = {"calcium": 20.039, "magnesium": 12.1525, "sodium": 22.99, "chloride": 35.453}
BRUCITE = """PHASES
Brucite
 Mg(OH)2 + 2H+ = Mg+2 + 2H2O
 -log_k 16.84
 -delta_h -27.1 kcal
"""
RATE = """RATES
Bed
 -start
 10 si_cc = SI("Calcite")
 20 k1 = 10^(0.198 - 444.0 / TK)
 30 k1 = 1 / (1 / k1 + 1 / PARM(2))
 40 k2 = 10^(2.84 - 2177.0 / TK)
 50 IF TC <= 25 THEN k3 = 10^(-5.86 - 317.0 / TK)
 60 IF TC > 25 THEN k3 = 10^(-1.1 - 1737.0 / TK)
 70 rate = PARM(1) * (k1 * ACT("H+") + k2 * ACT("CO2") + k3 * ACT("H2O"))
 80 rate = rate * (1 - 10^(2/3*si_cc))
 90 SAVE rate * TIME
 -end
"""
PUNCH = """SELECTED_OUTPUT 1
 -reset false
 -ph true
 -totals Ca Mg
"""
SOLUTION = """SOLUTION 1
 units mmol/kgw
 temp {t!r}
 pH {ph!r}
 Alkalinity {alkalinity!r} meq/kgw
 Ca {calcium!r}
 Mg {magnesium!r}
 Na {sodium!r}
 Cl {chloride!r} charge
END
"""


def program() -> VIPhreeqc:
    """Return PHREEQC with its own database, brucite and the rate of a bed."""
    new = VIPhreeqc()
    new.load_database(str(files("phreeqpython") / "database" / "phreeqc.dat"))
    new.run_string(BRUCITE + RATE + PUNCH)
    return new


def solution(water: dict[str, float], celsius: float) -> str:
    """Return a water of mg/L (alkalinity as CaCO3) as PHREEQC reads it."""
    return SOLUTION.format(
        t=celsius,
        ph=water["ph"],
        alkalinity=water["alkalinity"] / MEQ,
        calcium=water["calcium"] / PER_MEQ["calcium"] / 2,
        magnesium=water["magnesium"] / PER_MEQ["magnesium"] / 2,
        sodium=water["sodium"] / PER_MEQ["sodium"],
        chloride=water["chloride"] / PER_MEQ["chloride"],
    )


def end_of(run: VIPhreeqc, water: dict[str, float], celsius: float, then: str) -> Array:
    """Return pH, Ca and Mg (mol/kg) of a water after what ``then`` lets happen to it."""
    run.run_string(solution(water, celsius) + "USE solution 1\n" + then + "END\n")
    return np.array(run.get_selected_output_array()[-1], dtype=np.float64)

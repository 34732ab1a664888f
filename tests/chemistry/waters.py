"""Waters spread over the whole range, and what PHREEQC makes of them.

Latin hypercube: every input is cut into as many equal steps as there are waters, and each step is
used once. Pairs of ions are on, as they are in phreeqc.dat (Parkhurst and Appelo 2013).
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray
from phreeqpython.viphreeqc import VIPhreeqc

from welltold.chemistry import Water

Array = NDArray[np.float64]
NACL, MEQ = 58.44, 50.0435
LOW = np.array([4.5, 2.0, 20.0, 3.0, 0.02, 0.0, 0.0, 0.0])
HIGH = np.array([9.5, 600.0, 3000.0, 60.0, 0.98, 1.0, 1.0, 0.1])
"""pH, alkalinity, solids, temperature; then the shares of Ca + Mg among the cations, of Mg among
those two, of SO4 among SO4 + Cl, of K among Na + K."""


def hypercube(count: int, seed: int) -> Array:
    """Return ``count`` points, one in each step of every input; alkalinity and solids by ratio."""
    chance = np.random.default_rng(seed)
    steps = np.stack([chance.permutation(count) for _ in LOW], axis=1)
    unit = (steps + chance.random(steps.shape)) / count
    points = LOW + unit * (HIGH - LOW)
    for column in (1, 2):
        low, high = np.log(LOW[column]), np.log(HIGH[column])
        points[:, column] = np.exp(low + unit[:, column] * (high - low))
    return np.asarray(points)


@dataclass(frozen=True, slots=True)
class Spread:
    """Balanced waters of the whole range; concentrations in meq/L."""

    ph: Array
    alkalinity: Array
    calcium: Array
    magnesium: Array
    sodium: Array
    potassium: Array
    chloride: Array
    sulfate: Array
    temperature: Array

    @property
    def solids(self) -> Array:
        """mg/L when dried: bicarbonate counts as half its weight (as carbonate)."""
        ions = self.calcium * 20.039 + self.magnesium * 12.1525 + self.sodium * 22.99
        ions += self.potassium * 39.098 + self.chloride * 35.453 + self.sulfate * 48.03
        return np.asarray(ions + self.alkalinity * 30.004)

    def water(self, *, ions: bool) -> Water:
        """Return the waters, with every ion, or as a short sheet has them: with the solids."""
        base = Water(
            self.ph,
            self.alkalinity * MEQ,
            self.calcium * 20.039,
            self.magnesium * 12.1525,
            temperature=self.temperature,
            solids=np.nan if ions else self.solids,
        )
        if not ions:
            return base
        return Water(
            base.ph,
            base.alkalinity,
            base.calcium,
            base.magnesium,
            self.sodium * 22.99,
            self.potassium * 39.098,
            self.chloride * 35.453,
            self.sulfate * 48.03,
            base.temperature,
        )


def spread(count: int = 600, seed: int = 20261125) -> Spread:
    """Return balanced waters: salts fill up what alkalinity leaves of the solids."""
    ph, alkalinity, solids, temperature, hard, magnesian, sulfatic, potassic = hypercube(
        count, seed
    ).T
    base = alkalinity / MEQ
    salts = np.maximum((solids - base * 53.0) / NACL, 0.02 * base + 0.02)
    cations = base + salts
    return Spread(
        ph,
        base,
        cations * hard * (1 - magnesian),
        cations * hard * magnesian,
        cations * (1 - hard) * (1 - potassic),
        cations * (1 - hard) * potassic,
        salts * (1 - sulfatic),
        salts * sulfatic,
        temperature,
    )


@dataclass(frozen=True, slots=True)
class Reference:
    """What PHREEQC gives."""

    saturation: Array
    carbon_dioxide: Array
    """mg/L."""
    conductance: Array
    """uS/cm at the water's temperature."""
    strength: Array
    potential: Array
    """mg/L CaCO3."""
    hot_ph: Array
    hot_saturation: Array


PUNCH = """SELECTED_OUTPUT 1
 -reset false
 -ph true
 -ionic_strength true
 -totals Ca
 -molalities CO2
 -si Calcite
USER_PUNCH 1
 -headings sc
 -start
 10 PUNCH SC
 -end
"""
SOLUTION = """SOLUTION {i}
 units mmol/kgw
 temp {t!r}
 pH {ph!r}
 Alkalinity {alk!r} meq/kgw
 Ca {ca!r}
 Mg {mg!r}
 Na {na!r}
 K {k!r}
 Cl {cl!r} charge
 S(6) {so4!r}
END
USE solution {i}
EQUILIBRIUM_PHASES {i}
 Calcite 0 10
END
USE solution {i}
REACTION_TEMPERATURE {i}
 60
END
"""


NO_SUCH_WATER = [[float("nan")] * 6] * 3
"""Less alkalinity than the hydroxide of its pH: PHREEQC finds no solution."""


def phreeqc(waters: Spread) -> Reference:
    """Return PHREEQC's own figures for the waters."""
    program = VIPhreeqc()
    program.load_database(str(files("phreeqpython") / "database" / "phreeqc.dat"))
    rows = []
    for i in range(len(waters.ph)):
        try:
            program.run_string((PUNCH if not rows else "") + _solution(i + 1, waters, i))
            rows.append(program.get_selected_output_array()[1:])
        except Exception as error:
            if "non-carbonate alkalinity greater" not in str(error):
                raise
            rows.append(NO_SUCH_WATER)
    table = np.array(rows, dtype=np.float64)
    cold, calcite, hot = table[:, 0], table[:, 1], table[:, 2]
    return Reference(
        saturation=cold[:, 4],
        carbon_dioxide=cold[:, 3] * 44009.0,
        conductance=cold[:, 5],
        strength=cold[:, 1],
        potential=(cold[:, 2] - calcite[:, 2]) * 100087.0,
        hot_ph=hot[:, 0],
        hot_saturation=hot[:, 4],
    )


def _solution(number: int, waters: Spread, i: int) -> str:
    return SOLUTION.format(
        i=number,
        t=float(waters.temperature[i]),
        ph=float(waters.ph[i]),
        alk=float(waters.alkalinity[i]),
        ca=float(waters.calcium[i] / 2),
        mg=float(waters.magnesium[i] / 2),
        na=float(waters.sodium[i]),
        k=float(waters.potassium[i]),
        cl=float(waters.chloride[i]),
        so4=float(waters.sulfate[i] / 2),
    )

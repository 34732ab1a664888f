"""The pH behind a change of any kind against PHREEQC 3, over the region of `carbonate.REGION`."""

from __future__ import annotations

import numpy as np
import pytest
from simulation.phreeqc import end_of, program
from simulation.waters import water

from welltold.simulation import raw_stream
from welltold.simulation.batch import Batch
from welltold.simulation.carbonate import REGION, carbon_dioxide, ph_of

COUNT = 160
Values = dict[str, np.ndarray]


@pytest.fixture(scope="module")
def waters() -> Values:
    """Balanced waters of pH 4.6 to 10.4, soft to hard, fresh to salty, 1 to 39 C."""
    chance = np.random.default_rng(7)

    def between(low: float, high: float) -> np.ndarray:
        return np.asarray(low * (high / low) ** chance.random(COUNT))

    told = {
        "ph": 4.6 + 5.8 * chance.random(COUNT),
        "alkalinity": between(3, 500),
        "calcium": between(0.5, 150),
        "magnesium": between(0.2, 60),
        "sodium": between(1, 200),
        "temperature": 1 + 38 * chance.random(COUNT),
    }
    # charges are closed as PHREEQC is told to close them; lime that could fall out stays dissolved
    cations = told["calcium"] / 20.039 + told["magnesium"] / 12.1525 + told["sodium"] / 22.99
    short = cations - told["alkalinity"] / 50.0435
    told["sodium"] = told["sodium"] + np.maximum(-short, 0) * 22.99
    told["chloride"] = np.maximum(short, 0) * 35.453
    return told


def moved(batch: Batch, soda: np.ndarray, acid: np.ndarray, left: float) -> Batch:
    """Return a batch with so much soda ash, hydrochloric acid, and share of its gas left."""
    new = batch.copy()
    new.shift_carbon(-(1 - left) * carbon_dioxide(batch) / 44.009)
    new.shift("sodium", 2 * soda)
    new.shift_carbon(soda)
    new.shift("chloride", acid)
    return new


@pytest.mark.parametrize("way", ["nothing", "soda ash", "acid", "gas"])
def test_the_ph_is_that_of_phreeqc(waters: Values, way: str) -> None:
    batch = raw_stream(water(ph="7", alkalinity="50", calcium="9"), given=waters).batch
    chance = np.random.default_rng(11)
    some = chance.random(COUNT)
    none = np.zeros(COUNT)
    alkalinity = waters["alkalinity"] / 50.0435
    soda = 0.5 * alkalinity * some if way == "soda ash" else none
    acid = 0.6 * alkalinity * some if way == "acid" else none
    left = 0.2 if way == "gas" else 1.0
    gas = (1 - left) * np.nan_to_num(carbon_dioxide(batch)) / 44.009
    ours, run = ph_of(moved(batch, soda, acid, left)), program()
    apart = []
    for i in range(COUNT):
        if not np.isfinite(ours[i]):
            continue
        told = {slug: float(value[i]) for slug, value in waters.items()}
        then = f"REACTION 1\n Na2CO3 {soda[i]}\n HCl {acid[i]}\n CO2 {-gas[i]}\n 1 mmol\n"
        try:
            theirs = end_of(run, told, told["temperature"], then)[0]
        except Exception as error:
            if "non-carbonate alkalinity greater" not in str(error):
                raise
            continue
        if REGION["ph"][0] <= theirs <= REGION["ph"][1]:
            apart.append(abs(ours[i] - theirs))
    assert len(apart) > 100
    assert max(apart) < 0.05

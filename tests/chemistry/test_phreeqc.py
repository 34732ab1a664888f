"""Against PHREEQC 3 over the whole range, ion pairs on: the worst of all waters counts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from chemistry.waters import Reference, Spread, phreeqc, spread

from welltold.chemistry import (
    carbonate_system,
    conductance,
    heated,
    langelier_index,
    langelier_ph,
    precipitation_potential,
    saturation,
)

COUNT = 700


@pytest.fixture(scope="module")
def waters() -> Spread:
    return spread(COUNT)


@pytest.fixture(scope="module")
def reference(waters: Spread) -> Reference:
    return phreeqc(waters)


def worst(ours: object, theirs: object) -> float:
    """Return the largest difference; neither side may be NaN where the other is not."""
    apart = np.abs(np.asarray(ours) - np.asarray(theirs))
    assert np.count_nonzero(~np.isnan(apart)) >= 500
    return float(np.nanmax(apart))


def test_the_spread_covers_the_range(waters: Spread) -> None:
    # every input is used once in each of its steps
    assert waters.ph.min() < 4.51
    assert waters.ph.max() > 9.49
    assert waters.temperature.min() < 3.1
    assert waters.temperature.max() > 59.9
    assert waters.alkalinity.min() * 50.0435 < 2.02
    assert waters.alkalinity.max() * 50.0435 > 595
    positive = waters.calcium + waters.magnesium + waters.sodium + waters.potassium
    assert positive == pytest.approx(waters.alkalinity + waters.chloride + waters.sulfate)


def test_the_same_waters_are_impossible(waters: Spread, reference: Reference) -> None:
    """Less alkalinity than the hydroxide of the pH: PHREEQC finds no solution, we say NaN."""
    ours = np.isnan(np.asarray(saturation(waters.water(ions=True))))
    assert ours.tolist() == np.isnan(reference.saturation).tolist()
    assert 0 < ours.sum() < 10


def test_with_all_ions(waters: Spread, reference: Reference) -> None:
    water = waters.water(ions=True)
    hot, system = heated(water), carbonate_system(water)
    assert worst(saturation(water), reference.saturation) < 0.05
    assert worst(hot.saturation, reference.hot_saturation) < 0.12
    assert worst(hot.ph, reference.hot_ph) < 0.05
    assert worst(system.ionic_strength, reference.strength) < 0.002
    gas = np.asarray(system.carbon_dioxide) / reference.carbon_dioxide
    assert worst(gas, np.ones(COUNT)) < 0.08
    apart = np.abs(np.asarray(precipitation_potential(water)) - reference.potential)
    assert worst(apart / (5 + 0.03 * np.abs(reference.potential)), np.zeros(COUNT)) < 1


def test_as_a_short_sheet_has_them(waters: Spread, reference: Reference) -> None:
    """Calcium, magnesium, alkalinity, pH and the solids only: pairs with sulfate are missed."""
    water = waters.water(ions=False)
    inside = waters.solids <= 3000
    ours = np.where(inside, np.asarray(saturation(water)), np.nan)
    assert worst(ours, reference.saturation) < 0.14
    hot = np.where(inside, np.asarray(heated(water).saturation), np.nan)
    assert worst(hot, reference.hot_saturation) < 0.15
    assert np.isnan(np.asarray(saturation(water))[~inside]).all(), "refused above 3000 mg/L"


def test_the_logarithmic_formula_where_it_is_offered(waters: Spread, reference: Reference) -> None:
    """Within 0.5 of PHREEQC in its range; above pH 8.5 it is off by much more and refused."""
    alkalinity = waters.alkalinity * 50.0435
    ph_s = langelier_ph(waters.solids, waters.temperature, waters.calcium * 50.0435, alkalinity)
    offered = np.asarray(langelier_index(waters.ph, ph_s))
    apart = np.abs(offered - reference.saturation)
    assert np.count_nonzero(~np.isnan(apart)) > 400
    assert np.nanmax(apart) < 0.5
    assert np.isnan(offered[(waters.ph > 8.5) | (waters.solids > 1500)]).all()


def test_conductance(waters: Spread) -> None:
    """Within 3 % below and 8 % above, sour and very alkaline waters aside."""
    cool = replace(waters, temperature=np.full_like(waters.ph, 25.0))
    theirs = phreeqc(cool).conductance
    ours = np.asarray(
        conductance(
            {
                "calcium": waters.calcium * 20.039,
                "magnesium": waters.magnesium * 12.1525,
                "sodium": waters.sodium * 22.99,
                "potassium": waters.potassium * 39.098,
                "alkalinity": waters.alkalinity * 50.0435,
                "chloride": waters.chloride * 35.453,
                "sulfate": waters.sulfate * 48.03,
            }
        )
    )
    asked = (waters.ph > 6) & (waters.ph < 8.5) & (theirs <= 8000)
    ratio = ours[asked] / theirs[asked]
    assert ratio.size > 250
    assert ratio.min() > 0.97
    assert ratio.max() < 1.08

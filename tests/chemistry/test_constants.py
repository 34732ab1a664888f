"""Every constant against the activities that PHREEQC 3 finds in one water, cold to hot."""

from __future__ import annotations

from importlib.resources import files

import pytest
from phreeqpython.viphreeqc import VIPhreeqc

from welltold.chemistry import log_constant

NAMES = {
    # the pair, then what it is made of, as phreeqc.dat calls them
    "calcium_bicarbonate": ("CaHCO3+", "Ca+2", "HCO3-"),
    "calcium_carbonate": ("CaCO3", "Ca+2", "CO3-2"),
    "calcium_sulfate": ("CaSO4", "Ca+2", "SO4-2"),
    "magnesium_bicarbonate": ("MgHCO3+", "Mg+2", "HCO3-"),
    "magnesium_carbonate": ("MgCO3", "Mg+2", "CO3-2"),
    "magnesium_sulfate": ("MgSO4", "Mg+2", "SO4-2"),
    "magnesium_hydroxide": ("MgOH+", "Mg+2", "OH-"),
    "sodium_bicarbonate": ("NaHCO3", "Na+", "HCO3-"),
    "sodium_carbonate": ("NaCO3-", "Na+", "CO3-2"),
    "sodium_sulfate": ("NaSO4-", "Na+", "SO4-2"),
    "potassium_sulfate": ("KSO4-", "K+", "SO4-2"),
    "hco3": ("CO3-2", "HCO3-"),
    "co2": ("HCO3-", "CO2"),
    "water": ("OH-",),
}
NEAR = {"water": 0.02, "magnesium_hydroxide": 0.05}
"""Another formula for water (Harned and Hamer 1933), on which the second one rests too."""
ACIDS = frozenset({"hco3", "co2", "water"})
"""These set a hydrogen ion free."""
SPECIES = sorted({one for names in NAMES.values() for one in names} | {"H+", "H2O"})
WATER = """SOLUTION 1
 temp {celsius}
 pH 7.8
 units mmol/kgw
 Alkalinity 3
 Ca 2
 Mg 1
 Na 2
 K 1
 S(6) 1
 Cl 2 charge
SELECTED_OUTPUT 1
 -reset false
 -si Calcite
USER_PUNCH 1
 -headings {heads}
 -start
 10 PUNCH {asked}
 -end
END
"""


def activities(celsius: float) -> dict[str, float]:
    """Return log10 of every activity, and the saturation with calcite."""
    program = VIPhreeqc()
    program.load_database(str(files("phreeqpython") / "database" / "phreeqc.dat"))
    asked = ", ".join(f'LA("{one}")' for one in SPECIES)
    heads = " ".join(f"x{i}" for i in range(len(SPECIES)))
    program.run_string(WATER.format(celsius=celsius, heads=heads, asked=asked))
    saturation, *found = program.get_selected_output_array()[-1]
    return dict(zip(SPECIES, found, strict=True)) | {"calcite": saturation}


@pytest.mark.parametrize("celsius", [4.0, 12.0, 25.0, 42.0, 60.0])
def test_constants_against_phreeqc(celsius: float) -> None:
    log_activity = activities(celsius)
    for name, (product, *parts) in NAMES.items():
        constant = log_activity[product] - sum(log_activity[one] for one in parts)
        if name in ACIDS:
            constant += log_activity["H+"]
        near = NEAR.get(name, 0.003)
        assert log_constant(name, celsius) == pytest.approx(constant, abs=near), name
    product = log_activity["Ca+2"] + log_activity["CO3-2"]
    calcite = product - log_activity["calcite"]
    assert log_constant("calcite", celsius) == pytest.approx(calcite, abs=0.003)

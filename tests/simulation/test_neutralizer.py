"""Calcite and magnesia against PHREEQC 3 and against the vectors worked out with it."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from simulation.phreeqc import end_of, program
from simulation.waters import water

from welltold.simulation import StageRefused, after, raw_stream
from welltold.simulation.batch import Batch
from welltold.simulation.carbonate import carbon_dioxide, ph_of
from welltold.simulation.equilibrium import CALCITE, MAGNESIA, add, until_full
from welltold.simulation.kinetics import POROSITY, Bed, dissolved_in

MG_PER_MMOL = 100.087
# Ca, Mg, alkalinity, pH; CO2; then pH and rise at equilibrium, rise to pH 6.8, 7.0 and 7.2.
# Worked out with PHREEQC 3 (phreeqpython 1.6.2, phreeqc.dat) at 12 C before this code was written.
VECTORS = {
    "C30": ((6, 2, 20, 6.0), 47.4, 7.77, 98.7, (49.8, 64.1, 76.5)),
    "C31": ((5, 1.5, 15, 5.8), 56.6, 7.68, 116.1, (63.7, 79.8, 93.8)),
    "C32": ((12, 3, 40, 6.5), 29.6, 7.92, 62.3, (18.5, 30.4, 40.8)),
    "C33": ((18, 4, 60, 6.3), 69.8, 7.43, 125.2, (60.3, 84.8, 105.9)),
    "C34": ((3, 1, 10, 5.5), 76.5, 7.52, 150.5, (91.2, 111.7, 129.6)),
    "C35": ((14, 4, 50, 6.0), 116.6, 7.21, 192.2, (124.6, 159.8, 190.3)),
}
COUNT = 250
BED = Bed(depth_cm=76.2, speed_cm_s=0.6, grain_cm=0.12)
"""30 inches of 1.2 mm grains at 8.8 gpm a square foot: 5 gpm through a 10-inch tank."""


def exact(name: str) -> Batch:
    calcium, magnesium, alkalinity, ph = VECTORS[name][0]
    told = {"calcium": calcium, "magnesium": magnesium, "alkalinity": alkalinity, "ph": ph}
    return raw_stream(water("12", **{slug: str(value) for slug, value in told.items()})).batch


def spread() -> dict[str, np.ndarray]:
    """Waters of the whole region: acid to nearly full, soft to hard, cold to warm."""
    chance = np.random.default_rng(20261125)

    def between(low: float, high: float, *, ratio: bool = False) -> np.ndarray:
        share = (chance.permutation(COUNT) + chance.random(COUNT)) / COUNT
        if ratio:
            return np.asarray(low * (high / low) ** share)
        return np.asarray(low + share * (high - low))

    return {
        "ph": between(5.0, 7.6),
        "alkalinity": between(4, 250, ratio=True),
        "calcium": between(1, 120, ratio=True),
        "magnesium": between(0.3, 40, ratio=True),
        "sodium": between(1, 150, ratio=True),
        "chloride": between(1, 250, ratio=True),
        "temperature": between(3, 30),
    }


@pytest.fixture(scope="module")
def waters() -> dict[str, np.ndarray]:
    told = spread()
    # PHREEQC closes the charge with chloride; so do we
    cations = told["calcium"] / 20.039 + told["magnesium"] / 12.1525 + told["sodium"] / 22.99
    short = cations - told["alkalinity"] / 50.0435
    told["sodium"] = told["sodium"] + np.maximum(-short, 0) * 22.99
    told["chloride"] = np.maximum(short, 0) * 35.453
    return told


@pytest.fixture(scope="module")
def batch(waters: dict[str, np.ndarray]) -> Batch:
    return raw_stream(water(ph="6", alkalinity="20", calcium="6"), given=waters).batch


def one(waters: dict[str, np.ndarray], i: int) -> tuple[dict[str, float], float]:
    told = {slug: float(value[i]) for slug, value in waters.items()}
    return told, told["temperature"]


def hardness(batch: Batch) -> np.ndarray:
    return np.asarray((batch.get("calcium") + batch.get("magnesium")) * 50.0435)


@pytest.mark.parametrize("name", VECTORS)
def test_the_published_vectors(name: str) -> None:
    start = exact(name)
    _, gas, ph, rise, to_ph = VECTORS[name]
    amount = until_full(start, CALCITE).amount
    full = start.copy()
    add(full, CALCITE, amount)
    assert carbon_dioxide(start) == pytest.approx(gas, abs=0.6)
    assert ph_of(full) == pytest.approx(ph, abs=0.03)
    assert amount * MG_PER_MMOL == pytest.approx(rise, abs=2)
    for target, raised in zip((6.8, 7.0, 7.2), to_ph, strict=True):
        part = start.copy()
        add(part, CALCITE, np.full_like(amount, raised / MG_PER_MMOL))
        assert ph_of(part) == pytest.approx(target, abs=0.03)


def test_the_equilibrium_end_is_that_of_phreeqc(
    waters: dict[str, np.ndarray], batch: Batch
) -> None:
    """pH within 0.1 and hardness within 5 %, over the region of ``spread``."""
    full = batch.copy()
    add(full, CALCITE, until_full(batch, CALCITE).amount)
    run = program()
    theirs = np.array(
        [
            end_of(run, *one(waters, i), "EQUILIBRIUM_PHASES 1\n Calcite 0 10\n")
            for i in range(COUNT)
        ]
    )
    soft = until_full(batch, CALCITE).amount > 0.002
    assert soft.sum() > 200
    hard = (theirs[:, 1] + theirs[:, 2]) * 2 * 50043.5
    assert np.abs(ph_of(full) - theirs[:, 0])[soft].max() < 0.1
    assert np.abs(hardness(full) / hard - 1)[soft].max() < 0.05


def test_the_magnesia_end_is_that_of_phreeqc(waters: dict[str, np.ndarray], batch: Batch) -> None:
    """Full of calcite first, then of magnesia, nothing coming out again."""
    full = batch.copy()
    add(full, CALCITE, until_full(batch, CALCITE).amount)
    calcite = full.get("calcium").copy()
    amount = until_full(full, MAGNESIA).amount
    add(full, MAGNESIA, amount)
    run, ours = program(), ph_of(full)
    seen = 0
    for i in range(0, COUNT, 5):
        told, celsius = one(waters, i)
        told["calcium"] = float(batch.get("calcium")[i] * 20.039)
        grown = (calcite[i] - batch.get("calcium")[i]) / 2
        if not np.isfinite(ours[i]):
            continue
        seen += 1
        then = f"REACTION 1\n CaCO3 1\n {grown} mmol\nEQUILIBRIUM_PHASES 1\n Brucite 0 10\n"
        ph, _, magnesium = end_of(run, told, celsius, then)
        assert ours[i] == pytest.approx(ph, abs=0.1)
        assert full.get("magnesium")[i] / 2 == pytest.approx(magnesium * 1000, rel=0.05)
    assert seen > 20


def test_the_kinetic_end_is_never_above_phreeqc_s_own_integration(
    waters: dict[str, np.ndarray], batch: Batch
) -> None:
    """The same rate law, film and time in a batch; ours is rounded down by up to 15 %."""
    end = until_full(batch, CALCITE)
    most, ours = end.amount, dissolved_in(batch, end, BED)
    run = program()
    ratios = []
    for i in range(0, COUNT, 5):
        if most[i] < 0.05:
            continue
        told, celsius = one(waters, i)
        kelvin = celsius + 273.15
        # film: 1.09 / porosity * (U / d2)^(1/3) * D^(2/3); D from 9.31e-5 at 25 C
        thick = [2.414e-5 * 10 ** (247.8 / (t - 140.0)) for t in (298.15, kelvin)]
        spreads = 9.31e-5 * kelvin / 298.15 * thick[0] / thick[1]
        film = 1.09 / POROSITY * (BED.speed_cm_s / BED.grain_cm**2) ** (1 / 3) * spreads ** (2 / 3)
        kinetics = (
            f"KINETICS 1\nBed\n -formula CaCO3 1\n -m 10\n -parms {BED.surface} {film}\n"
            f" -steps {BED.seconds} in 1 steps\n -tol 1e-8\n"
        )
        _, calcium, _ = end_of(run, told, celsius, kinetics)
        gone = calcium * 1000 - batch.get("calcium")[i] / 2
        ratios.append(ours[i] / gone)
    assert len(ratios) > 35
    assert max(ratios) < 1.03
    assert min(ratios) > 0.85


def test_longer_in_the_bed_dissolves_more_and_never_more_than_full(batch: Batch) -> None:
    end = until_full(batch, CALCITE)
    most = end.amount
    told = np.isfinite(most)
    assert told.sum() > 200
    before = np.zeros_like(most)
    for inches in (1, 5, 12, 30, 60, 600):
        gone = dissolved_in(batch, end, Bed(inches * 2.54, 0.6, 0.12))
        assert np.all((gone >= before - 1e-9)[told])
        assert np.all((gone <= most + 1e-9)[told])
        before = gone
    assert np.median((before / np.maximum(most, 1e-9))[told]) > 0.99
    coarse = dissolved_in(batch, end, Bed(76.2, 0.6, 0.4))
    assert np.all((coarse <= dissolved_in(batch, end, BED) + 1e-9)[told])


def test_a_neutralizer_is_told_as_a_range() -> None:
    """C30 through 30 inches at 5 gpm in a 10-inch tank: the softener is set on the high end."""
    told = {"ph": "6.0", "alkalinity": "20", "calcium": "6", "magnesium": "2"}
    size = {"service_gpm": Decimal(5), "tank_in": Decimal(10), "bed_depth_in": Decimal(30)}
    stream = after("calcite_neutralizer", raw_stream(water("12", **told)), size)
    hard, ph = stream.quantities()["hardness"], stream.quantities()["ph"]
    assert hard.low is not None
    assert hard.high is not None
    assert ph.low is not None
    assert Decimal(55) < hard.low < Decimal(80)  # raw hardness 23.2, at 5 gpm not full
    assert hard.high == pytest.approx(Decimal("121.9"), abs=Decimal("1.5"))  # 23.2 + 98.7
    assert ph.high == pytest.approx(Decimal("7.77"), abs=Decimal("0.03"))
    assert ph.low < Decimal(7)
    amount = stream.amount("hardness", "mg/L", "CaCO3")
    assert amount is not None
    assert amount.sure


def test_a_smaller_flow_raises_the_low_end_only() -> None:
    told = {"ph": "6.0", "alkalinity": "20", "calcium": "6", "magnesium": "2"}
    ends = []
    for gpm in (10, 5, 2):
        size = {"service_gpm": Decimal(gpm), "tank_in": Decimal(10), "bed_depth_in": Decimal(30)}
        hard = after("calcite_neutralizer", raw_stream(water("12", **told)), size).quantities()
        ends.append((hard["hardness"].low, hard["hardness"].high))
    lows = [low for low, _ in ends if low is not None]
    assert lows == sorted(lows)
    assert lows[0] < lows[-1]
    assert len({high for _, high in ends}) == 1


def test_a_ph_of_the_laboratory_leaves_the_far_end_open() -> None:
    told = {"ph": "6.0", "alkalinity": "20", "calcium": "6", "magnesium": "2"}
    raw = raw_stream(water("12", field_ph=False, **told))
    assert raw.quantities()["carbon_dioxide"].high is None
    out = after("calcite_neutralizer", raw)
    assert out.quantities()["hardness"].high is None
    assert out.quantities()["ph"].low is None
    amount = out.amount("hardness", "mg/L", "CaCO3")
    assert amount is not None
    assert not amount.sure


@pytest.mark.parametrize(
    ("celsius", "ph", "alkalinity", "outside"),
    [("12", "4.2", "20", "ph"), ("12", "6", "1", "ph"), ("12", "6", "900", "ph")],
)
def test_outside_of_the_checked_region_it_is_refused(
    celsius: str, ph: str, alkalinity: str, outside: str
) -> None:
    stream = raw_stream(water(celsius, ph=ph, alkalinity=alkalinity, calcium="6", magnesium="2"))
    with pytest.raises(StageRefused) as refused:
        after("calcite_neutralizer", stream)
    assert refused.value.outside == outside
    assert not refused.value.missing

"""A stream says what is known of the water, and no more."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from simulation.waters import water

from welltold.simulation import StageRefused, after, raw_stream
from welltold.stage_files import stage_names

ACID = {"ph": "6.0", "alkalinity": "20", "calcium": "6", "magnesium": "2", "sulfate": "12"}


def test_the_raw_water_is_what_the_sheet_says() -> None:
    stream = raw_stream(water(iron="3", hydrogen_sulfide="<0.5", **ACID))
    for slug in ("ph", "alkalinity", "calcium", "iron", "sulfate", "hydrogen_sulfide"):
        unit = "SU" if slug == "ph" else "mg/L"
        assert stream.amount(slug, unit) == stream.raw.amount(slug, unit), slug
    told = stream.quantities()
    assert told["hydrogen_sulfide"].low == 0
    assert told["hydrogen_sulfide"].high == Decimal("0.5")
    assert stream.amount("lead", "mg/L") is None
    assert stream.temperature_c == 12


@pytest.mark.parametrize("stage", stage_names())
def test_every_stage_can_be_gone_through(stage: str) -> None:
    stream = after(stage, raw_stream(water(iron="3", manganese="0.2", hardness="23", **ACID)))
    assert stream.through == (stage,)
    assert stream.quantities()


def test_a_missing_input_is_named() -> None:
    with pytest.raises(StageRefused) as refused:
        after("calcite_neutralizer", raw_stream(water(ph="6.0", calcium="6")))
    assert "alkalinity" in refused.value.missing
    assert "Alkalinity" in refused.value.why.text


def test_draws_are_what_they_were_given() -> None:
    """Two hundred readings of one pH, and each one goes its own way."""
    chance = np.random.default_rng(1)
    ph = 6.0 + 0.1 * chance.standard_normal(200)
    raw = raw_stream(water(**ACID), given={"ph": ph})
    assert np.allclose(raw.values("ph"), ph, atol=1e-6)
    out = after("calcite_neutralizer", raw)
    hard = out.values("hardness")
    assert hard is not None
    assert hard.shape == (200,)
    assert np.corrcoef(ph, hard)[0, 1] < -0.5  # more acid water takes more calcite


def test_how_a_fact_is_known() -> None:
    raw = raw_stream(water(iron="3", arsenic="0.02", nitrate="12", **ACID))
    assert {raw.how(fact) for fact in ("iron", "arsenic", "ph")} == {"raw"}
    assert raw.how("sodium") == "assumed"
    filtered = after("air_injection_filter", raw)
    assert filtered.how("iron") == "practice"
    assert filtered.how("arsenic") == "at_most"
    before = filtered.amount("arsenic", "mg/L")
    assert before is not None
    assert (before.low, before.high, before.sure) == (0, Decimal("0.02"), False)
    assert "arsenic" not in filtered.quantities()
    assert after("anion_exchanger", raw).how("nitrate") == "unknown"
    assert after("softener", raw).how("hardness") == "verified"


def test_what_follows_from_a_changed_figure_is_no_longer_told() -> None:
    raw = raw_stream(water(specific_conductance="300", sulfide="1", bicarbonate="24", **ACID))
    assert raw.amount("specific_conductance", "uS/cm") is not None
    soft = after("softener", raw)
    assert soft.amount("specific_conductance", "uS/cm") is None
    limed = after("calcite_neutralizer", raw)
    assert limed.amount("bicarbonate", "mg/L", "HCO3") is None
    fed = after("peroxide_feed", raw).amount("sulfide", "mg/L", "S")
    assert fed is not None
    assert fed.high is not None
    assert fed.high < Decimal("0.06")


def test_a_result_in_doubt_makes_what_follows_from_it_doubtful() -> None:
    from simulation.waters import finding

    blurred = finding("calcium", "60", confidence=0.5)
    told = {"ph": "7.4", "alkalinity": "200", "magnesium": "12", "sodium": "9", "iron": "1"}
    soft = after("softener", raw_stream(water(more=(blurred,), **told)))
    sodium = soft.amount("sodium", "mg/L")
    assert sodium is not None
    assert not sodium.sure
    clear = after("softener", raw_stream(water(calcium="60", **told))).amount("sodium", "mg/L")
    assert clear is not None
    assert clear.sure


def test_the_temperature_comes_from_the_sheet_or_the_site_and_is_a_range_otherwise() -> None:
    from welltold.reading import Result, Sample
    from welltold.site import Site
    from welltold.treatment.water import Water

    cold = Result(
        "temperature", "Temperature (field)", "9.5", "value", "=", Decimal("9.5"), unit="degC"
    )
    assert raw_stream(Water((), Sample(results=(cold,)), Site())).temperature_c == Decimal("9.5")
    unknown = raw_stream(water(None, **ACID))
    assert unknown.temperature_c is None
    wide = after("calcite_neutralizer", unknown).span("ph")
    narrow = after("calcite_neutralizer", raw_stream(water("12", **ACID))).span("ph")
    assert wide is not None
    assert narrow is not None
    assert wide[0] < narrow[0]
    assert wide[1] > narrow[1]


def test_figures_are_told_without_false_digits() -> None:
    told = {"hardness": "1234", "sodium": "0.0125", "sulfate": "1234.56"}
    shown = raw_stream(water(iron="<0.05", **told)).quantities()
    texts = {slug: (str(one.low), str(one.high)) for slug, one in shown.items()}
    assert texts["hardness"] == ("1234", "1234")
    assert texts["sodium"] == ("0.0125", "0.0125")
    assert texts["sulfate"] == ("1235", "1235")
    assert texts["iron"] == ("0", "0.05")
    soft = after("softener", raw_stream(water(**told))).quantities()
    # 459 mg/L of sodium for each 1000 of hardness: 7.86 for a grain; 17.1 may be left
    assert (str(soft["sodium"].low), str(soft["sodium"].high)) == ("559", "567")


def test_an_expected_ph_is_told_in_tenths_outwards() -> None:
    """Soda ash aims at 7 to 8; C30 reaches 7.77 in calcite: 7.8, not 7.9."""
    raw = raw_stream(water(**ACID))
    fed = after("soda_ash_feed", raw)
    told = fed.quantities()["ph"]
    assert (str(told.low), str(told.high)) == ("7.0", "8.0")
    amount = fed.amount("ph", "SU")
    assert amount is not None
    assert amount.holds(">=", Decimal("7.0")) is True
    assert str(after("calcite_neutralizer", raw).quantities()["ph"].high) == "7.8"

"""A stream says what is known of the water, and no more."""

from __future__ import annotations

from decimal import Decimal

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

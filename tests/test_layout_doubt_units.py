"""A unit that many results share is doubted when their numbers are all off in one direction."""

from __future__ import annotations

from decimal import Decimal

from welltold.analytes import analyte
from welltold.reading import Normalized, Result, Sample
from welltold_parsers.layout.doubt_units import doubt_units


def _result(slug: str, times: str, unit: str = "mg/L") -> Result:
    """Make a result so many times the most that natural groundwater holds."""
    known = analyte(slug)
    assert known.natural_high is not None
    value = known.natural_high * Decimal(times)
    shape = Normalized(value, known.unit, known.basis)
    return Result(slug, slug, str(value), "value", value=value, unit=unit, normalized=shape)


def _doubted(*results: Result) -> list[str | None]:
    samples = doubt_units((Sample(results=results),))
    return [r.analyte for r in samples[0].results if "read.unit_slip" in {m.code for m in r.review}]


def test_many_values_far_off_in_one_direction_doubt_the_unit_of_all() -> None:
    found = _doubted(
        _result("arsenic", "300"),
        _result("lead", "300"),
        _result("barium", "300"),
        _result("chloride", "0.1"),
    )
    assert found == ["arsenic", "lead", "barium", "chloride"]


def test_another_unit_on_the_same_sheet_is_left_alone() -> None:
    found = _doubted(
        _result("arsenic", "300"),
        _result("lead", "300"),
        _result("barium", "300"),
        _result("chloride", "0.1", unit="ug/L"),
    )
    assert found == ["arsenic", "lead", "barium"]


def test_two_bad_values_are_bad_water() -> None:
    assert _doubted(_result("arsenic", "300"), _result("lead", "300")) == []


def test_ordinary_values_raise_no_doubt() -> None:
    assert _doubted(*(_result(s, "0.5") for s in ("arsenic", "lead", "barium", "chloride"))) == []

"""Numbers of samples such as "26-118803" look like ranges, and are none."""

from __future__ import annotations

import pytest
from tests.layout_sheets import read_csv


@pytest.mark.parametrize("numbers", [("26-118803", "26-118804"), ("26-0118", "26-0119")])
def test_the_number_of_a_sample_with_a_year_before_it_is_no_range(numbers: tuple[str, str]) -> None:
    rows = "\n".join(
        f"{number},{name},{value},mg/L"
        for number in numbers
        for name, value in (("Arsenic", "0.0061"), ("Barium", "0.142"), ("Iron", "0.3"))
    )
    reading = read_csv(f"LAB_SAMPLE_NUM,ANALYTE_NAME,CONCENTRATION,CONC_UOM\n{rows}")
    assert tuple(s.id for s in reading.samples) == numbers
    assert [len(s.results) for s in reading.samples] == [3, 3]

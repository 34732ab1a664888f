"""A flag for "not found" beside a measured number, and limits that cells name themselves."""

from __future__ import annotations

import pytest
from tests.layout_sheets import brief, read_csv, read_page, table

ROW = "Client ID,Radionuclide,Activity,Unc.,MDC,Qual,Units\nWell,Radium-226,3.68,0.65,0.31,,pCi/L\n"


@pytest.mark.parametrize(
    ("number", "below", "use"),
    [
        ("0.10", "<0.74", "as_is"),
        ("0.74", "<0.74", "as_is"),
        ("-0.07", "<0.74", "look"),
        ("1.24", "<1.24", "look"),
    ],
)
def test_a_measured_number_flagged_is_below_the_limit(number: str, below: str, use: str) -> None:
    reading = read_csv(f"{ROW}Well,Radium-228,{number},0.24,0.74,U,pCi/L\n")
    plain, flagged = reading.results
    assert brief(plain)[:2] == ("radium_226", "3.68")
    assert brief(flagged)[:2] == ("radium_228", below)
    assert (flagged.text, flagged.use) == (number, use)


def test_one_of_two_limits_or_a_number_between_stays_with_its_flag() -> None:
    reading = read_csv(
        "Sample ID,Analyte,Result,Flag,MDL,RL,Units\nA,Lead,1.0,U,0.4,1.0,ug/L\n"
        "A,Arsenic,0.4,U,0.4,1.0,ug/L\nA,Copper,0.6,U,0.4,1.0,ug/L\nA,Zinc,12,,4,10,ug/L\n"
    )
    assert [brief(r)[1] for r in reading.results] == ["<1.0", "<0.4", "<0.6", "12"]


def test_a_cell_without_a_head_names_the_limit_of_its_row() -> None:
    rows = """
METALS (ug/L)
Aluminum|BDL|DL 10
Barium|53|DL 5
Lead|BDL|DL 0.5
Nickel|14.5|DL 1.0
Selenium|BDL|DL 1.0
"""
    reading = read_page(*table((60.0, 260.0, 400.0), rows))
    assert [brief(r)[:3] for r in reading.results] == [
        ("aluminum", "<10", "ug/L"),
        ("barium", "53", "ug/L"),
        ("lead", "<0.5", "ug/L"),
        ("nickel", "14.5", "ug/L"),
        ("selenium", "<1.0", "ug/L"),
    ]
    assert [str(r.detection_limit) for r in reading.results] == ["10", "5", "0.5", "1.0", "1.0"]


def test_a_name_goes_before_the_number_that_stands_for_it() -> None:
    reading = read_csv(
        "STATION_ID,SAMPLE_NO,START_DATE,PARM_CD,PARM_NAME,RESULT_VALUE,UNIT\n"
        'W1,T1,20260302,00400,"PH, LAB, STANDARD UNITS",6.33,SU\n'
        'W1,T1,20260302,00929,"SODIUM, TOTAL (AS NA)",45.3,MG/L\n'
        'W1,T1,20260302,01002,"ARSENIC, TOTAL (AS AS)",1.5,UG/L\n'
    )
    assert [(r.analyte, r.label) for r in reading.results] == [
        ("ph", "PH, LAB, STANDARD UNITS"),
        ("sodium", "SODIUM, TOTAL (AS NA)"),
        ("arsenic", "ARSENIC, TOTAL (AS AS)"),
    ]
    assert [s.collected for s in reading.samples] == ["2026-03-02"]


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("BARIUM, TOTAL (AS BA)", "barium"),
        ("Cadmium as Cd", "cadmium"),
        ("Selenium, total (as Se)", "selenium"),
        ("Strontium (as Sr)", "strontium"),
        ("Barium (as Cd)", None),
    ],
)
def test_an_element_may_be_counted_as_itself(name: str, slug: str | None) -> None:
    reading = read_csv(
        f'Sample ID,Analyte,Result,Units\nA,Lead,1.0,ug/L\nA,"{name}",22,ug/L\nA,Zinc,12,ug/L\n'
    )
    assert [r.analyte for r in reading.results] == ["lead", slug, "zinc"]

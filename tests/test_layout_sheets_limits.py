"""Data files that tell "not found" and its limit in columns of their own."""

from __future__ import annotations

import pytest
from tests.layout_sheets import brief, read_csv

HEADS = (
    "Sampling Point,Lab Sample No.,Sample Date,Analyte Name,Less than Indicator,Level Type,"
    "Reporting Level,Reporting Level Units,Concentration,Concentration Units"
)
INDICATOR = """
EP01,AB1,2024-04-08,ARSENIC,Y,MRL,0.001,MG/L,,
EP01,AB1,2024-04-08,BARIUM,N,,,,0.051,MG/L
EP01,AB1,2024-04-08,NICKEL,Y,MRL,2.0,UG/L,,MG/L
EP01,AB1,2024-04-08,SODIUM,N,,,,147,MG/L
"""


def test_a_limit_with_a_unit_of_its_own_is_the_number_of_a_less_than() -> None:
    reading = read_csv(HEADS + INDICATOR)
    assert [brief(r)[:3] for r in reading.results] == [
        ("arsenic", "<0.001", "MG/L"),
        ("barium", "0.051", "MG/L"),
        ("nickel", "<2.0", "UG/L"),
        ("sodium", "147", "MG/L"),
    ]
    assert all(r.use == "as_is" for r in reading.results)


def test_a_detection_level_is_the_limit_of_not_detected() -> None:
    reading = read_csv(
        "Sample Name,Test,Concentration,UoM,Detection Level,EPA Max\n"
        "Tub,Lead,Not Detected,PPB,1.0,15\nTub,Copper,0.348,PPM,0.010,1.3"
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("lead", "<1.0", "PPB"),
        ("copper", "0.348", "PPM"),
    ]


def test_limit_values_with_decimal_commas_leave_the_results_sure() -> None:
    reading = read_csv(
        "Sample no,Location,Date,Parameter,Value,Unit,Limit value\n"
        '1,Spring,05.03.2024,Iron,"0,105",mg/l,"0,2"\n'
        "1,Spring,05.03.2024,Escherichia coli,0,/100 ml,0\n"
        '2,Barn,06.03.2024,Iron,"<0,02",mg/l,"0,2"\n'
        "2,Barn,06.03.2024,Escherichia coli,0,/100 ml,0\n"
        '3,Well,07.03.2024,Nitrate (NO3),"3,78",mg/l,50\n'
        "3,Well,07.03.2024,Escherichia coli,0,/100 ml,0\n"
    )
    assert [r.use for r in reading.results] == ["as_is"] * 6
    assert brief(reading.results[4]) == ("nitrate", "3.78", "mg/l", "NO3")


DOTTED = """
sample.id,date,pH,As_ug.L,cens_As_ug.L,Hardness_mg.L.CaCO3,cens_Hardness_mg.L.CaCO3
PW1,2021-09-16,7.07,5.3,FALSE,50.3,FALSE
PW2,2021-10-13,5.97,1.0,TRUE,44.1,FALSE
PW3,2021-10-14,6.10,1.0,TRUE,NA,NA
PW4,2021-10-15,6.20,2.0,FALSE,5.0,TRUE
PW5,2021-10-16,6.30,2.5,FALSE,41.0,FALSE
"""


def test_names_with_full_stops_and_columns_of_true_and_false() -> None:
    reading = read_csv(DOTTED)
    told = {(s.id, r.analyte): brief(r)[1:] for s in reading.samples for r in s.results}
    assert told["PW1", "arsenic"] == ("5.3", "ug/L", None)
    assert told["PW2", "arsenic"] == ("<1.0", "ug/L", None)
    assert told["PW4", "hardness"] == ("<5.0", "mg/L as CaCO3", "CaCO3")
    assert ("PW3", "hardness") not in told
    assert all(r.use == "as_is" for r in reading.results)


@pytest.mark.parametrize("head", ["ArsenicUgL", "Arsenic_UgL", "arsenicUgPerL"])
def test_a_unit_that_is_the_last_word_of_joined_capitals(head: str) -> None:
    reading = read_csv(f"Well,Date,{head},pH\nA,2024-05-01,12,7.1\nB,2024-05-01,13,7.2")
    assert brief(reading.results[0])[:3] == ("arsenic", "12", "ug/L")


def test_rows_of_units_and_limits_lots_notes_and_an_average() -> None:
    reading = read_csv(
        "Lot,Owner,Sampled,pH,Cl,NO3-N,Notes\n"
        ",,,units,mg/l,mg/l,\n"
        ",,Detection limit,0.1,1,0.1,\n"
        "Lot 7A,Crane,10-Jun-2024,6.9,5.3,10.4,new pump\n"
        "Lot 8B,Dunn,11-Jun-2024,6.7,4.1,< 0.1,\n"
        "Lot 9C,Bly,12-Jun-2024,6.8,4.4,0.3,\n"
        "Maximum,,,6.9,5.3,10.4,\n"
    )
    assert [(s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("Lot 7A", "2024-06-10", 3),
        ("Lot 8B", "2024-06-11", 3),
        ("Lot 9C", "2024-06-12", 3),
    ]
    assert reading.unread == ()
    assert [w.code for w in reading.warnings] == ["read.statistics_left_out"]
    assert all(r.qualifiers == () for r in reading.results)


@pytest.mark.parametrize("place", ["High School", "Low Ferry", "Upper limit Road"])
def test_a_place_that_begins_like_a_limit_is_a_place(place: str) -> None:
    reading = read_csv(
        f"Building,Collected,Lead (mg/L)\n{place},12/27/2022,0.0107\n{place},12/28/2022,<0.001"
    )
    assert [(s.point, len(s.results)) for s in reading.samples] == [(place, 1), (place, 1)]


def test_a_row_of_nines_is_no_number_and_answers_of_a_germ_are_read() -> None:
    reading = read_csv(
        "WELLNO,SDATE,PH,COND,NO3N,TC,EC\n"
        "T1,2021-05-03,6.15,-999,16.2,A,A\nT2,2021-05-04,8.52,209,-9999,P,P"
    )
    told = [(r.analyte, r.text) for r in reading.results]
    assert ("specific_conductance", "-999") not in told
    assert ("nitrate", "-9999") not in told
    assert told.count(("e_coli", "A")) == told.count(("e_coli", "P")) == 1

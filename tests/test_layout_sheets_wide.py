"""Data files with one sample a row: short heads, units, columns that nobody knows."""

from __future__ import annotations

import pytest
from tests.layout_sheets import brief, read_csv

LOWER = """
Well,Date,chloride_mg_l,conductivity_us_cm,temperature_c,do,br,mg,k,na,tp,fe_diss,mn_tr
W1,2024-01-15,8.5,620,8.1,8.6,0.1,22,4.1,73,0.2,0.3,0.05
W2,2024-01-15,8.2,635,7.4,8.1,0.2,23,4.2,74,0.3,0.4,0.06
"""


def test_heads_in_small_letters_beside_other_analytes() -> None:
    reading = read_csv(LOWER)
    first = reading.samples[0].results
    assert [r.analyte for r in first] == [
        "chloride",
        "specific_conductance",
        "temperature",
        "dissolved_oxygen",
        "bromide",
        "magnesium",
        "potassium",
        "sodium",
        "phosphorus",
        "iron",
        "manganese",
    ]
    assert [r.fraction for r in first[-2:]] == ["dissolved", "total"]
    assert [r.unit for r in first[:3]] == ["mg/L", "uS/cm", "c"]


@pytest.mark.parametrize(
    ("head", "slug", "basis"),
    [
        ("nitrate_mg_N_L", "nitrate", "N"),
        ("oPhos_ug_P_L", "orthophosphate", "P"),
        ("TP_ugL", "phosphorus", None),
        ("Ca_mgL", "calcium", None),
        ("ammonia_mg_per_l", "ammonia", None),
        ("e_coli_cfu_100ml", "e_coli", None),
    ],
)
def test_units_in_the_head_joined_by_underscores(head: str, slug: str, basis: str | None) -> None:
    reading = read_csv(f"site_id,sample_date,{head},pH\nA,2024-05-01,12,7.1\nB,2024-05-01,13,7.2")
    result = reading.results[0]
    assert (result.analyte, result.basis, result.use) == (slug, basis, "as_is")


def test_one_analyte_column_is_enough_beside_a_place_and_a_day() -> None:
    reading = read_csv("site,date,Nitrate_mgL\nA,2024-05-01,1.2\nB,2024-05-02,1.3")
    assert [(s.point, [r.text for r in s.results]) for s in reading.samples] == [
        ("A", ["1.2"]),
        ("B", ["1.3"]),
    ]


def test_a_second_row_of_units_with_some_that_nobody_knows() -> None:
    reading = read_csv(
        "Sample Date,SampleID,As_diss,Ca,Cl,pH,Fe_diss,3H\n,,ug/L,mg/L,mg/L,pH,mg/L,T.U.\n"
        "1991-08-07,S1,5,5.94,1,8.4,N/A,\n1991-08-08,S2,N/A,6.94,2,8.3,0.1,"
    )
    assert [brief(r)[:3] for r in reading.samples[0].results] == [
        ("arsenic", "5", "ug/L"),
        ("calcium", "5.94", "mg/L"),
        ("chloride", "1", "mg/L"),
        ("ph", "8.4", "pH"),
    ]
    assert [brief(r)[:3] for r in reading.samples[1].results][-1] == ("iron", "0.1", "mg/L")


def test_a_table_of_many_columns_that_are_mostly_empty() -> None:
    heads = [f"X{n}" for n in range(60)]
    line = ",".join(["N/A"] * 60)
    reading = read_csv(
        f"SampleID,Sample Date,Iron_mgL,{','.join(heads)},Zinc_mgL\nS1,2024-05-01,0.2,{line},N/A"
    )
    assert [brief(r)[:2] for r in reading.results] == [("iron", "0.2")]


def test_a_column_of_numbers_that_nothing_explains_is_told_once() -> None:
    reading = read_csv(
        "Sample ID,pH,Sulfate (mg/L),Foo (mg/L),Bar,Latitude,year,is_safe\n"
        "S1,7.1,368.5,3.1,2.5,41.2,2020,1\nS2,7.4,334.6,4.4,1.5,41.3,2021,0"
    )
    assert [(u.text, u.where.cell, u.reason.code) for u in reading.unread] == [
        ("Bar: 2.5", "E1", "read.column_unknown")
    ]
    assert [(r.analyte, r.label) for r in reading.samples[0].results][-1] == (None, "Foo (mg/L)")


def test_a_second_column_of_one_analyte_is_shown_with_a_question() -> None:
    reading = read_csv(
        "Site,Date,Nitrate (mg/L),Nitrate2\nA,2024-05-01,1.2,1.4\nB,2024-05-01,2,2.4"
    )
    assert [(r.label, r.analyte, r.use) for r in reading.samples[0].results] == [
        ("Nitrate (mg/L)", "nitrate", "as_is"),
        ("Nitrate2", "nitrate", "look"),
    ]


def test_ratios_of_isotopes_are_not_the_analyte_they_stand_beside() -> None:
    reading = read_csv(
        "Site,Date,DIC (ppm),DIC 13C,pH\nA,2024-05-01,39.5,-9.9,7\nB,2024-05-02,40,-9,7"
    )
    assert [r.analyte for r in reading.samples[0].results] == ["inorganic_carbon", "ph"]
    assert [u.text for u in reading.unread] == ["DIC 13C: -9.9"]


def test_what_is_made_from_a_result_is_no_result() -> None:
    reading = read_csv(
        "site,date,nitrate_mgL,nitrate_replace,assumed_pH\nA,2024-05-01,1.2,0.6,7\nB,2024-05-02,2,0.7,7"
    )
    assert [r.label for r in reading.samples[0].results] == ["nitrate_mgL"]
    assert len(reading.unread) == 2


@pytest.mark.parametrize(
    "text",
    [
        "county,aquifer,daily_high_water_level,latitude,longitude\nA,B,227.69,31.8,-95.4\nC,D,187.1,35.1,-101",
        "name,2014,2017,2021\nIrwin,85,94,67\nPico,63,65,77",
        "Time,Country Name,People using water services (% of population)\n2000,Freedonia,11.09",
    ],
)
def test_files_about_water_without_a_result_give_none(text: str) -> None:
    assert read_csv(text).results == ()


def test_decimal_commas_of_a_wide_file() -> None:
    reading = read_csv(
        'Well,Date,Iron (mg/L),pH\nA,01.05.2024,"0,05","7,1"\nB,02.05.2024,"<0,5","7,4"'
    )
    assert [brief(r)[1] for r in reading.results] == ["0.05", "7.1", "<0.5", "7.4"]


def test_the_unit_in_a_head_over_several_columns() -> None:
    reading = read_csv(
        ",,Metals (ug/L),,Anions (mg/L),\nWell,Date,As,Pb,Cl,SO4\nA,5/1/2024,1.1,0.2,12,20"
    )
    assert [r.unit for r in reading.results] == ["ug/L", "ug/L", "mg/L", "mg/L"]


def test_two_draws_in_one_row_are_two_samples() -> None:
    reading = read_csv(
        "kit,date_sampled,first_draw_lead_ppb,flushed_lead_ppb\nK1,2024-05-01,<1,<1\nK2,2024-05-02,5,1"
    )
    assert [(s.taken, [brief(r)[1] for r in s.results]) for s in reading.samples] == [
        ("first_draw", ["<1"]),
        ("flushed", ["<1"]),
        ("first_draw", ["5"]),
        ("flushed", ["1"]),
    ]


def test_the_number_of_a_parameter_before_its_name() -> None:
    reading = read_csv("station,date,00400 pH,00618 Nitrate (mg/L as N)\nA,2024-05-01,7.1,1.2")
    assert [r.analyte for r in reading.results] == ["ph", "nitrate"]


def test_heads_that_a_statistics_program_joined_by_points() -> None:
    reading = read_csv(
        "Sample.ID,Nitrate..mg.L.as.N.,Total.Coliform..MPN.100mL.\nS-1,1.2,<1\nS-2,2,3.1"
    )
    assert [(r.analyte, r.basis) for r in reading.samples[0].results] == [
        ("nitrate", "N"),
        ("total_coliform", None),
    ]


def test_means_over_samples_are_told_and_never_read() -> None:
    reading = read_csv("Year,Nitrate avg (mg/L),Nitrate max (mg/L)\n2023,2.1,3.3\n2024,2.4,3.9")
    assert reading.results == ()
    assert {u.reason.code for u in reading.unread} == {"read.summary"}


def test_one_unit_column_serves_every_analyte_of_its_row() -> None:
    reading = read_csv(
        "DATE,WELL,NO3-N,NO3-N RL,Cl,Cl RL,Units\n2024-05-01,A,<0.05,0.05,12,0.5,mg/L"
    )
    assert [r.unit for r in reading.results] == ["mg/L", "mg/L"]


def test_a_units_code_of_a_park_is_no_unit() -> None:
    reading = read_csv("UnitCode,UnitName,Date,Iron_mgL,Zinc_mgL\nTP,Tamarack Park,2024-05-01,1,2")
    assert [(r.unit, r.use) for r in reading.results] == [("mg/L", "as_is"), ("mg/L", "as_is")]


def test_answers_in_a_column_that_could_mean_two_things() -> None:
    reading = read_csv("well,sampled,Pb_ugL,TC,EC,XY\nA,2024-05-01,2,Absent,Absent,Absent")
    assert [(r.analyte, r.use) for r in reading.results[1:]] == [
        ("total_coliform", "as_is"),
        ("e_coli", "look"),
    ]
    assert [u.text for u in reading.unread] == ["XY: Absent"]


def test_an_unknown_column_with_a_unit_asks_for_a_look() -> None:
    reading = read_csv("Well,Date,Nitrate (mg/L),Zorbinate (mg/L),pH\nA,2024-05-01,1.2,3.4,7.1")
    told = {r.label: (r.analyte, [m.code for m in r.review]) for r in reading.results}
    reasons = ["read.column_unknown", "read.label_unknown"]
    assert told["Zorbinate (mg/L)"] == (None, reasons)
    assert told["pH"] == ("ph", [])


def test_a_unit_for_the_whole_file_in_one_clause_of_a_remark() -> None:
    reading = read_csv(
        "# all concentrations in ng/L; Q=U means below the value given,,,,,\n"
        "Site,SampleID,CollectDate,PFOA,PFOA_Q,PFOS,PFOS_Q\n"
        "House 1,PF-1,2024-07-08,1.9,U,6.58,J\nHouse 2,PF-2,2024-07-08,5.68,,1.9,U"
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("pfoa", "<1.9", "ng/L"),
        ("pfos", "6.58", "ng/L"),
        ("pfoa", "5.68", "ng/L"),
        ("pfos", "<1.9", "ng/L"),
    ]


def test_na_is_sodium_and_ec_with_its_unit_is_conductance_beside_other_codes() -> None:
    # counted by hand: column D is NA, column C is EC in microsiemens
    reading = read_csv(
        "LabNo,SampDate,EC,NA,CA,MG\n,,uS/cm,mg/L,mg/L,mg/L\n"
        "H-1,2026-04-20,254,58.5,19,8.3\nH-2,2026-04-21,180,25.8,20.1,18.5"
    )
    first, second = reading.samples
    assert [(r.analyte, r.text, r.use) for r in first.results] == [
        ("specific_conductance", "254", "as_is"),
        ("sodium", "58.5", "as_is"),
        ("calcium", "19", "as_is"),
        ("magnesium", "8.3", "as_is"),
    ]
    assert [r.text for r in second.results] == ["180", "25.8", "20.1", "18.5"]


def test_ec_without_a_unit_stays_a_question() -> None:
    reading = read_csv("LabNo,EC,NO3_N,CL\nH-1,254,1.2,19\nH-2,180,3.1,20.1")
    assert [r.use for r in reading.results if r.analyte == "specific_conductance"] == ["look"] * 2

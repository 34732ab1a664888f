"""Data files as other countries and agencies write them: heads, days, names and limits."""

from __future__ import annotations

from tests.layout_sheets import brief, read_csv

GERMAN = """
Messstellennummer,Datum,Parameter,Einheit,Messwert
7701,2004-03-11,Chlorid,mg/l,"41,00"
7701,2004-03-11,Nitrat (N),mg/l N,"2,10"
7701,2004-03-11,Hydrogenkarbonat,mg/l,"250,00"
7701,2004-03-11,Quellstoff Sieben,mg/l,"3,00"
7701,2004-03-11,Blei,µg/l,"-4,00"
7701,2004-09-30,Chlorid,mg/l,"43,00"
"""


def test_two_days_of_one_german_well_are_two_samples_and_no_name_is_dropped() -> None:
    reading = read_csv(GERMAN)
    assert [(s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("7701", "2004-03-11", 5),
        ("7701", "2004-09-30", 1),
    ]
    assert [brief(r) for r in reading.samples[0].results] == [
        ("chloride", "41.00", "mg/l", None),
        ("nitrate", "2.10", "mg/l N", "N"),
        ("bicarbonate", "250.00", "mg/l", None),
        (None, "3.00", "mg/l", None),
        ("lead", "-4.00", "µg/l", None),
    ]


def test_less_than_nothing_of_a_metal_is_doubted() -> None:
    reading = read_csv(
        "Site,Analyte,Result,Units\nA,Lead,-4,ug/L\nA,Iron,0.2,mg/L\nA,Water temperature,-0.2,°C\n"
        "A,Radium-226,-0.1,pCi/L\nA,Oxidation reduction potential,-45,mV"
    )
    asked = {r.analyte: [m.code for m in r.review] for r in reading.results}
    assert asked["lead"] == ["read.value_negative"]
    others = {slug: told for slug, told in asked.items() if slug != "lead"}
    assert len(others) == 4
    assert not any("read.value_negative" in told for told in others.values())


def test_a_plain_date_parts_the_rows_of_one_test() -> None:
    reading = read_csv(
        "Date,Variable,Value,Units\n2001-03-04,Iron,0.3,mg/L\n2001-05-06,Iron,0.4,mg/L\n"
        "2001-03-04,Zinc,1.1,mg/L\n2001-05-06,Zinc,1.2,mg/L"
    )
    assert [(s.collected, [str(r.value) for r in s.results]) for s in reading.samples] == [
        ("2001-03-04", ["0.3", "1.1"]),
        ("2001-05-06", ["0.4", "1.2"]),
    ]


def test_one_plain_date_over_all_rows_stays_open() -> None:
    reading = read_csv(
        "Date,Variable,Value,Units\n2001-03-04,Iron,0.3,mg/L\n2001-03-04,Zinc,1,mg/L"
    )
    assert [(s.collected, len(s.results)) for s in reading.samples] == [(None, 2)]


def test_the_summary_of_a_supply_is_shown_with_a_question() -> None:
    reading = read_csv(
        "PWS ID,PWS Name,Contaminant Name,Sample Measure (mg/L),Owner Type Description,"
        "Service Connections Count\n"
        "990101,Tamarack Court,LEAD SUMMARY,.004,Private,33\n"
        "990102,Otter Bend School,LEAD SUMMARY,.011,Local,1"
    )
    assert [(s.point, [brief(r) for r in s.results]) for s in reading.samples] == [
        ("Tamarack Court", [("lead", "0.004", "mg/L", None)]),
        ("Otter Bend School", [("lead", "0.011", "mg/L", None)]),
    ]
    assert [r.use for r in reading.results] == ["look", "look"]


def test_a_sample_of_which_nothing_was_tested_is_no_row_of_units() -> None:
    reading = read_csv(
        "Site,Ba (mg/L),Ca (mg/L),pH,Turbidity (NTU)\nReed Pool,0.07,20.6,7.7,5.1\n"
        "Alder Ford,na,na,na,na\nStone Weir,0.02,1.7,7.6,6.8"
    )
    assert [(s.point, [r.unit for r in s.results]) for s in reading.samples] == [
        ("Reed Pool", ["mg/L", "mg/L", "pH", "NTU"]),
        ("Stone Weir", ["mg/L", "mg/L", "pH", "NTU"]),
    ]


def test_a_row_of_units_may_hold_dashes_and_bases() -> None:
    reading = read_csv(
        "id,x,date,temp,pH,NH4,NO3,SiO2,Na\n-,m,-,°C,-,mg NH4/L,mg NO3/L,mg SiO2/L,mg/L\n"
        "K-17,1200,2003-05-14,10.5,7.1,0.4,12,11.5,9"
    )
    assert [brief(r) for r in reading.samples[0].results] == [
        ("temperature", "10.5", "°C", None),
        ("ph", "7.1", "pH", None),
        ("ammonia", "0.4", "mg NH4/L", "NH4"),
        ("nitrate", "12", "mg NO3/L", "NO3"),
        ("silica", "11.5", "mg SiO2/L", "SiO2"),
        ("sodium", "9", "mg/L", None),
    ]
    assert [(s.id, len(s.results)) for s in reading.samples] == [("K-17", 6)]
    assert not [u for u in reading.unread if "mg NH4/L" in u.text]


def test_checks_of_meters_are_no_results_of_the_water() -> None:
    reading = read_csv(
        "Site,Date,pH,Turb,pH Probe Ser No.,pH Cal Date,pH Pre Basic (10),pH Post Basic (10),"
        "Turb Cal Date,Turb Zero Chk (NTU),Turb Post (L)\n"
        "Reed Pool,2019-04-02,8.1,1.9,4,2019-04-01,10.01,9.97,2019-04-01,0.09,6.55\n"
        "Alder Ford,2019-04-02,7.9,2.4,4,2019-04-01,10.01,9.98,2019-04-01,0.09,6.60"
    )
    assert [(s.point, [brief(r)[:2] for r in s.results]) for s in reading.samples] == [
        ("Reed Pool", [("ph", "8.1"), ("turbidity", "1.9")]),
        ("Alder Ford", [("ph", "7.9"), ("turbidity", "2.4")]),
    ]
    assert [m.code for m in reading.warnings] == ["read.qc_left_out"]


def test_before_and_behind_a_filter_stay_results() -> None:
    reading = read_csv("Site,Date,Iron pre (mg/L),Iron post (mg/L)\nShed,2019-04-02,2.5,0.1")
    assert [str(r.value) for r in reading.results] == ["2.5", "0.1"]


def _log(hours: list[str]) -> str:
    rows = [f"{n},2021/06/03,{hour},8.{n},410" for n, hour in enumerate(hours)]
    return "\n".join(["LogID,Date,Time,Temperature (°C),Conductivity (uS/cm)", *rows])


def test_what_a_logger_wrote_by_its_clock_is_no_sample() -> None:
    reading = read_csv(_log([f"{9 + n // 4:02d}:{n % 4 * 15:02d}:00" for n in range(9)]))
    assert reading.results == ()
    assert [m.code for m in reading.warnings] == ["read.logged"]


def test_readings_at_uneven_times_stay_readings() -> None:
    hours = ["09:00", "09:15", "09:30", "09:45", "10:00", "10:15", "10:30", "10:45", "13:10"]
    assert len(read_csv(_log(hours)).results) == 18


def test_nd_in_a_second_column_of_flags_is_not_found_below_the_limit() -> None:
    reading = read_csv(
        "SITE_ID,DATE_COL,LAB,ANALYTE,RESULT,RESULT_UNITS,MDL,RL,QA_FLAG,XARS_FLAG\n"
        "T-1,09May2021,QRS,CHLORIDE,6.3,mg/L,0.004,0.06,NA,NA\n"
        "T-1,09May2021,QRS,NITRATE_N,NA,NA,6e-4,0.02,MDL,ND\n"
        "T-1,09May2021,QRS,PTL,24,ug/L,0.5,4,NA,NA\n"
        "T-1,09May2021,QRS,NTL_DISS,0.7,mg/L,0.002,0.02,NA,NA"
    )
    assert [(s.point, s.collected) for s in reading.samples] == [("T-1", "2021-05-09")]
    assert [(brief(r)[:2], r.qualifiers) for r in reading.results] == [
        (("chloride", "6.3"), ()),
        (("nitrate", "<0.02"), ("MDL", "ND")),
        (("phosphorus", "24"), ()),
        (("total_nitrogen", "0.7"), ()),
    ]
    assert [r.fraction for r in reading.results] == [None, None, "total", "dissolved"]


def test_heads_that_are_units_name_their_tests_with_a_question() -> None:
    reading = read_csv(
        "Name,Date,pH,mg NO3 / l,mg N-NO3/l,mg Fe/l,mg N/l\n"
        "Outflow A,2022-04-03,7.1,4.43,1.0,0.3,1.4\nOutflow B,2022-04-03,7.3,8.86,2.0,0.1,2.6"
    )
    assert [(s.point, s.collected) for s in reading.samples] == [
        ("Outflow A", "2022-04-03"),
        ("Outflow B", "2022-04-03"),
    ]
    assert [brief(r) for r in reading.samples[0].results] == [
        ("ph", "7.1", "pH", None),
        ("nitrate", "4.43", "mg NO3 / l", "NO3"),
        ("nitrate", "1.0", "mg N-NO3/l", "N"),
        ("iron", "0.3", "mg/L", None),
        (None, "1.4", "mg N/l", "N"),
    ]
    assert {r.use for r in reading.samples[0].results[1:]} == {"look"}


def test_one_name_in_two_years_is_two_samples() -> None:
    reading = read_csv(
        "Sample,Type,Year,Ba,Ca,Fe\nMill Pool,Upper,2019,0.018,3.1,0.33\n"
        "Mill Pool,Upper,2018,0.015,4.4,0.41\nStone Weir,Lower,2019,0.011,0.9,0.65"
    )
    assert [(s.point or s.id, [str(r.value) for r in s.results]) for s in reading.samples] == [
        ("Mill Pool, 2019", ["0.018", "3.1", "0.33"]),
        ("Mill Pool, 2018", ["0.015", "4.4", "0.41"]),
        ("Stone Weir, 2019", ["0.011", "0.9", "0.65"]),
    ]
    assert not any(m.code == "read.twice_different" for r in reading.results for m in r.review)


def test_a_sample_coded_as_a_duplicate_is_left_out_and_counted() -> None:
    reading = read_csv(
        "SampleID,SampleType,Date,Na,Ca,Cl\nR-1,NORM,2014-09-15,1.4,5.3,0.36\n"
        "R-2,DUPLICATE,2014-09-15,1.5,5.4,0.36\nR-3,NORM,2014-09-16,1.2,5.6,0.2"
    )
    assert [s.id for s in reading.samples] == ["R-1", "R-3"]
    assert [m.code for m in reading.warnings] == ["read.qc_left_out"]


def test_total_phosphate_is_taken_for_orthophosphate_only_with_a_question() -> None:
    reading = read_csv(
        "Well,Date,PO4_total (mg/L),Orthophosphate total (mg/L)\nK-17,2003-05-14,0.04,0.03"
    )
    assert [[m.code for m in r.review if "label" in m.code] for r in reading.results] == [
        ["read.label_fuzzy"],
        [],
    ]

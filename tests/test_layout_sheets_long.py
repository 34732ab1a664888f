"""Data files with one result a row: codes that are no values, two value columns, many columns."""

from __future__ import annotations

from tests.layout_sheets import brief, read_csv


def test_the_code_of_the_analyte_is_no_result_and_the_number_is_read_once() -> None:
    reading = read_csv(
        "CHR_UID,CHARACTERISTIC_NAME,MEASUREMENT,MEASUREMENT_num,UNITS\n"
        "1215,Lead,1E-3,0.001,mg/L\n1249,Manganese,0.06,0.06,mg/L\n611,Barium,0.034,0.034,mg/L"
    )
    assert len(reading.samples) == 1
    assert [brief(r)[:2] for r in reading.results] == [
        ("lead", "0.001"),
        ("manganese", "0.06"),
        ("barium", "0.034"),
    ]
    assert [r.use for r in reading.results] == ["as_is"] * 3


def test_two_value_columns_that_differ_are_not_taken_for_one() -> None:
    reading = read_csv(
        "Analyte,Measurement,Value,Units\nLead,1,2,ug/L\nIron,3,4,ug/L\nZinc,5,6,ug/L"
    )
    assert {r.text for r in reading.results} != {"1", "3", "5"} or any(
        r.review for r in reading.results
    )


def test_a_water_quality_portal_file_of_today() -> None:
    reading = read_csv(
        "Org_Identifier,Location_Identifier,Activity_ActivityIdentifier,Activity_StartDate,"
        "Activity_StartTime,Result_ResultDetectionCondition,Result_Characteristic,Result_CASNumber,"
        "Result_MethodSpeciation,Result_SampleFraction,Result_Measure,Result_MeasureUnit,"
        "Result_WeightBasis,DetectionLimit_MeasureA,DetectionLimit_MeasureUnitA,USGSpcode\n"
        "TC,U-1,A-1,2023-07-25,09:00:00,,Nitrite,14797-65-0,as NO2,Filtered,0.061,mg/L,,,,71856\n"
        "TC,U-1,A-1,2023-07-25,09:00:00,Not Detected,Lead,7439-92-1,,Unfiltered,,,,0.5,ug/L,1049\n"
        'TC,U-1,A-2,2023-08-22,08:50:00,,"Stream flow, instantaneous",,,,42.0,ft3/sec,,,,61'
    )
    first, second = reading.samples
    assert (first.id, first.point, first.collected) == ("A-1", "U-1", "2023-07-25T09:00")
    assert [brief(r) for r in first.results] == [
        ("nitrite", "0.061", "mg/L", "NO2"),
        ("lead", "<0.5", "ug/L", None),
    ]
    assert [r.fraction for r in first.results] == ["dissolved", "total"]
    assert [(r.analyte, r.label, r.use) for r in second.results] == [
        (None, "Stream flow, instantaneous", "look")
    ]


def test_names_that_could_mean_two_things_are_shown_with_a_question() -> None:
    reading = read_csv(
        "Site,Analyte,Result,Units\nA,EC,620,uS/cm\nA,TH,120,mg/L\nA,Nitrogen,1.2,mg/L"
    )
    assert [r.analyte for r in reading.results] == [
        "specific_conductance",
        "hardness",
        "total_nitrogen",
    ]
    assert [r.use for r in reading.results] == ["look"] * 3


def test_nitrite_and_nitrate_together_are_their_sum() -> None:
    reading = read_csv(
        'Site,Analyte,Result,Units\nA,"Nitrogen, Nitrite (NO2) + Nitrate (NO3) as N",1.2,mg/L'
    )
    assert [brief(r) for r in reading.results] == [("nitrate_nitrite", "1.2", "mg/L", "N")]


def test_rows_of_quality_control_are_left_out_and_told() -> None:
    reading = read_csv(
        "Site,Date,QCtype,pH,Iron_mgL\nA,2024-05-01,ENV,6.9,0.1\nA,2024-05-01,BLANK,5.5,0.001"
    )
    assert len(reading.samples) == 1
    assert [w.code for w in reading.warnings] == ["read.qc_left_out"]


def test_samples_headed_by_codes_are_all_read_and_statistics_are_not() -> None:
    reading = read_csv(
        "measurement,dl_mg_L,ref1,ref2,ref_avg,ref_stdev,ant\n"
        "Cl (mg/L),0.1,7.35,9.67,8.51,1.6,12.5\nSO4 (mg/L),0.1,7.17,15.79,11.5,6.1,18.85"
    )
    assert [(s.id or s.point, [r.text for r in s.results]) for s in reading.samples] == [
        ("ref1", ["7.35", "7.17"]),
        ("ref2", ["9.67", "15.79"]),
        ("ant", ["12.5", "18.85"]),
    ]


def test_lines_of_a_spectrum_name_their_element() -> None:
    reading = read_csv(
        "measurement,w1,w2\nAl 308.215-A,0.06,0.05\nBa 233.527-A*,0.02,0.03\nSn 189.927,0.01,0.02"
    )
    assert [r.analyte for r in reading.samples[0].results] == ["aluminum", "barium", "tin"]


def test_a_count_of_samples_is_no_result() -> None:
    reading = read_csv(
        "Contaminant,Units,MCL,Minimum,Average,Maximum,Samples\n"
        "Nitrate,mg/L,10,0.5,1.2,3.3,12\nArsenic,ug/L,10,0.2,0.5,1.1,12"
    )
    assert reading.results == ()


def test_either_of_two_columns_of_kinds_tells_a_row_of_quality_control() -> None:
    reading = read_csv(
        "SAMPLE_CODE,SAMPLE_TYPE_CODE,CHEMICAL_NAME,RESULT_VALUE,RESULT_TYPE_CODE,RESULT_UNIT\n"
        "S-1,N,Lead,2.2,TRG,ug/L\nS-1,N,4-Bromofluorobenzene,98,SUR,%\nS-2,LB,Lead,0.1,TRG,ug/L"
    )
    assert [(s.id, [r.label for r in s.results]) for s in reading.samples] == [("S-1", ["Lead"])]


def test_samples_side_by_side_under_their_own_numbers() -> None:
    reading = read_csv(
        "Sample ID,W-1,W-2\nCollected,5/21/2024,5/22/2024\n"
        "Nitrate (mg/L),1.2,3.4\nIron (mg/L),<0.05,0.33\npH,7.1,6.8"
    )
    assert [(s.id, s.collected, len(s.results)) for s in reading.samples] == [
        ("W-1", "2024-05-21", 3),
        ("W-2", "2024-05-22", 3),
    ]


def test_a_place_called_lower_is_no_lower_limit() -> None:
    reading = read_csv(
        "Sample,Unit,SV-01,SV-02\nLocation,,Upper barn,Lower mill\n"
        "Iron,mg/L,0.1,0.2\nZinc,mg/L,0.3,0.4"
    )
    assert [[r.text for r in s.results] for s in reading.samples] == [
        ["0.1", "0.3"],
        ["0.2", "0.4"],
    ]


def test_a_data_file_with_columns_for_quality_control_keeps_its_results() -> None:
    reading = read_csv(
        "lab_sample_id,client_id,test_name,result,rl,units,spike_level,recovery\n"
        "L24-1,Well A,Arsenic,1.2,0.5,ug/L,,\nL24-1,Well A,Lead,ND,0.5,ug/L,,\n"
        "L24-9,Control,Arsenic,9.9,0.5,ug/L,10,99"
    )
    assert [brief(r)[:2] for r in reading.results] == [("arsenic", "1.2"), ("lead", "<0.5")]


def test_what_a_long_file_holds_and_nothing_explains_is_told() -> None:
    reading = read_csv(
        "Test,Result,Result2,Unit,Rating\nLead,3,4.5,ppb,OK\nZinc,5,6.5,ppb,OK\n"
        "Bacteria,Not found,,,OK"
    )
    assert [brief(r)[:2] for r in reading.results] == [("lead", "3"), ("zinc", "5")]
    assert {u.text for u in reading.unread} == {"Bacteria Not found OK", "Result2: 4.5"}


def test_filtered_water_is_no_part_of_the_name() -> None:
    reading = read_csv(
        'site,parm_nm,result_va,remark_cd,parm_unit\nA,"Lead, water, filtered",0.02,<,ug/L\n'
        'A,"Iron, water, unfiltered",30,,ug/L'
    )
    assert [(brief(r)[:2], r.fraction) for r in reading.results] == [
        (("lead", "<0.02"), "dissolved"),
        (("iron", "30"), "total"),
    ]


def test_many_different_values_of_one_test_take_no_longer_each() -> None:
    rows = "\n".join(f"pH,{6 + n / 5000:.4f},SU" for n in range(5000))
    reading = read_csv(f"Parameter,Result,Units\n{rows}\npH,6.0000,SU")
    assert len(reading.results) == 5000
    assert len(reading.results[0].where) > len(reading.results[1].where)


def test_numbers_of_the_geological_survey_name_tests() -> None:
    wide = read_csv("Well,Date,00618,p00400,P00915\nA,2024-05-01,1.2,7.4,22\nB,2024-05-02,2,7,9")
    # USGS parameter codes 00618, 00400, 00915: help.waterdata.usgs.gov/parameter_cd
    assert [brief(r) for r in wide.samples[0].results] == [
        ("nitrate", "1.2", "mg/L", "N"),
        ("ph", "7.4", "SU", None),
        ("calcium", "22", "mg/L", None),
    ]
    assert [r.fraction for r in wide.samples[0].results] == ["dissolved", None, "dissolved"]
    long = read_csv(
        "site_no,sample_dt,parm_cd,remark_cd,result_va\n"
        "A,2024-05-01,00618,,1.2\nA,2024-05-01,00940,<,1.0\nA,2024-05-01,01049,,2.0"
    )
    assert [brief(r)[:3] for r in long.results] == [
        ("nitrate", "1.2", "mg/L"),
        ("chloride", "<1.0", "mg/L"),
        ("lead", "2.0", "ug/L"),
    ]
    assert [r.use for r in long.results] == ["as_is", "as_is", "look"]


def test_a_germ_with_its_answer_in_one_letter_is_a_row_and_no_head() -> None:
    reading = read_csv(
        "CAS No.,Contaminant,Results,LOD\n,Total Coliform MPN/100mL,P,\n,E. Coli MPN/100mL,A,\n"
        "14797-65-0,Nitrite-N ppm,0.081,0.005\n7664-41-7,Ammonia Nitrogen ppm,0.051,0.0125"
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("total_coliform", "present"),
        ("e_coli", "absent"),
        ("nitrite", "0.081"),
        ("ammonia", "0.051"),
    ]


def test_a_name_with_a_unit_word_in_brackets_is_asked_for_as_a_whole() -> None:
    reading = read_csv("Analyte,Result,Unit\nHydrogen ion (pH),7.02,SU\nIron,0.3,mg/L")
    assert [(r.analyte, r.use) for r in reading.results] == [("ph", "as_is"), ("iron", "as_is")]

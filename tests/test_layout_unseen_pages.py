"""Pages as laboratories print them that were drawn after the engine was built."""

from __future__ import annotations

from pathlib import Path

from layout_sheets import brief, page, pdf, read_csv, read_page, table

from welltold_parsers import read
from welltold_parsers.layout import read_document


def test_keys_right_above_a_head_are_the_samples_and_no_part_of_it() -> None:
    reading = read_page(
        (
            60.0,
            {36.0: "Sample:", 80.0: "MW-1 Kitchen", 200.0: "Lab ID: 10583920001"}
            | {330.0: "Collected: 03/12/24 10:15", 480.0: "Matrix: Water"},
        ),
        *table(
            (36, 150, 200, 250, 310, 380),
            """
Parameters | Results | Units | Report Limit | DF | CAS No.
Iron | 412 | ug/L | 50.0 | 1 | 7439-89-6
Lead | ND | ug/L | 0.10 | 1 | 7439-92-1
""",
            top=76,
        ),
    )
    (sample,) = reading.samples
    assert (sample.id, sample.collected) == ("10583920001", "2024-03-12T10:15")
    assert [brief(r) for r in sample.results] == [
        ("iron", "412", "ug/L", None),
        ("lead", "<0.10", "ug/L", None),
    ]


def test_a_name_that_reaches_over_the_results_hides_no_unit() -> None:
    rows = "\n".join(f"{name} | {value} | mg/L | 1" for name, value in _METALS)
    lines = table(
        (36, 200, 260, 330),
        f"Analyses | Result | Units | RL\n{rows}\n"
        "Solids, Total Dissolved TDS @ 180 C | | mg/L | 10",
    )
    top, cells = lines[-1]
    lines[-1] = (top, cells | {226.0: "455"})
    reading = read_page((60.0, {36.0: "Lab ID: C24-001"}), *lines)
    assert {r.unit for r in reading.results} == {"mg/L"}
    assert brief(reading.results[-1])[:2] == ("total_dissolved_solids", "455")


_METALS = (
    ("Iron", "0.31"),
    ("Zinc", "0.02"),
    ("Copper", "0.11"),
    ("Barium", "0.09"),
    ("Nickel", "0.01"),
    ("Sodium", "12.1"),
    ("Calcium", "64.2"),
    ("Magnesium", "18.0"),
)


def test_the_head_of_a_table_is_no_row_of_a_form() -> None:
    reading = read_page(
        (
            60.0,
            {36.0: "Address", 141.0: "72 School Road", 306.0: "Date Collected", 411.0: "17-Apr-26"},
        ),
        (74.0, {36.0: "Source", 141.0: "Kitchen", 306.0: "Sampled by", 411.0: "client"}),
        (88.0, {36.0: "Received", 141.0: "18-Apr-26", 306.0: "Sample No.", 411.0: "26-05898"}),
        *table(
            (36, 220, 296, 372, 471, 516),
            """
Substance | Unit Measure | Analysis Date | EPA Method | LOQ | Measured
General Chemistry
Conductance, Specific | uS/cm | 20-Apr-26 | SM 2510 B | 5 | 951
Turbidity | NTU | 20-Apr-26 | EPA 180.1 | 0.1 | 0.19
Color | CU | 20-Apr-26 | SM 2120 B | 5 | None Detected
""",
            top=110,
        ),
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("specific_conductance", "951"),
        ("turbidity", "0.19"),
        ("color", "<5"),
    ]
    assert reading.samples[0].point == "Kitchen"


def test_a_sentence_that_names_a_limit_in_brackets_still_tells_its_result() -> None:
    reading = read_page(
        (60.0, {60.0: "Our sample 91-C-204 of the well was collected January 30, 2024."}),
        (90.0, {60.0: "The pH was 6.1 and the total hardness was 32 mg/L as calcium carbonate."}),
        (120.0, {60.0: "Iron was found at 0.85 mg/L, compared with the recommended limit of"}),
        (134.0, {60.0: "0.3 mg/L, and manganese at 0.04 mg/L. Nitrate nitrogen was 1.4 mg/L (the"}),
        (148.0, {60.0: "limit is 10 mg/L). Lead was not detected above 0.002 mg/L."}),
        (180.0, {60.0: "E. coli bacteria were absent in 100 mL of this sample."}),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("ph", "6.1", None),
        ("hardness", "32", "mg/L"),
        ("iron", "0.85", "mg/L"),
        ("manganese", "0.04", "mg/L"),
        ("nitrate", "1.4", "mg/L"),
        ("lead", "<0.002", "mg/L"),
        ("e_coli", "absent", None),
    ]
    assert reading.results[1].basis == "CaCO3"


def test_what_stands_in_brackets_behind_a_result_is_another_unit_or_a_limit() -> None:
    reading = read_csv(
        """
Test,Your Result,Comment
Hardness,56 mg/L (3.3 gpg),moderate
Iron,0.05 mg/L (limit 0.3),
Lead,0.002 mg/L (MCL = 0.015 mg/L),
pH,7.4 @ 21 C,
"""
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("hardness", "56", "mg/L"),
        ("iron", "0.05", "mg/L"),
        ("lead", "0.002", "mg/L"),
        ("ph", "7.4", None),
    ]
    assert [r.printed_limit for r in reading.results] == [None, "0.3", "0.015 mg/L", None]


def test_columns_of_samples_with_tests_that_were_not_asked_for_are_results_too() -> None:
    reading = read_page(
        *table(
            (50, 220, 320),
            """
Sample No. | 0007254 | 0007255
Contaminant | Bathroom sink | Laundry sink
Sulfate (mg/L) | 7.7 | 162
Bromide (mg/L) | ND<0.05 | ND<0.05
Magnesium (mg/L) | N/A | 5.84
Sodium (mg/L) | 5.3 | 43.3
Potassium (mg/L) | N/A | 5.3
Silica (mg/L) | N/A | 13.6
""",
        )
    )
    first, second = reading.samples
    assert [brief(r)[1] for r in first.results if r.value] == ["7.7", "<0.05", "5.3"]
    assert [r.value is not None for r in second.results] == [True] * 6


def test_numbers_of_two_groups_of_places_need_not_stand_below_each_other() -> None:
    reading = read_page(
        (60.0, {45.0: "Copper in drinking water, mg/L"}),
        (80.0, {45.0: "Main house"}),
        (95.0, {62.0: "Milk house", 126.0: "0.716"}),
        (110.0, {62.0: "Raw water tap", 136.0: "0.048"}),
        (130.0, {45.0: "Farm buildings"}),
        (145.0, {62.0: "Barn well", 150.0: "0.17"}),
        (160.0, {62.0: "Basement tap one", 150.0: "0.28"}),
        (175.0, {62.0: "Cabin", 110.0: "0.27"}),
    )
    assert [(s.point, str(s.results[0].value)) for s in reading.samples] == [
        ("Milk house", "0.716"),
        ("Raw water tap", "0.048"),
        ("Barn well", "0.17"),
        ("Basement tap one", "0.28"),
        ("Cabin", "0.27"),
    ]


def test_columns_of_blanks_over_dashes_are_no_comma_separated_file(tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.txt"
    sheet.write_text(
        "Laboratory Number:   HG-06206-01\nCollected:           Jul 12, 2026\n\n"
        "Analyte       Measured  Units  Reg Limit  Date Analyzed\n"
        "-----------  ---------  -----  ---------  -------------\n"
        "Arsenic           8.11  ug/l          10  Jul 14, 2026\n"
        "Barium            66.9  ug/l        2000  Jul 14, 2026\n"
        "Uranium            2.6  ug/l          30  Jul 14, 2026\n"
    )
    reading = read(sheet)
    assert [brief(r)[:2] for r in reading.results] == [
        ("arsenic", "8.11"),
        ("barium", "66.9"),
        ("uranium", "2.6"),
    ]


def test_a_name_with_words_on_how_it_was_measured_is_known() -> None:
    reading = read_csv(
        """
Determination,Amount,Unit
TDS (meter),488,ppm
Fluoride (F) Temp. Depend.,0.62,mg/L
Specific Conductance (E.C.),740,umhos/cm
pH (Hydrogen ion),7.1,pH units
Solids in solution,492,mg/L
"""
    )
    assert {r.label: r.analyte for r in reading.results} == {
        "TDS (meter)": "total_dissolved_solids",
        "Fluoride (F) Temp. Depend.": "fluoride",
        "Specific Conductance (E.C.)": "specific_conductance",
        "pH (Hydrogen ion)": "ph",
        "Solids in solution": "total_dissolved_solids",
    }


def test_a_german_head_is_read() -> None:
    document = page(
        *table(
            (50, 200, 280, 350),
            """
Parameter | Messwert | Einheit | Grenzwert
Nitrat | 27,4 | mg/L | 50
Eisen | 0,084 | mg/L | 0,2
""",
        )
    )
    reading = read_document(pdf(document))
    assert [(brief(r)[:2], r.printed_limit) for r in reading.results] == [
        (("nitrate", "27.4"), "50"),
        (("iron", "0.084"), "0,2"),
    ]


def test_a_letter_that_is_no_usual_flag_is_kept_and_asked_about() -> None:
    reading = read_csv("Analyte,Result,Units\nArsenic,0.86F,ug/L\nLead,1.2,ug/L")
    arsenic, lead = reading.results
    assert (brief(arsenic)[1], arsenic.qualifiers) == ("0.86", ("F",))
    assert [m.code for m in arsenic.review] == ["read.flag_unknown"]
    assert lead.use == "as_is"


_TWO_LIMITS = "Analyte,Result,Units,LOD,LOQ\nLead,ND,ug/L,0.5,1.5\nZinc,12,ug/L,0.5,1.5"


def test_not_found_stands_for_the_limit_that_the_sheet_names() -> None:
    told = read_csv(f"{_TWO_LIMITS}\nND = None detected. Results are less than the LOD,,,,")
    assert brief(told.results[0])[1] == "<0.5"
    told = read_csv(f"{_TWO_LIMITS}\nND - not detected at or above the reporting limit,,,,")
    assert brief(told.results[0])[1] == "<1.5"
    open_ = read_csv(_TWO_LIMITS)
    assert brief(open_.results[0])[1] == "<1.5"
    assert open_.results[0].confidence < told.results[0].confidence


def test_a_footnote_on_something_else_defines_no_limit_of_not_found() -> None:
    reading = read_page(
        *table(
            (50, 150, 280, 360),
            """
Outlet ID | Location | Sample Date | Lead Result (ug/L)
AE-01 | Room 102 | 8/14/2023 | 2.4
AE-02 | Cafeteria | 8/14/2023 | ND
AE-03 | Office | 8/14/2023 | 7.1
""",
        ),
        (200.0, {50.0: "ND = not detected. Samples with results above 5 ug/L were shut off."}),
    )
    assert [r.value for r in reading.results if r.text == "ND"] == [None]


def test_where_the_well_is_named_its_kind_is_no_place() -> None:
    reading = read_page(
        (60.0, {36.0: "Lab No.", 110.0: "B24-3391", 320.0: "Date Received:", 410.0: "7/08/24"}),
        (74.0, {36.0: "Sample Source: Private Well", 320.0: "Sample Location: Kitchen tap"}),
        (100.0, {36.0: "Total Coliform:", 160.0: "[ ] Absent", 240.0: "[X] Present"}),
        (115.0, {36.0: "E. coli:", 160.0: "[X] Absent", 240.0: "[ ] Present"}),
    )
    assert (reading.samples[0].id, reading.samples[0].point) == ("B24-3391", "Kitchen tap")
    assert [brief(r)[1] for r in reading.results] == ["present", "absent"]


def test_a_count_beside_ticked_boxes_is_not_lost() -> None:
    reading = read_page(
        (80.0, {36.0: "Lab ID: B-3391"}),
        (
            100.0,
            {36.0: "Total Coliform:", 160.0: "[ ] Absent", 240.0: "[X] Present"}
            | {330.0: "Count: 8 MPN/100 mL"},
        ),
    )
    assert [brief(r)[1] for r in reading.results] == ["present"]
    assert any("8 MPN" in u.text for u in reading.unread)


def test_a_sentence_on_quality_control_is_no_result() -> None:
    reading = read_page(
        (60.0, {60.0: "Sample ID: K-7"}),
        (80.0, {60.0: "Arsenic: 3.1 ug/L"}),
        (110.0, {60.0: "QC: LCS recovery of arsenic was 102 % and the matrix spike was 9.8 ug/L."}),
    )
    assert [brief(r)[:2] for r in reading.results] == [("arsenic", "3.1")]


def test_a_remark_on_how_the_sample_was_kept_is_handed_on_as_printed() -> None:
    reading = read_page(
        (60.0, {60.0: "Sample ID: K-7"}),
        (80.0, {60.0: "Nitrate as N: 3.1 mg/L"}),
        (110.0, {60.0: "The holding time for nitrate was exceeded by two days."}),
        (130.0, {60.0: "H = holding time exceeded"}),
        (150.0, {60.0: "Call us if the holding time was exceeded."}),
    )
    said = [w.args["text"] for w in reading.warnings if w.code == "read.remark"]
    assert said == ["The holding time for nitrate was exceeded by two days."]


def test_a_unit_for_all_may_stand_beside_a_date() -> None:
    reading = read_page(
        (60.0, {36.0: "Lab No: 9921-04", 300.0: "Date sampled: 09/12/23"}),
        (74.0, {36.0: "Date received: 09/13/23", 300.0: "All results in ug/L"}),
        *table((36, 150, 230), "Compound | Result | MCL\nBenzene | 1.1 | 5\nToluene | 3.3 | 1000"),
    )
    assert [r.unit for r in reading.results] == ["ug/L", "ug/L"]

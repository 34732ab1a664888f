"""Forms, small signs, wrapped names, tables side by side, and what stands below a table."""

from __future__ import annotations

from dataclasses import replace

from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.geometry import Word
from welltold_parsers.layout import read_document

_PLAIN = "Analyte | Result | Unit\nLead | 1.2 | ug/L\nIron | 0.2 | mg/L"


def test_a_form_has_its_keys_above_what_is_filled_in() -> None:
    reading = read_page(
        (60.0, {40.0: "MAILING ADDRESS", 250.0: "LAB NUMBER", 400.0: "FEE PAID"}),
        (72.0, {40.0: "2270 Sedge Road", 250.0: "BW-2206418", 400.0: "$ 23.00"}),
        (92.0, {40.0: "SAMPLING POINT", 250.0: "DATE COLLECTED", 400.0: "TIME"}),
        (104.0, {40.0: "Kitchen tap", 250.0: "06/14/2022", 400.0: "7:15 AM"}),
        (140.0, {40.0: "TOTAL COLIFORM", 200.0: "☒ PRESENT", 300.0: "☐ ABSENT"}),
        (160.0, {40.0: "E. COLI", 200.0: "☐ PRESENT", 300.0: "☒ ABSENT"}),
        (180.0, {40.0: "☐ Insufficient volume", 200.0: "☐ Chlorine present"}),
    )
    (sample,) = reading.samples
    assert (sample.id, sample.point, sample.collected) == (
        "BW-2206418",
        "Kitchen tap",
        "2022-06-14T07:15",
    )
    assert [brief(r)[:2] for r in sample.results] == [
        ("total_coliform", "present"),
        ("e_coli", "absent"),
    ]


def test_a_list_of_two_samples_is_no_form() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 300.0),
            "Lab ID | Client ID | Collected\nA-1001 | Barn | 3/4/24\nA-1002 | House | 3/5/24",
        ),
        (200.0, {40.0: "Lab ID: A-1002"}),
        *table((40.0, 200.0, 260.0), _PLAIN, top=220.0),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("A-1002", "House", "2024-03-05")
    ]


def test_raised_signs_are_footnotes_charges_and_flags() -> None:
    def raised(text: str, left: float, top: float) -> Word:
        return Word(text, left, top - 2.0, left + 4.0 * len(text), top + 6.5)

    made = page(
        (60.0, {40.0: "Analyte", 200.0: "Result", 300.0: "Unit"}),
        (80.0, {40.0: "Lead", 200.0: "8.1", 300.0: "ug/L"}),
        (100.0, {40.0: "Ca", 200.0: "0.2", 300.0: "mg/L"}),
        (120.0, {40.0: "Zinc", 200.0: "0.38", 300.0: "mg/L"}),
        (160.0, {40.0: "Action levels: lead 15 ug/L; copper 1300 ug/L."}),
    )
    signs = (
        raised("1", 60.0, 80.0),
        raised("B", 215.0, 80.0),
        raised("2+", 50.0, 100.0),
    )
    reading = read_document(pdf(replace(made, words=(*made.words, *signs))))
    assert [(*brief(r)[:3], r.qualifiers) for r in reading.results] == [
        ("lead", "8.1", "ug/L", ("B",)),
        ("calcium", "0.2", "mg/L", ()),
        ("zinc", "0.38", "mg/L", ()),
    ]


def test_a_name_that_begins_on_the_line_above_is_never_read_by_its_end_alone() -> None:
    reading = read_page(
        (60.0, {40.0: "Determinand", 260.0: "Result", 340.0: "Units"}),
        (80.0, {40.0: "Sum of trichloroethene and"}),
        (87.0, {260.0: "<0.2", 340.0: "ug/l"}),
        (94.0, {40.0: "tetrachloroethene"}),
        (115.0, {40.0: "Turbidity", 260.0: "3.6", 340.0: "NTU"}),
    )
    assert [(r.analyte, r.label) for r in reading.results] == [
        (None, "Sum of trichloroethene and tetrachloroethene"),
        ("turbidity", "Turbidity"),
    ]


def test_each_of_two_tables_side_by_side_has_its_own_heading() -> None:
    reading = read_page(
        (40.0, {40.0: "Sample K-40931"}),
        (70.0, {40.0: "General chemistry", 330.0: "Metals, all in µg/l"}),
        *table(
            (40.0, 150.0, 210.0, 330.0, 420.0, 490.0),
            "Test | Result | Unit | Metal | Result | Guide\n"
            "Chloride | 87.0 | mg/l | Aluminum | 67.5 | 200\n"
            "Sulfate | 286 | mg/l | Arsenic | 2.96 | 10\n"
            "Turbidity | 3.69 | NTU | Zinc | 6.10 | 5000",
            top=90.0,
        ),
        (200.0, {40.0: "Bacteria (100 ml): total coliforms not found; E. coli not found."}),
    )
    told = {(brief(r)[0], brief(r)[1], r.unit) for r in reading.results}
    assert told == {
        ("chloride", "87.0", "mg/l"),
        ("sulfate", "286", "mg/l"),
        ("turbidity", "3.69", "NTU"),
        ("aluminum", "67.5", "µg/l"),
        ("arsenic", "2.96", "µg/l"),
        ("zinc", "6.10", "µg/l"),
        ("total_coliform", "absent", None),
        ("e_coli", "absent", None),
    }


def test_a_unit_told_by_a_key_outlasts_the_headings_of_its_page() -> None:
    reading = read_page(
        (40.0, {40.0: "Lab ID: 7-1", 250.0: "Units: ng/L"}),
        *table(
            (40.0, 330.0, 400.0),
            "Compound | CAS No. | Result\n"
            "Perfluorooctanoic acid (PFOA) | 335-67-1 | 18.2\n"
            "Legacy compounds\n"
            "1H,1H,2H,2H-Perfluorooctane sulfonic acid (6:2 FTS) | 27619-97-2 | 2.1",
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("pfoa", "18.2", "ng/L"),
        ("fts_6_2", "2.1", "ng/L"),
    ]


def test_a_supply_s_yearly_table_holds_no_results() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 200.0, 280.0, 350.0, 420.0, 470.0),
            "Substance | Year | Level found | Range | MCL | MCLG | Typical source\n"
            "Nitrate (ppm) | 2024 | 4.2 | 3.1 - 4.2 | 10 | 10 | Runoff\n"
            "Barium (ppm) | 2022 | 0.08 | 0.03 - 0.08 | 2 | 2 | Erosion",
        )
    )
    assert reading.results == ()


def _slip(*rows: tuple[float, dict[float, str]]) -> tuple[tuple[float, dict[float, str]], ...]:
    return (
        (60.0, {330.0: "TOTAL COLIFORM", 470.0: "E. COLI"}),
        (
            74.0,
            {
                40.0: "LAB NO.",
                120.0: "SAMPLE POINT",
                310.0: "PRESENT",
                370.0: "ABSENT",
                440.0: "PRESENT",
                500.0: "ABSENT",
            },
        ),
        *rows,
        (200.0, {40.0: "PRESENT = bacteria found.   ABSENT = none found in 100 mL."}),
    )


def test_a_mark_says_the_head_that_it_stands_under() -> None:
    reading = read_page(
        *_slip(
            (96.0, {40.0: "701-1", 120.0: "Kitchen tap", 384.0: "X", 514.0: "X"}),
            (118.0, {40.0: "701-2", 120.0: "Barn", 326.0: "X", 514.0: "X"}),
            (140.0, {40.0: "701-3", 120.0: "Pump house", 326.0: "X", 456.0: "X"}),
        )
    )
    assert [(s.id, [brief(r)[:2] for r in s.results]) for s in reading.samples] == [
        ("701-1", [("total_coliform", "absent"), ("e_coli", "absent")]),
        ("701-2", [("total_coliform", "present"), ("e_coli", "absent")]),
        ("701-3", [("total_coliform", "present"), ("e_coli", "present")]),
    ]


def test_a_row_with_both_marks_or_none_is_unread() -> None:
    reading = read_page(
        *_slip(
            (96.0, {40.0: "701-1", 120.0: "Kitchen tap", 384.0: "X", 514.0: "X"}),
            (118.0, {40.0: "701-2", 120.0: "Barn", 326.0: "X", 384.0: "X", 514.0: "X"}),
            (140.0, {40.0: "701-3", 120.0: "Pump house", 384.0: "X"}),
        )
    )
    told = {s.id: [brief(r)[:2] for r in s.results] for s in reading.samples}
    assert told == {
        "701-1": [("total_coliform", "absent"), ("e_coli", "absent")],
        "701-2": [("e_coli", "absent")],
        "701-3": [("total_coliform", "absent")],
    }
    assert len(reading.unread) == 2


def test_no_answer_is_taken_from_a_head_when_no_mark_is_known() -> None:
    reading = read_page(
        *_slip(
            (96.0, {40.0: "701-1", 120.0: "Kitchen tap", 384.0: "#", 514.0: "#"}),
            (118.0, {40.0: "701-2", 120.0: "Barn", 326.0: "#", 514.0: "#"}),
        )
    )
    assert reading.results == ()
    assert any("PRESENT" in u.text for u in reading.unread)


def test_a_form_with_days_beside_its_keys_is_no_list_of_samples() -> None:
    reading = read_page(
        (60.0, {36.0: "Lab ID", 130.0: "HG-05498", 250.0: "Sample Point", 350.0: "Well head"}),
        (76.0, {36.0: "Collection Date", 130.0: "Feb 23, 2026", 250.0: "Received at"}),
        (120.0, {36.0: "Coliform, Total: Present"}),
        (140.0, {36.0: "Escherichia coli: Absent"}),
    )
    assert [(r.analyte, r.present) for r in reading.results] == [
        ("total_coliform", True),
        ("e_coli", False),
    ]

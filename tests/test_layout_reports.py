"""Long laboratory reports: summaries before details, blocks of samples, activities with spreads."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.layout import read_document

_ACTIVITY = (40.0, 130.0, 210.0, 300.0, 350.0, 400.0, 440.0, 530.0)


def test_an_activity_with_its_spread_is_the_result_and_the_yield_is_not() -> None:
    reading = read_page(
        (60.0, {40.0: "Lab Sample ID: TR-771-1", 250.0: "Collected: 08-JUN-2026 11:00"}),
        *table(
            _ACTIVITY,
            "Analyte | Procedure | Activity ± TPU | MDC | Units | Qual | Analysis Date "
            "| Chem. Yield %\n"
            "Gross Alpha | EPA 900.0 | 8.74 ± 2.61 | 1.92 | pCi/L | | 06/12/26 | N/A\n"
            "Radium-226 | EPA 903.1 | 1.93 ± 0.402 | 0.188 | pCi/L | | 06/14/26 | 92.1\n"
            "Radium-228 | EPA 904.0 | 0.412 ± 0.366 | 0.643 | pCi/L | U | 06/15/26 | 78.4\n"
            "Radon-222 | SM 7500-Rn | 612 ± 58.4 | 21.0 | pCi/L | | 06/11/26 | N/A",
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("gross_alpha", "8.74", "pCi/L"),
        ("radium_226", "1.93", "pCi/L"),
        ("radium_228", "<0.643", "pCi/L"),
        ("radon", "612", "pCi/L"),
    ]


def test_a_column_in_percent_without_a_known_word_is_no_result_beside_units() -> None:
    reading = read_page(
        (60.0, {40.0: "Lab Sample ID: TR-771-1"}),
        *table(
            _ACTIVITY[:5],
            "Analyte | Method | Units | MDC | Zirconium gain %\n"
            "Radium-226 | EPA 903.1 | pCi/L | 0.188 | 92.1\n"
            "Uranium-234 | EPA 908.0 | pCi/L | 0.071 | 88.0\n"
            "Uranium-238 | EPA 908.0 | pCi/L | 0.059 | 87.0",
        ),
    )
    assert reading.results == ()


_LEDGER = (40.0, 190.0, 270.0, 330.0, 400.0, 500.0)


def test_an_invoice_number_above_does_not_close_a_table_of_results() -> None:
    reading = read_page(
        (60.0, {40.0: "CLIENT: ALDER FORK PUMP CO.", 420.0: "REPORT DATE: 08-03-26"}),
        (72.0, {40.0: "PROJECT: FERN LOTS / PHASE 2", 420.0: "INVOICE 26-2207"}),
        *table(
            _LEDGER,
            "PARAMETER | RESULT | UNITS | LIMIT | METHOD | ANALYZED\n"
            "LAB NO. 0726-118 | FERN RD WELL, PRESSURE TANK\n"
            "COLLECTED 07-21-26 1015\n"
            "IRON | 2.41 | mg/L | 0.03 | SM 3111 B | 07-27-26\n"
            "LEAD | BDL | ug/L | 1 | EPA 200.9 | 07-25-26\n"
            "LAB NO. 0726-120 | LOT 14 NEW WELL\n"
            "COLLECTED 07-21-26 1140\n"
            "IRON | 0.88 | mg/L | 0.03 | SM 3111 B | 07-27-26\n"
            "LAB NO. 0726-120 (CONTINUED)\n"
            "SODIUM | 10.1 | mg/L | 0.5 | SM 3111 B | 07-27-26",
            top=90.0,
        ),
    )
    assert [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("0726-118", "FERN RD WELL, PRESSURE TANK", "2026-07-21T10:15", 2),
        ("0726-120", "LOT 14 NEW WELL", "2026-07-21T11:40", 2),
    ]
    assert [brief(r)[1] for r in reading.results] == ["2.41", "<1", "0.88", "10.1"]


def test_a_summary_that_shortens_the_numbers_tells_the_results_of_the_details() -> None:
    listed = table(
        (40.0, 140.0, 260.0, 380.0),
        "Sample ID | Laboratory ID | Date Sampled | Date Received\n"
        "North Raw Tap | 26K41-01 | 07/14/26 09:20 | 07/15/26 08:40\n"
        "South Raw Tap | 26K41-02 | 07/14/26 10:05 | 07/15/26 08:40",
    )
    summary = table(
        (40.0, 90.0, 200.0, 300.0, 360.0, 420.0),
        "Lab# | Client Sample ID | Analyte | Result | RL | Unit\n"
        "01 | North Raw Tap | Arsenic | 1.76 | 1.0 | ug/L\n"
        "02 | South Raw Tap | Arsenic | 12.6 | 1.0 | ug/L\n"
        "02 | South Raw Tap | Lead | 16.8 | 0.50 | ug/L",
    )
    details = [
        page(
            (60.0, {40.0: f"Client Sample ID: {name}", 250.0: f"Lab Sample ID: 26K41-{number}"}),
            (72.0, {40.0: f"Sampled: 07/14/2026 {hour}"}),
            *table(
                (40.0, 150.0, 220.0, 290.0, 360.0),
                f"Analyte | Result | Qual | RL | Units\nArsenic | {arsenic} | | 1.0 | ug/L\n"
                f"Lead | {lead} | | 0.50 | ug/L",
            ),
            number=at,
        )
        for at, name, number, hour, arsenic, lead in (
            (3, "North Raw Tap", "01", "09:20", "1.76", "ND"),
            (4, "South Raw Tap", "02", "10:05", "12.6", "16.8"),
        )
    ]
    reading = read_document(pdf(page(*listed), page(*summary, number=2), *details))
    assert [(s.id, len(s.results)) for s in reading.samples] == [("26K41-01", 2), ("26K41-02", 2)]
    assert [brief(r)[:2] for r in reading.results] == [
        ("arsenic", "1.76"),
        ("lead", "<0.50"),
        ("arsenic", "12.6"),
        ("lead", "16.8"),
    ]
    places = [sum(w.of == "value" for w in r.where) for r in reading.results]
    assert places == [2, 1, 2, 2]


def test_how_warm_the_bottles_arrived_is_no_result() -> None:
    reading = read_page(
        (60.0, {40.0: "Sample receipt temperature was 3.4 °C when the bottles came in."}),
        *table(
            (40.0, 150.0, 220.0),
            "Analyte | Result | Units\nIron | 0.3 | mg/L\nLead | 2 | ug/L",
        ),
    )
    assert [r.analyte for r in reading.results] == ["iron", "lead"]


_STATE_FORM = (40.0, 100.0, 210.0, 260.0, 330.0, 390.0, 450.0)


def test_the_number_of_each_contaminant_is_no_number_of_a_sample() -> None:
    reading = read_page(
        (60.0, {40.0: "Sample Number: GA-5519-01", 250.0: "Sample Date: 07/07/2026"}),
        (74.0, {40.0: "Residual (where asked for):", 250.0: "mg/L", 330.0: "Field pH:"}),
        (88.0, {40.0: "7.6"}),
        *table(
            _STATE_FORM,
            "Contam ID | Contam Name | MCL | Units | Result | Qualifier | Method\n"
            "1040 | Nitrate (as N) | 10 | MG/L | 0.388 | | EPA 300.0\n"
            "1041 | Nitrite (as N) | 1 | MG/L | 0.174 | | EPA 300.0\n"
            "1005 | Arsenic | 0.010 | MG/L | 0.0031 | | EPA 200.8\n"
            "1052 | Sodium | 160 | MG/L | 36.2 | | EPA 200.7",
            top=120.0,
        ),
        (199.5, {260.0: "COLOR"}),
        (205.0, {40.0: "1905", 100.0: "Color", 210.0: "15", 330.0: "5.0", 450.0: "SM 2120 B"}),
        (210.5, {260.0: "UNITS"}),
    )
    assert [(s.id, len(s.results)) for s in reading.samples] == [("GA-5519-01", 6)]
    assert [brief(r)[:3] for r in reading.results] == [
        ("ph", "7.6", None),
        ("nitrate", "0.388", "MG/L"),
        ("nitrite", "0.174", "MG/L"),
        ("arsenic", "0.0031", "MG/L"),
        ("sodium", "36.2", "MG/L"),
        ("color", "5.0", "COLOR UNITS"),
    ]
    assert reading.unread == ()


def test_keys_with_colons_over_their_answers_name_the_sample_of_a_page() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 220.0, 330.0),
            "Grower: | Lab No.: | Sample ID: | Date Sampled:\n"
            "Alder Farms | 48-711 | NW Pivot Well | 27-Apr-2026",
            top=60.0,
            pitch=13.0,
        ),
        (90.0, {40.0: "IRRIGATION WATER"}),
        *table(
            (40.0, 220.0, 290.0, 350.0, 440.0),
            "Constituent | mg/L (ppm) | meq/L | Lbs per acre-foot | Rating\n"
            "Calcium, Ca | 98.4 | 4.91 | 268 | MEDIUM\n"
            "Sodium, Na | 148 | 6.44 | 403 | MEDIUM\n"
            "Boron, B | 0.34 | | 0.92 | LOW\n"
            "Total Dissolved Solids (EC x 640) | 909 | | | LOW",
            top=106.0,
        ),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("48-711", "NW Pivot Well", "2026-04-27")
    ]
    assert [(*brief(r)[:3], r.review) for r in reading.results] == [
        ("calcium", "98.4", "mg/L", ()),
        ("sodium", "148", "mg/L", ()),
        ("boron", "0.34", "mg/L", ()),
        ("total_dissolved_solids", "909", "mg/L", ()),
    ]


def test_a_head_of_results_and_flags_over_numbers_is_the_head_of_the_results() -> None:
    reading = read_page(
        (60.0, {40.0: "Lab Sample ID: TR-771-1"}),
        *table(
            (40.0, 200.0, 330.0, 400.0),
            "Analyte | Result Qualifier | RL | Units\n"
            "Arsenic | 17.6 | 1.0 | ug/L\nBoron | 307.5 | 20 | ug/L\nLead | 0.74 J | 1.0 | ug/L\n"
            "Cadmium | ND | 0.50 | ug/L",
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("arsenic", "17.6", "ug/L"),
        ("boron", "307.5", "ug/L"),
        ("lead", "0.74", "ug/L"),
        ("cadmium", "<0.50", "ug/L"),
    ]

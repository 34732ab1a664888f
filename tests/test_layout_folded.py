"""Lists that go on beside themselves, and heads that span several columns."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, read_page, table, words

from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

_ORGANICS = """
Benzene [5] | bdl | Ethylbenzene [700] | bdl | Styrene [100] | bdl
Bromoform | 4.8 | Naphthalene | bdl | Toluene [1000] | 5.7
Chloroform | bdl | Chloromethane | 2.2 | Trichloroethene [5] | bdl
Carbon tetrachloride [5] | bdl | Hexachlorobutadiene | bdl | Vinyl chloride [2] | 9.1
Bromobenzene | 7.8 | Chloroethane | bdl
"""


def test_three_columns_of_names_and_results_are_one_list() -> None:
    reading = read_page(
        (60.0, {45.0: "Sample SC-7702, Kitchen"}),
        (75.0, {45.0: "All figures are in ug/L."}),
        *table((45, 190, 225, 370, 405, 555), _ORGANICS),
    )
    found = {r.analyte: brief(r)[1] for r in reading.results}
    assert len(found) == 14
    assert found["toluene"] == "5.7"
    assert found["vinyl_chloride"] == "9.1"
    assert found["bromobenzene"] == "7.8"
    assert {r.unit for r in reading.results} == {"ug/L"}


def test_what_is_set_below_keeps_its_place_on_the_page() -> None:
    reading = read_page(*table((45, 190, 225, 370, 405, 555), _ORGANICS))
    vinyl = next(r for r in reading.results if r.analyte == "vinyl_chloride")
    (box,) = [w.box for w in vinyl.where if w.of == "value"]
    assert box is not None
    assert box[0] == 555.0


def test_a_list_of_places_goes_on_beside_its_own_head() -> None:
    reading = read_page(
        (60.0, {34.0: "Park District: Outdoor Fountain Lead Testing"}),
        (74.0, {34.0: "Lead, total (ug/L)"}),
        *table(
            (36, 90, 255, 328, 370, 540),
            """
Tag | Park / fountain | Pb | F06 | Inlet Park, lot | 4.02
F01 | Ashby Park, field | 7.33 | F07 | Juniper Park, lot | 1.90
F02 | Bell Park, lot | 6.90 | F08 | Kestrel Park, field | 2.61
F03 | Corliss Park, field | ND(1.0) | F09 | Lark Park, lot | 7.87
F04 | Dell Park, lot | 1.48 | F10 | Mossy Park, field | 32.01
F05 | Ender Park, field | 5.23
""",
        ),
    )
    assert [(s.id, brief(s.results[0])[:3]) for s in reading.samples][:6] == [
        ("F01", ("lead", "7.33", "ug/L")),
        ("F02", ("lead", "6.90", "ug/L")),
        ("F03", ("lead", "<1.0", "ug/L")),
        ("F04", ("lead", "1.48", "ug/L")),
        ("F05", ("lead", "5.23", "ug/L")),
        ("F06", ("lead", "4.02", "ug/L")),
    ]
    assert len(reading.samples) == 10


def test_two_tables_with_heads_of_their_own_stay_two() -> None:
    reading = read_page(
        *table(
            (36, 150, 200, 330, 450, 500),
            """
Metal | Result | Units | Anion | Result | Units
Iron | 0.31 | mg/L | Chloride | 12 | mg/L
Lead | 1.2 | ug/L | Sulfate | 20 | mg/L
Zinc | 0.02 | mg/L | Fluoride | 0.3 | mg/L
Copper | 0.11 | mg/L | Bromide | 0.1 | mg/L
""",
        )
    )
    assert {brief(r)[0]: brief(r)[2] for r in reading.results}["lead"] == "ug/L"
    assert len(reading.results) == 8


def test_a_head_over_several_columns_says_what_was_filtered() -> None:
    reading = read_page(
        (100.0, {60.0: "Sample", 150.0: "Date", 235.0: "TOTAL RECOVERABLE", 385.0: "DISSOLVED"}),
        *table(
            (65, 220, 270, 320, 370, 420),
            """
No. | Al | Cu | Zn | Al | Cu
 | mg/L | ug/L | mg/L | mg/L | ug/L
SW-1 | 0.93 | 3.2 | 0.12 | 0.10 | 1.8
SW-2 | 0.24 | 5.7 | 2.08 | 0.03 | 5.3
""",
            top=112,
            pitch=12,
        ),
    )
    first = reading.samples[0].results
    assert [(r.analyte, r.fraction, str(r.value)) for r in first] == [
        ("aluminum", "total", "0.93"),
        ("copper", "total", "3.2"),
        ("zinc", "total", "0.12"),
        ("aluminum", "dissolved", "0.10"),
        ("copper", "dissolved", "1.8"),
    ]
    assert all(r.use == "as_is" for r in first)


def test_a_count_has_the_unit_of_its_head_not_presence_from_the_title() -> None:
    reading = read_page(
        (60.0, {36.0: "Microbiology Log - Presence/Absence by SM 9223B"}),
        *table(
            (36, 120, 200, 280, 350),
            """
Lab # | Collected | T. Coliform | E. coli | HPC/mL
M24-2200 | 06/01/24 | A | A | 14
M24-2201 | 06/01/24 | A | A | <1
M24-2202 | 06/02/24 | P | A | 310
""",
            top=90,
        ),
    )
    counts = [r for r in reading.results if r.analyte == "heterotrophic_plate_count"]
    assert [(brief(r)[1], r.unit) for r in counts] == [
        ("14", "/mL"),
        ("<1", "/mL"),
        ("310", "/mL"),
    ]


def test_a_name_on_three_lines_is_one_name() -> None:
    reading = read_page(
        *table(
            (54, 200, 260),
            """
Determinand | Result | Units
Iron | 84 | ug/l
Hardness, total as
calcium carbonate
(CaCO3) | 128 | mg/l
Nitrite | 0.013 | mg/l
""",
            pitch=11.5,
        )
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("iron", "84"),
        ("hardness", "128"),
        ("nitrite", "0.013"),
    ]


def test_the_formula_of_the_ion_alone_leaves_the_basis_open() -> None:
    reading = read_page(
        *table(
            (50, 200, 260),
            "Determination | Result | Unit\nNitrate, NO3 | 31 | mg/L\nChloride | 18 | mg/L\n"
            "Sulfate | 20 | mg/L",
        )
    )
    assert [m.code for m in reading.results[0].review] == ["read.basis_open"]


def test_names_cut_off_by_the_next_cell_are_parted_from_its_number() -> None:
    rows = (
        (208.0, "Iron, Total", 362.0, "0.12", 444.0, "0.064"),
        (208.0, "Sulfate, as SO4", 364.0, "143", 449.0, "17.4"),
        (208.0, "Sodium, Total", 362.0, "15.8", 456.0, "23"),
    )
    lines = [(130.0 + 14 * n, {x: t, y: u, z: v}) for n, (x, t, y, u, z, v) in enumerate(rows)]
    clipped = (
        *words("Nitrogen, Ammonia", 208.0, 116.0),
        Word("(a", 291.0, 116.0, 299.0, 127.0),
        *words("0.30", 362.0, 116.0),
        *words("0.11", 444.0, 116.0),
    )
    heads = (100.0, {208.0: "Test", 295.0: "House well (mg/L)", 382.0: "Barn (mg/L)"})
    made = page((60.0, {208.0: "Report 26-118"}), heads, *lines)
    whole = Page(1, 612.0, 792.0, (*made.words, *clipped))
    reading = read_document(pdf(whole))
    first, second = reading.samples
    assert [brief(r)[:2] for r in first.results] == [
        ("ammonia", "0.30"),
        ("iron", "0.12"),
        ("sulfate", "143"),
        ("sodium", "15.8"),
    ]
    assert [brief(r)[1] for r in second.results] == ["0.11", "0.064", "17.4", "23"]
    assert [m.code for m in first.results[0].review][:1] == ["read.label_cut"]


def test_a_summary_above_the_named_sample_belongs_to_it() -> None:
    reading = read_page(
        *table((50, 200, 260), "Analyses | Results | Units\nIron | 0.11 | mg/L\nLead | 4.4 | ug/L"),
        (200.0, {50.0: "Lab Sample ID: W003749"}),
        *table(
            (50, 200, 260),
            "Analyses | Results | Units\nIron | 0.11 | mg/L\nLead | 4.4 | ug/L\nZinc | 0.06 | mg/L",
            top=220,
        ),
    )
    (sample,) = reading.samples
    assert (sample.id, len(sample.results)) == ("W003749", 3)

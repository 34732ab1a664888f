"""Two lists with dot leaders beside each other, each under a title with its unit."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.geometry import Word
from welltold_parsers.layout import read_document

_SIDES = (40.0, 200.0, 320.0, 500.0)


def test_each_list_has_the_unit_of_its_own_title() -> None:
    reading = read_page(
        (90.0, {40.0: "INORGANIC ONES", 130.0: "results in mg/L", 320.0: "TRACE METALS"}) | {}
        if False
        else (
            90.0,
            {
                40.0: "INORGANICS",
                120.0: "results in mg/L",
                320.0: "TRACE METALS",
                420.0: "results in ug/L (ppb)",
            },
        ),
        *table(
            _SIDES,
            "Calcium | 58.0 | Arsenic | 1.7\n"
            "Chloride | 31.6 | Barium | 84\n"
            "Fluoride | 0.27 | Cadmium | < 0.2\n"
            "Magnesium | 17.2 | Iron | < 25\n"
            "Nitrite-N | < 0.02 | Zinc | 142\n"
            "Potassium | 1.9",
            top=106.0,
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("calcium", "58.0", "mg/L"),
        ("chloride", "31.6", "mg/L"),
        ("fluoride", "0.27", "mg/L"),
        ("magnesium", "17.2", "mg/L"),
        ("nitrite", "<0.02", "mg/L"),
        ("potassium", "1.9", "mg/L"),
        ("arsenic", "1.7", "ug/L"),
        ("barium", "84", "ug/L"),
        ("cadmium", "<0.2", "ug/L"),
        ("iron", "<25", "ug/L"),
        ("zinc", "142", "ug/L"),
    ]


def test_a_unit_told_within_a_table_goes_before_the_unit_of_its_head() -> None:
    reading = read_page(
        *table(
            (40.0, 200.0),
            "INORGANICS | results in mg/L\nCalcium | 58.0\nChloride | 31.6\n"
            "TRACE METALS | results in ug/L\nArsenic | 1.7\nZinc | 142",
        ),
    )
    assert [(brief(r)[0], r.unit, bool(r.review)) for r in reading.results] == [
        ("calcium", "mg/L", False),
        ("chloride", "mg/L", False),
        ("arsenic", "ug/L", True),
        ("zinc", "ug/L", True),
    ]


def test_a_value_of_the_left_list_is_never_given_to_the_name_on_the_right() -> None:
    reading = read_page(
        *table(
            _SIDES,
            "Potassium | 1.9 mg/L\n"
            "Silica | 16.8 mg/L | pH, units | 7.3\n"
            "Sodium | 12.5 mg/L | Turbidity, NTU | 0.45\n"
            "Sulfate | 24.1 mg/L | Color, CU | < 5",
        ),
    )
    told = {r.analyte: brief(r)[1] for r in reading.results}
    assert told == {
        "potassium": "1.9",
        "silica": "16.8",
        "sodium": "12.5",
        "sulfate": "24.1",
        "ph": "7.3",
        "turbidity": "0.45",
        "color": "<5",
    }


def _typed(text: str, left: float, top: float, height: float) -> list[Word]:
    """Set a text in letters 6 points wide, its boxes drawn around the ink alone."""
    found = []
    for piece in text.split(" "):
        right = left + 6.0 * len(piece)
        if piece:
            tall = height if any(c in "gpqy/()" for c in piece) else 0.7 * height
            found.append(Word(piece, left, top, right, top + tall))
        left = right + 6.0
    return found


def test_one_blank_of_a_typed_line_parts_no_cells() -> None:
    lines = [
        "Point: North barn hydrant",
        "Total Diss. Solids      302 mg/L",
        "Iron in water 0.4 mg/L",
    ]
    words = [w for n, text in enumerate(lines) for w in _typed(text, 40.0, 60.0 + 15 * n, 9.0)]
    base = page()
    reading = read_document(pdf(type(base)(1, 612.0, 792.0, tuple(words))))
    assert [s.point for s in reading.samples] == ["North barn hydrant"]
    assert ("total_dissolved_solids", "302") in [brief(r)[:2] for r in reading.results]


def test_the_last_rows_of_the_left_list_are_no_head_of_the_right_one() -> None:
    head = "Test | Found | Unit | Test | Found | Unit"
    rows = (
        "Benzene | 0.71 | ug/L | Styrene | Not Detected | ug/L\n"
        "Toluene | Not Detected | ug/L | Naphthalene | 1.86 | ug/L\n"
        "Chloroform | Not Detected | ug/L | Vinyl chloride | Not Detected | ug/L"
    )
    lefts = (40.0, 130.0, 220.0, 320.0, 420.0, 510.0)
    reading = read_page((40.0, {40.0: "Sample: Barn"}), *table(lefts, f"{head}\n{rows}", top=70.0))
    assert [r.analyte for r in reading.results] == [
        "benzene",
        "toluene",
        "chloroform",
        "styrene",
        "naphthalene",
        "vinyl_chloride",
    ]

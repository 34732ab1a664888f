"""Units that one page states, heads that are no part of a table, and rows that are no samples."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, read_csv, table

from welltold.reading import Reading
from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

_LEFTS = (40.0, 140.0, 320.0, 420.0)


def _page(number: int, told: str, rows: str) -> Page:
    return page((60.0, {40.0: told}), *table(_LEFTS, rows, top=110.0), number=number)


def _told(reading: Reading) -> list[tuple[str | None, str, str | None, str | None]]:
    return [brief(r) for s in reading.samples for r in s.results]


def test_a_unit_does_not_go_on_to_a_page_whose_methods_tell_other_units() -> None:
    """Hardness of 96 in ug/L would be rain water; the page says so of no test by name."""
    reading = read_document(
        pdf(
            _page(
                1,
                "EPA 200.8, run on May 4, 2026. Results in ug/L",
                "Lab no. | Marked | Lead | Copper\n"
                "7701-1 | Hut 1 | 2.1 | 180\n7701-2 | Hut 2 | 0.8 | 64",
            ),
            _page(
                2,
                "SM 2340 C (mg/L as CaCO3), SM 3500-Fe B (mg/L); run on May 5, 2026",
                "Lab no. | Marked | Hardness | Iron\n"
                "7701-1 | Hut 1 | 96 | 0.08\n7701-2 | Hut 2 | 92 | 0.11",
            ),
        )
    )
    found = {r.analyte: r for r in reading.samples[0].results}
    assert found["lead"].unit == "ug/L"
    for slug in ("hardness", "iron"):
        assert found[slug].unit is None
        assert [m.code for m in found[slug].review] == ["read.unit_missing"]


def test_a_line_about_the_method_tells_the_unit_of_its_page() -> None:
    reading = read_document(
        pdf(
            _page(
                1,
                "SM 9223 B (enzyme substrate), most probable number per 100 mL; set up May 4, 2026",
                "Lab no. | Marked | Total coliform | E. coli\n"
                "7701-1 | Hut 1 | <1 | <1\n7701-2 | Hut 2 | 5.3 | <1",
            )
        )
    )
    assert {r.unit for s in reading.samples for r in s.results} == {
        "most probable number per 100 mL"
    }


def test_a_column_of_the_last_time_is_no_result_of_this_day() -> None:
    reading = read_csv(
        "Lab #,Date collected,Address,Nitrate-N (mg/L),Last nitrate (mg/L),Lead (ppb)\n"
        "T-1,2026-04-06,9 Elm Ct,2.3,2.1,<1\n"
        "T-2,2026-04-07,4 Oak Spur,13.1,9.1,4.2\n"
    )
    assert _told(reading) == [
        ("nitrate", "2.3", "mg/L", "N"),
        ("lead", "<1", "ppb", None),
        ("nitrate", "13.1", "mg/L", "N"),
        ("lead", "4.2", "ppb", None),
    ]
    assert reading.unread == ()
    assert [w.code for w in reading.warnings] == ["read.history_left_out"]


def test_standard_units_are_no_standard_deviation() -> None:
    reading = read_csv(
        "Laboratory number,Sample,Collected,pH,Chloride\n"
        ",,,std units,mg/L\n"
        "8-01,Well 1,2026-08-12,6.88,17.3\n"
        "8-02,Well 2,2026-08-12,7.05,21.0\n"
    )
    assert [n for s, n, _, _ in _told(reading) if s == "ph"] == ["6.88", "7.05"]


def test_a_block_whose_place_is_a_method_blank_is_no_sample() -> None:
    head = "Code,Analyte,,Result,Unit,MRL\n"
    reading = read_csv(
        "Lab Number:,31.01,,Location:,WELL 4,\n"
        "Collected:,2026-03-16,,Received:,2026-03-16,\n"
        f"{head}2941,CHLOROFORM,,1.9,UG/L,0.5\n2942,BROMOFORM,<,0.5,UG/L,0.5\n"
        "Lab Number:,BLK 0316,,Location:,METHOD BLANK,\n"
        "Collected:,,,Received:,2026-03-16,\n"
        f"{head}2941,CHLOROFORM,<,0.5,UG/L,0.5\n2942,BROMOFORM,<,0.5,UG/L,0.5\n"
    )
    (sample,) = reading.samples
    assert (sample.id, len(sample.results)) == ("31.01", 2)


def _turned(text: str, left: float, bottom: float) -> list[Word]:
    """Return the words of a head on end, 10 points wide, that rises from its bottom."""
    found = []
    for piece in text.split():
        top = bottom - 4.5 * len(piece)
        found.append(Word(piece, left, top, left + 10.0, bottom))
        bottom = top - 2.0
    return found


def test_the_end_of_a_head_on_end_keeps_its_short_words() -> None:
    """Without "(as P)" the number would count as phosphate, three times as much."""
    base = page(
        *table(
            (40.0, 200.0, 240.0, 280.0, 320.0),
            "Units | mg/L | mg/L | mg/L | mg/L\n"
            "Well 1 | 6.8 | 0.18 | 0.41 | 0.21\n"
            "Well 2 | 4.9 | 0.16 | 0.37 | 0.34",
            top=180.0,
        )
    )
    heads = [
        *_turned("Chloride", 203.0, 172.0),
        *_turned("Fluoride", 243.0, 172.0),
        *_turned("Orthophosphate (as P)", 283.0, 172.0),
        *_turned("Manganese, total", 323.0, 172.0),
    ]
    whole = Page(1, base.width, base.height, (*heads, *base.words))
    found = [r for s in read_document(pdf(whole)).samples for r in s.results]
    assert [brief(r) for r in found if r.analyte == "orthophosphate"] == [
        ("orthophosphate", "0.41", "mg/L", "P"),
        ("orthophosphate", "0.37", "mg/L", "P"),
    ]


def test_a_basis_in_capitals_counts() -> None:
    reading = read_csv("Sample,Analyte,Result,Units\nS,SILICA AS SIO2,16.4,MG/L\n")
    assert _told(reading) == [("silica", "16.4", "MG/L", "SiO2")]


def test_keys_above_a_sheet_of_one_sample_are_no_part_of_its_head() -> None:
    """Two reports in one file: without their numbers the two would become one sample."""
    one = (
        "Report no.,{0},Lab ID,{0}-A\n"
        "Reported,10/01/2026,Sampled by,client\n"
        ",\n,\n"
        "Test,Result,Units,LOQ\n"
        "Chloride,{1},mg/L,1\n"
        "Iron,ND,mg/L,0.02\n"
    )
    reading = read_csv(one.format("26-11", "18"))
    assert [(s.id, len(s.results)) for s in reading.samples] == [("26-11-A", 2)]
    assert _told(reading) == [("chloride", "18", "mg/L", None), ("iron", "<0.02", "mg/L", None)]


def test_a_title_tells_the_unit_of_two_lists_side_by_side() -> None:
    lefts = (40.0, 150.0, 210.0, 330.0, 450.0, 510.0)
    rows = "Analyte|Result|RL|Analyte|Result|RL\nAlachlor|ND|0.2|Endrin|ND|0.01"
    found = read_document(
        pdf(
            page(
                (60.0, {40.0: "PESTICIDES", 200.0: "(all results, RL and MCL in ug/L)"}),
                *table(lefts, rows + "\nAtrazine|0.47|0.1|Lindane|ND|0.02", top=85.0),
            ),
            page(
                (60.0, {40.0: "FLUORINATED COMPOUNDS", 240.0: "EPA 533", 360.0: "(ng/L)"}),
                *table(
                    lefts,
                    "Analyte|Result|RL|Analyte|Result|RL\n"
                    "PFBS|4.2|3|PFBA|8.3|5\nPFOA|6.9|4|PFOS|12|4",
                    top=85.0,
                ),
                number=2,
            ),
        )
    )
    units = {r.analyte: r.unit for s in found.samples for r in s.results}
    assert {u for slug, u in units.items() if slug and slug.startswith("pf")} == {"ng/L"}
    assert (units["atrazine"], units["endrin"]) == ("ug/L", "ug/L")


def test_a_row_named_control_is_no_sample_and_a_control_room_is_one() -> None:
    reading = read_document(
        pdf(
            _page(
                1,
                "Results in MPN/100 mL",
                "Lab no. | Marked | Total coliform | E. coli\n"
                "7701-1 | Hut 1 | <1 | <1\n"
                "7701-2 | Control room tap | 5.3 | <1\n"
                "Control | E. coli culture | >200.5 | >200.5",
            )
        )
    )
    assert [(s.id, len(s.results)) for s in reading.samples] == [("7701-1", 2), ("7701-2", 2)]


def test_a_sum_in_the_second_unit_alone_is_read_in_that_unit() -> None:
    reading = read_csv(
        "Lab ID,A-1\nAnalyte,mg/L,meq/L\nCalcium,40,2.0\nMagnesium,12,1.0\n"
        "Sum of Cations,,3.0\nSodium,23,1.0\n"
    )
    assert [result.text for sample in reading.samples for result in sample.results] == [
        "40",
        "12",
        "3.0",
        "23",
    ]
    assert [r.unit for r in reading.results if r.analyte == "cation_sum"] == ["meq/L"]
    assert reading.unread == ()

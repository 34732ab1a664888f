"""Lists of samples in data files and on pages, answers beside numbers: counted by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, from_csv, page, pdf, read_csv, table

from welltold_parsers.geometry import Document, Sheet
from welltold_parsers.layout import read_document

_LIST = (
    "sample_no,field_name,sample_type_code,sample_date\nQ-1,Barn,N,2026-05-02\n"
    "Q-2,Trip,TB,2026-05-02\nQ-3,House,N,2026-05-03\nQ-1M,Barn,MS,2026-05-02"
)
_RESULTS = (
    "sample_no,chemical_name,result_value,reportable_result,detect_flag,reporting_limit,result_unit\n"
    "Q-1,Benzene,1.5,Yes,Y,0.5,ug/L\nQ-1,Iron,,Yes,N,50,ug/L\nQ-2,Benzene,,Yes,N,0.5,ug/L\n"
    "Q-3,Benzene,0.7,Yes,Y,0.5,ug/L\nQ-1M,Benzene,11.5,Yes,Y,0.5,ug/L"
)


def test_kinds_of_a_list_on_another_sheet_and_a_column_of_yes() -> None:
    sheets = tuple(
        Sheet(name, from_csv(text).sheets[0].rows)
        for name, text in (("Sample", _LIST), ("Result", _RESULTS))
    )
    reading = read_document(Document("made.xlsx", "0" * 64, "xlsx", (), sheets))
    assert [(s.id, [brief(r)[:2] for r in s.results]) for s in reading.samples] == [
        ("Q-1", [("benzene", "1.5"), ("iron", "<50")]),
        ("Q-3", [("benzene", "0.7")]),
    ]
    assert reading.unread == ()


def test_a_germs_answer_in_a_column_of_its_own_and_units_by_their_short_name() -> None:
    reading = read_csv(
        "LAB_SAMPLE_NUM,ANALYTE_NAME,LESS_THAN_IND,DETECTION_LEVEL,DETECTION_UOM,CONCENTRATION,"
        "CONC_UOM,PRESENCE_IND\n"
        "26-1,NITRATE,N,,,3.2,MG/L,\n26-1,ARSENIC,Y,0.5,UG/L,,,\n26-1,IRON,N,,,0.4,MG/L,\n"
        "26-1,TOTAL COLIFORM,,,,,,P\n26-1,E. COLI,,,,,,A"
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("nitrate", "3.2", "MG/L"),
        ("arsenic", "<0.5", "UG/L"),
        ("iron", "0.4", "MG/L"),
        ("total_coliform", "present", None),
        ("e_coli", "absent", None),
    ]
    assert reading.unread == ()


@pytest.mark.parametrize("order", ["Order 26-77", "Report 26-77"])
def test_one_sample_at_the_head_of_each_page_is_whose_results_follow(order: str) -> None:
    lefts = (50.0, 150.0, 260.0, 380.0)
    pages = [
        page(
            (40.0, {50.0: order}),
            *table(
                lefts,
                "Lab Sample ID | Field ID | Sampling point | Collected\n"
                f"26-77-0{n} | WW-{n} | {place} | 10/13/2026 08:{n}5",
                top=70.0,
            ),
            *table(lefts, f"Test | Result | Units | RL\nIron | 0.{n}5 | mg/L | 0.01", top=130.0),
            *table(lefts, f"Lead | {n}.5 | µg/L | 0.2", top=160.0),
            number=n,
        )
        for n, place in ((1, "Well head"), (2, "Kitchen"))
    ]
    reading = read_document(pdf(*pages))
    assert [(s.id, s.point, [r.text for r in s.results]) for s in reading.samples] == [
        ("26-77-01", "Well head", ["0.15", "1.5"]),
        ("26-77-02", "Kitchen", ["0.25", "2.5"]),
    ]
    assert {r.use for r in reading.results} == {"as_is"}

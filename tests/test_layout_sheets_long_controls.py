"""Rows of quality control among the samples of a long export are left out, and only they."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, read_csv, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

HEAD = "Lab Sample No,Client Sample ID,Sample Type,Analyte,Result,Qual,MRL,Units,Method"
WELL = """
K118-001,WELL 3,SAMP,Arsenic,3.4,,1,ug/L,EPA 200.8
K118-001,WELL 3,SAMP,Lead,ND,U,0.5,ug/L,EPA 200.8
"""
TAP = """
K118-002,KITCHEN,SAMP,Arsenic,3.1,,1,ug/L,EPA 200.8
K118-002,KITCHEN,SAMP,Lead,7.9,,0.5,ug/L,EPA 200.8
"""


def counts(reading: Reading) -> dict[str | None, list[str]]:
    return {s.id: [r.text for r in s.results] for s in reading.samples}


def left_out(reading: Reading) -> str | None:
    return next(
        (str(w.args["count"]) for w in reading.warnings if w.code == "read.qc_left_out"), None
    )


@pytest.mark.parametrize("unit", ["%REC", "% Rec", "% Recovery", "%R", "Percent Recovery"])
def test_a_control_with_a_recovery_does_not_end_the_samples(unit: str) -> None:
    """A control before the samples and one between them; two rows of controls are told."""
    control = f"K118-BS1,,LCS,Arsenic,101.2,,1,{unit},EPA 200.8"
    spike = f"K118-001MS,,MS,Lead,104,,0.5,{unit},EPA 200.8"
    reading = read_csv(f"{HEAD}\n{control}{WELL}{spike}{TAP}")
    assert counts(reading) == {"K118-001": ["3.4", "ND"], "K118-002": ["3.1", "7.9"]}
    assert left_out(reading) == "2"


@pytest.mark.parametrize("unit", ["%REC", "%R", "RPD", "% RPD"])
def test_a_recovery_is_no_result_where_no_type_of_sample_is_told(unit: str) -> None:
    head = "Sample ID,Analyte,Result,MRL,Units\n"
    rows = "K-1,Arsenic,3.4,1,ug/L\nK-1,Lead,7.9,0.5,ug/L\nK-1,Sulfate,31,1,mg/L\n"
    reading = read_csv(f"{head}{rows}K-1,Arsenic,96,1,{unit}\nK-1,Chloride,5,1,mg/L\n")
    assert counts(reading) == {"K-1": ["3.4", "7.9", "31", "5"]}
    assert left_out(reading) == "1"


def test_a_head_of_recoveries_on_a_page_still_ends_the_results() -> None:
    rows = table(
        (40, 220, 300, 380),
        "Analyte|Result|MRL|Units\nArsenic|3.4|1.0|ug/L\nLead|ND|0.5|ug/L\n"
        "Surrogates|% Recovery|Limits|\nToluene-d8|98|70-130|\nBenzene|97|70-130|",
    )
    reading = read_document(pdf(page(*rows)))
    assert counts(reading) == {None: ["3.4", "ND"]}


def test_a_recovery_row_on_a_page_leaves_the_rows_below_it() -> None:
    rows = table(
        (40, 220, 300, 380),
        "Analyte|Result|MRL|Units\nArsenic|3.4|1.0|ug/L\n"
        "Toluene-d8 (surr.)|98|70|% Rec\nLead|ND|0.5|ug/L",
    )
    reading = read_document(pdf(page(*rows)))
    assert counts(reading) == {None: ["3.4", "ND"]}

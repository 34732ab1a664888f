"""Yes and no, plus and minus, as the answers of germs: what the question over them asks."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading

_LEFTS = (50.0, 200.0, 320.0)
_PLAIN = [("total_coliform", "present"), ("e_coli", "absent")]
_TURNED = [("total_coliform", "absent"), ("e_coli", "present")]


def _told(reading: Reading) -> list[tuple[str | None, str]]:
    return [brief(r)[:2] for r in reading.results]


def _slip(head: str, yes: str, no: str) -> Reading:
    rows = f"Test | {head} | Method\nTotal Coliform | {yes} | SM 9223\nE. coli | {no} | SM 9223"
    return read_page((60.0, {50.0: "Water Report"}), *table(_LEFTS, rows))


@pytest.mark.parametrize(
    "head",
    ["Result", "Present?", "Presence", "Found?", "Detected?", "Positive?", "Present (Y/N)"],
)
@pytest.mark.parametrize(("yes", "no"), [("Yes", "No"), ("Y", "N"), ("Pos.", "Neg."), ("+", "-")])
def test_yes_says_that_germs_were_found(head: str, yes: str, no: str) -> None:
    assert _told(_slip(head, yes, no)) == _PLAIN


@pytest.mark.parametrize("head", ["Absent?", "Absent (Y/N)", "Negative?"])
@pytest.mark.parametrize(("yes", "no"), [("Yes", "No"), ("Y", "N")])
def test_yes_below_absent_says_that_none_were_found(head: str, yes: str, no: str) -> None:
    assert _told(_slip(head, yes, no)) == _TURNED


@pytest.mark.parametrize("head", ["Safe?", "Acceptable?", "Meets standard?", "Potable", "Unsafe?"])
def test_a_judgement_is_no_answer_and_is_told(head: str) -> None:
    reading = _slip(head, "Yes", "No")
    assert reading.results == ()
    assert [u.text.split()[0] for u in reading.unread] == ["Total", "E."]


def test_a_judgement_beside_a_count_changes_nothing() -> None:
    reading = read_csv(
        "Test,Result,Units,Safe?\nTotal Coliform,5.2,MPN/100 mL,No\nE. coli,<1,MPN/100 mL,Yes"
    )
    assert _told(reading) == [("total_coliform", "5.2"), ("e_coli", "<1")]


@pytest.mark.parametrize(
    ("heads", "row", "told"),
    [
        ("Total Coliform,E. coli", "Yes,No", _PLAIN),
        ("Total Coliform,E. coli", "+,-", _PLAIN),
        ("Total Coliform present?,E. coli present?", "Yes,No", _PLAIN),
        ("Total Coliform absent?,E. coli absent?", "Y,N", _TURNED),
        ("Total Coliform safe?,E. coli", "No,No", [("e_coli", "absent")]),
    ],
)
def test_samples_down_with_answers_keep_their_other_tests(
    heads: str, row: str, told: list[tuple[str, str]]
) -> None:
    reading = read_csv(
        f"Sample,Date,{heads},Nitrate (mg/L)\nWell 1,2026-01-02,{row},1.5\n"
        f"Well 2,2026-01-02,{row},2.5"
    )
    assert _told(reading) == [*told, ("nitrate", "1.5"), *told, ("nitrate", "2.5")]


def test_a_minus_answers_only_where_a_plus_does() -> None:
    reading = read_csv("Sample,Date,E. coli,pH\nA,2026-01-02,-,7.1\nB,2026-01-02,Absent,7.2")
    assert [r.state for r in reading.results if r.analyte == "e_coli"] == ["blank", "absent"]


def test_no_minus_for_germs_that_are_counted() -> None:
    reading = read_csv("Sample,E. coli,HPC (CFU/mL),pH\nA,+,5,7.1\nB,-,-,7.2")
    assert [r.state for r in reading.results][3:] == ["absent", "blank", "value"]


def test_a_sample_without_any_germ_is_a_sample() -> None:
    reading = read_csv("Sample,Date,Coliform,E. coli\nA,2026-01-02,+,-\nB,2026-01-02,-,-")
    assert _told(reading) == [*_PLAIN, ("total_coliform", "absent"), ("e_coli", "absent")]


def test_questions_line_by_line() -> None:
    reading = read_page(
        (60.0, {50.0: "Sample: Well 3"}),
        (80.0, {50.0: "Total coliform present? Yes"}),
        (95.0, {50.0: "E. coli present?", 300.0: "No"}),
        (110.0, {50.0: "Fecal coliform absent? Yes."}),
    )
    assert _told(reading) == [*_PLAIN, ("fecal_coliform", "absent")]

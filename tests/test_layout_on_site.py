"""Readings that somebody made on site beside the results of a laboratory, on one page."""

from __future__ import annotations

from tests.layout_sheets import page, pdf

from welltold.reading import Reading
from welltold_parsers.geometry import Document
from welltold_parsers.layout import read_document

_KIT = [
    (100.0, {40: "Water test at site (field kit, at the yard hydrant)", 400: "5/6/2026 2:15 pm"}),
    (120.0, {40: "Hardness", 200: "17 gpg"}),
    (135.0, {40: "Iron", 200: "0.5 mg/L"}),
]
_LAB = [
    (170.0, {40: "Laboratory part"}),
    (180.0, {40: "Lab no.: 26-118", 300: "Collected: 5/6/2026"}),
    (190.0, {40: "Nitrate as N", 200: "1.9 mg/L"}),
    (205.0, {40: "Arsenic", 200: "0.003 mg/L"}),
    (220.0, {40: "Lead", 200: "0.001 mg/L"}),
]


def _told(reading: Reading) -> list[tuple[str | None, str | None, list[str]]]:
    return [(s.id, s.point, [r.analyte or "" for r in s.results]) for s in reading.samples]


def _read(*lines: tuple[float, dict[float, str]]) -> Reading:
    document: Document = pdf(page(*lines))
    return read_document(document)


def test_readings_on_site_are_a_sample_of_their_own_and_asked_about() -> None:
    reading = _read(*_KIT, *_LAB)
    assert _told(reading) == [
        (None, "yard hydrant", ["hardness", "iron"]),
        ("26-118", None, ["nitrate", "arsenic", "lead"]),
    ]
    kit, lab = reading.samples
    assert kit.collected == "2026-05-06T14:15"
    assert all("read.sample_on_site" in {m.code for m in r.review} for r in kit.results)
    assert {r.use for r in kit.results} == {"look"}
    assert {r.use for r in lab.results} == {"as_is"}


def test_the_laboratory_may_stand_first() -> None:
    kit = [(top + 200, cells) for top, cells in _KIT]
    assert [names for _, _, names in _told(_read(*_LAB, *kit))] == [
        ["hardness", "iron"],
        ["nitrate", "arsenic", "lead"],
    ]


def test_a_sheet_of_readings_on_site_alone_stays_one_sample() -> None:
    assert [names for _, _, names in _told(_read(*_KIT))] == [["hardness", "iron"]]


def test_a_remark_on_tests_at_the_house_parts_nothing() -> None:
    remark = (155.0, {40: "The tests at the house were made by the owner, who was told how."})
    lines = [(100.0, {40: "Lab no. 26-118"}), (120.0, {40: "Chloride", 200: "12 mg/L"})]
    assert [names for _, _, names in _told(_read(*lines, remark, *_LAB[2:]))] == [
        ["chloride", "nitrate", "arsenic", "lead"]
    ]


def test_the_number_of_the_laboratory_is_found_in_the_line_of_the_day() -> None:
    line = "Sampled: 05/06/2026, kitchen tap. Laboratory: Alder Analytical, lab no. AA-0506-3"
    reading = _read(
        (60.0, {400: "Report PT-26-11"}),
        (80.0, {40: line}),
        *_LAB[2:],
    )
    assert [s.id for s in reading.samples] == ["AA-0506-3"]


def test_a_sentence_on_the_wells_of_the_neighbours_holds_no_result() -> None:
    reading = _read(
        *_LAB, (250.0, {40: "Iron was 0.3 mg/L or more in most wells that we tested this year."})
    )
    assert "iron" not in {r.analyte for r in reading.results}

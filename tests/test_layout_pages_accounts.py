"""No line with a test and a number goes unsaid; a new day without a name is a sample in doubt."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.layout import read_document
from welltold_parsers.layout.spelled import as_given
from welltold_parsers.layout.tokens import label_of

_PLAIN = "Analyte | Result | Unit\nLead | 1.2 | ug/L\nIron | 0.2 | mg/L"
_LEFTS = (40.0, 200.0, 260.0)


def test_a_line_with_a_test_and_a_number_that_gives_no_result_is_unread() -> None:
    reading = read_page(
        (40.0, {40.0: "Lab ID: 88-1"}),
        *table(_LEFTS, _PLAIN, top=60.0),
        (200.0, {40.0: "Manganese", 150.0: "0", 200.0: "0.05", 250.0: "0.3 of 4 bars", 400.0: "7"}),
        (230.0, {40.0: "Definitions"}),
        (250.0, {40.0: "Lead", 200.0: "15 is the action level here"}),
    )
    assert {brief(r)[0] for r in reading.results} | {
        "manganese" for u in reading.unread if u.text.startswith("Manganese")
    } == {"lead", "iron", "manganese"}
    assert not any(u.text.startswith("Lead") for u in reading.unread)


def test_a_test_of_a_form_that_was_not_done_is_not_unread() -> None:
    reading = read_page(
        (40.0, {40.0: "Lab ID: 88-1"}),
        *table(
            (40.0, 200.0, 260.0, 330.0),
            "Analyte | Result | Unit | MCL\nLead | 1.2 | ug/L | 15\nCopper | | | 1300\n"
            "Iron | 200 | ug/L | 300",
            top=60.0,
        ),
    )
    assert [r.analyte for r in reading.results] == ["lead", "iron"]
    assert reading.unread == ()


def test_another_day_without_a_name_begins_a_sample_that_is_in_doubt() -> None:
    reading = read_document(
        pdf(
            page(
                (40.0, {40.0: "Lab ID: 88-1", 250.0: "Collected: 11/05/24 07:45"}),
                *table(_LEFTS, _PLAIN, top=60.0),
            ),
            page(
                (40.0, {250.0: "Collected: 12/09/24 08:10"}),
                *table(_LEFTS, _PLAIN, top=60.0),
                number=2,
            ),
        )
    )
    assert [(s.id, s.collected) for s in reading.samples] == [
        ("88-1", "2024-11-05T07:45"),
        ("88-1", "2024-12-09T08:10"),
    ]
    codes = [[m.code for m in r.review] for r in reading.samples[1].results]
    assert codes == [["read.sample_unsure"], ["read.sample_unsure"]]


def test_one_well_on_two_days_is_two_samples() -> None:
    def block(top: float, day: str) -> list[tuple[float, dict[float, str]]]:
        head = (top, {40.0: "Sample ID: PW-15", 250.0: f"Collected: {day}"})
        return [head, *table(_LEFTS, _PLAIN, top=top + 20.0)]

    reading = read_page(*block(40.0, "10/21/2020"), *block(200.0, "4/13/2021"))
    assert [(s.id, s.collected, len(s.results)) for s in reading.samples] == [
        ("PW-15", "2020-10-21", 2),
        ("PW-15", "2021-04-13", 2),
    ]


def test_a_list_of_outlets_names_the_whole_way_to_each() -> None:
    places = table(
        (40.0, 50.0, 60.0, 300.0),
        "Alder Commons\n | Field house\n | | Fountain 1 | 3.12\n | | Faucet 2 | <0.50\n"
        " | Grounds\n | | Fountain 1 | 1.40\n",
        top=80.0,
    )
    title = (50.0, {40.0: "Lead in first-draw water, micrograms per liter (ug/L)"})
    reading = read_page(title, *places)
    assert [(s.point, *brief(s.results[0])[:3]) for s in reading.samples] == [
        ("Alder Commons Field house Fountain 1", "lead", "3.12", "ug/L"),
        ("Alder Commons Field house Faucet 2", "lead", "<0.50", "ug/L"),
        ("Alder Commons Grounds Fountain 1", "lead", "1.40", "ug/L"),
    ]


@pytest.mark.parametrize(
    ("printed", "given"),
    [
        ("micrograms per liter (ug/L)", "ug/L"),
        ("MG_L", "mg/L"),
        ("mg/l", "mg/l"),
        ("µg/L", "µg/L"),
        ("parts per billion", "parts per billion"),
        ("furlongs", "furlongs"),
        (None, None),
    ],
)
def test_a_unit_is_given_as_printed_unless_it_is_said_twice_or_in_a_code(
    printed: str | None, given: str | None
) -> None:
    assert as_given(printed) == given


@pytest.mark.parametrize(
    ("label", "slug", "basis"),
    [
        ("NH3+NH4- N, TOTAL", "ammonia", "N"),
        ("RESIDUE, DISS-180 C", "total_dissolved_solids", None),
        ("Colony count at 22°C", "heterotrophic_plate_count", None),
        ("Total Hardness by 2340B", "hardness", None),
        ("Fe2+ + Fe3+ (iron, total)", "iron", None),
        ("Total Coliform by P/A", "total_coliform", None),
    ],
)
def test_names_of_state_laboratories_are_known(label: str, slug: str, basis: str | None) -> None:
    match = label_of(label).match
    assert match is not None
    assert (match.slug, match.basis) == (slug, basis)

"""Tables for homeowners: units beside each number, plain heads, check marks before verdicts."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading

Brief = tuple[str | None, str, str | None, str | None]
WANTED: list[Brief] = [
    ("lead", "<1", "ppb", None),
    ("copper", "0.11", "ppm", None),
    ("nitrite", "<0.02", "ppm", "N"),
    ("turbidity", "<0.1", "NTU", None),
    ("total_coliform", "absent", None, None),
    ("e_coli", "absent", None, None),
]


def told(reading: Reading) -> list[Brief]:
    assert not reading.unread
    return [brief(r) for s in reading.samples for r in s.results]


def rows(good: str, bad: str, germ: str) -> str:
    return (
        f"Lead|Not detected|1 ppb|15 ppb|{good}\nCopper|0.11 ppm|0.01 ppm|1.3 ppm|{good}\n"
        f"Nitrite (as N)|Not detected|0.02 ppm|1 ppm|{good}\nTurbidity|ND|0.1 NTU|-|{bad}\n"
        f"Total coliform bacteria|Absent||{germ}|{good}\nE. coli|Absent||{germ}|{good}"
    )


@pytest.mark.parametrize(
    "least",
    [
        "Lab can detect down to",
        "Lowest level we can detect",
        "Lab's lowest level",
        "Detection limit",
    ],
)
@pytest.mark.parametrize(
    ("good", "bad"),
    [
        ("✓ Within limit", "⚠ Above limit"),
        ("✔ Meets standard", "✗ Exceeds standard"),
        ("✓ OK", "✗ High"),
        ("Within limit", "Above limit"),
    ],
)
def test_not_detected_is_below_the_least_with_its_own_unit(least: str, good: str, bad: str) -> None:
    """The least stands with its unit in its own cell, so that nothing is left open."""
    text = f"Test|Your result|{least}|Limit|Status\n{rows(good, bad, 'Absent')}"
    reading = read_csv(text.replace(",", ";").replace("|", ","))
    assert told(reading) == WANTED
    assert not any(r.review for s in reading.samples for r in s.results)


@pytest.mark.parametrize("germ", ["Absent", "None", "0"])
def test_the_same_on_a_page(germ: str) -> None:
    text = f"Test|Your result|Lab can detect down to|Limit|Status\n{rows('✓ OK', '⚠ High', germ)}"
    assert told(read_page(*table((40, 180, 260, 390, 450), text))) == WANTED


def test_limits_with_two_units_are_asked_about() -> None:
    """Two limits of the laboratory's in two units: which one "ND" is below is not told."""
    reading = read_csv(
        "Test,Your result,MDL,RL,Limit\nLead,ND,1 ppb,0.005 ppm,15 ppb\n"
        "Copper,0.11 ppm,0.01 ppm,0.02 ppm,1.3 ppm\nIron,0.2 ppm,0.01 ppm,0.02 ppm,0.3 ppm"
    )
    lead = next(r for s in reading.samples for r in s.results if r.analyte == "lead")
    assert lead.review


def test_boxes_that_judge_stay_boxes() -> None:
    """A form whose boxes offer both answers: the ticked one counts."""
    reading = read_page(
        *table(
            (40, 200, 300), "Total coliform bacteria|☒ Absent|☐ Present\nE. coli|☐ Absent|☒ Present"
        )
    )
    assert [brief(r)[:2] for s in reading.samples for r in s.results] == [
        ("total_coliform", "absent"),
        ("e_coli", "present"),
    ]

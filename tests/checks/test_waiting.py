"""Hold times: bacteria 30 h, nitrate 48 h, pH 15 minutes, VOC 14 d, sulfide 7 d, radon 4 d."""

from __future__ import annotations

from decimal import Decimal

import pytest
from checks.made import analytes, checks, codes, row

from welltold.analytes import registry
from welltold.checks.hold_times import holds
from welltold.interpretation import Finding, LevelUsed

DAY = "2026-05-10"


def held(
    slug: str,
    text: str,
    collected: str | None,
    tested: str | None,
    received: str | None = None,
    **more: object,
) -> dict[str, str]:
    made = checks(row(slug, text, analyzed=tested, **more), collected=collected, received=received)
    return {
        name.partition(":")[2]: check.outcome
        for name, check in made.items()
        if name.startswith("hold_time")
    }


@pytest.mark.parametrize(
    ("slug", "collected", "tested", "outcome"),
    [
        # US EPA FAQ on 40 CFR 141.21(f)(3): 30 hours from collection to the start of the test
        ("total_coliform", "2026-05-10T08:00", "2026-05-11T14:00", "agrees"),
        ("total_coliform", "2026-05-10T08:00", "2026-05-11T14:01", "doubt"),
        ("e_coli", "2026-05-10T08:00", "2026-05-10", "agrees"),
        ("e_coli", "2026-05-10T08:00", "2026-05-11", "not_possible"),  # 16 to 40 h
        ("e_coli", DAY, "2026-05-11", "not_possible"),
        ("e_coli", DAY, "2026-05-12", "not_possible"),  # 24 to 72 h
        ("e_coli", DAY, "2026-05-13", "doubt"),  # at least 48 h
        # 48 hours, unpreserved
        ("nitrate", "2026-05-10T08:00", "2026-05-12T08:00", "agrees"),
        ("nitrate", "2026-05-10T08:00", "2026-05-12T08:01", "doubt"),
        ("nitrite", "2026-05-10T08:00", "2026-05-12T09:00", "doubt"),
        ("nitrate_nitrite", DAY, "2026-05-20", "doubt"),
        # 14 days, 7 days, 4 days
        ("benzene", "2026-05-10T08:00", "2026-05-24T08:00", "agrees"),
        ("benzene", "2026-05-10T08:00", "2026-05-24T09:00", "doubt"),
        ("sulfide", "2026-05-10T08:00", "2026-05-17T08:00", "agrees"),
        ("hydrogen_sulfide", "2026-05-10T08:00", "2026-05-17T09:00", "doubt"),
        ("radon", "2026-05-10T08:00", "2026-05-14T08:00", "agrees"),
        ("radon", "2026-05-10T08:00", "2026-05-14T08:01", "doubt"),
        ("radon", DAY, "2026-05-13", "agrees"),  # at most 96 h
        ("radon", None, "2026-05-13", "not_possible"),
        ("radon", DAY, None, "not_possible"),
        ("radon", "10 May", "2026-05-13", "not_possible"),
    ],
)
def test_waiting(slug: str, collected: str | None, tested: str | None, outcome: str) -> None:
    assert list(held(slug, "1", collected, tested).values()) == [outcome]


HOURS = {
    # days as printed: 40 CFR 136 Table II, 40 CFR 141.24, Standard Methods 7500-Rn, Maine 2024
    "bacteria": 30,
    "nitrate": 48,
    "nitrite": 48,
    "ph": 0.25,
    "voc": 14 * 24,
    "sulfide": 7 * 24,
    "radon": 4 * 24,
    "turbidity": 48,
    "solids": 7 * 24,
    "alkalinity": 14 * 24,
    "mercury": 28 * 24,
}


def test_the_hours_of_every_rule() -> None:
    assert {hold.name: float(hold.hours) for hold in holds()} == HOURS
    kept = {hold.name: float(hold.kept_hours) for hold in holds() if hold.kept_hours}
    assert kept == {"nitrate": 28 * 24}


def test_acid_keeps_nitrate_for_28_days() -> None:
    # method 353.2 is run on acidified bottles too; the sheet does not say whether this one was
    assert held("nitrate", "5", DAY, "2026-05-20", method="EPA 353.2") == {
        "nitrate": "not_possible"
    }
    assert held("nitrate", "5", DAY, "2026-06-08", method="EPA 353.2") == {"nitrate": "doubt"}
    assert held("nitrate", "5", DAY, "2026-05-20", method="EPA 300.0") == {"nitrate": "doubt"}


def test_the_day_of_arrival_is_the_least() -> None:
    assert held("e_coli", "Absent", DAY, None, "2026-05-13") == {"bacteria": "doubt"}
    assert held("e_coli", "Absent", DAY, None, "2026-05-10") == {"bacteria": "not_possible"}


def test_the_flag_of_the_lab_counts() -> None:
    check = checks(
        row("nitrate", "5", qualifiers=("H",), analyzed="2026-05-12"),
        row("nitrate_nitrite", "5", analyzed="2026-05-12"),
        collected=DAY,
    )["hold_time:nitrate"]
    assert check.outcome == "doubt"
    assert analytes(check) == {"nitrate"}


def ph_finding(value: str) -> Finding:
    level = LevelUsed(
        "us_federal",
        "secondary",
        Decimal("8.5"),
        "SU",
        None,
        "in_force",
        "40 CFR 143.3",
        Decimal("6.5"),
    )
    return Finding("ph", "pH", value, "nuisance_only", levels=(level,))


@pytest.mark.parametrize(
    ("value", "outcome"),
    [("7.5", "agrees"), ("7.0", "doubt"), ("7.1", "agrees"), ("6.0", "doubt"), ("5.9", "agrees")],
)
def test_a_late_ph_matters_near_a_level(value: str, outcome: str) -> None:
    """Every mailed pH is late (40 CFR 136 Table II: 15 minutes); it may have moved by a half."""
    made = checks(
        row("ph", value, analyzed="2026-05-12"), findings=(ph_finding(value),), collected=DAY
    )
    assert made["hold_time:ph"].outcome == outcome
    assert codes(made["hold_time:ph"])[0] == "held_ph"


@pytest.mark.parametrize(
    ("tested", "code"), [("2026-05-10T08:15", "held_in_time"), ("2026-05-10T08:16", "held_ph")]
)
def test_fifteen_minutes_for_a_ph(tested: str, code: str) -> None:
    made = checks(row("ph", "7.0", analyzed=tested), collected="2026-05-10T08:00")
    assert codes(made["hold_time:ph"])[0] == code


def test_a_ph_read_at_the_well_is_not_late() -> None:
    made = checks(row("ph", "7.0", analyzed="2026-05-11", method="field meter"), collected=DAY)
    assert "hold_time:ph" not in made


def test_dates_in_the_wrong_order() -> None:
    rows = (row("iron", "1", analyzed="2026-05-09"), row("nitrate", "1", analyzed="2026-05-09"))
    made = checks(*rows, collected=DAY)
    assert made["dates"].outcome == "doubt"
    assert analytes(made["dates"]) == {"nitrate"}, "iron keeps for months"
    late = checks(row("iron", "1"), collected=DAY, received="2026-05-09")
    assert codes(late["dates"])[0] == "dates_received"
    right = checks(row("iron", "1", analyzed=DAY), collected=DAY, received=DAY)
    assert "dates" not in right


def test_only_the_late_ones_are_in_doubt() -> None:
    made = checks(
        row("benzene", "<0.5", analyzed="2026-05-20"),
        row("toluene", "<0.5", analyzed="2026-05-30"),
        collected=DAY,
    )
    assert analytes(made["hold_time:voc"]) == {"toluene"}


def test_a_long_list_is_cut_in_the_sentence_only() -> None:
    slugs = [slug for slug, one in registry().items() if one.group == "voc"][:20]
    late = [row(slug, "<0.5", analyzed="2026-06-30") for slug in slugs]
    check = checks(*late, collected=DAY)["hold_time:voc"]
    assert analytes(check) == set(slugs)
    assert "and 14 more" in check.why[1].text


def test_a_flag_beside_a_test_in_time_means_something_else() -> None:
    # H stands for "high" on other labs' sheets
    made = checks(
        row("nitrate", "12", qualifiers=("H",), analyzed="2026-05-11"), collected="2026-05-10T09:00"
    )
    assert made["hold_time:nitrate"].outcome == "agrees"

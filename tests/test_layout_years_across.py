"""Years side by side under one place are samples of that place: worked out by hand."""

from __future__ import annotations

from layout_sheets import read_csv, read_page, table

from welltold.reading import Reading

_LEFTS = (50.0, 200.0, 270.0, 340.0, 410.0)
_ROWS = (
    "Test | Unit | 2024 | 2025 | 2026\nNitrate-N | mg/L | 4.2 | 4.4 | 5.0\n"
    "Iron | mg/L | 0.3 | 0.2 | 0.4\nLead | ug/L | <1 | <1 | 1.2"
)


def _told(reading: Reading) -> list[tuple[str | None, str]]:
    return [(s.point, " ".join(r.text for r in s.results)) for s in reading.samples]


def test_years_of_one_well_are_a_sample_each() -> None:
    reading = read_page((40.0, {50.0: "Location: Well 3"}), *table(_LEFTS, _ROWS, top=70.0))
    assert _told(reading) == [
        ("Well 3, 2024", "4.2 0.3 <1"),
        ("Well 3, 2025", "4.4 0.2 <1"),
        ("Well 3, 2026", "5.0 0.4 1.2"),
    ]
    assert {r.use for r in reading.results} == {"as_is"}


def test_years_of_a_place_that_nobody_names() -> None:
    reading = read_csv(
        "\n".join(",".join(c.strip() for c in r.split("|")) for r in _ROWS.split("\n"))
    )
    assert [p for p, _ in _told(reading)] == ["2024", "2025", "2026"]
    assert {s.id for s in reading.samples} == {None}


def test_the_year_of_the_sheets_own_day_is_its_sample() -> None:
    reading = read_page(
        (40.0, {50.0: "Location: Well 3"}),
        (55.0, {50.0: "Collected: 05/22/2026"}),
        *table(_LEFTS, _ROWS, top=80.0),
    )
    assert _told(reading) == [("Well 3", "5.0 0.4 1.2")]
    assert [m.code for m in reading.warnings] == ["read.history_left_out"]


def test_two_tables_of_years_are_the_same_samples() -> None:
    more = "Test | Unit | 2024 | 2025 | 2026\npH | SU | 7.1 | 7.2 | 7.3\nZinc | mg/L | 1 | 2 | 3"
    reading = read_page(
        (40.0, {50.0: "Location: Well 3"}),
        *table(_LEFTS, _ROWS, top=70.0),
        *table(_LEFTS, more, top=200.0),
    )
    assert [len(s.results) for s in reading.samples] == [5, 5, 5]

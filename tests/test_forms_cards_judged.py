"""Cards that judge each result beside its name, in groups with titles, limits in the last lines."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

Lines = list[tuple[float, dict[float, str]]]

_NAMES = (
    ("Arsenic", "0.0021 mg/L", "Looks good"),
    ("Lead", "ND mg/L", "Looks good"),
    ("Iron", "0.62 mg/L", "Above guide"),
    ("Total hardness", "11.3 grains/gal", "Take note"),
    ("Sodium", "9.7 mg/L", "Looks good"),
    ("Nitrate (as N)", "3.4 mg/L", "Looks good"),
)
_READ = [
    ("arsenic", "0.0021", "mg/L", None),
    ("lead", "<0.001", "mg/L", None),
    ("iron", "0.62", "mg/L", None),
    ("hardness", "11.3", "grains/gal", "CaCO3"),
    ("sodium", "9.7", "mg/L", None),
    ("nitrate", "3.4", "mg/L", "N"),
]
_HEAD: Lines = [(40.0, {40.0: "Kit CM-83-00512", 250.0: "Sample name: Basement tap"})]


def _cards(where: str, *, wide: int, titles: bool, wrapped: bool, told: str) -> Lines:
    """Draw the cards, so many side by side; ``where`` the verdict stands."""
    lines, top = list(_HEAD), 70.0
    pitch = 560.0 / wide
    for start in range(0, len(_NAMES), wide):
        if titles and start in {0, 2 * wide}:
            lines.append((top, {36.0: "Metals" if not start else "Minerals & general"}))
            top += 19
        rows: list[dict[float, str]] = [{}, {}, {}, {}, {}]
        for at, (name, value, verdict) in enumerate(_NAMES[start : start + wide]):
            left = 40 + at * pitch
            rows[0][left], rows[1][left] = name, value
            if where in {"name", "value"}:
                rows[0 if where == "name" else 1][left + pitch - 70] = verdict
            elif where == "below":
                rows[2][left] = verdict
            rows[3][left] = told if wrapped else f"{told} 0.001"
            if wrapped:
                rows[4][left] = "0.001"
        for row in rows:
            if row:
                lines.append((top, row))
                top += 13
        top += 8
    return lines


@pytest.mark.parametrize("where", ["name", "value", "below"])
@pytest.mark.parametrize("wide", [2, 3])
def test_a_verdict_beside_its_name_or_number_is_neither_name_nor_number(
    where: str, wide: int
) -> None:
    lines = _cards(where, wide=wide, titles=False, wrapped=False, told="Lowest level we report:")
    reading = read_page(*lines)
    assert [brief(r) for r in reading.results] == _READ
    assert all(r.review == () for r in reading.results)
    assert [(s.id, s.point) for s in reading.samples] == [("CM-83-00512", "Basement tap")]


@pytest.mark.parametrize(
    "told",
    [
        "Lowest level we report:",
        "Smallest amount we can measure:",
        "Our lab can detect down to",
        "Reporting limit:",
    ],
)
def test_groups_have_titles_and_the_least_told_may_end_in_the_next_line(told: str) -> None:
    reading = read_page(*_cards("name", wide=2, titles=True, wrapped=told.endswith(":"), told=told))
    assert [brief(r) for r in reading.results] == _READ


@pytest.mark.parametrize("where", ["name", "value", "none"])
def test_cards_may_stand_one_below_the_other(where: str) -> None:
    lines = [*_HEAD]
    for at, (name, value, verdict) in enumerate((*_NAMES, ("pH", "7.2", "Looks good"))):
        top = 70.0 + 48 * at
        lines.append((top, {40.0: name} | ({300.0: verdict} if where == "name" else {})))
        lines.append((top + 13, {40.0: value} | ({300.0: verdict} if where == "value" else {})))
        lines.append((top + 26, {40.0: "EPA limit: 9 | Lowest level we report: 0.001"}))
    reading = read_page(*lines)
    assert [brief(r) for r in reading.results] == [*_READ, ("ph", "7.2", None, None)]


def test_a_column_of_status_beside_each_test_of_several_samples_stays_a_table() -> None:
    rows = (
        "Sample | Iron (mg/L) | Status | Lead (ug/L) | Status\n"
        "Barn | 0.3 | Take note | 5 | Looks good\n"
        "House | 0.1 | Looks good | 2 | Looks good"
    )
    reading = read_page(*table((40.0, 120.0, 220.0, 320.0, 420.0), rows))
    assert [(s.id, len(s.results)) for s in reading.samples] == [("Barn", 2), ("House", 2)]

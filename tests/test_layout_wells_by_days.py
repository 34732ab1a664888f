"""Summary tables of groundwater: wells side by side, each test with a row for every day."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, read_page, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

_LEFTS = (44.0, 140.0, 220.0, 300.0, 380.0)
_TITLE = (40.0, {40.0: "SUMMARY OF GROUNDWATER ANALYTICAL RESULTS (ug/L)"})
Told = dict[tuple[str | None, str | None], dict[str | None, str]]

_TRUE: Told = {
    ("MW-1", "2025-03-12"): {"benzene": "<0.50", "toluene": "1.1"},
    ("MW-2", "2025-03-12"): {"benzene": "18.4", "toluene": "4.6"},
    ("MW-1", "2025-06-18"): {"benzene": "<0.60", "toluene": "1.2"},
    ("MW-2", "2025-06-18"): {"benzene": "22.0", "toluene": "6.1"},
    ("MW-1", "2025-09-23"): {"benzene": "<0.70", "toluene": "1.3"},
    ("MW-2", "2025-09-23"): {"benzene": "15.9", "toluene": "3.3"},
}


def told(reading: Reading) -> Told:
    """Return the results by the sample's name and day, all in micrograms and without doubt."""
    assert {(r.unit, r.review) for r in reading.results} == {("ug/L", ())}
    assert reading.unread == ()
    return {
        (s.id or s.point, s.collected): {r.analyte: r.text for r in s.results}
        for s in reading.samples
    }


def _rows(head: str, *, repeated: bool = False) -> str:
    again = ("Benzene", "Toluene") if repeated else ("", "")
    return (
        f"Constituent|{head}|Date|MW-1|MW-2\n"
        "Benzene|5|03/12/2025|<0.50|18.4\n"
        f"{again[0]}||06/18/2025|<0.60|22.0\n"
        f"{again[0]}||09/23/2025|<0.70|15.9\n"
        "Toluene|1,000|03/12/2025|1.1|4.6\n"
        f"{again[1]}||06/18/2025|1.2|6.1\n"
        f"{again[1]}||09/23/2025|1.3|3.3"
    )


@pytest.mark.parametrize("head", ["Standard", "Standard¹", "Limit (1)"])
@pytest.mark.parametrize("repeated", [True, False])
def test_each_day_of_each_well_is_a_sample(head: str, repeated: bool) -> None:
    assert told(read_page(_TITLE, *table(_LEFTS, _rows(head, repeated=repeated), top=80.0))) == (
        _TRUE
    )


@pytest.mark.parametrize(
    "lines",
    [
        ("TABLE 3", "GROUNDWATER RESULTS (ug/L)", "Former Service Station, 12 Mill Street"),
        ("Volatile organics in groundwater, ug/L", "Former Service Station"),
        ("Former Service Station", "Groundwater Analytical Results (ug/L)"),
    ],
)
def test_the_unit_may_stand_in_any_line_of_the_title(lines: tuple[str, ...]) -> None:
    titles = [(30.0 + 12 * at, {40.0: text}) for at, text in enumerate(lines)]
    assert told(read_page(*titles, *table(_LEFTS, _rows("Standard"), top=80.0))) == _TRUE


def test_heads_and_limits_may_stand_in_the_middle_of_their_boxes() -> None:
    head = [
        (80.0, {222.0: "Sample", 322.0: "Monitoring Wells"}),
        (85.0, {44.0: "Constituent", 140.0: "Standard¹"}),
        (90.0, {225.0: "Date", 300.0: "MW-1", 380.0: "MW-2"}),
    ]
    rows = table(_LEFTS, _rows("").partition("\n")[2], top=105.0)
    for first, limit in ((0, "5"), (3, "1,000")):
        del rows[first][1][140.0]
        rows.append((rows[first + 1][0] + 7.0, {140.0: limit}))
    reading = read_document(pdf(page(_TITLE, *head, *sorted(rows, key=lambda r: r[0]))))
    assert told(reading) == _TRUE


_DAYS = ("03/12/2025", "06/18/2025", "09/23/2025")
_BENZENE = ("<0.50|18.4", "<0.60|22.0", "<0.70|15.9")
_TOLUENE = ("1.1|4.6", "1.2|6.1", "1.3|3.3")


def _blocks(shift: int, days: int) -> list[tuple[float, dict[float, str]]]:
    """Draw rows of days; names on the row ``shift``, or between two rows where days are even."""
    lines = table(_LEFTS, "Constituent|Standard|Date|MW-1|MW-2", top=80.0)
    top = 95.0
    for name, values in (("Benzene|5", _BENZENE), ("Toluene|1,000", _TOLUENE)):
        for at in range(days):
            first = name if at == shift and days % 2 else "|"
            lines += table(_LEFTS, f"{first}|{_DAYS[at]}|{values[at]}", top=top)
            if at == shift and not days % 2:
                lines += table(_LEFTS, f"{name}|||", top=top + 7)
            top += 14
    return lines


@pytest.mark.parametrize(("shift", "days"), [(0, 2), (1, 3)])
def test_a_name_may_stand_in_the_middle_of_the_rows_of_its_days(shift: int, days: int) -> None:
    reading = read_page(_TITLE, *_blocks(shift, days))
    assert told(reading) == {
        k: v for k, v in _TRUE.items() if k[1] is not None and int(k[1][5:7]) <= 3 * days
    }


def test_rows_above_a_name_are_not_given_to_the_test_before() -> None:
    rows = (
        "Constituent|Standard|Date|MW-1|MW-2\n||12/12/2024|<0.5|18\n"
        "Benzene|5|03/12/2025|<0.6|22\n||06/18/2025|<0.7|23\n"
        "Toluene|5|03/12/2025|1.1|4.6\n||06/18/2025|1.2|6.1"
    )
    reading = read_page(_TITLE, *table(_LEFTS, rows, top=80.0))
    read = {(s.id, s.collected, r.analyte, r.text) for s in reading.samples for r in s.results}
    assert ("MW-1", "2024-12-12", "benzene", "<0.5") not in read
    assert any("12/12/2024" in one.text for one in reading.unread)


_ACROSS = ("<0.50|1.1", "<0.60|1.2", "<0.70|1.3"), ("18.4|4.6", "22.0|6.1", "15.9|3.3")


@pytest.mark.parametrize("named", ["first", "middle", "each"])
def test_a_well_may_be_named_once_for_all_its_days(named: str) -> None:
    lines = table(_LEFTS, "Well|Date|Benzene|Toluene", top=80.0)
    top = 95.0
    for well, values in zip(("MW-1", "MW-2"), _ACROSS, strict=True):
        for at, (day, value) in enumerate(zip(_DAYS, values, strict=True)):
            here = named == "each" or at == (0 if named == "first" else 1)
            lines += table(_LEFTS, f"{well if here else ''}|{day}|{value}", top=top)
            top += 14
    assert told(read_page(_TITLE, *lines)) == _TRUE


@pytest.mark.parametrize("left", [200.0, 248.0])
def test_days_may_stand_below_the_wells(left: float) -> None:
    lefts = (44.0, 130.0, 200.0, 265.0, 340.0, 405.0)
    reading = read_page(
        _TITLE,
        (80.0, {left: "MW-1", left + 140.0: "MW-2"}),
        *table(
            lefts,
            "Constituent|Standard|03/12/2025|06/18/2025|03/12/2025|06/18/2025\n"
            "Benzene|5|<0.50|<0.60|18.4|22.0\nToluene|1,000|1.1|1.2|4.6|6.1",
            top=92.0,
        ),
    )
    assert told(reading) == {k: v for k, v in _TRUE.items() if k[1] != "2025-09-23"}

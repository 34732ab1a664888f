"""Rows whose cells take one to three lines, each set at half the height of the row: by hand."""

from __future__ import annotations

from layout_sheets import read_page, table

_LEFTS = (40.0, 110.0, 190.0, 270.0, 380.0, 470.0)
_HEAD = "Sample ID | Location | Date | Nitrate-N (mg/L) | Iron (mg/L) | Silver (mg/L)"


def _row(
    number: str, place: str, values: tuple[str, str], top: float
) -> list[tuple[float, dict[float, str]]]:
    return [
        (top - 11, {_LEFTS[0]: "26-"}),
        (top - 5.5, {_LEFTS[1]: place, _LEFTS[5]: "ND"}),
        (
            top,
            {
                _LEFTS[0]: "01515-",
                _LEFTS[2]: "2026-04-01",
                _LEFTS[3]: values[0],
                _LEFTS[4]: values[1],
            },
        ),
        (top + 5.5, {_LEFTS[1]: "tap", _LEFTS[5]: "(0.0002)"}),
        (top + 11, {_LEFTS[0]: number}),
    ]


def test_cells_of_three_lines_two_and_one_are_one_row() -> None:
    reading = read_page(
        *table(_LEFTS, _HEAD, top=60.0),
        *_row("01", "Kitchen", ("4.2", "0.35"), 100.0),
        *_row("02", "Barn", ("<0.1", "1.9"), 140.0),
    )
    assert [(s.id, s.point) for s in reading.samples] == [
        ("26-01515-01", "Kitchen tap"),
        ("26-01515-02", "Barn tap"),
    ]
    assert [[r.text for r in s.results] for s in reading.samples] == [
        ["4.2", "0.35", "ND (0.0002)"],
        ["<0.1", "1.9", "ND (0.0002)"],
    ]
    assert reading.unread == ()


def test_lines_that_lie_apart_stay_apart() -> None:
    reading = read_page(
        *table(
            _LEFTS,
            f"{_HEAD}\nA-1 | Kitchen | 2026-04-01 | 4.2 | 0.35 | 0.1\n"
            "A-2 | Barn | 2026-04-01 | 4.3 | 0.36 | 0.2",
            top=60.0,
            pitch=11.5,
        )
    )
    assert [len(s.results) for s in reading.samples] == [3, 3]

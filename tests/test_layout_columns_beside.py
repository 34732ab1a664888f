"""Numbers of columns that nothing heads are told, not dropped."""

from __future__ import annotations

from layout_sheets import read_page, table


def test_further_columns_without_a_head_are_told_as_not_read() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 220.0, 300.0, 380.0),
            "Calcium | mg/L | 41 | 12 | 58\nMagnesium | mg/L | 9.8 | 3.1 | 14.2\n"
            "Chloride | mg/L | 7.7 | 31 | 22",
        )
    )
    assert [str(r.value) for s in reading.samples for r in s.results] == ["41", "9.8", "7.7"]
    told = " ".join(u.text for u in reading.unread)
    assert all(number in told for number in ("12", "58", "3.1", "14.2", "31", "22"))

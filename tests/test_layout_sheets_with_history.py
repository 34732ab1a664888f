"""Earlier results of the same well beside the present one are no results of the bottle."""

from __future__ import annotations

import pytest
from layout_sheets import read_csv, read_page, table

from welltold.reading import Reading

ROWS = (
    "Total coliform|Negative|per 100 mL|Negative|Positive|Negative|\n"
    "Nitrate as N|9.4|mg/L|10|7.2|5.8|0.2\n"
    "Chloride|64|mg/L|250|51|40|1\nSulfate|< 1|mg/L|250|1.4|2|1\n"
    "Iron|< 0.02|mg/L|0.3|0.03|< 0.05|0.02\n"
    "Manganese|0.118|mg/L|0.05|0.104|0.09|0.005"
)
WANTED = ["Negative", "9.4", "64", "< 1", "< 0.02", "0.118"]


def texts(reading: Reading) -> list[str]:
    assert len(reading.samples) == 1
    assert not any(r.review for r in reading.samples[0].results)
    assert not reading.unread
    return [r.text for r in reading.samples[0].results]


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("Earlier results, same well June 2023", "May 2019"),
        ("Previous results 2023", "2019"),
        ("Past test Jun '23", "May '19"),
        ("Prior sampling 6/2023", "5/2019"),
        ("Historical values 06/14/2023", "05/02/2019"),
    ],
)
@pytest.mark.parametrize("now", ["Result July 2026", "Your result", "Result"])
def test_earlier_columns_of_a_data_file(now: str, one: str, two: str) -> None:
    head = f"Test|{now}|Unit|Limit|{one}|{two}|Lab's lowest level\n"
    keys = "Lab number|EH-2026-3391|Collected|July 8 2026\n"
    text = (keys + "\n" + head + ROWS).replace(",", ";").replace("|", ",")
    reading = read_csv(text)
    assert texts(reading) == WANTED
    assert reading.samples[0].id == "EH-2026-3391"


def test_earlier_columns_of_a_page() -> None:
    """The group stands over both columns, its days under it."""
    lefts = (40, 170, 240, 310, 380, 450, 510)
    group = (70.0, {380: "Earlier results, same well"})
    head = table(lefts, "Test|Result|Unit|Limit|June 2023|May 2019|RL", top=84)
    reading = read_page((50.0, {40: "Lab number: EH-2026-3391"}), group, *head, *table(lefts, ROWS))
    assert texts(reading) == WANTED

"""Radiochemistry: what was counted, how far it may be off, and the least that could be counted."""

from __future__ import annotations

from decimal import Decimal

import pytest
from layout_sheets import number, read_page, table

from welltold.reading import Reading

Told = tuple[str | None, str, Decimal | None, Decimal | None]
HEAD = "Act ± Unc (MDC) Carr Trac"
WANTED: list[Told] = [
    ("gross_alpha", "=", number("21.4"), number("2.3")),
    ("gross_beta", "=", number("9.8"), number("2.6")),
    ("radium_226", "<", number("0.41"), number("0.41")),
]


def told(reading: Reading) -> list[Told]:
    assert len(reading.samples) == 1
    return [(r.analyte, r.operator, r.value, r.detection_limit) for r in reading.samples[0].results]


def row(
    name: str, method: str, value: str, flag: str, top: float
) -> tuple[float, dict[float, str]]:
    cells = {40.0: name, 160.0: method, 250.0: value, 420.0: "pCi/L", 480.0: flag}
    return top, {left: text for left, text in cells.items() if text}


ROWS = (
    ("Gross Alpha", "EPA 900.0", "21.4 ± 4.9 (2.3)", ""),
    ("Gross Beta", "EPA 900.0", "9.8 ± 2.0 (2.6)", ""),
    ("Radium-226", "EPA 903.1", "-0.07 ± 0.18 (0.41)", "U"),
)


def head(result: str) -> tuple[float, dict[float, str]]:
    return 80.0, {40: "Parameters", 160: "Method", 250: result, 420: "Units", 480: "Qual"}


@pytest.mark.parametrize(
    ("result", "change"),
    [
        (HEAD, ("", "")),
        ("Activity ± Unc. (MDC)", ("±", "+/-")),
        ("Result +/- 2s (MDA)", ("(", "(MDA ")),
        ("Activity", ("(", "[MDC = ")),
        (HEAD, (")", ") C:88% T:NA")),
        (HEAD, (")", ") pCi/L")),
    ],
)
def test_a_result_with_its_spread_and_the_least_in_brackets(
    result: str, change: tuple[str, str]
) -> None:
    """The flag U says that less was there than could be counted; a count may be negative."""
    lines = [
        row(n, m, value.replace(*change) if change[0] else value, f, 100 + 15 * at)
        for at, (n, m, value, f) in enumerate(ROWS)
    ]
    if "[" in change[1]:
        lines = [(top, {x: t.replace(")", "]") for x, t in c.items()}) for top, c in lines]
    reading = read_page(head(result), *lines)
    assert told(reading) == WANTED
    assert not any(r.review for r in reading.samples[0].results)


def test_a_cell_of_two_lines_beside_a_name_at_half_height() -> None:
    lines = []
    for at, (name, method, value, flag) in enumerate(ROWS):
        top = 100.0 + 24 * at
        lines += [(top, {250.0: value}), row(name, method, "", flag, top + 5.6)]
        lines += [(top + 11.2, {250.0: "C:88% T:NA"})]
    assert told(read_page(head(HEAD), *lines)) == WANTED


def _end(text: str) -> float:
    return 250.0 + sum(5.0 * len(w) + 2.8 for w in text.split()) + 3.0


def test_a_flagged_count_without_any_limit_is_doubted() -> None:
    """What was counted is no limit: the sheet does not say what the result is below."""
    lines = [row(n, m, v.split(" (")[0], f, 100 + 15 * at) for at, (n, m, v, f) in enumerate(ROWS)]
    reading = read_page(head("Activity"), *lines)
    flagged = [r for s in reading.samples for r in s.results if r.operator == "<"]
    assert [r.text for r in flagged] == ["-0.07 ± 0.18"]
    assert flagged[0].review


@pytest.mark.parametrize("apart", [0.0, 314.0])
def test_such_rows_with_a_limit_of_the_rule(apart: float) -> None:
    """Rows with many cells; the least stands a little apart, or in a column of its own."""
    lines = [
        (80.0, {40.0: "Parameters", 160.0: "Method", 250.0: HEAD, 420.0: "Units", 480.0: "MCL"})
    ]
    lines[0][1][540.0] = "Qual"
    for at, (name, method, value, flag) in enumerate(ROWS):
        top = 100.0 + 24 * at
        counted, _, least = value.partition(" (")
        cells = {40.0: name, 160.0: method, 420.0: "pCi/L", 480.0: "15"}
        lines += [(top, {250.0: counted, apart or _end(counted): f"({least}"})]
        lines += [(top + 5.6, {**cells, 540.0: flag} if flag else cells)]
        lines += [(top + 11.2, {250.0: "C:88% T:NA"})]
    assert told(read_page(*lines)) == WANTED


def test_a_flag_beside_a_number_nobody_understands_is_doubted() -> None:
    """The limit may stand in what was not understood: "below" alone would hide it."""
    reading = read_page(
        head("Activity"), row("Radium-228", "EPA 904.0", "0.22 x1.4 (0.83?)", "U", 100)
    )
    assert all(r.review for s in reading.samples for r in s.results)


@pytest.mark.parametrize("named", [0, 1])
def test_the_pieces_stand_one_below_the_other(named: int) -> None:
    """Three lines a row; the name stands beside the first or the second."""
    lines = []
    for at, (name, method, value, flag) in enumerate(ROWS):
        first, sign, spread, least = value.split()
        for line, piece in enumerate((first, f"{sign} {spread}", least)):
            top = 100.0 + 45 * at + 13 * line
            lines.append(
                row(name, method, piece, flag, top) if line == named else (top, {250.0: piece})
            )
    assert told(read_page(head(HEAD), *lines)) == WANTED


def test_the_spread_and_the_least_in_columns_of_their_own() -> None:
    lefts = (40, 150, 230, 310, 380, 450)
    rows = [
        f"{n}|{v.replace(' ± ', '|').replace(' (', '|').strip(')')}|pCi/L|{f}"
        for n, _, v, f in ROWS
    ]
    reading = read_page(
        *table(lefts, "\n".join(["Parameters|Result|Uncertainty|MDC|Units|Qual", *rows]), 80)
    )
    assert told(reading) == WANTED


def test_two_uncertainties_beside_a_column_of_least() -> None:
    lefts = (40, 150, 300, 380, 450)
    rows = [
        f"{n}|{v.split(' (')[0]} (± 5.2)|{v.split('(')[1].strip(')')}|pCi/L|{f}"
        for n, _, v, f in ROWS
    ]
    reading = read_page(*table(lefts, "\n".join(["Parameters|Activity|MDC|Units|Qual", *rows]), 80))
    assert told(reading) == WANTED


def test_a_second_uncertainty_in_brackets_is_no_limit() -> None:
    lines = [row(n, m, v, "", 100 + 15 * at) for at, (n, m, v, _) in enumerate(ROWS[:2])]
    reading = read_page(head("Result ± CE (TPU)"), *lines)
    assert told(reading) == [
        ("gross_alpha", "=", number("21.4"), None),
        ("gross_beta", "=", number("9.8"), None),
    ]


def test_a_remark_in_brackets_behind_a_plain_number_is_no_limit() -> None:
    """Without a spread, a number in brackets stays open: it may be an earlier result."""
    lines = table((40, 220, 320), "Test|Result|Units\nLead|7.9 (3.1)|ug/L\nIron|0.31|mg/L")
    reading = read_page(*lines)
    assert [r.detection_limit for s in reading.samples for r in s.results] == [None]

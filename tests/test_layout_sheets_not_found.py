"""Lists of tests that were not found: each is a result, with the limit printed beside it."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table

from welltold.reading import Reading

Lines = list[tuple[float, dict[float, str]]]
HEAD: Lines = [(40.0, {40: "Laboratory no. DW-1177", 300: "Collected: 07/20/2026"})]
FOUND = table(
    (40, 220, 320),
    "Compound|Amount found|Detection limit\nNitrate nitrogen|6.8 mg/L|0.1\nAtrazine|0.42 ug/L|0.05",
    top=70,
)
WANTED = {
    ("nitrate", "=", "6.8", "mg/L"),
    ("atrazine", "=", "0.42", "ug/L"),
    ("acetochlor", "<", "0.05", "ug/L"),
    ("alachlor", "<", "0.05", "ug/L"),
    ("diazinon", "<", "0.10", "ug/L"),
    ("2_4_d", "<", "0.10", "ug/L"),
    ("metribuzin", "<", "0.05", "ug/L"),
    ("simazine", "<", "0.5", "ug/L"),
}


def told(reading: Reading) -> set[tuple[str | None, str, str, str | None]]:
    return {
        (r.analyte, r.operator, str(r.value), r.unit) for s in reading.samples for r in s.results
    }


@pytest.mark.parametrize(
    ("title", "rows"),
    [
        (
            "Table 2. Compounds not detected (detection limit in parentheses, ug/L)",
            "Acetochlor (.05)|Diazinon (.10)|Metribuzin (.05)\n"
            "Alachlor (.05)|2,4-D (.10)|Simazine (.5)",
        ),
        (
            "The following pesticides were not found (reporting limit, ug/L):",
            "Acetochlor (<0.05)|Diazinon (<0.10)|Metribuzin (<0.05)\n"
            "Alachlor (<0.05)|2,4-D (<0.10)|Simazine (<0.5)",
        ),
        (
            "Not detected:",
            "Acetochlor [0.05 ug/L]|Diazinon [0.10 ug/L]|Metribuzin [0.05 ug/L]\n"
            "Alachlor [0.05 ug/L]|2,4-D [0.10 ug/L]|Simazine [0.5 ug/L]",
        ),
        (
            "Analytes below the reporting limit, ug/L",
            "Acetochlor <0.05|Diazinon <0.10|Metribuzin <0.05\n"
            "Alachlor <0.05|2,4-D <0.10|Simazine <0.5",
        ),
    ],
)
def test_items_with_their_limits_side_by_side(title: str, rows: str) -> None:
    listed = table((40, 220, 400), rows, top=155)
    reading = read_page(*HEAD, *FOUND, (140.0, {40: title}), *listed)
    assert told(reading) == WANTED
    assert [s.id for s in reading.samples] == ["DW-1177"]


@pytest.mark.parametrize("heads", ["", "Compound|Limit|Compound|Limit\n"])
def test_limits_in_a_place_of_their_own(heads: str) -> None:
    title = (140.0, {40: "Compounds not detected (detection limit, ug/L)"})
    rows = "Acetochlor|0.05|Diazinon|0.10\nAlachlor|0.05|2,4-D|0.10\nMetribuzin|0.05|Simazine|0.5"
    listed = table((40, 200, 300, 460), heads + rows, top=155)
    assert told(read_page(*HEAD, *FOUND, title, *listed)) == WANTED


def test_a_list_that_runs_on_as_a_sentence() -> None:
    listed: Lines = [
        (140.0, {40: "Pesticides not detected (limits in ug/L): Acetochlor (0.05), Alachlor"}),
        (153.0, {40: "(0.05), Diazinon (0.10), 2,4-D (0.10), Metribuzin (0.05), and"}),
        (166.0, {40: "Simazine (0.5)."}),
    ]
    assert told(read_page(*HEAD, *FOUND, *listed)) == WANTED


@pytest.mark.parametrize(
    "title",
    [
        "None of the following compounds were detected at or above 0.5 ug/L:",
        "VOCs not detected (reporting limit 0.5 ug/L):",
        "The following were below the reporting limit of 0.5 ug/L",
    ],
)
def test_one_limit_for_the_whole_list(title: str) -> None:
    rows = table((40, 220, 400), "Benzene|Toluene|Styrene\nEthylbenzene|Chloroform|Bromoform", 155)
    reading = read_page(*HEAD, *FOUND, (140.0, {40: title}), *rows)
    below = [r for s in reading.samples for r in s.results if r.operator == "<"]
    assert [(str(r.value), r.unit) for r in below] == [("0.5", "ug/L")] * 6
    assert not any(r.review for r in below)


def test_a_list_with_a_head_of_names_and_limits() -> None:
    rows = table((40, 220), "Compound|RL (ug/L)\nAlachlor|0.05\nSimazine|0.5\nDiazinon|0.10", 155)
    reading = read_page(*HEAD, *FOUND, (140.0, {40: "Pesticides not detected"}), *rows)
    some = {t for t in WANTED if t[1] == "=" or t[0] in {"alachlor", "simazine", "diazinon"}}
    assert told(reading) == some


def test_a_heading_at_the_foot_of_a_page_begins_no_list() -> None:
    reading = read_page(*HEAD, *FOUND, (140.0, {40: "Compounds not detected"}))
    assert told(reading) == {t for t in WANTED if t[1] == "="}


def test_names_alone_have_no_limit_and_are_doubted() -> None:
    rows = "Acetochlor|Diazinon|Metribuzin\nAlachlor|2,4-D|Simazine"
    title = (140.0, {40: "The following compounds were not detected"})
    reading = read_page(*HEAD, *FOUND, title, *table((40, 220, 400), rows, top=155))
    below = [r for s in reading.samples for r in s.results if r.operator == "<"]
    assert {r.analyte for r in below} == {slug for slug, sign, _, _ in WANTED if sign == "<"}
    assert all(r.value is None and r.review for r in below)


@pytest.mark.parametrize(
    "title",
    [
        "Compounds not detected are reported as less than the detection limit",
        "ND = analytes not detected at the reporting limit",
        "Table 2. Compounds found and compounds not detected",
    ],
)
def test_a_table_with_results_of_its_own_stays(title: str) -> None:
    """A remark on what was not found, over rows with results, makes none of them a limit."""
    rows = "Compound|Result|Units\nAcetochlor|0.31|ug/L\nAlachlor|1.4|ug/L\nDiazinon|<0.10|ug/L"
    reading = read_page(*HEAD, (140.0, {40: title}), *table((40, 220, 320), rows, top=155))
    assert told(reading) == {
        ("acetochlor", "=", "0.31", "ug/L"),
        ("alachlor", "=", "1.4", "ug/L"),
        ("diazinon", "<", "0.10", "ug/L"),
    }

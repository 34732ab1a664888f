"""Web pages whose results are set without a table: blocks, lists, grids, cards."""

from __future__ import annotations

from pathlib import Path

import pytest
from layout_sheets import brief

from welltold_parsers import read
from welltold_parsers.doors import open_document

_STYLE = (
    ".row{display:flex}.grid{display:grid;grid-template-columns:2fr repeat(2, 1fr)}"
    ".nm{width:40%}.hid{display:none}"
)
_TESTS = (
    ("Arsenic", "&lt;0.5", "µg/L", "EPA MCL 10 µg/L"),
    ("Lead", "3.9", "µg/L", "Action level 15 µg/L"),
    ("Copper", "54", "µg/L", "Action level 1300 µg/L"),
    ("Nitrate as Nitrogen", "8.2", "mg/L", "—"),
)
_TRUTH = [
    ("arsenic", "<0.5", "µg/L", None),
    ("lead", "3.9", "µg/L", None),
    ("copper", "54", "µg/L", None),
    ("nitrate", "8.2", "mg/L", "N"),
]
_BLOCKS = "".join(
    f'<div class="row"><div class="nm">{name}<button aria-label="about">?</button></div>'
    f"<div><span>{value}</span> <span>{unit}</span></div><div><b></b>{limit}</div></div>"
    for name, value, unit, limit in _TESTS
)
_LIST = (
    "<ul>"
    + "".join(
        f"<li><span>{name}</span><span>{value} {unit}</span><em>{limit}</em></li>"
        for name, value, unit, limit in _TESTS
    )
    + "</ul>"
)
_ROLES = (
    '<div role="table"><div role="rowgroup"><div role="row"><span role="columnheader">Test</span>'
    '<span role="columnheader">Result</span><span role="columnheader">Unit</span></div></div>'
    + "".join(
        f'<div role="row"><span role="cell">{name}</span><span role="cell">{value}</span>'
        f'<span role="cell">{unit}</span></div>'
        for name, value, unit, _ in _TESTS
    )
    + "</div>"
)
_GRID = (
    '<div class="grid"><b>Test</b><b>Limit</b><b>Your result</b>'
    + "".join(
        f"<div>{name}</div><div>{limit}</div><div>{value} {unit}</div>"
        for name, value, unit, limit in _TESTS
    )
    + "</div>"
)
_CARDS = "".join(
    f'<article class="card"><h3>{name}</h3><p><strong>{value}</strong> {unit}</p><p>{limit}</p>'
    "</article>"
    for name, value, unit, limit in _TESTS
)


@pytest.mark.parametrize("body", [_BLOCKS, _LIST, _ROLES, _GRID, _CARDS])
def test_results_set_without_a_table_are_read(tmp_path: Path, body: str) -> None:
    page = tmp_path / "kit.html"
    style = f"<style>{_STYLE}</style>"
    page.write_text(
        f"<html><head>{style}</head><body><nav><a>Shop</a><a>Learn</a></nav><h1>Your results</h1>"
        f"<h2>Metals</h2>{body}<footer><small>30-day returns.</small></footer></body></html>",
        "utf-8",
    )
    reading = read(page)
    (sample,) = reading.samples
    assert [brief(result) for result in sample.results] == _TRUTH


def _rows(tmp_path: Path, body: str) -> list[list[str]]:
    page = tmp_path / "page.html"
    page.write_text(f"<html><body>{body}</body></html>", "utf-8")
    return [[c.text for c in row] for sheet in open_document(page).sheets for row in sheet.rows]


def test_an_empty_piece_keeps_its_place(tmp_path: Path) -> None:
    body = "<div class=r><i>Iron</i><i></i><i>0.3</i></div>" * 3
    page = tmp_path / "page.html"
    page.write_text(f"<html><body>{body}</body></html>", "utf-8")
    (sheet,) = open_document(page).sheets
    assert [[(c.column, c.text) for c in row] for row in sheet.rows] == [
        [(1, "Iron"), (3, "0.3")]
    ] * 3


def test_blocks_with_words_of_their_own_stay_lines(tmp_path: Path) -> None:
    body = "<p>See <b>Iron</b> and <b>Lead</b></p>" * 3
    assert _rows(tmp_path, body) == [["See Iron and Lead"]] * 3


def test_panels_of_rows_are_taken_apart_into_their_rows(tmp_path: Path) -> None:
    row = "<div class=r><span>Iron</span><span>0.3 mg/L</span></div>"
    assert _rows(tmp_path, f"<section>{row * 2}</section>" * 3) == [["Iron", "0.3 mg/L"]] * 6

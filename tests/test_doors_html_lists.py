"""Web pages with lists of terms and parts that a style sheet hides, places counted by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from welltold_parsers import read
from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Document


def _opened(tmp_path: Path, body: str, style: str = "") -> Document:
    path = tmp_path / "page.html"
    path.write_text(f"<html><head><style>{style}</style></head><body>{body}</body></html>", "utf-8")
    return open_document(path)


def _texts(document: Document) -> list[list[str]]:
    return [[c.text for c in row] for sheet in document.sheets for row in sheet.rows]


def test_a_term_and_what_is_said_of_it_stand_on_one_line(tmp_path: Path) -> None:
    document = _opened(
        tmp_path,
        "<dl><div><dt>Tap<dd>Barn</div><dt>Collected</dt><dd>03/02/2026</dd><dd>8:10</dd></dl>"
        "<table><tr><th>Test<th>Result</tr><tr><td>Iron<td>0.3</tr></table>",
    )
    assert _texts(document) == [
        ["Tap", "Barn"],
        ["Collected", "03/02/2026", "8:10"],
        ["Test", "Result"],
        ["Iron", "0.3"],
    ]
    (sheet,) = document.sheets
    assert [row[0].row for row in sheet.rows] == [1, 2, 4, 5], "the list is a block of its own"


def test_a_list_around_a_table_hides_no_table(tmp_path: Path) -> None:
    document = _opened(
        tmp_path, "<dl><dt>Well<dd><table><tr><th>Iron<th>Lead</tr><tr><td>1<td>2</tr></table></dl>"
    )
    assert _texts(document)[-2:] == [["Iron", "Lead"], ["1", "2"]]


@pytest.mark.parametrize(
    ("style", "seen"),
    [
        (".pattern{color:red;display:none}", False),
        ("/* .pattern{} */ p, div.pattern { Display : NONE; }", False),
        ("#first{visibility:hidden}", False),
        ("@media print{.x{color:red}.pattern{display:none}}", True),
        (".pattern{display:none}.pattern.on{display:block}", True),
        (".other .pattern{display:none}", True),
    ],
)
def test_what_a_style_sheet_hides_is_left_out_and_told(
    tmp_path: Path, style: str, *, seen: bool
) -> None:
    document = _opened(
        tmp_path,
        "<table><tr><td>Iron<td>0.3</tr></table>"
        "<div class='a pattern' id='first'><table><tr><td>Iron<td>5.0</tr></table></div>",
        style,
    )
    assert (["Iron", "5.0"] in _texts(document)) is seen
    assert (len(document.warnings) == 0) is seen


def test_cards_of_a_portal_are_samples_with_place_and_day(tmp_path: Path) -> None:
    card = (
        "<h3>Sample QX-26-0071{n} <span>Final</span></h3><dl><dt>Sample location<dd>{tap}"
        "<dt>Collected<dd>05/14/2026 7:40 AM<dt>Collected by<dd>Owner<dt>Fee paid<dd>$ 31.00</dl>"
        "<table><tr><th>Test<th>Your result<th>Guideline</tr>"
        "<tr><td>Iron<td>0.{n} mg/L<td>0.3</tr><tr><td>Lead<td>{n}.5 µg/L<td>15</tr></table>"
    )
    path = tmp_path / "cards.html"
    body = card.format(n=1, tap="Barn hydrant") + card.format(n=2, tap="Kitchen")
    path.write_text(f"<!DOCTYPE html><html><body>{body}</body></html>", "utf-8")
    samples = read(path).samples
    assert [(s.id, s.point, s.collected) for s in samples] == [
        ("QX-26-00711", "Barn hydrant", "2026-05-14T07:40"),
        ("QX-26-00712", "Kitchen", "2026-05-14T07:40"),
    ]
    assert [[r.text for r in s.results] for s in samples] == [
        ["0.1 mg/L", "1.5 µg/L"],
        ["0.2 mg/L", "2.5 µg/L"],
    ]

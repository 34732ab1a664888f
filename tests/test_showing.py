"""The pages that show where each value was read."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from correction_tables import command
from hypothesis import given
from hypothesis import strategies as st
from lxml import html
from PIL import Image

import welltold
from welltold.errors import FileMissingError, ReadingFileError
from welltold.jsonform import dump_json
from welltold.messages import Message
from welltold.reading import Correction, Reading, Result, Unread, Where
from welltold_parsers.addresses import letters
from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Page, Sheet, SheetCell, Word
from welltold_parsers.showing import show, write_index
from welltold_parsers.showing.grid import GridRow, address, grid_of
from welltold_parsers.showing.marks import KINDS, Mark, marks_of
from welltold_parsers.showing.parts import parts_of
from welltold_parsers.showing.pictures import draw_pages
from welltold_parsers.showing.plain import lines_of
from welltold_parsers.showing.svg import STYLES, frame_lines, overlay, placed

ROOT = Path(__file__).parents[1]
SHEETS = ROOT / "samples" / "sheets"
DOUBT = Message("read.x", {}, "The printed limit fits <another> unit.")


def doubtful(reading: Reading) -> Reading:
    """The reading with its second result in doubt, its third corrected, its last not understood."""
    sample = reading.samples[0]
    results = list(sample.results)
    results[1] = replace(results[1], review=(DOUBT,), label="<script>Iron</script>")
    results[2] = replace(results[2], correction=Correction("0.77", None, "K. Larch", "2026-11-25"))
    lost = results.pop()
    place = next(one for one in lost.where if one.of == "value")
    samples = (replace(sample, results=tuple(results)), *reading.samples[1:])
    return replace(reading, samples=samples, unread=(Unread("?? 12", place, DOUBT),))


def page_of(name: str, folder: Path) -> tuple[Reading, html.HtmlElement, str]:
    reading = doubtful(welltold.read(SHEETS / name))
    text = show(reading, SHEETS / name, folder, "page").read_text("utf-8")
    return reading, html.fromstring(text.encode()), text


# -- what a page holds ----------------------------------------------------------------------------

ALL_KINDS = [
    "hard-rusty.pdf", "rotated.pdf", "voc-two-columns.pdf", "county-survey.xlsx", "old-lims.xls",
    "flagged-metals.ods", "metals-latin1.csv", "portal.xls", "fixed-width.txt",
]  # fmt: skip


@pytest.mark.parametrize("name", ALL_KINDS)
def test_every_doubt_has_a_number_on_the_sheet_and_in_the_list(name: str, tmp_path: Path) -> None:
    reading, page, _ = page_of(name, tmp_path)
    for number in ("1", "U1"):
        assert page.xpath(f"//*[@id='frame-{number}'][@href='#doubt-{number}']")
        (line,) = page.xpath(f"//tr[@id='doubt-{number}']")
        assert DOUBT.text in line.text_content()
    listed = page.xpath("//table[@class='list']/tbody/tr")
    assert len(listed) == len(reading.results) + 1
    assert "K. Larch put" in page.text_content()


@pytest.mark.parametrize("name", ALL_KINDS)
def test_a_page_stands_alone_and_obeys_nothing_from_the_sheet(name: str, tmp_path: Path) -> None:
    _, page, text = page_of(name, tmp_path)
    assert not page.xpath("//script | //link | //iframe")
    assert "<script>Iron" not in text
    addresses = page.xpath("//@src | //@href | //@xlink:href", namespaces={"xlink": "x"})
    assert all(one.startswith(("#", "data:image/png;base64,")) for one in addresses)


@pytest.mark.parametrize("name", ["fixed-width.txt", "county-survey.xlsx"])
def test_each_value_of_a_table_or_text_is_framed_where_it_stands(name: str, tmp_path: Path) -> None:
    reading, page, _ = page_of(name, tmp_path)
    framed = [
        re.sub(r"^(U?1)(?=.)", "", one.text_content()) if one.xpath(".//a") else one.text_content()
        for one in page.xpath("//span[@class='m used' or @class='m look' or @class='m corrected']")
    ]
    assert sorted(framed) == sorted(result.text for result in reading.results)


# -- pictures -------------------------------------------------------------------------------------


def turned_and_cropped(path: Path) -> Path:
    """The sample with a margin cut off by its crop box, and shown turned by a quarter."""
    with pikepdf.open(SHEETS / "hard-rusty.pdf") as pdf:
        leaf = pdf.pages[0]
        leaf.cropbox = [20, 30, 600, 780]
        leaf.rotate(90, relative=False)
        pdf.save(path)
    return path


PICTURED = ["hard-rusty.pdf", "rotated.pdf", "voc-two-columns.pdf", "stacked-heads.pdf", "turned"]


def darkness(image: Image.Image, box: tuple[float, float, float, float], scale: float) -> int:
    """How many dark pixels lie in a box in points."""
    part = image.convert("L").crop(tuple(round(scale * side) for side in box))
    return sum(part.histogram()[:110])


@pytest.mark.parametrize("name", PICTURED)
def test_the_ink_of_each_value_lies_inside_its_frame(name: str, tmp_path: Path) -> None:
    path = turned_and_cropped(tmp_path / "a.pdf") if name == "turned" else SHEETS / name
    reading, document = welltold.read(path), open_document(path)
    (page,) = document.pages
    with pypdfium2.PdfDocument(path) as pdf:
        image = pdf[0].render(scale=3, rotation=page.turn).to_pil()
    boxes = [one.box for r in reading.results for one in r.where if one.of == "value" and one.box]
    assert len(boxes) >= len(reading.results) > 8
    for box in boxes:
        left, top, right, bottom = box
        wider = (left - 2, top, right + 2, bottom)
        assert darkness(image, box, 3) > 10
        # Nothing is cut off at the sides: two points further out there is no more ink.
        assert darkness(image, wider, 3) - darkness(image, box, 3) <= 4
    (picture,) = draw_pages(path, [page], marks_of(reading).marks, tmp_path / "shown")
    flat = Image.open(tmp_path / "shown.page-1.png")
    assert (picture.width, picture.height) == (page.width, page.height)
    assert abs(flat.width / flat.height - page.width / page.height) < 0.01
    blue = tuple(bytes.fromhex(STYLES["used"].colour[1:]))
    scale = flat.width / page.width
    for left, top, right, bottom in boxes:
        middle = (round(scale * (left + right) / 2), round(scale * (top - 1.5)))
        assert darkness(flat, (left, top, right, bottom), scale) > 4
        near = [flat.getpixel((middle[0], middle[1] + step)) for step in (-1, 0, 1)]
        assert blue in near


def test_a_page_of_many_keeps_its_own_frames(tmp_path: Path) -> None:
    path = SHEETS / "page-break.pdf"
    reading = welltold.read(path)
    shown = marks_of(reading)
    parts, left = parts_of(open_document(path), path, shown, tmp_path / "a")
    assert left == ""
    assert len(parts) > 1
    assert sum(len(part.entries) for part in parts) == len(reading.results)
    assert all(mark.where.page == part.number for part in parts for mark in part.marks)
    assert len(list(tmp_path.glob("a.page-*.png"))) == len(parts)


def test_pages_beyond_the_limit_of_pictures_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("welltold_parsers.showing.parts.MOST_PICTURES", 1)
    path = SHEETS / "page-break.pdf"
    reading = welltold.read(path)
    only_two = [r for r in reading.results if any(one.page == 2 for one in r.where)]
    sample = replace(reading.samples[0], results=tuple(only_two))
    shown = marks_of(replace(reading, samples=(sample,)))
    parts, left = parts_of(open_document(path), path, shown, tmp_path / "a")
    assert [bool(part.picture) for part in parts] == [False, True]
    assert left == "1"


# -- frames ---------------------------------------------------------------------------------------


def test_kinds_are_told_apart_without_colour() -> None:
    box = (10.0, 10.0, 40.0, 20.0)
    drawn = {(frame_lines(kind, box), STYLES[kind].dash) for kind in KINDS}
    assert len(drawn) == len(KINDS)


def test_frames_enclose_what_they_frame() -> None:
    for kind in ("used", "look", "unread", "corrected", "limit"):
        for x, y, to_x, to_y in frame_lines(kind, (10.0, 10.0, 40.0, 20.0)):
            assert not (10 <= x <= 40 and 10 <= y <= 20)
            assert not (10 <= to_x <= 40 and 10 <= to_y <= 20)


def test_numbers_of_doubts_on_one_line_stand_side_by_side() -> None:
    where = Where("value", page=1, box=(100.0, 10.0, 140.0, 20.0))
    marks = [Mark("look", where, "", number) for number in ("1", "2", "13")]
    tags = sorted(tag for _, _, tag in placed(marks))
    assert all(one[2] <= other[0] for one, other in pairwise(tags))
    assert overlay(marks).count("<a ") == 3


# -- sheets ---------------------------------------------------------------------------------------


def sheet(rows: int, columns: int) -> Sheet:
    return Sheet(
        "Data",
        tuple(
            tuple(SheetCell(row, column, f"{row}/{column}") for column in range(1, columns + 1))
            for row in range(1, rows + 1)
        ),
    )


def mark(cell: str) -> Mark:
    return Mark("used", Where("value", sheet="Data", cell=cell), "x")


def test_of_a_large_sheet_only_the_rows_near_a_result_are_shown() -> None:
    grid = grid_of(sheet(5000, 3), [mark("B1000"), mark("B1002"), mark("C4000")])
    shown = [row.number for row in grid.rows if not row.gap]
    assert shown == [*range(997, 1006), *range(3997, 4004)]
    assert [row.gap for row in grid.rows if row.gap] == [996, 2991]
    assert not grid.cut
    marked = [(row.number, cell.text) for row in grid.rows for cell in row.cells if cell.marks]
    assert marked == [(1000, "1000/2"), (1002, "1002/2"), (4000, "4000/3")]


def test_a_sheet_full_of_results_is_cut_and_says_so() -> None:
    grid = grid_of(sheet(2500, 1), [mark(f"A{row}") for row in range(1, 2501)])
    assert (len(grid.rows), grid.cut) == (2000, True)


def test_a_wide_sheet_keeps_its_first_column_and_those_near_a_result() -> None:
    grid = grid_of(sheet(2, 500), [mark("GR2")])
    # GR is the column 7 * 26 + 18 = 200.
    assert [name for name, _ in grid.columns] == ["A", "GO", "GP", "GQ", "GR", "GS", "GT", "GU"]
    assert grid.narrow


def test_merged_cells_keep_the_columns_in_step() -> None:
    wide = SheetCell(1, 1, "head", columns=2, rows=2)
    rows = ((wide, SheetCell(1, 3, "c")), (SheetCell(2, 3, "d"),), (SheetCell(3, 1, "e"),))
    first, second, third = grid_of(Sheet("", rows), []).rows
    assert [(cell.text, cell.columns, cell.rows) for cell in first.cells] == [
        ("head", 2, 2),
        ("c", 1, 1),
    ]
    assert [cell.text for cell in second.cells] == ["d"]
    assert [cell.text for cell in third.cells] == ["e", "", ""]


def test_hidden_rows_and_columns_are_told() -> None:
    hidden = replace(sheet(2, 2), hidden_rows=frozenset({2}), hidden_columns=frozenset({1}))
    grid = grid_of(hidden, [])
    assert grid.columns == (("A", True), ("B", False))
    assert [row.hidden for row in grid.rows if isinstance(row, GridRow)] == [False, True]


@given(st.integers(1, 20_000), st.integers(1, 1_000_000))
def test_an_address_names_its_row_and_column(column: int, row: int) -> None:
    assert address(f"{letters(column)}{row}") == (row, column)


# -- plain text -----------------------------------------------------------------------------------


def test_plain_text_keeps_its_characters_and_marks_the_right_ones() -> None:
    # "Iron" at column 1, "0.31" at column 7, "mg/L" at column 12 of line 2.
    words = (
        Word("Iron", 0, 12, 24, 24),
        Word("0.31", 36, 12, 60, 24),
        Word("mg/L", 66, 12, 90, 24),
    )
    page = Page(1, 90, 36, words, plain_text=True)
    marks = [
        Mark("look", Where("value", page=1, cell="L2C7"), "0.31", "1"),
        Mark("label", Where("label", page=1, cell="L2C1"), "Iron"),
        Mark("unit", Where("unit", page=1, cell="L2C7"), "0.31 mg/L"),
    ]
    lines = lines_of(page, marks)
    assert ["".join(piece.text for piece in line) for line in lines] == ["", "Iron  0.31 mg/L", ""]
    kinds = {piece.text: [one.kind for one in piece.marks] for piece in lines[1]}
    assert kinds == {"Iron": ["label"], "  ": [], "0.31": ["look", "unit"], " mg/L": ["unit"]}


# -- saved readings and the command -------------------------------------------------------------


def saved(tmp_path: Path) -> tuple[Reading, Path]:
    reading = welltold.read(SHEETS / "rotated.pdf")
    file = tmp_path / "later.json"
    file.write_text(dump_json(reading), "utf-8")
    return welltold.read(file), file


def test_a_saved_reading_is_shown_on_the_sheet_beside_it(tmp_path: Path) -> None:
    reading, file = saved(tmp_path)
    with pytest.raises(FileMissingError, match=r"rotated\.pdf"):
        show(reading, file, tmp_path, "later")
    shutil.copy(SHEETS / "rotated.pdf", tmp_path)
    assert show(reading, file, tmp_path, "later").exists()


def test_a_saved_reading_is_not_shown_on_another_sheet(tmp_path: Path) -> None:
    reading, file = saved(tmp_path)
    shutil.copy(SHEETS / "hard-rusty.pdf", tmp_path / "rotated.pdf")
    with pytest.raises(ReadingFileError, match="is not the sheet"):
        show(reading, file, tmp_path, "later")


def test_a_name_in_a_reading_cannot_point_outside_its_folder(tmp_path: Path) -> None:
    reading, file = saved(tmp_path)
    outside = replace(reading, source=replace(reading.source, file="../../etc/rotated.pdf"))
    with pytest.raises(FileMissingError):
        show(outside, file, tmp_path, "later")


def test_several_sheets_get_an_index(tmp_path: Path) -> None:
    result = Result(None, "Odd", "1", "value")
    base = welltold.read(SHEETS / "rotated.pdf")
    odd = replace(base, samples=(replace(base.samples[0], results=(result,)),))
    page = html.fromstring(
        write_index(tmp_path, [(base, tmp_path / "a b.html"), (odd, tmp_path / "c.html")])
        .read_text("utf-8")
        .encode()
    )
    assert page.xpath("//a/@href") == ["a%20b.html", "c.html"]
    counts = [row.xpath("td/text()") for row in page.xpath("//tbody/tr")]
    assert [row[0] for row in counts] == [str(len(base.results)), "1"]


def test_the_command_shows_one_sheet_or_several(tmp_path: Path) -> None:
    done = command("read", SHEETS / "rotated.pdf", "--show", tmp_path / "one", "--json")
    assert json.loads(done.stdout)["source"]["file"] == "rotated.pdf"
    assert {p.name for p in (tmp_path / "one").iterdir()} == {"rotated.html", "rotated.page-1.png"}
    assert done.stderr.splitlines()[-1].endswith("rotated.html")
    sheets = (SHEETS / "fixed-width.txt", SHEETS / "portal.xls")
    done = command("read", *sheets, "--show", tmp_path / "two")
    assert {p.name for p in (tmp_path / "two").iterdir()} == {
        "fixed-width.html", "portal.html", "index.html",
    }  # fmt: skip


def test_a_sheet_named_index_does_not_hide_the_index(tmp_path: Path) -> None:
    sheet = shutil.copy(SHEETS / "fixed-width.txt", tmp_path / "index.txt")
    done = command("read", sheet, SHEETS / "portal.xls", "--show", tmp_path / "shown")
    assert "would both be written" in done.stderr
    assert {p.name for p in (tmp_path / "shown").iterdir()} == {"portal.html"}

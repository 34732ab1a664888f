"""The proving ground: varied sheets whose truth is what they print.

Sheets are opened here with pdfplumber, openpyxl, xlrd and odfpy. Layouts that need the browser or
the office suite are left out, so that the tests need nothing but the development packages.
"""

from __future__ import annotations

import io
import random
import re
import sys
from pathlib import Path
from typing import Any

import openpyxl
import pdfplumber
import pytest
import xlrd
from odf import teletype
from odf.opendocument import load
from odf.table import TableRow

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from samples.proving import pool  # noqa: E402 - the samples are no installed package
from samples.proving.__main__ import truth_of  # noqa: E402
from samples.proving.fit import Seen, confidence, fit, kept_form, kept_in, without_layout  # noqa: E402
from samples.proving.layouts import Layout, layouts, make_sheet  # noqa: E402

ALL = layouts(missing=True)
HERE = [one for one in ALL if not one.name.endswith(("-browser", "-writer", "-calc"))]


def no_stamp(thing: dict[str, Any]) -> bool:
    return float(thing.get("size", 0)) < 60


def text_of(made: bytes, suffix: str) -> str:
    """Return all text of a file without blanks."""
    if suffix == ".pdf":
        with pdfplumber.open(io.BytesIO(made)) as document:
            pages = [page.filter(no_stamp).dedupe_chars() for page in document.pages]
            text = "".join(page.extract_text() or "" for page in pages)
    elif suffix == ".xlsx":
        book = openpyxl.load_workbook(io.BytesIO(made))
        text = "".join(shown(c.value, c.number_format) for s in book for row in s for c in row)
    elif suffix == ".ods":
        rows = load(io.BytesIO(made)).getElementsByType(TableRow)
        text = "".join(teletype.extractText(row) for row in rows)
    elif made.startswith(b"\xd0\xcf"):
        text = old_text(made)
    else:
        wide = made.startswith((b"\xff\xfe", b"\xfe\xff"))
        try:
            text = made.decode("utf-16" if wide else "utf-8")
        except UnicodeDecodeError:
            text = made.decode("cp1252")
    return re.sub(r"\s+", "", text.replace("&lt;", "<").replace("&gt;", ">"))


def shown(value: object, form: str) -> str:
    if not isinstance(value, int | float):
        return str(value or "")
    decimals = len(form.partition(".")[2])
    return f"{value:,.{decimals}f}" if "," in form else f"{value:.{decimals}f}"


def old_text(made: bytes) -> str:
    book = xlrd.open_workbook(file_contents=made, formatting_info=True)
    found = []
    for sheet in book.sheets():
        for row in range(sheet.nrows):
            for column in range(sheet.ncols):
                style = book.xf_list[sheet.cell_xf_index(row, column)]
                form = book.format_map[style.format_key].format_str
                found.append(shown(sheet.cell_value(row, column), form))
    return "".join(found)


def dice_of(seed: int) -> random.Random:
    return random.Random(seed)  # noqa: S311 - water is drawn, no secrets


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_there_are_many_layouts_by_many_producers() -> None:
    assert len({layout.name for layout in ALL}) == len(ALL) >= 100
    assert len({layout.name.rpartition("-")[2] for layout in ALL}) >= 10
    assert len({layout.arrange for layout in ALL}) >= 20


@pytest.mark.parametrize("layout", HERE, ids=lambda layout: layout.name)
def test_the_truth_is_what_the_sheet_prints(layout: Layout) -> None:
    made, leaf = make_sheet(layout, f"test {layout.name}")
    text = text_of(made, layout.suffix)
    truth = truth_of("sheet", layout, leaf)
    assert bool(truth["samples"]) == (not layout.name.startswith("no_report"))
    for sample in truth["samples"]:
        assert sample["results"]
        assert squeezed(sample["id"] or "").lower() in text.lower()
        for result in sample["results"]:
            assert squeezed(result["text"]) in text, result
            assert squeezed(result["label"])[:4].lower() in text.lower(), result


@pytest.mark.parametrize("layout", HERE[::7], ids=lambda layout: layout.name)
def test_the_same_seed_gives_the_same_sheet(layout: Layout) -> None:
    first, other = (make_sheet(layout, "7") for _ in range(2))
    assert first[0] == other[0]
    assert truth_of("a", layout, first[1]) == truth_of("a", layout, other[1])
    assert make_sheet(layout, "8")[0] != first[0]


def test_signs_and_values_of_the_truth_are_those_of_the_text() -> None:
    digits = re.compile(r"\d[\d,. ]*")
    seen = set()
    for at, layout in enumerate(HERE):
        leaf = layout.arrange(dice_of(at))
        commas = leaf.lab.comma
        for result in (r for s in truth_of("a", layout, leaf)["samples"] for r in s["results"]):
            seen.add(result["operator"])
            number = digits.search(result["text"])
            if result["value"] is None or number is None:
                continue
            plain = number[0].replace(" ", "")
            plain = plain.replace(",", ".") if commas else plain.replace(",", "")
            assert float(plain.rstrip(".")) == pytest.approx(result["value"])
            assert ("<" not in result["text"]) or result["operator"] == "<"
    assert seen >= {"=", "<"}


def test_some_water_lies_above_the_levels_and_most_below() -> None:
    dice = dice_of(5)
    levels = {slug: float(one.limit) for slug, one in pool.pool().items()
              if one.limit and "-" not in one.limit}  # fmt: skip
    over = total = 0
    for _ in range(300):
        water = pool.water(dice)
        over += sum(water[slug] > level for slug, level in levels.items())
        total += len(levels)
    assert 0.01 < over / total < 0.2


def test_drawn_water_keeps_the_laws_of_chemistry() -> None:
    # Standard Methods 1030 E: sums of equivalents agree; 2340 B: hardness from Ca and Mg
    dice = dice_of(6)
    for _ in range(200):
        water = pool.water(dice)
        bases = water["calcium"] / 20.04 + water["magnesium"] / 12.15
        bases += water["sodium"] / 22.99 + water["potassium"] / 39.1
        acids = water["alkalinity"] / 50.04 + water["chloride"] / 35.45
        acids += water["sulfate"] / 48.03 + water["nitrate"] / 14.007
        assert abs(bases - acids) / (bases + acids) < 0.05
        hardness = 2.497 * water["calcium"] + 4.118 * water["magnesium"]
        assert water["hardness"] == pytest.approx(hardness)
        assert water["e_coli"] <= water["total_coliform"]


def test_the_base_is_that_of_sheets_at_first_sight(tmp_path: Path) -> None:
    known = [Seen(f"known {n % 40}", frozenset(), n % 500 > 0) for n in range(1000)]
    new = [Seen(f"new {n % 40}", frozenset(), n % 10 > 0) for n in range(400)]
    file = tmp_path / "first.json"
    file.write_text(kept_form(new), encoding="utf-8")
    again = list(kept_in(file))
    assert [(s.layout, s.right, s.first) for s in again] == [(s.layout, s.right, True) for s in new]
    sure, _ = fit(known, {})
    base, _ = fit([*known, *again], {})
    assert confidence(sure, {}, frozenset()) == pytest.approx(0.998, abs=0.002)
    assert confidence(base, {}, frozenset()) == pytest.approx(0.9, abs=0.01)


def test_weights_are_fitted_to_how_often_each_signal_was_right() -> None:
    slight = [Seen("a", frozenset({"far"}), at % 20 > 0) for at in range(20)]
    grave = [Seen("b", frozenset({"open"}), at % 2 > 0) for at in range(20)]
    plain = [Seen(str(at % 9), frozenset(), True) for at in range(400)]
    by_hand = {"far": -1.0, "open": -1.0, "never": -3.0}
    base, weights = fit([*slight, *grave, *plain], by_hand)
    sure = {name: confidence(base, weights, frozenset({name})) for name in by_hand}
    assert sure["open"] < sure["far"] < confidence(base, weights, frozenset())
    assert 0.4 < sure["open"] < 0.75
    assert weights["never"] == -3.0
    assert max(weights.values()) <= 0


def test_layouts_are_left_out_whole() -> None:
    seen = [Seen("a", frozenset({"x"}), False), *[Seen("b", frozenset({"x"}), True)] * 9]
    told = {(right, round(at, 3)) for at, right, _ in without_layout(seen, {"x": -1.0})}
    assert len(told) == 2

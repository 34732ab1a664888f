"""What else speaks for or against a value on a picture: column, repairs, hidden text."""

from __future__ import annotations

import io
from decimal import Decimal
from pathlib import Path

import numpy as np
import pikepdf
import pillow_heif
import pytest
from numpy.typing import NDArray
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

import welltold
from scan.test_scans import slip
from welltold_parsers.geometry import Page, Scan, Word
from welltold_parsers.scan.column import Printed, out_of_step
from welltold_parsers.scan.layers import compared
from welltold_parsers.scan.repairs import mended

Gray = NDArray[np.uint8]


def column(*texts: str, left: float = 100) -> list[Word]:
    return [
        Word(text, left, 20.0 * at, left + 5 * len(text), 20.0 * at + 10)
        for at, text in enumerate(texts)
    ]


@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        ("O.31", "0.31"),
        ("24.l", "24.1"),
        ("1.S5", "1.55"),
        ("2.B1", "2.81"),
        ("c0.05", "<0.05"),
        ("0.5B", "0.5B"),  # a flag of the lab
        ("12.O mg", "12.O mg"),
    ],
)
def test_a_number_is_repaired_where_its_column_makes_it_certain(printed: str, meant: str) -> None:
    words, told = mended(column("1.27", "<0.04", "24.6", printed, "18.2"))
    assert [word.text for word in words] == ["1.27", "<0.04", "24.6", meant, "18.2"]
    assert [(one.why, one.other) for one in told] == (
        [("repaired", printed)] if printed != meant else []
    )


def test_nothing_is_repaired_without_a_column_that_says_so() -> None:
    words, told = mended(column("O.31", "Iron", "Zinc", "Well"))
    assert words[0].text == "O.31"
    assert told == ()


def test_a_unit_is_repaired_among_its_like_and_not_among_others() -> None:
    alike, _ = mended(column("mg/L", "mg/L", "mg/", "mg/L"))
    mixed, _ = mended(column("mg/L", "ug/L", "mg/", "mg/L"))
    assert (alike[2].text, mixed[2].text) == ("mg/L", "mg/")


def test_a_whole_number_in_a_column_of_decimals_is_out_of_step() -> None:
    def places(*texts: str) -> list[int]:
        return list(out_of_step([Printed(1, (0, 20.0 * i, 30, 20.0 * i + 10), text)
                                 for i, text in enumerate(texts)]))  # fmt: skip

    assert places("1.27", "0.04", "0.31", "127", "24.60", "<0.02", "3.10") == [3]
    assert places("1.27", "0.4", "31.5", "127", "24.60", "<0.02", "3") == []
    assert places("127", "318", "24", "31", "18", "56") == []


def test_a_hidden_number_that_differs_is_shown_beside_our_own() -> None:
    own = Page(1, 612, 792, (Word("1.27", 100, 100, 130, 112, 0.99),), scan=Scan(b"", 2.0))
    page = compared(own, [Word("127", 100, 100, 128, 112, 0.5)], 612)
    assert page.scan is not None
    assert [(one.why, one.other) for one in page.scan.questioned] == [("layer_differs", "127")]
    same = compared(own, [Word("1.27", 100, 100, 128, 112, 0.5)], 612)
    assert same.scan is not None
    assert same.scan.questioned == ()


def with_hidden_text(picture: Gray, wrong: str) -> bytes:
    """A PDF of a picture at 150 dots an inch, with a poor reading hidden behind it."""
    height, width = (side * 72 / 150 for side in picture.shape)
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(width, height), invariant=1)
    coded = io.BytesIO()
    Image.fromarray(picture).save(coded, "PNG")
    canvas.drawImage(ImageReader(coded), 0, 0, width, height)
    rows = [("Iron", wrong, "mg/L"), ("Manganese", "0.04", "mg/L"), ("Zinc", "0.31", "mg/L")]
    text = canvas.beginText()
    text.setTextRenderMode(3)
    text.setFont("Helvetica", 14)
    for at, row in enumerate(rows, start=1):
        for x, part in zip((100, 500, 800), row, strict=True):
            text.setTextOrigin(x * 72 / 150, height - (60 + 70 * at + 30) * 72 / 150)
            text.textOut(part)
    canvas.drawText(text)
    canvas.save()
    return out.getvalue()


def test_a_wrong_hidden_layer_is_told_and_our_own_reading_is_used(tmp_path: Path) -> None:
    path = tmp_path / "scan.pdf"
    path.write_bytes(with_hidden_text(slip("1.27"), "127"))
    with pikepdf.open(path) as made:
        assert len(made.pages) == 1
    found = {r.analyte: r for r in welltold.read(path).results}
    assert found["iron"].value == Decimal("1.27")
    assert found["iron"].use == "look"
    assert "scan.layer_differs" in {one.code for one in found["iron"].review}
    assert "scan.layer_differs" not in {one.code for one in found["zinc"].review}


def test_a_heic_of_a_phone_is_read(
    tmp_path: Path,
) -> None:
    path = tmp_path / "phone.heic"
    pillow_heif.from_pillow(Image.fromarray(slip("1.27")).convert("RGB")).save(path, quality=90)
    values = {r.analyte: r.value for r in welltold.read(path).results}
    assert values["iron"] == Decimal("1.27")
    assert values["sulfate"] == Decimal("18.2")

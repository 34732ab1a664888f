"""The digits of the reporting limits as evidence for the decimals of values."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

import welltold
from welltold.reading import Result
from welltold_parsers.scan.limit_digits import decimals_of, unlike_limits

ROOT = Path(__file__).parents[2]
TABLE = "1.27/0.05 0.004/0.001 24.6/0.1 31/1 0.18/0.02 7.2/0.5"


def results(table: str, kind: str = "reporting_limit") -> list[Result]:
    """Numbers with their limits, as VALUE/LIMIT; a limit may be left out."""
    made = []
    for pair in table.split():
        text, _, limit = pair.partition("/")
        value = Decimal(text)
        more = {kind: Decimal(limit)} if limit else {}
        made.append(
            Result(
                analyte="iron",
                label="Iron",
                text=text,
                state="value",
                value=value,
                decimals=decimals_of(value),
                **more,
            )
        )
    return made


def odd(table: str, kind: str = "reporting_limit") -> list[tuple[str, str]]:
    return sorted(
        {(one.result.text, str(one.limit)) for one in unlike_limits(results(table, kind))}
    )


@pytest.mark.parametrize("kind", ["reporting_limit", "detection_limit"])
@pytest.mark.parametrize("misread", ["127", "12.7", "1.270"])
def test_a_number_with_other_decimals_than_its_limit_is_told(kind: str, misread: str) -> None:
    assert odd(TABLE, kind) == []
    assert odd(TABLE.replace("1.27", misread), kind) == [(misread, "0.05")]


def test_more_decimals_than_the_limits_tell_of_a_number_with_fewer() -> None:
    assert odd("127/0.05 0.0041/0.001 24.6/0.1 31.2/1 0.18/0.02") == [("127", "0.05")]


@pytest.mark.parametrize(
    "table",
    [
        "127/0.05 0.004/0.001 24.6/0.1",  # too few others
        "127/0.05 0.00412/0.001 246/0.1 31.2/1 18/0.02 7.2/0.5 1.1/0.1",  # a number of figures
        "1.270/0.05 0.0041/0.001 24.6/0.1 31/1 0.182/0.02 7.2/0.5",  # more decimals here and there
        "127 0.004/0.001 24.6/0.1 31/1 0.18/0.02 7.2/0.5",  # it has no limit
    ],
)
def test_limits_that_tell_nothing_raise_no_doubt(table: str) -> None:
    assert odd(table) == []


def test_a_number_of_a_scan_without_its_point_is_doubted_with_its_limit(tmp_path: Path) -> None:
    """1.27 with no trace of its point. The column tells nothing: it has whole numbers too."""
    image = Image.new("L", (1300, 760), 255)
    pen = ImageDraw.Draw(image)
    font = ImageFont.truetype(str(next((ROOT / "reports").rglob("*Regular.otf"))), 30)
    rows = [("Analyte", "Result", "Unit", "Reporting Limit"), ("Iron", "127", "mg/L", "0.05")]
    rows += [("Sodium", "24.6", "mg/L", "0.5"), ("Chloride", "31", "mg/L", "1")]
    rows += [("Manganese", "0.041", "mg/L", "0.005"), ("Zinc", "0.31", "mg/L", "0.02")]
    rows += [("Sulfate", "18", "mg/L", "5"), ("Calcium", "56.2", "mg/L", "0.2")]
    for at, row in enumerate(rows):
        for x, text in zip((100, 450, 700, 950), row, strict=True):
            pen.text((x, 60 + 80 * at), text, fill=0, font=font)
    image.save(tmp_path / "slip.png")
    read = {r.analyte: r for r in welltold.read(tmp_path / "slip.png").results}
    told = {one.code: one.args for one in read["iron"].review}
    assert told["scan.unlike_limit"]["limit"] == "0.05"
    assert [
        name for name, r in read.items() if "scan.unlike_limit" in {x.code for x in r.review}
    ] == ["iron"]

"""What a spreadsheet program shows of a stored number; expected texts worked out by hand.

The format language is that of ECMA-376 part 1, 18.8.30 (numFmts) and 18.8.31 (number formats).
"""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold_parsers.doors.dates import iso_of_serial, iso_of_text
from welltold_parsers.doors.shown import is_date_format, show


@pytest.mark.parametrize(
    ("stored", "code", "shown"),
    [
        ("12.0", "General", "12"),
        ("0.015", "General", "0.015"),
        ("0.30000000000000004", "General", "0.3"),
        ("0.1234567890123", "General", "0.123456789"),
        ("66.94709410797127", "General", "66.94709411"),
        ("0.00001234", "General", "0.00001234"),
        ("0.0000123456789", "General", "1.23457E-05"),
        ("12345678901", "General", "12345678901"),
        ("0.99999999999999", "General", "1"),
        ("1E-3", "General", "0.001"),
        ("-4.5", "General", "-4.5"),
        ("0", "General", "0"),
        ("123456789012", "General", "1.23457E+11"),
        ("0.3", "0.00", "0.30"),
        ("0.005", "0.00", "0.01"),
        ("1.005", "0.00", "1.01"),
        ("99.995", "0.0", "100.0"),
        ("1234.5", "#,##0.0", "1,234.5"),
        ("1234567.891", "#,##0", "1,234,568"),
        ("0.15", "0%", "15%"),
        ("0.1234", "0.0%", "12.3%"),
        ("0.0012", "0.00E+00", "1.20E-03"),
        ("9.999E-3", "0.00E+00", "1.00E-02"),
        ("12345", "##0.0E+0", "12.3E+3"),
        ("0.5", '"<"0.0', "<0.5"),
        ("0.5", r"\<0.0", "<0.5"),
        ("2419.6", '">"0.0', ">2419.6"),
        ("7", '0.0" mg/L"', "7.0 mg/L"),
        ("0.5", '"ND ("0.0")"', "ND (0.5)"),
        ("5", '[<10]"<10";0', "<10"),
        ("12", '[<10]"<10";0', "12"),
        ("-3", "0.0;[Red](0.0)", "(3.0)"),
        ("3", "0.0_);(0.0)", "3.0"),
        ("0", '0.0;-0.0;"ND"', "ND"),
        ("-2.5", "0.0", "-2.5"),
        ("2.5", "0.##", "2.5"),
        ("2", "0.##", "2."),
        ("0.5", "#.00", ".50"),
        ("5", "000", "005"),
        ("1234567", "0,", "1235"),
        ("12", "@", "12"),
        ("1234.5", "[$$-409]#,##0.00", "$1,234.50"),
        ("3", "[Color10]0.0", "3.0"),
        ("7", ";;", ""),
    ],
)
def test_numbers_are_shown_as_a_spreadsheet_program_shows_them(
    stored: str, code: str, shown: str
) -> None:
    assert show(stored, code) == shown


@pytest.mark.parametrize("code", ["# ?/?", "[DBNum1]0", "0.0.0", "0E+0E+0", '0"x"0'])
def test_a_format_that_is_not_known_is_never_guessed(code: str) -> None:
    assert show("0.25", code) is None


@pytest.mark.parametrize(
    ("code", "is_date"),
    [
        ("m/d/yyyy", True),
        ("[$-409]d-mmm-yy;@", True),
        ("[h]:mm", True),
        ("hh:mm AM/PM", True),
        ("General", False),
        ("0.00", False),
        ('0.0" mg/day"', False),
        (r"0.0\d", False),
        ("[Red]0.0", False),
    ],
)
def test_formats_of_dates_are_told_from_formats_of_numbers(code: str, is_date: bool) -> None:
    assert is_date_format(code) is is_date


@pytest.mark.parametrize(
    ("serial", "from_1904", "iso"),
    [
        ("45359", False, "2024-03-08"),  # Microsoft's own example: 1 January 2008 is 39448
        ("39448", False, "2008-01-01"),
        ("37986", True, "2008-01-01"),  # 1,462 days between the two systems
        ("45359.4444444444", False, "2024-03-08T10:40"),
        ("0.5", False, "12:00"),
        ("1", False, "1900-01-01"),
        ("61", False, "1900-03-01"),
        ("-1", False, None),
        ("2958466", False, None),
    ],
)
def test_serial_days_become_dates(serial: str, from_1904: bool, iso: str | None) -> None:
    assert iso_of_serial(Decimal(serial), from_1904=from_1904) == iso


@given(st.integers(61, 2_958_465))
def test_every_day_number_counts_on_from_the_day_before(serial: int) -> None:
    today = iso_of_serial(Decimal(serial), from_1904=False)
    before = iso_of_serial(Decimal(serial - 1), from_1904=False)
    assert today is not None
    if serial > 61:
        assert before is not None
        assert datetime.fromisoformat(today) - datetime.fromisoformat(before) == timedelta(days=1)


def test_dates_written_as_text_lose_an_empty_time() -> None:
    assert iso_of_text("2024-03-08T00:00:00.000") == "2024-03-08"
    assert iso_of_text("2024-03-08T10:40:00") == "2024-03-08T10:40"
    assert iso_of_text("not a date") == "not a date"


@given(st.decimals(-(10**6), 10**6, places=6), st.integers(1, 5))
def test_shown_decimals_are_within_half_a_unit_of_the_last_place(
    number: Decimal, places: int
) -> None:
    shown = show(str(number), "0." + "0" * places)
    assert shown is not None
    assert len(shown.partition(".")[2]) == places
    assert abs(Decimal(shown) - number) <= Decimal(1).scaleb(-places) / 2


@given(st.floats(-1e300, 1e300), st.sampled_from(["General", "0.00E+00"]))
def test_any_number_is_shown_near_its_value(number: float, code: str) -> None:
    shown = show(repr(number), code)
    assert shown is not None
    assert float(shown) == pytest.approx(number, rel=0.006, abs=1e-300)


@pytest.mark.parametrize("stored", ["1E+30", "1E-300", "1E+308", "-1E+308"])
@pytest.mark.parametrize("code", ["0.00", "#,##0.0", "General", "0.0E+0", "0%"])
def test_numbers_beyond_all_measure_are_shown_or_left(stored: str, code: str) -> None:
    shown = show(stored, code)
    assert shown is None or len(shown) < 500


@pytest.mark.parametrize("stored", ["1E+999999999", "NaN", "Infinity", "abc", ""])
def test_what_is_no_number_of_a_sheet_is_not_shown_as_one(stored: str) -> None:
    assert show(stored, "General") is None
    assert show(stored, "0.00") is None


@settings(max_examples=600)
@given(st.text(alphabet='0#?.,%E+-"\\_*[]<>;@$dm() ', max_size=12))
def test_any_format_gives_a_text_or_none(code: str) -> None:
    shown = show("12.5", code)
    assert shown is None or isinstance(shown, str)

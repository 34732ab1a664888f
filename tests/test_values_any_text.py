"""Any text at all gives a result or none, never a zero; what is written is read back, and fast."""

from __future__ import annotations

import string
import time
from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from printed_values import read

from welltold.printed_numbers import leading_number, looks_like_number
from welltold.printed_words import _flags, _words, flags_in
from welltold.values import _parse, parse_value

SHAPES = st.lists(
    st.sampled_from(
        ["<", ">", "ND", "U", "J", "B", "0", "1", "5", "12", ".", ",", " ", "-", "+", "/", "±",
         "mg/L", "E", "e-", "x 10", "^", "(", ")", "*", "¹", "³", "Absent", "TNTC", "&lt;", "%",
         "pH", "as N", "\u00a0", "−", "–", "trace", "@", "=", ":", "#", "N/A"]
    ),
    max_size=8,
).map("".join)  # fmt: skip


@given(st.one_of(st.text(max_size=40), SHAPES), st.booleans(), st.booleans())
@example("1" * 5000, False, False)
@example("<" * 400, False, False)
@example("ND" + " " * 300 + "x", False, False)
def test_any_text_gives_a_result_or_none(text: str, comma: bool, letters: bool) -> None:
    found = parse_value(text, decimal_comma=comma, presence_letters=letters)
    if found is None:
        return
    assert found.text == text
    assert found.value is None or found.value.is_finite()
    if found.state in {"blank", "absent", "present", "trace", "unreadable"}:
        assert found.value is None
    if found.value is not None:
        assert found.decimals is not None
        assert set(text) & set(string.digits)
        assert (found.operator == "=") == (found.state == "value")


@given(st.one_of(st.text(max_size=40), SHAPES), st.booleans())
def test_nothing_is_zero_unless_a_zero_is_printed(text: str, comma: bool) -> None:
    found = parse_value(text, decimal_comma=comma)
    if found is not None and found.value == 0:
        assert "0" in text
        assert not set(text) & set("123456789") or found.uncertainty is not None or "x" in text


NUMBERS = st.decimals(-100_000, 10_000_000, places=4, allow_nan=False, allow_infinity=False)


@given(NUMBERS)
def test_what_is_written_is_read_back(number: Decimal) -> None:
    for text in (str(number), f" {number} ", f"{number} mg/L", f"{number} J"):
        found = read(text)
        assert found.state == "value"
        assert found.value == number
        assert found.decimals == 4


@given(NUMBERS.filter(lambda number: number > 0))
def test_thousands_and_limits_are_read_back(number: Decimal) -> None:
    with_points = f"{number:,}"
    with_commas = with_points.translate(str.maketrans(",.", ".,"))
    assert read(with_points).value == number
    assert read(with_points.replace(",", " ")).value == number
    assert read(with_commas, decimal_comma=True).value == number
    for text in (f"<{number}", f"{number} U", f"ND ({number})"):
        assert (read(text).state, read(text).value) == ("below", number)
    assert (read(f"> {number}").state, read(f"> {number}").value) == ("above", number)


@given(NUMBERS.filter(bool), st.integers(-9, 9))
def test_powers_of_ten_are_read_back(number: Decimal, power: int) -> None:
    expected = number.scaleb(power)
    for text in (f"{number}E{power:+d}", f"{number} x 10^{power}", f"{number}x10{power:+d}"):
        found = read(text)
        assert found.value == expected
        assert found.decimals == max(0, 4 - power)


@pytest.mark.parametrize(
    "text", ["0.31", "<0.5", "< 0.5", "1,234", ".05", "5.", "-0.7", "0.5 U", "1.2E-3", "98%", "5*"]
)
def test_the_cheap_look_sees_numbers(text: str) -> None:
    assert looks_like_number(text)


@pytest.mark.parametrize("text", ["", "Iron", "ND", "mg/L", "-", "E. coli", "Lead 5 ppb in tap"])
def test_the_cheap_look_passes_words_by(text: str) -> None:
    assert not looks_like_number(text)


@pytest.mark.parametrize("text", ["1.2.3", "1,23", "0,5", "12 34", "1'234", "x", ""])
def test_no_number_ends_inside_a_longer_one(text: str) -> None:
    assert leading_number(text, decimal_comma=False) is None


def test_every_word_and_every_flag_of_the_tables_is_read() -> None:
    for key, word in _words().items():
        found = parse_value(word.exact or key, presence_letters=True)
        assert found is not None, key
        assert found.state == word.state, key
    for flag in _flags()[0]:
        assert flags_in(flag) == (flag,)
        assert read(f"0.31 {flag}").qualifiers == (flag,)


def test_plain_numbers_are_read_fast() -> None:
    """A ratio to a bare Decimal of the same text (0.1 us), each the best of several, uncached."""
    texts = [f"{number / 1000:.3f}" for number in range(5_000)]

    def seconds(call: Callable[[str], object]) -> float:
        _parse.cache_clear()
        begun = time.process_time()
        for text in texts:
            call(text)
        return time.process_time() - begun

    bare = min(seconds(Decimal) for _ in range(7))
    assert min(seconds(parse_value) for _ in range(7)) < 60 * bare

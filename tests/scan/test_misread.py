"""Units, names and heads that a reader of print takes for something else; what is left alone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from welltold_parsers.geometry import Word
from welltold_parsers.scan.crops import those_of
from welltold_parsers.scan.misread_units import meant, mended_units
from welltold_parsers.scan.misread_words import mended_words
from welltold_parsers.scan.repairs import mended


def row(text: str, sure: float = 0.9, top: float = 0.0) -> Iterator[Word]:
    left = 0.0
    for part in text.split():
        yield Word(part, left, top, left + 5 * len(part), top + 10, sure)
        left += 5 * len(part) + 3


@pytest.mark.parametrize(
    ("printed", "unit"),
    [
        ("ing/L", "mg/L"),
        ("rng/L", "mg/L"),
        ("mg:L", "mg/L"),
        ("mgIL", "mg/L"),
        ("meg/L", "mcg/L"),
        ("NH3-N(ing/L)", "NH3-N(mg/L)"),
        ("pCi/I", "pCi/L"),
        ("uS/crn", "uS/cm"),
        ("MPN/1O0mI", "MPN/100mL"),
    ],
)
def test_a_unit_that_looks_like_one_known_unit_is_mended(printed: str, unit: str) -> None:
    assert meant(printed) == unit


@pytest.mark.parametrize(
    "text", ["mg/L", "ng/L", "meq/L", "mg L", "PQL", "BQL", "MQL", "P/A", "Missing", "1/1", "mg/"]
)
def test_a_known_unit_and_a_word_that_is_none_are_left_alone(text: str) -> None:
    assert meant(text) is None


def test_a_unit_torn_in_two_is_joined_and_told() -> None:
    words, told = mended_units(list(row("Bromide 0.055 mg l.")))
    assert [word.text for word in words] == ["Bromide", "0.055", "mg/L"]
    assert [(one.why, one.other) for one in told] == [("unit_mended", "mg l.")]


@pytest.mark.parametrize(
    ("printed", "meant_by_it", "told"),
    [
        ("Beryllium, Tota!**", "Beryllium, Total**", 0),
        ("Silica, as Si02", "Silica, as SiO2", 0),
        ("S0DIUM", "SODIUM", 0),
        ("Vatue in ng/L", "Value in ng/L", 0),
        ("Chloride (CI)", "Chloride (Cl)", 0),
        ("Lead (Ph)**", "Lead (Pb)**", 1),
        ("Thallium (Tb)", "Thallium (Tl)", 1),
        ("Radium-226 (Ra)", "Radium-226 (Ra)", 0),
        ("HAA5 B268243-01 T0C8O86", "HAA5 B268243-01 T0C8O86", 0),
        ("Valve box", "Valve box", 0),
        ("Vinyl chforide", "Vinyl chloride", 1),
        ("tron, Total", "iron, Total", 1),
        ("Nitrite Chlorate mmhos colour", "Nitrite Chlorate mmhos colour", 0),
        ("I Nitrogen, nitrate", "Nitrogen, nitrate", 0),
        ("À Iron", "Iron", 0),
        ("Sulfáte Método", "Sulfate Método", 0),
        ("I sampled the well", "I sampled the well", 0),
        ("Lab No.7716-A", "Lab No. 7716-A", 0),
        ("Lab No.", "Lab No.", 0),
    ],
)
def test_names_heads_and_symbols_are_mended(printed: str, meant_by_it: str, told: int) -> None:
    words, places = mended_words(list(row(printed)))
    assert " ".join(word.text for word in words) == meant_by_it
    assert len(places) == told


def test_a_head_read_with_certainty_keeps_its_letters() -> None:
    assert next(iter(mended_words(list(row("Vatue", sure=0.99)))[0])).text == "Vatue"


def test_letters_alone_among_digits_and_a_lost_sign_are_mended_in_their_column() -> None:
    texts = ("24.2", "I1", "17.8", "18.2")
    column = [Word(text, 100, 20.0 * at, 120, 20.0 * at + 10) for at, text in enumerate(texts)]
    assert [word.text for word in mended(column)[0]] == ["24.2", "11", "17.8", "18.2"]
    texts = ("C0.5", "<0.2", "<0.1")
    column = [Word(text, 100, 20.0 * at, 120, 20.0 * at + 10) for at, text in enumerate(texts)]
    words, told = mended(column)
    assert [word.text for word in words] == ["<0.5", "<0.2", "<0.1"]
    assert [one.other for one in told] == ["C0.5"]


@pytest.mark.parametrize(
    ("texts", "meant_by_them"),
    [
        (("062", "1.1", "0.40", "22.7"), ("0.62", "1.1", "0.40", "22.7")),
        (("062", "063", "0.40", "22.7", "1.1"), ("062", "063", "0.40", "22.7", "1.1")),
        (("062", "11", "40", "22"), ("062", "11", "40", "22")),
        (("u", "U", "U", "U"), ("U", "U", "U", "U")),
        (("u", "J", "U"), ("u", "J", "U")),
        ((".1.34", "175"), ("1.34", "175")),
        ((".34", "1.2.3"), (".34", "1.2.3")),
    ],
)
def test_a_lost_point_and_a_small_flag_are_mended_where_their_column_tells(
    texts: tuple[str, ...], meant_by_them: tuple[str, ...]
) -> None:
    column = [Word(text, 100, 20.0 * at, 120, 20.0 * at + 10) for at, text in enumerate(texts)]
    words, told = mended(column)
    assert tuple(word.text for word in words) == meant_by_them
    assert len(told) == (texts != meant_by_them)


def test_of_a_sentence_only_the_words_of_a_result_are_looked_at() -> None:
    first, second = "The Magnesium was 11.6 mg/L. The Silica", "(as SiO2) was 28.3 mg/L."
    sentence = [*row(first), *row(second, top=14)]
    for text in ("Silica (as SiO2)", "28.3"):
        assert " ".join(word.text for word in those_of(sentence, text)) == text
    assert those_of(sentence, "Iron") == sentence


@pytest.mark.parametrize(
    ("printed", "meant_by_it"),
    [
        ("MINERAL —milligramsper liter", "MINERAL — milligrams per liter"),
        ("—CFU per100 mL", "— CFU per 100 mL"),
        ("ResultsLimits", "Results Limits"),
        ("Classroom Bunkhouse Groundwater", "Classroom Bunkhouse Groundwater"),
        ("Sulfate (SO,)", "Sulfate (SO4)"),
        ("Nitrate-Nitrogen (NO,-N)*", "Nitrate-Nitrogen (NO3-N)*"),
        ("Nitrite (NO,)", "Nitrite (NO2)"),
        ("Nitrogen (NO,)", "Nitrogen (NO,)"),
    ],
)
def test_swallowed_blanks_and_figures_are_given_back(printed: str, meant_by_it: str) -> None:
    words, _ = mended_words(list(row(printed)))
    assert " ".join(word.text for word in words) == meant_by_it

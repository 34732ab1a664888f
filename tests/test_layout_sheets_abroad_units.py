"""Sheets of other countries: decimal commas before units, the basis in words of the name."""

from __future__ import annotations

from decimal import Decimal

import pytest
from layout_sheets import brief, read_csv, read_page

from welltold_parsers.layout.tokens import value_of


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("7,4 unité pH", "7.4", "unité pH"),
        ("<0,30 NFU", "0.30", "NFU"),
        ("53,0 mg/L", "53.0", "mg/L"),
        ("0,050 mg/L", "0.050", "mg/L"),
        ("12 n/(100mL)", "12", "n/100mL"),
    ],
)
def test_a_comma_before_a_unit_is_a_decimal_one(text: str, value: str, unit: str) -> None:
    found = value_of(text)
    assert found is not None
    assert (found.value, found.unit_text, found.text) == (Decimal(value), unit, text)


@pytest.mark.parametrize("text", ["1,250 mg/L", "53,025 mg/L", "1,2 and 3", "2,4-D"])
def test_a_comma_of_thousands_or_of_a_list_stays_one(text: str) -> None:
    found = value_of(text)
    assert found is None or found.value in {Decimal(1250), Decimal(53025)}


def test_a_list_without_a_head_keeps_each_result_before_its_limit() -> None:
    reading = read_csv(
        "Résultats des analyses\n"
        "Escherichia coli /100ml - MF,0 n/(100mL),≤ 0 n/(100mL)\n"
        'Turbidité néphélométrique NFU,"<0,30 NFU",≤ 2 NFU\n'
        'pH,"7,4 unité pH","≥6,5 et ≤ 9 unité pH"\n'
        'Ammonium (en NH4),"<0,050 mg/L","≥ et ≤ 0,1 mg/L"\n'
        'Nitrates (en NO3),"53,0 mg/L",≤ 50 mg/L\n'
    )
    (sample,) = reading.samples
    assert [brief(r) for r in sample.results] == [
        ("e_coli", "0", "n/100mL", None),
        ("turbidity", "<0.30", "NFU", None),
        ("ph", "7.4", "unité pH", None),
        ("ammonia", "<0.050", "mg/L", "NH4"),
        ("nitrate", "53.0", "mg/L", "NO3"),
    ]


@pytest.mark.parametrize(
    "sentence",
    [
        "Teneur en NITRATES supérieure à la limite de qualité fixée à 50 mg/l.",
        "Der Grenzwert für Nitrat beträgt 50 mg/l.",
        "El límite máximo de nitrato es 50 mg/L.",
    ],
)
def test_the_limit_in_a_sentence_is_no_result(sentence: str) -> None:
    assert read_page((100.0, {50.0: sentence})).samples == ()


@pytest.mark.parametrize(
    ("label", "slug"),
    [
        ("Nitrit/NO 2", "nitrite"),
        ("Sulfate (SO 4)", "sulfate"),
        ("Phosphat/ PO 4", "orthophosphate"),
    ],
)
def test_a_formula_with_its_figure_set_apart_is_known(label: str, slug: str) -> None:
    (sample,) = read_csv(f"Parameter,Ergebnis,Einheit\n{label},0.5,mg/l\nEisen,0.1,mg/l\n").samples
    assert sample.results[0].analyte == slug

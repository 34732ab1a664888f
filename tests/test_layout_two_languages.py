"""Sheets that say everything in French and in English: names, heads and units of both."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold.analytes import identify
from welltold.units import unit
from welltold_parsers.layout import read_document
from welltold_parsers.layout.words import head_of

_LEFT = (40.0, 300.0, 350.0, 395.0, 430.0, 520.0)


@pytest.mark.parametrize(
    ("label", "slug", "basis", "fraction"),
    [
        ("Dureté / Hardness (CaCO3)", "hardness", "CaCO3", None),
        ("Alcalinité totale (CaCO3) / Total Alkalinity (as CaCO3)", "alkalinity", "CaCO3", None),
        ("Fluorure dissous / Dissolved Fluoride (F-)", "fluoride", None, "dissolved"),
        ("Antimoine total / Total Antimony (Sb)", "antimony", None, "total"),
        ("Couleur / Colour", "color", None, None),
    ],
)
def test_names_in_two_languages(
    label: str, slug: str, basis: str | None, fraction: str | None
) -> None:
    found = identify(label, fuzzy=False)
    assert found is not None
    assert (found.slug, found.basis, found.fraction) == (slug, basis, fraction)


@pytest.mark.parametrize("label", ["Fer / Manganese (Mn)", "Chlorure / Fluoride"])
def test_two_names_of_different_tests_are_none(label: str) -> None:
    assert identify(label, fuzzy=False) is None


def test_heads_and_units_in_two_languages() -> None:
    heads = ("ID Labo / Lab ID", "Date d'échantillonnage / Sampling Date", "CMA / MAC")
    assert [h.role for t in heads if (h := head_of(t))] == ["lab_id", "collected", "printed_limit"]
    assert [u.name for t in ("UTN/NTU", "UCV/TCU") if (u := unit(t))] == ["NTU", "CU"]


_ABOVE = (
    "ID Labo / Lab ID | | | | ZQ301 | ZQ302\n"
    "Date de prélèvement / Sampling Date | | | | 2026/08/18 09:10 | 2026/08/19 10:25\n"
    "N° CdC / COC Number | | | | 70991 | 70991"
)
_HEAD = "| UNITÉS | CMA | | PUITS-1 | ROBINET ÉCOLE | LDR | Lot CQ"
_UNDER = "| UNITS | MAC | | WELL-1 | SCHOOL TAP | RDL | QC Batch"
_ROWS = (
    "Chlorure dissous / Dissolved Chloride (Cl-) | mg/L | | | 14 | 61 | 1.0 | 551\n"
    "Dureté / Hardness (CaCO3) | mg/L | | | 130 | 44 | 1.0 | 551\n"
    "Turbidité / Turbidity | UTN/NTU | | | 0.32 | ND | 0.10 | 551"
)


def test_samples_across_under_rows_of_keys_in_two_languages() -> None:
    lefts = (*_LEFT, 640.0, 700.0)
    reading = read_document(
        pdf(
            page(
                *table(lefts, _ABOVE, top=80.0, pitch=14.0),
                *table(lefts, _HEAD, top=122.0),
                *table(lefts, _UNDER, top=134.0),
                *table(lefts, _ROWS, top=150.0),
                (200.0, {40.0: "Lot CQ / QC Batch = Lot de contrôle / Quality Control Batch"}),
                *table(lefts, _ABOVE, top=280.0, pitch=14.0),
                *table(lefts, _HEAD, top=322.0),
                *table(lefts, _UNDER, top=334.0),
                *table(
                    lefts,
                    "Plomb total / Total Lead (Pb) | µg/L | 5 | | ND | 3.6 | 0.50 | 552\n"
                    "Baryum total / Total Barium (Ba) | µg/L | 2000 | | 88 | 5.2 | 1.0 | 552",
                    top=350.0,
                ),
            )
        )
    )
    told = [(s.id, s.point, s.collected) for s in reading.samples]
    assert told == [
        ("ZQ301", "PUITS-1 WELL-1", "2026-08-18T09:10"),
        ("ZQ302", "ROBINET ÉCOLE SCHOOL TAP", "2026-08-19T10:25"),
    ]
    assert [brief(r) for r in reading.samples[1].results] == [
        ("chloride", "61", "mg/L", None),
        ("hardness", "44", "mg/L", "CaCO3"),
        ("turbidity", "<0.10", "UTN/NTU", None),
        ("lead", "3.6", "µg/L", None),
        ("barium", "5.2", "µg/L", None),
    ]


@pytest.mark.parametrize(
    "line",
    [
        {40.0: "Site", 200.0: "Depth", 300.0: "Well 1", 380.0: "Well 2", 460.0: "QC Batch"},
        {40.0: "QC Batch = Quality Control"},
    ],
)
def test_a_row_of_heads_or_a_legend_does_not_begin_quality_control(line: dict[float, str]) -> None:
    reading = read_page((60.0, line), (120.0, {40.0: "Nitrate-N", 200.0: "4.2 mg/L"}))
    assert [brief(r) for r in reading.results] == [("nitrate", "4.2", "mg/L", "N")]


def test_a_title_still_begins_quality_control() -> None:
    reading = read_page(
        (40.0, {40.0: "Lead", 200.0: "2.1 ug/L"}),
        (60.0, {40.0: "Quality Control"}),
        (120.0, {40.0: "Nitrate-N", 200.0: "4.2 mg/L"}),
    )
    assert [brief(r) for r in reading.results] == [("lead", "2.1", "ug/L", None)]

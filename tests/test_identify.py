"""Printed labels, typed by hand as labs print them, and what they mean."""

from __future__ import annotations

import subprocess
import sys
import timeit
from pathlib import Path

import pytest

from welltold.analytes import Match, identify, registry

PRINTED = Path(__file__).parent / "labels" / "printed.txt"

UNKNOWN = """
Nitrogen
Metals
Anions
Cations
PFAS
Pesticides
VOCs
Microbiology
Sample
Total
Dissolved
Method
Date
Client
Lead time
Iron Mountain
Lead and Copper
Total Coliform / E. coli
Calcium and Magnesium
Radium
Radio
as
in
no
na
NA
N/A
ND
NO
CO
I
J
EC
Result
Test Result
Analyte
Water
Well Water
Limit
Lead Limit
Arsenic MCL
Chromium IV
Radium-226 +/-
Radium-226 ±
Gross Alpha Uncertainty
Total Coliform and E. coli
Coliform/E. coli
Sum of anything
PFOA, linear
Iron, particulate
Uranium-233
Radium-225
Toluene-d8
1,2-Dichloroethane-d4
4-Bromofluorobenzene
13C-PFOA
Cooper
Sliver Creek
Podium
Nickels
Nitrat3
Chlori
1,2,3-Trichloropropene
NMeFOSA
PFHxSA
1,2-Dichlorobutane
1,3-Dichloroethane
2,3-Dichlorotoluene
Tetrachlorobenzene
Trichloronaphthalene
Nitrate (as CN)
Sulfate as N
Hardness as NO3
Sample temperature on receipt
Iron (90th percentile)
The water contains iron and manganese above the level.
""".strip().splitlines()


def _rows() -> list[tuple[str, str, str | None, str | None]]:
    rows = []
    for line in PRINTED.read_text("utf-8").splitlines():
        if line.startswith("# "):
            continue
        cells = [cell.strip() or None for cell in line.split("|")] + [None, None]
        rows.append((cells[0] or "", cells[1] or "", cells[2], cells[3]))
    return rows


@pytest.mark.parametrize(("label", "slug", "basis", "fraction"), _rows())
def test_printed_labels(label: str, slug: str, basis: str | None, fraction: str | None) -> None:
    match = identify(label)
    assert match is not None
    assert (match.slug, match.basis, match.fraction) == (slug, basis, fraction)


@pytest.mark.parametrize("label", UNKNOWN)
def test_unknown_labels_stay_unknown(label: str) -> None:
    assert identify(label) is None


@pytest.mark.parametrize("label", ["", " ", "***", "(", "12.", "7.4", "µ", "-", "%", "x" * 5000])
def test_what_is_no_name_is_no_analyte(label: str) -> None:
    assert identify(label) is None


def test_every_listed_name_is_its_own_analytes() -> None:
    for one in registry().values():
        assert getattr(identify(one.name), "slug", None) == one.slug
        assert getattr(identify(one.slug), "slug", None) == one.slug


def test_a_cas_number_identifies_what_its_name_does_not() -> None:
    assert identify("Perkloretylen", "127-18-4") == Match(
        "tetrachloroethylene", None, None, "cas", 1.0
    )
    assert identify("", "7439-92-1") == Match("lead", None, None, "cas", 1.0)
    assert identify("Analit X, dissolved", "7439-92-1") == Match(
        "lead", None, "dissolved", "cas", 1.0
    )


@pytest.mark.parametrize(
    ("label", "cas"),
    [
        ("Perkloretylen", "127-18-5"),
        ("Xyz", "7727-37-9TKN"),
        ("Xyz", "TDS"),
        ("Xyz", ""),
        ("Some nitrite thing", "14797-55-8"),
        ("Chloride thing", "7782-50-5"),
        ("Manganese thing", "7439-95-4"),
    ],
)
def test_a_cas_number_that_is_wrong_or_of_a_look_alike_identifies_nothing(
    label: str, cas: str
) -> None:
    assert identify(label, cas) is None


def test_the_printed_name_comes_before_the_cas_number() -> None:
    # One laboratory prints the number of elemental phosphorus beside orthophosphate.
    match = identify("Phosphorus, Total Orthophosphate (as P)", "7723-14-0")
    assert match is not None
    assert (match.slug, match.score) == ("orthophosphate", 1.0)


def test_a_name_beside_the_cas_number_of_another_chemical_is_doubted() -> None:
    assert identify("Nitrate", "14797-65-0") == Match("nitrate", None, None, "exact", 0.6)
    assert identify("Nitrate, Total (14797-65-0)") == Match("nitrate", None, "total", "exact", 0.6)
    # the number of the element beside one of its forms is no contradiction
    assert getattr(identify("Chromium (VI)", "7440-47-3"), "score", None) == 1.0
    assert getattr(identify("Nitrate", "14797-55-8"), "score", None) == 1.0


def test_a_contradiction_of_bases_says_nothing() -> None:
    match = identify("Nitrogen, Nitrate as NO3")
    assert match is not None
    assert (match.slug, match.basis) == ("nitrate", None)


def test_fuzzy_can_be_refused() -> None:
    assert identify("Chloropyrifos", fuzzy=False) is None


def test_a_single_letter_is_only_half_a_name() -> None:
    assert [getattr(identify(letter), "score", None) for letter in "KBU"] == [0.5, 0.5, 0.5]


def test_repeated_questions_are_quick() -> None:
    identify("Iron, Total")
    best = min(timeit.repeat(lambda: identify("Iron, Total"), number=1000, repeat=5)) / 1000
    assert best < 5e-6


def test_plain_names_need_no_heavy_library() -> None:
    code = (
        "import sys; from welltold.analytes import identify; identify('Iron, Total');"
        "print(sorted({'rapidfuzz', 'pandas', 'numpy', 'pint'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"

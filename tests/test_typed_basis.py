"""As what a typed or corrected result counts: from its column, its unit and its name together.

Factors from the atomic weights of IUPAC: N 14.007, O 15.999, H 1.008, P 30.974, S 32.06.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from test_rows import READING
from test_typed import typed

import welltold
from welltold.correcting import WrongEntryError, corrected
from welltold.errors import ReadingFileError
from welltold.interpretation import Finding
from welltold.reading import Correction, Normalized, Reading, Result

COUNTED = {
    "Nitrate": ("40", "mg/L", "NO3", 40 * 14.007 / 62.004, "N"),
    "Orthophosphate": ("3", "mg/L", "PO4", 3 * 30.974 / 94.970, "P"),
    "Sulfate": ("30", "mg/L", "S", 30 * 96.056 / 32.06, None),
    "Ammonia": ("3", "mg/L", "NH4", 3 * 14.007 / 18.039, "N"),
    # one grain is 64.79891 mg, one US gallon 3.785411784 L (NIST Handbook 44, appendix C)
    "Hardness": ("10", "gpg", "CaCO3", 10 * 64.79891 / 3.785411784, "CaCO3"),
}
"""Name: what is typed, the unit, the basis, and what it is in the analyte's own unit and basis."""


def line(name: str, result: str, unit: str, basis: str = "") -> str:
    return f"1,,,,{name},{result},{result},{unit},{basis},,"


def forms(name: str, folder: Path) -> dict[str, Path]:
    """Return the same result typed in four ways, and printed on a sheet."""
    text, unit, basis, _, _ = COUNTED[name]
    spelled = unit if unit == "gpg" else f"{unit} as {basis}"
    ways = {
        "unit": line(name, text, spelled),
        "result": line(name, f"{text} {spelled}", ""),
        "column": line(name, text, unit, f"as {basis}"),
        "name": line(f"{name} as {basis}", text, unit),
    }
    files = {}
    for way, row in ways.items():
        (folder / way).mkdir()
        files[way] = typed(folder / way, row)
    sheet = folder / "sheet.csv"
    sheet.write_text(f"Sample ID,Analyte,Result,Units\nA,{name},{text},{spelled}\n", "utf-8")
    return files | {"sheet": sheet}


@pytest.mark.parametrize("name", COUNTED)
@pytest.mark.parametrize("way", ["unit", "result", "column", "name", "sheet", "correction"])
def test_every_way_of_telling_the_basis_gives_the_same_amount(
    name: str, way: str, tmp_path: Path
) -> None:
    text, unit, basis, own, own_basis = COUNTED[name]
    if way == "correction":
        sheet = tmp_path / "sheet.csv"
        sheet.write_text(f"Sample ID,Analyte,Result,Units\nA,{name},7,mg/L\n", "utf-8")
        reading = welltold.read(sheet)
        spelled = unit if unit == "gpg" else f"{unit} as {basis}"
        reading = with_result(reading, put(reading.results[0], f"{text} {spelled}"))
    else:
        reading = welltold.read(forms(name, tmp_path)[way])
    (result,) = reading.results
    assert result.basis == basis
    assert result.normalized is not None
    assert float(result.normalized.value) == pytest.approx(own, rel=1e-6)
    assert result.normalized.basis == own_basis
    view = welltold.interpret(reading, as_of=date(2026, 11, 25))
    (found,) = [f for f in view.samples[0].findings if f.verdict != "not_tested"]
    assert found.value is not None
    assert (float(found.value), found.basis) == (pytest.approx(own, rel=1e-6), own_basis)


def put(result: Result, text: str) -> Result:
    return corrected(result, Correction(text, None, "K. Larch", "2026-11-25"))


def with_result(reading: Reading, result: Result) -> Reading:
    return replace(reading, samples=(replace(reading.samples[0], results=(result,)),))


@pytest.mark.parametrize(
    ("row", "cell"),
    [
        (line("Nitrate as NO3", "40", "mg/L", "N"), "I3"),
        (line("Nitrate", "40", "mg/L as NO3", "N"), "I3"),
        (line("Nitrate as N", "40", "mg/L as NO3"), "H3"),
        (line("Nitrate", "40 mg/L as N", "mg/L as NO3"), "H3"),
        (line("Hardness", "200", "mg/L", "banana"), "I3"),
        (line("Nitrate", "4", "mg/L", "PO4"), "I3"),
    ],
)
def test_a_basis_that_is_contradicted_or_unknown_names_its_cell(
    row: str, cell: str, tmp_path: Path
) -> None:
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(typed(tmp_path, row))
    assert caught.value.args[1] == cell


@pytest.mark.parametrize(
    ("told", "basis"), [("nitrate", "NO3"), ("as nitrogen", "N"), ("NO3-N", "N")]
)
def test_a_basis_may_be_told_in_words(told: str, basis: str, tmp_path: Path) -> None:
    (result,) = welltold.read(typed(tmp_path, line("Nitrate", "4", "mg/L", told))).results
    assert result.basis == basis


def test_two_units_for_one_result_are_an_error(tmp_path: Path) -> None:
    with pytest.raises(ReadingFileError, match="H3"):
        welltold.read(typed(tmp_path, line("Lead", "4 ug/L", "mg/L")))


def test_a_unit_that_cannot_measure_the_test_is_doubted(tmp_path: Path) -> None:
    (result,) = welltold.read(typed(tmp_path, line("Lead", "4", "NTU"))).results
    assert "typed.unit_unfit" in [message.code for message in result.review]


# -- corrections ----------------------------------------------------------------------------------

AS_ION = replace(
    READING.results[0],
    label="Nitrate",
    text="40",
    state="value",
    operator="=",
    value=Decimal(40),
    unit="mg/L as NO3",
    basis="NO3",
    normalized=Normalized(Decimal("9.03619121347"), "mg/L", "N"),
    reporting_limit=Decimal("0.5"),
    decimals=0,
)


def test_a_typed_basis_takes_the_place_of_the_printed_one() -> None:
    result = put(AS_ION, "9.2 mg/L as N")
    assert (result.basis, result.normalized) == (
        "N",
        Normalized(Decimal("9.2"), "mg/L", "N"),
    )
    assert result.correction is not None
    assert corrected(result, result.correction) == result


def test_a_plain_unit_does_not_undo_the_basis_that_stood_in_the_printed_unit() -> None:
    with pytest.raises(WrongEntryError, match="as NO3"):
        put(AS_ION, "9.2 mg/L")
    assert put(AS_ION, "9.2").basis == "NO3"


def test_a_unit_that_does_not_fit_is_refused() -> None:
    with pytest.raises(WrongEntryError, match="NTU"):
        put(AS_ION, "9.2 NTU")


def test_a_printed_limit_goes_over_into_the_typed_unit() -> None:
    # 0.5 mg is 500 ug.
    result = put(AS_ION, "<400 ug/L as NO3")
    assert (result.value, result.reporting_limit) == (Decimal(400), Decimal(500))


def test_a_unit_typed_without_a_number_leaves_the_printed_unit() -> None:
    result = put(AS_ION, "ND ug/L")
    assert (result.state, result.value, result.unit) == ("below", Decimal("0.5"), "mg/L as NO3")


def test_a_number_with_a_point_is_no_number_with_thousands() -> None:
    assert put(AS_ION, "1.234").value == Decimal("1.234")


# -- what the verdict makes of a reading that comes with a basis only in its unit -----------------


def found_in(result: Result) -> Finding:
    view = welltold.interpret(with_result(READING, result), as_of=date(2026, 11, 25))
    (found,) = [f for f in view.samples[0].findings if f.analyte == result.analyte]
    return found


def test_a_verdict_takes_the_basis_of_the_unit_before_the_settled_one() -> None:
    found = found_in(replace(AS_ION, basis=None, printed_limit=None))
    assert found.value is not None
    assert float(found.value) == pytest.approx(40 * 14.007 / 62.004)


def test_a_verdict_cannot_tell_where_unit_and_basis_contradict() -> None:
    clash = replace(
        AS_ION, analyte="sulfate", label="Sulfate", unit="mg/L as SO4", basis="S", normalized=None
    )
    found = found_in(clash)
    assert found.verdict == "cant_tell"
    assert "verdict.basis_clash" in [why.code for why in found.why]

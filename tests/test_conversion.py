"""Conversions, checked against published factors retyped here with their source."""

from __future__ import annotations

from decimal import Decimal
from importlib.resources import files

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from welltold.analytes import analyte, registry
from welltold.conversion import forms
from welltold.errors import ExitCode, UnitMismatchError, UnknownAnalyteError
from welltold.factor_table import factor_table
from welltold.reading import Normalized
from welltold.tables import read_table
from welltold.unit_spellings import basis_spellings, factors
from welltold.units import convert, normalize, unit, uranium_activity, uranium_mass

ATOMIC = "IUPAC/CIAAW abridged standard atomic weights 2021, summed by hand"
DEFINED = "definition of the unit (NIST SP 811, Appendix B)"


@pytest.mark.parametrize(
    ("source", "slug", "unit", "basis", "to_unit", "to_basis", "factor"),
    [
        # grain 64.79891 mg, US gallon 3.785411784 L, imperial gallon 4.54609 L
        (DEFINED, "hardness", "gpg", None, "mg/L", "CaCO3", "17.1181"),
        (DEFINED, "hardness", "mg/L", "CaCO3", "gpg", None, "0.0584178"),
        (DEFINED, "hardness", "clark", None, "mg/L", "CaCO3", "14.2538"),
        (DEFINED, "hardness", "fH", None, "mg/L", "CaCO3", "10"),
        ("10 mg/L CaO, " + ATOMIC, "hardness", "dH", None, "mg/L", "CaCO3", "17.848"),
        (ATOMIC, "hardness", "mmol/L", None, "mg/L", "CaCO3", "100.086"),
        (ATOMIC, "hardness", "meq/L", None, "mg/L", "CaCO3", "50.043"),
        ("Standard Methods 2340 B", "calcium", "mg/L", None, "mg/L", "CaCO3", "2.49728"),
        ("Standard Methods 2340 B", "magnesium", "mg/L", None, "mg/L", "CaCO3", "4.11792"),
        (ATOMIC, "iron", "mg/L", "Fe", "mg/L", "CaCO3", "1.79221"),
        (ATOMIC, "manganese", "mg/L", None, "mg/L", "CaCO3", "1.8218"),
        (ATOMIC, "strontium", "mg/L", None, "mg/L", "CaCO3", "1.14227"),
        (ATOMIC, "barium", "mg/L", None, "mg/L", "CaCO3", "0.728815"),
        # USGS WRI 02-4045, table 4, footnote: bicarbonate x 0.8202 = alkalinity
        ("USGS WRI 02-4045", "bicarbonate", "mg/L", "HCO3", "mg/L", "CaCO3", "0.820162"),
        (ATOMIC, "alkalinity", "mg/L", "CaCO3", "mg/L", "HCO3", "1.21927"),
        (ATOMIC, "carbonate", "mg/L", "CO3", "mg/L", "CaCO3", "1.66788"),
        (ATOMIC, "hydroxide", "mg/L", "OH", "mg/L", "CaCO3", "2.94249"),
        (ATOMIC, "nitrate", "mg/L", "N", "mg/L", "NO3", "4.42664"),
        (ATOMIC, "nitrate", "mg/L", "NO3", "mg/L", "N", "0.225905"),
        (ATOMIC, "nitrate", "mg/L", "N", "gpg", "CaCO3", "0.20871"),
        (ATOMIC, "nitrate", "mg/L", "N", "mg/L", "CaCO3", "3.57271"),
        (ATOMIC, "nitrite", "mg/L", "N", "mg/L", "NO2", "3.28443"),
        (ATOMIC, "nitrite", "mg/L", "NO2", "mg/L", "N", "0.304467"),
        (ATOMIC, "ammonia", "mg/L", "N", "mg/L", "NH4", "1.28786"),
        (ATOMIC, "ammonia", "mg/L", "N", "mg/L", "NH3", "1.21589"),
        (ATOMIC, "orthophosphate", "mg/L", "P", "mg/L", "PO4", "3.06612"),
        (ATOMIC, "orthophosphate", "mg/L", "P", "mg/L", "P2O5", "2.29132"),
        (ATOMIC, "sulfate", "mg/L", "S", "mg/L", "SO4", "2.99613"),
        (ATOMIC, "sulfate", "mg/L", None, "mg/L", "CaCO3", "1.04195"),
        (ATOMIC, "sulfate", "mg/L", None, "gpg", None, "0.0608687"),
        (ATOMIC, "sulfide", "mg/L", "S", "mg/L", "H2S", "1.06288"),
        (ATOMIC, "silica", "mg/L", "Si", "mg/L", "SiO2", "2.13933"),
        (ATOMIC, "chloride", "mg/L", None, "mg/L", "CaCO3", "1.41165"),
        (DEFINED, "radon", "pCi/L", None, "Bq/L", None, "0.037"),
        (DEFINED, "radon", "Bq/L", None, "pCi/L", None, "27.027"),
        (DEFINED, "radon", "mBq/L", None, "Bq/L", None, "0.001"),
        (DEFINED, "specific_conductance", "uS/cm", None, "dS/m", None, "0.001"),
        (DEFINED, "specific_conductance", "mmhos/cm", None, "uS/cm", None, "1000"),
        (DEFINED, "specific_conductance", "mS/m", None, "uS/cm", None, "10"),
        (DEFINED, "lead", "ppb", None, "mg/L", None, "0.001"),
        (DEFINED, "pfoa", "ppt", None, "ug/L", None, "0.001"),
        (DEFINED, "tds", "g/L", None, "mg/L", None, "1000"),
        # 453592.37 mg over 43560 ft3 of 28.316846592 L
        (DEFINED, "tds", "lb/acre-ft", None, "mg/L", None, "0.367733"),
        (DEFINED, "total_coliform", "CFU/mL", None, "count/100mL", None, "100"),
        (DEFINED, "photon_emitters", "mSv/yr", None, "mrem/yr", None, "100"),
        (DEFINED, "uv_absorbance", "1/cm", None, "m-1", None, "100"),
    ],
)  # fmt: skip
def test_a_published_factor(
    source: str, slug: str, unit: str, basis: str | None, to_unit: str, to_basis: str | None,
    factor: str,
) -> None:  # fmt: skip
    assert source
    one = convert(Decimal(1), slug, unit, basis, to_unit, to_basis)
    digits = len(factor.replace(".", "").lstrip("0"))
    tolerance = Decimal("1.01e-5") if digits >= 5 else Decimal("1e-18")
    assert abs(one / Decimal(factor) - 1) <= tolerance
    assert convert(Decimal(3), slug, unit, basis, to_unit, to_basis) / one == pytest.approx(3)


def test_published_pairs_of_alkalinity_and_bicarbonate() -> None:
    """USGS WRI 02-4045 (2002), table 4: 580 mg/L as CaCO3 with 707 mg/L HCO3; 267 with 326."""
    for alkalinity, bicarbonate in ((580, 707), (267, 326)):
        found = convert(Decimal(alkalinity), "alkalinity", "mg/L", "CaCO3", "mg/L", "HCO3")
        assert round(found) == bicarbonate


def test_published_hardness_from_calcium_and_magnesium() -> None:
    """USGS WRI 02-4045 (2002), table 4: Ca 25 and Mg 14 mg/L go with a hardness of 120 mg/L."""
    calcium = convert(Decimal(25), "calcium", "mg/L", None, "mg/L", "CaCO3")
    magnesium = convert(Decimal(14), "magnesium", "mg/L", None, "mg/L", "CaCO3")
    assert round(calcium + magnesium) == 120


def test_exact_definitions_stay_exact() -> None:
    assert str(convert(Decimal("15"), "lead", "ug/L", None, "mg/L", None)) == "0.015"
    assert str(convert(Decimal("4.0"), "pfos", "ng/L", None, "ug/L", None)) == "0.004"
    assert str(convert(Decimal("0.3"), "iron", "mg/L", None, "ug/L", None)) == "300"
    assert str(convert(Decimal("212"), "temperature", "degF", None, "degC", None)) == "100"
    assert str(convert(Decimal("32"), "temperature", "degF", None, "degC", None)) == "0"
    assert str(convert(Decimal("-40"), "temperature", "degF", None, "degC", None)) == "-40"
    assert str(convert(Decimal("10"), "temperature", "degC", None, "degF", None)) == "50"
    assert str(convert(Decimal("1"), "nitrate", "mmol/L", None, "mg/L", "N")) == "14.007"


def test_the_printed_digits_stay_where_nothing_changes() -> None:
    for printed, to_unit in (("mg/L", "ppm"), ("CFU/100 mL", "MPN/100mL"), ("NTU", "FNU")):
        assert str(convert(Decimal("1.50"), "x", printed, None, to_unit, None)) == "1.50"
    assert str(convert(Decimal("1.50"), "iron", "mg/L", "Fe", "mg/L", None)) == "1.50"


@pytest.mark.parametrize(
    ("slug", "unit", "basis", "to_unit", "to_basis"),
    [
        ("uranium", "pCi/L", None, "ug/L", None),
        ("uranium", "ug/L", None, "pCi/L", None),
        ("lead", "NTU", None, "mg/L", None),
        ("lead", "furlongs", None, "mg/L", None),
        ("lead", "mg/L", None, "stones", None),
        ("nitrate", "mg/L", None, "mg/L", "N"),
        ("nitrate", "mg/L", "N", "mg/L", None),
        ("nitrate", "mg/L as N", "NO3", "mg/L", "N"),
        ("ammonia", "ug/L", None, "mg/L", "N"),
        ("silica", "mg/L", "SiO2", "mg/L", "CaCO3"),
        ("silica", "meq/L", None, "mg/L", "SiO2"),
        ("orthophosphate", "meq/L", None, "mg/L", "P"),
        ("alkalinity", "mmol/L", None, "mg/L", "CaCO3"),
        ("tds", "mg/L", None, "mg/L", "CaCO3"),
        ("tds", "mmol/L", None, "mg/L", None),
        ("total_coliform", "P/A", None, "CFU/100mL", None),
        ("turbidity", "JTU", None, "NTU", None),
        ("hardness", "mg/L", "N", "gpg", None),
    ],
)
def test_what_the_tables_do_not_answer_is_refused(
    slug: str, unit: str, basis: str | None, to_unit: str, to_basis: str | None
) -> None:
    with pytest.raises(UnitMismatchError) as caught:
        convert(Decimal(1), slug, unit, basis, to_unit, to_basis)
    assert int(caught.value.exit_code) == ExitCode.unit_mismatch.value == 45
    assert slug in str(caught.value)


def test_moles_and_charges_need_no_basis() -> None:
    assert convert(Decimal(1), "nitrate", "mmol/L", None, "meq/L", None) == 1
    assert convert(Decimal(1), "calcium", "mmol/L", None, "meq/L", None) == 2
    assert convert(Decimal(1), "calcium", "meq/L", None, "mmol/L", None) == Decimal("0.5")
    assert convert(Decimal(2), "nitrate", "meq/L", None, "mg/L", "NO3") == Decimal("124.008")


def test_uranium_is_turned_into_activity_only_when_asked_by_name() -> None:
    """40 CFR 141.25, as cited by EPA: 0.67 pCi per microgram; 30 ug/L is 20.1 pCi/L."""
    assert uranium_activity(Decimal(30)) == Decimal("20.1")
    assert uranium_mass(Decimal("20.1")) == 30


@given(st.decimals(Decimal("0.0001"), 100_000, places=4), st.data())
def test_there_and_back_changes_nothing(value: Decimal, data: st.DataObject) -> None:
    slug = data.draw(st.sampled_from(sorted(forms())))
    bases = sorted(forms()[slug])
    sides = st.tuples(st.sampled_from(["mg/L", "ug/L", "gpg"]), st.sampled_from(bases))
    (unit, basis), (to_unit, to_basis) = (
        (u, b) if u != "gpg" else ("g/L", b) for u, b in (data.draw(sides), data.draw(sides))
    )
    there = convert(value, slug, unit, basis, to_unit, to_basis)
    back = convert(there, slug, to_unit, to_basis, unit, basis)
    assert abs(back / value - 1) < Decimal("1e-16")


@given(st.decimals(-1000, 1000, places=2), st.data())
def test_there_and_back_inside_every_dimension(value: Decimal, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(factors())))
    alike = [other for other, factor in factors().items() if factor.kind == factors()[name].kind]
    other = data.draw(st.sampled_from(sorted(alike)))
    basis = "CaCO3" if factors()[name].kind in {"mass", "amount", "charge"} else None
    there = convert(value, "hardness", name, basis, other, basis)
    back = convert(there, "hardness", other, basis, name, basis)
    assert abs(back - value) < Decimal("1e-12")


def test_the_table_of_factors_is_what_the_definitions_give() -> None:
    committed = (files("welltold") / "data" / "factors.csv").read_text("utf-8")
    assert factor_table() == committed


def test_molar_masses_agree_with_another_table() -> None:
    """The periodictable library carries the same weights from its own source."""
    rows = list(read_table("bases.csv"))
    assert len(rows) > 100
    for row in rows:
        mass = row.number("molar_mass")
        assert mass is not None
        theirs = periodictable.formula(row.text("formula")).mass
        assert float(mass) == pytest.approx(theirs, rel=3e-4), row.text("formula")


def test_bases_are_counted_alike() -> None:
    """One mmol of an analyte carries the same charge whatever form it is stated in."""
    known = set(basis_spellings().values())
    for slug, of in forms().items():
        ratios = {
            form.per_mmol / form.per_meq for form in of.values() if form.per_mmol and form.per_meq
        }
        assert len({round(ratio, 12) for ratio in ratios}) <= 1, slug
        assert set(of) <= known, slug
    own = [row.text("analyte") for row in read_table("bases.csv") if row.cells["own"] == "yes"]
    assert len(own) == len(set(own))


@pytest.mark.parametrize(
    ("slug", "value", "unit", "basis", "expected"),
    [
        ("nitrate", "44.2664", "mg/L", "NO3", "9.9999913683"),
        ("nitrate", "5.10", "mg/L as N", None, "5.10"),
        ("nitrate", "5.10", "mg/L", "N", "5.10"),
        ("lead", "15", "ppb", None, "0.015"),
        ("hardness", "10", "gpg", None, "171.180610453"),
        ("hardness", "120", "mg/L", None, "120"),
        ("ph", "7.2", "S.U.", None, "7.2"),
        ("ph", "7.9", "None", None, "7.9"),
        ("e_coli", "3", "MPN/100 mL", None, "3"),
        ("iron", "0.31", "mg/L as Fe", None, "0.31"),
        ("sulfate", "25", "mg/L", None, "25"),
        ("temperature", "50", "°F", None, "10"),
        ("nitrate", "5.1", "mg/L", None, None),
        ("lead", "15", "NTU", None, None),
        ("lead", "15", "bushels", None, None),
        ("nitrate", "5", "mg/L as N", "NO3", None),
        ("uranium", "20.1", "pCi/L", None, None),
        ("calcium", "1", "meq/L", None, "20.039"),
        ("pfoa", "0.004", "µg/L", None, "4"),
        ("salinity", "0.5", "ppt", None, "0.5"),
        ("pfos", "0.5", "ppt", None, "0.5"),
        ("color", "15", "units", None, "15"),
        ("color", "15", "Pt-Co", None, "15"),
        ("specific_conductance", "0.415", "mmhos/cm", None, "415"),
        ("total_coliform", "0", "col/100 ml", None, "0"),
        ("lead", "5", "units", None, None),
    ],
)  # fmt: skip
def test_normalized_to_the_registry(
    slug: str, value: str, unit: str, basis: str | None, expected: str | None
) -> None:
    found = normalize(slug, Decimal(value), unit, basis)
    if expected is None:
        assert found is None
        return
    assert isinstance(found, Normalized)
    assert str(found.value) == expected
    assert (found.unit, found.basis) == (analyte(slug).unit, analyte(slug).basis)


def test_an_unknown_analyte_cannot_be_normalized() -> None:
    with pytest.raises(UnknownAnalyteError):
        normalize("unobtainium", Decimal(1), "mg/L", None)


def test_the_tables_of_units_and_of_analytes_agree() -> None:
    for slug, one in registry().items():
        assert one.unit in factors(), slug
        stated = {basis for basis in (one.basis, *one.bases) if basis}
        assert stated <= set(forms().get(slug, {})), slug
    for row in read_table("bases.csv"):
        assert row.text("analyte") in registry()
        if row.text("formula") == registry()[row.text("analyte")].formula:
            theirs = registry()[row.text("analyte")].molar_mass
            assert row.number("molar_mass") == pytest.approx(theirs, abs=Decimal("0.002"))
    for row in read_table("units_by_analyte.csv"):
        assert row.text("analyte") in registry()
        assert row.text("unit") in factors()
        found = unit(row.text("spelling"))
        assert found is not None
        assert found.ambiguous

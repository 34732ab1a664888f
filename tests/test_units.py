"""Printed units, and units inside labels. Every row was typed and judged by hand."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from welltold.tables import read_table
from welltold.unit_spellings import basis_spellings, factors, spellings
from welltold.units import basis_of, trailing_unit, unit, units_in

MEANINGS = {
    ("mg/L", None): [
        "mg/L", "mg/l", "MG/L", "Mg/L", "mg / L", "mg/ L", " mg/L ", "ppm", "PPM", "mg L-1",
        "mg L⁻¹", "milligrams per liter", "Milligrams per Liter", "parts per million", "ug/mL",
        "µg/mL", "(mg/L)", "[mg/L]", "mg/L*", "mg/L ¹", "mg/ℓ", "g/m³", "mg_L", "MGL",
        "mg/L (ppm)", "mg/L or ppm", "ppm (mg/L)", "mg/liter",
    ],
    ("ug/L", None): [
        "ug/L", "ug/l", "UG/L", "µg/L", "\u00b5g/L", "\u03bcg/L", "μg/l", "mcg/L", "MCG/L", "ppb",
        "PPB", "micrograms per liter", "parts per billion", "ug / L", "Âµg/L", "µg/L (ppb)",
        "ng/mL",
    ],
    ("ng/L", None): ["ng/L", "NG/L", "ng/l", "ppt", "parts per trillion"],
    ("g/L", None): ["g/L", "g/l"],
    ("mg/L", "N"): [
        "mg/L as N", "mg/L (as N)", "mg/L, as N", "mg N/L", "mgN/L", "mg-N/L", "mg/L-N", "mg/L N",
        "mg/L NO3-N", "mg NO3-N/L", "mg/L as NO3-N", "ppm as N", "mg/L as Nitrogen", "MG/L AS N",
        "mg/l as N", "(mg/L as N)", "mg/L as N*",
    ],
    ("ug/L", "N"): ["ug/L as N", "µg N/L"],
    ("mg/L", "NO3"): ["mg/L as NO3", "mg NO3/L", "mg/L NO3", "mg/L as NO₃⁻", "mg/L as NO3-"],
    ("mg/L", "NO2"): ["mg/L as NO2"],
    ("mg/L", "CaCO3"): [
        "mg/L as CaCO3", "mg/L (as CaCO3)", "mg CaCO3/L", "ppm CaCO3", "mg/L CaCO3",
        "mg/L as CaCO₃", "mg/L AS CACO3", "ppm as CaCO3", "mg/L-CaCO3",
        "mg/L as calcium carbonate",
    ],
    ("mg/L", "HCO3"): ["mg/L as HCO3", "mg HCO3/L"],
    ("mg/L", "SiO2"): ["mg/L as SiO2", "mg/L SiO2"],
    ("mg/L", "P"): ["mg/L as P", "mg P/L", "mg/L PO4-P"],
    ("mg/L", "PO4"): ["mg/L as PO4"],
    ("mg/L", "S"): ["mg/L as S"],
    ("gpg", "CaCO3"): [
        "gpg", "GPG", "gr/gal", "gr./gal.", "grains", "grains/gal", "Grains/Gallon",
        "grains per gallon", "Grains per Gallon", "grains hardness", "gpg as CaCO3",
    ],
    ("dH", "CaCO3"): ["°dH", "dH", "º dH"],
    ("fH", "CaCO3"): ["°fH", "fH"],
    ("clark", "CaCO3"): ["°Clark", "grains/imp gal"],
    ("mmol/L", None): ["mmol/L", "mmol/l"],
    ("meq/L", None): ["meq/L", "mEq/L", "me/L", "epm"],
    ("meq/L", "CaCO3"): ["meq/L as CaCO3"],
    ("uS/cm", None): [
        "uS/cm", "µS/cm", "μS/cm", "umhos/cm", "µmhos/cm", "umho/cm", "umhos", "micromhos/cm",
        "µS/cm @ 25 °C", "µS/cm @25°C", "umhos/cm at 25C", "uS/cm at 25 deg C", "us/cm",
    ],
    ("mS/cm", None): ["mS/cm", "mmhos/cm"],
    ("mS/m", None): ["mS/m"],
    ("dS/m", None): ["dS/m"],
    ("NTU", None): ["NTU", "ntu", "N.T.U.", "UNT"],
    ("FNU", None): ["FNU", "FTU"],
    ("JTU", None): ["JTU"],
    ("CU", None): [
        "CU", "C.U.", "TCU", "PCU", "ACU", "Pt-Co", "Pt/Co units", "color units", "Color Units",
        "colour units", "Hazen", "mg/L Pt",
    ],
    ("TON", None): ["TON", "T.O.N."],
    ("SU", None): [
        "S.U.", "SU", "std units", "Standard Units", "pH units", "pH Units", "pH", "units",
    ],
    ("CFU/100mL", None): [
        "CFU/100 mL", "CFU/100ml", "cfu/100mL", "CFU / 100 mL", "CFU per 100 mL", "col/100 mL",
        "colonies/100 mL", "UFC/100 mL", "col./100ml",
    ],
    ("MPN/100mL", None): ["MPN/100 mL", "MPN/100mL", "mpn/100ml", "MPN per 100 mL", "NMP/100 mL"],
    ("count/100mL", None): ["#/100mL", "#/100 ml", "/100mL", "/100 mL", "per 100 mL", "No./100 mL"],
    ("CFU/mL", None): ["CFU/mL", "CFU/ml", "cfu/mL"],
    ("MPN/mL", None): ["MPN/mL"],
    ("P/A", None): [
        "P/A", "Present/Absent", "PRES/ABS", "Presence/Absence", "P/A per 100 mL", "P/A/100 mL",
    ],
    ("pCi/L", None): ["pCi/L", "PCI/L", "pCi/l", "picocuries per liter"],
    ("Bq/L", None): ["Bq/L"],
    ("mBq/L", None): ["mBq/L"],
    ("mrem/yr", None): ["mrem/yr", "mrem/year"],
    ("MFL", None): ["MFL", "MFL>10um", "MFL > 10 µm"],
    ("%", None): ["%", "percent"],
    ("degC", None): ["°C", "º C", "℃", "deg C", "deg. C", "degC", "C", "degrees Celsius"],
    ("degF", None): ["°F", "deg F", "F"],
    ("mV", None): ["mV"],
    ("m-1", None): ["m-1", "m⁻¹", "1/m"],
    ("cm-1", None): ["1/cm", "cm-1", "cm⁻¹"],
    ("L/mg-m", None): ["L/mg-m"],
    ("mol/L", None): ["mol/L"],
    ("ratio", None): ["NONE", "none", "None", "N/A", "unitless", "ratio"],
}  # fmt: skip


@pytest.mark.parametrize(
    ("spelling", "name", "basis"),
    [(spelling, *meaning) for meaning, printed in MEANINGS.items() for spelling in printed],
)
def test_a_printed_unit_has_one_meaning(spelling: str, name: str, basis: str | None) -> None:
    found = unit(spelling)
    assert found is not None
    assert (found.name, found.basis) == (name, basis)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "mg", "L", "kg/L", "mfl", "Iron", "mg/kg", "mg/L as", "mg/L as X", "as N", "N",
        "NTU as N", "gpg as N", "µS/cm @ 20 °C", "NTU @ 25 °C", "g", "m", "ug", "PA", "M", "mM/L",
        "?g/L", "\ufffdg/L", "mg/L (ppb)", "mg/L and ug/L", "mg/LL", "milligauss", "pH 7", "-",
        "mg/L " * 30, "%REC", "gal", "ppmv", "kS/cm", "Total mg/L",
    ],
)  # fmt: skip
def test_an_unknown_unit_is_never_guessed(text: str) -> None:
    assert unit(text) is None


@pytest.mark.parametrize("spelling", ["ppt", "units", "MMHOS/CM", "ΜG/L", "MPN", "CFU", "uS"])
def test_spellings_with_two_meanings_are_marked(spelling: str) -> None:
    found = unit(spelling)
    assert found is not None
    assert found.ambiguous


@pytest.mark.parametrize("spelling", ["mg/L", "MG/L", "Mg/L", "ng/L", "CFU/100mL", "S.U.", "gpg"])
def test_plain_spellings_are_not_marked(spelling: str) -> None:
    found = unit(spelling)
    assert found is not None
    assert not found.ambiguous


def test_every_row_of_the_table_is_found_as_printed() -> None:
    rows = list(read_table("units.csv"))
    assert len(rows) > 1500
    assert len(spellings()) > 1500
    for row in rows:
        found = unit(row.text("spelling"))
        assert found is not None
        assert found.name == row.text("unit")
        assert found.basis == row.optional("basis")


def test_every_canonical_unit_names_itself() -> None:
    for name in factors():
        found = unit(name)
        assert found is not None, name
        assert found.name == name
        assert not found.ambiguous


def test_every_basis_can_be_written_beside_a_unit() -> None:
    for spelling, basis in basis_spellings().items():
        assert basis_of(spelling) == basis, spelling
        found = unit(f"mg/L as {spelling}")
        assert found is not None, spelling
        assert found.basis == basis
    assert basis_of("XYZ") is None
    assert basis_of("SO4--") == "SO4"
    assert basis_of("Ca2+") == "Ca"


@pytest.mark.parametrize(
    ("text", "rest", "spelling"),
    [
        ("Iron (mg/L)", "Iron", "mg/L"), ("Iron, mg/L", "Iron", "mg/L"),
        ("Lead ug/L", "Lead", "ug/L"), ("Iron - mg/L", "Iron", "mg/L"),
        ("First Draw at-the-tap Lead level (µg/l)", "First Draw at-the-tap Lead level", "µg/l"),
        ("Hardness (as CaCO3), mg/L", "Hardness (as CaCO3)", "mg/L"),
        ("Alkalinity, Total (as CaCO3) mg/L", "Alkalinity, Total (as CaCO3)", "mg/L"),
        ("Iron (as Fe) mg/l", "Iron (as Fe)", "mg/l"),
        ("Nitrate (mg/L as N)", "Nitrate", "mg/L as N"),
        ("Nitrate mg/L (as N)", "Nitrate", "mg/L (as N)"),
        ("Nitrate-N mg/L", "Nitrate-N", "mg/L"), ("Result mg/L", "Result", "mg/L"),
        ("Results in mg/L", "Results", "mg/L"), ("Conc. [µg/L]", "Conc.", "µg/L"),
        ("pH (S.U.)", "pH", "S.U."), ("pH, S.U.", "pH", "S.U."), ("pH units", "pH", "units"),
        ("Color units", "Color", "units"), ("Color (CU)", "Color", "CU"),
        ("E. coli MPN/100 mL", "E. coli", "MPN/100 mL"),
        ("Total Coliform (MPN/100 mL) *", "Total Coliform", "MPN/100 mL"),
        ("E. coli (MPN)", "E. coli", "MPN"), ("Temperature °C", "Temperature", "°C"),
        ("Temp (C)", "Temp", "C"), ("Temperature, F", "Temperature", "F"),
        ("Carbon, %", "Carbon", "%"), ("Turbidity, NTU", "Turbidity", "NTU"),
        ("Conductivity (µS/cm @ 25 °C)", "Conductivity", "µS/cm @ 25 °C"),
        ("Specific Conductance at 25 C, umhos/cm", "Specific Conductance at 25 C", "umhos/cm"),
        ("Dissolved Solids @180°C, mg/L", "Dissolved Solids @180°C", "mg/L"),
        ("1,2-Dichloroethane (ug/L)", "1,2-Dichloroethane", "ug/L"),
        ("Lead (ug/L) (ppb)", "Lead", "ppb"), ("Hardness (gpg)", "Hardness", "gpg"),
        ("Hardness grains", "Hardness", "grains"), ("IRON_MGL", "IRON", "MGL"),
        ("iron_mg_L", "iron", "mg_L"), ("Iron..mg.L.", "Iron", "mg.L."),
        ("Iron\nmg/L", "Iron", "mg/L"),
        ("Asbestos, MFL>10um", "Asbestos", "MFL>10um"), ("mg/L", "", "mg/L"),
        ("(mg/L)", "", "mg/L"), ("Std units", "", "Std units"), ("UV 254 (cm-1)", "UV 254", "cm-1"),
    ],
)  # fmt: skip
def test_a_unit_is_cut_off_a_label(text: str, rest: str, spelling: str) -> None:
    assert trailing_unit(text) == (rest, spelling)


@pytest.mark.parametrize(
    "text",
    [
        "", "Iron", "Vitamin C", "Total C", "Organic Carbon (C)", "Fluoride (F)", "Fluoride, F",
        "Copper, CU", "Copper (Cu)", "Sodium, NA", "Nitrogen, N", "Harrisburg, PA", "pH",
        "Langelier Index", "Sodium Adsorption Ratio", "Not Applicable, N/A", "E. coli by MPN",
        "Chromium VI", "Radium 226", "Units", "Result", "Iron (Fe)", "Alkalinity as CaCO3",
        "Number of units", "2,4-D", "Nitrate as N", "Report to: Clark",
    ],
)  # fmt: skip
def test_a_name_is_not_eaten(text: str) -> None:
    found = trailing_unit(text)
    assert found is None or found[0] == ""


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Results in mg/L", ("mg/L",)), ("all results in mg/L unless noted", ("mg/L",)),
        ("All results are in mg/L.", ("mg/L",)), ("Chemical, in mg/l", ("mg/l",)),
        ("Units: mg/L except pH (S.U.) and conductivity in µS/cm @ 25 °C",
         ("mg/L", "S.U.", "µS/cm @ 25 °C")),
        ("Results: mg/L (ppm)", ("mg/L (ppm)",)), ("Bacteria per 100 mL", ("per 100 mL",)),
        ("nitrate in mg/L as N, hardness in mg/L (as CaCO3).", ("mg/L as N", "mg/L (as CaCO3)")),
        ("Lead (µg/L) Result", ("µg/L",)), ("lead ppb and copper ppm", ("ppb", "ppm")),
        ("Tested by C. Smith for F. Jones", ()), ("none", ()), ("", ()),
        ("the unit is in the second column", ()),
    ],
)  # fmt: skip
def test_units_inside_a_line(text: str, found: tuple[str, ...]) -> None:
    assert units_in(text) == found


@given(st.text(max_size=60))
def test_any_text_can_be_asked(text: str) -> None:
    found = trailing_unit(text)
    if found is not None:
        rest, spelling = found
        assert text.startswith(rest)
        assert spelling in text
        assert unit(spelling) is not None
    assert all(unit(spelling) is not None for spelling in units_in(text))


@given(
    st.sampled_from(["Iron", "Lead", "Sulfate", "Hardness", "Total Arsenic", "Nitrate-N"]),
    st.sampled_from(sorted(name for name in factors() if "/" in name)),
    st.sampled_from(["{} ({})", "{}, {}", "{} {}", "{} [{}]", "{}: {}", "{} in {}", "{} - {}"]),
)
def test_a_label_with_its_unit_comes_apart(label: str, name: str, form: str) -> None:
    assert trailing_unit(form.format(label, name)) == (label, name)


@given(st.text(alphabet="abcdefghijklmnopqrstuvwxyzABCDEFGH ,()", max_size=30))
def test_words_alone_hold_no_strong_unit(text: str) -> None:
    for spelling in units_in(text):
        assert unit(spelling) is not None


def test_reading_units_never_loads_pint() -> None:
    code = (
        "import sys; from welltold.units import unit, convert; from welltold.values import "
        "parse_value; unit('mg/L'); parse_value('1 mg/L'); "
        "from decimal import Decimal; convert(Decimal(1), 'nitrate', 'mg/L', 'N', 'mg/L', 'NO3'); "
        "sys.exit('pint' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], check=False, env={"PYTHONPATH": ":".join(sys.path)}
    )
    assert done.returncode == 0


@pytest.mark.parametrize(
    ("spelling", "name", "basis"),
    [
        ("g/m3 as CaCO3", "mg/L", "CaCO3"),
        ("mg_N_L", "mg/L", "N"),
        ("ug_P_L", "ug/L", "P"),
        ("ueqL", "ueq/L", None),
        ("Orgs/100mL", "count/100mL", None),
        ("number/100mL", "count/100mL", None),
        ("MPN100mL", "MPN/100mL", None),
        ("mg/L  at 25°C", "mg/L", None),
        ("us_cm", "uS/cm", None),
    ],
)
def test_units_as_wide_data_files_write_them(spelling: str, name: str, basis: str | None) -> None:
    found = unit(spelling)
    assert found is not None
    assert (found.name, found.basis) == (name, basis)


def test_a_lower_case_c_is_degrees_only_behind_a_temperature() -> None:
    assert trailing_unit("temperature_c") == ("temperature", "c")
    assert trailing_unit("vitamin_c") is None

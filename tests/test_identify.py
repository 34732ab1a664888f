"""Printed labels, typed by hand as labs print them, and what they mean."""

from __future__ import annotations

import subprocess
import sys
import timeit

import pytest

from welltold.analytes import Match, identify, registry

# label | analyte | basis that the label states | fraction that the label states
PRINTED = """
Iron | iron
IRON | iron
Iron, Total | iron | | total
Iron (Fe) | iron
Fe | iron
FE | iron
Fe, dissolved | iron | | dissolved
Fe-D | iron | | dissolved
Fe-T | iron | | total
Total Recoverable Iron | iron | | total
Iron, Total Recoverable | iron | | total
Iron (Total) | iron | | total
Iron, Filtered | iron | | dissolved
Dissolved Iron | iron | | dissolved
Iron (Dissolved) | iron | | dissolved
Iron** | iron
*Iron | iron
Iron (1) | iron
Iron (2) | iron
Total P as P | phosphorus | P | total
Chloroform (THM) | chloroform
Iron¹ | iron
12. Iron | iron
3) Iron | iron
Iron: | iron
Iron .......... | iron
Iron by ICP-MS | iron
Iron (EPA 200.7) | iron
Iron as Fe | iron
Iron (as Fe) | iron
Fe - Iron | iron
Iron, Ferrous | ferrous_iron
Fe2+ | ferrous_iron
Fe++ | ferrous_iron
Iron (II) | ferrous_iron
Fe(III) | ferric_iron
Iron bacteria | iron_bacteria
Manganese | manganese
Mn (Total) | manganese | | total
MANGANESE, DISSOLVED | manganese | | dissolved
Manganeese | manganese
Manganeso | manganese
Magnesium, Total | magnesium | | total
Mg2+ | magnesium
Mg²⁺ | magnesium
Calcium as CaCO3 | calcium | CaCO3
Mg (as CaCO3) | magnesium | CaCO3
Calcium (as Ca) | calcium
Ca | calcium
Ca+2 | calcium
Hardness, Calcium | calcium_hardness
Hardness, Total | hardness
Total Hardness as CaCO3 | hardness | CaCO3
Hardness (as CaCO3) | hardness | CaCO3
Hardness, Ca, Mg | hardness
Total Hardness (calculated) | hardness
dureza total | hardness
Alkalinity, Total (as CaCO3) | alkalinity | CaCO3
Alkalinity, Bicarbonate (as CaCO3) | bicarbonate | CaCO3
Bicarbonate (HCO3) | bicarbonate
HCO₃⁻ | bicarbonate
Carbonate Alkalinity as CaCO3 | carbonate | CaCO3
P-Alkalinity | phenolphthalein_alkalinity
As | arsenic
AS | arsenic
As, Total | arsenic | | total
Arsenic, dissolved | arsenic | | dissolved
Arsenic (III) | arsenic_iii
As(V) | arsenic_v
Chromium, Hexavalent | chromium_vi
Cr(VI) | chromium_vi
Cr+6 | chromium_vi
Chromium (total) | chromium | | total
Lead | lead
Pb | lead
Metals: Lead | lead
Trace Metals - Lead, Total | lead | | total
Lead - First Draw | lead
First Draw at-the-tap Lead level | lead
Lead (flushed) | lead
Copper, Total | copper | | total
Hg | mercury
Aluminium | aluminum
Sodium (Na+) | sodium
Na | sodium
K | potassium
Sr-90 | strontium_90
Sr | strontium
Silica (as SiO2) | silica
Silicon | silicon
Nitrate | nitrate
Nitrate as N | nitrate | N
Nitrate (as N) | nitrate | N
Nitrate-N | nitrate | N
NO3-N | nitrate | N
NO₃-N | nitrate | N
NO3 | nitrate
Nitrate as NO3 | nitrate | NO3
Nitrate (as NO3) | nitrate | NO3
Nitrogen, Nitrate (as N) | nitrate | N
Nitrogen, Nitrate | nitrate | N
Nitrate Nitrogen | nitrate | N
Nitrate as N (by calculation) | nitrate | N
NITRATE_N | nitrate | N
Nitrate Nitrogen, Dissolved | nitrate | N | dissolved
Nitrite as N | nitrite | N
NO2-N | nitrite | N
Nitrogen, Nitrite  (As N) | nitrite | N
Nitrate + Nitrite | nitrate_nitrite
Nitrate/Nitrite as N | nitrate_nitrite | N
NO2+NO3-N | nitrate_nitrite | N
Nitrite/Nitrate | nitrate_nitrite
Inorganic nitrogen (nitrate and nitrite) | nitrate_nitrite
Nitrogen, Ammonia | ammonia | N
Ammonia (as N) | ammonia | N
Ammonium as NH4 | ammonia | NH4
Nitrogen, Total Kjeldahl | kjeldahl_nitrogen | N
TKN | kjeldahl_nitrogen | N
Nitrogen, Total | total_nitrogen | N
Orthophosphate as P | orthophosphate | P
Ortho-Phosphate (as PO4) | orthophosphate | PO4
Phosphorus, Total (As P) | phosphorus | P | total
Phosphorus, Dissolved | phosphorus | | dissolved
Phosphorus, Total Orthophosphate (as P) | orthophosphate | P | total
Chloride | chloride
Cl- | chloride
Chloride by IC | chloride
Chlorine, Residual Free | free_chlorine
FREE_CL2 | free_chlorine
Chlorine, Total | total_chlorine
Flouride | fluoride
Sulphate | sulfate
Sulfate as SO4 | sulfate
SO4 2- | sulfate
Sulfate as S | sulfate | S
Hydrogen Sulphide | hydrogen_sulfide
Sulfide, Total | sulfide | | total
Solids, Total Dissolved | total_dissolved_solids
TDS | total_dissolved_solids
Total Dissolved Solids (Residue, Filterable) | total_dissolved_solids
Total Dissolved Solids @ 180 C | total_dissolved_solids
Solids, Total Suspended | total_suspended_solids
pH | ph
pH (field) | ph
Field pH | ph
Laboratory pH | ph
Conductivity @ 25 C | specific_conductance
COND_25C | specific_conductance
Specific conductance | specific_conductance
Electrical Conductivity (EC) | specific_conductance
Turbidity, field | turbidity
Colour, Apparent | apparent_color
Carbon, Total Organic | total_organic_carbon
Organic Carbon, Dissolved | dissolved_organic_carbon
UV Transmittance @ 254 nm | uv_transmittance
Tannin & Lignin | tannin
Langelier Index @ 25 C | langelier_index
Sodium Adsorption Ratio (SAR) | sodium_adsorption_ratio
Total Coliform Bacteria | total_coliform
Coliform, Total | total_coliform
Total Coliforms (P/A) | total_coliform
TOT_COLI | total_coliform
TC | total_coliform
TotalColiforms | total_coliform
T. Coliform | total_coliform
Coliform, Fecal | fecal_coliform
E.coli | e_coli
E. Coli (MPN) | e_coli
Escherichia Coli | e_coli
Standard Plate Count | heterotrophic_plate_count
HPC | heterotrophic_plate_count
Gross Alpha, adjusted | gross_alpha_adjusted
Alpha, Gross | gross_alpha
Ra-226 | radium_226
Radium 228 | radium_228
Combined Radium (226 + 228) | radium_226_228
Radon in Water | radon
Uranium, Total | uranium | | total
PCE | tetrachloroethylene
Tetrachloroethene (PCE) | tetrachloroethylene
TCE | trichloroethylene
Methylene Chloride | dichloromethane
1,1-DCE | 1_1_dichloroethylene
Dichloroethene, cis-1,2- | cis_1_2_dichloroethylene
Dichloroethane, 1,2- | 1_2_dichloroethane
m,p-Xylene | m_p_xylene
Xylene, o- | o_xylene
Xylenes, Total | xylenes_total
DBCP | dbcp
Ethylene Dibromide (EDB) | edb
Bis(2-ethylhexyl)phthalate | di_2_ethylhexyl_phthalate
2,4-D | 2_4_d
4,4'-DDT | p_p_ddt
p,p´-DDE | p_p_dde
γ-BHC (Lindane) | lindane
α-BHC | alpha_bhc
Aroclor 1254 | aroclor_1254
TTHMs | total_trihalomethanes
HAA5 | haloacetic_acids_five
Perfluorooctanoic acid (PFOA) | pfoa
PFHxS | pfhxs
1H,1H,2H,2H-Perfluorooctane sulfonic acid (6:2FTS) | fts_6_2
HFPO-DA (GenX) | hfpo_da
Benzene (71-43-2) | benzene
71-43-2 Benzene | benzene
TetrachIoroethylene | tetrachloroethylene
Ch1oride | chloride
Nltrate | nitrate
Chloropyrifos | chlorpyrifos
Manganase | manganese
Conductvity | specific_conductance
Total Colifrom | total_coliform
coliformes totales | total_coliform
sólidos disueltos totales | total_dissolved_solids
Níquel | nickel
radio 226 | radium_226
"""

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
    for line in PRINTED.strip().splitlines():
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

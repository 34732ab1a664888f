"""The federal levels against the Code of Federal Regulations, typed row by row from the rule.

Each list below was typed from the section named beside it, not from the project's own table.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from welltold.levels import Level, load_levels

DAY = date(2026, 11, 25)

# 40 CFR 141.61(a), table 1: volatile organic contaminants, mg/L
VOLATILE = {
    "vinyl_chloride": ("(1)", "0.002"),
    "benzene": ("(2)", "0.005"),
    "carbon_tetrachloride": ("(3)", "0.005"),
    "1_2_dichloroethane": ("(4)", "0.005"),
    "trichloroethylene": ("(5)", "0.005"),
    "p_dichlorobenzene": ("(6)", "0.075"),
    "1_1_dichloroethylene": ("(7)", "0.007"),
    "1_1_1_trichloroethane": ("(8)", "0.2"),
    "cis_1_2_dichloroethylene": ("(9)", "0.07"),
    "1_2_dichloropropane": ("(10)", "0.005"),
    "ethylbenzene": ("(11)", "0.7"),
    "chlorobenzene": ("(12)", "0.1"),
    "o_dichlorobenzene": ("(13)", "0.6"),
    "styrene": ("(14)", "0.1"),
    "tetrachloroethylene": ("(15)", "0.005"),
    "toluene": ("(16)", "1"),
    "trans_1_2_dichloroethylene": ("(17)", "0.1"),
    "xylenes_total": ("(18)", "10"),
    "dichloromethane": ("(19)", "0.005"),
    "1_2_4_trichlorobenzene": ("(20)", ".07"),
    "1_1_2_trichloroethane": ("(21)", ".005"),
}

# 40 CFR 141.61(c)(1), table 3: synthetic organic contaminants, mg/L
SYNTHETIC = {
    "alachlor": "0.002",
    "atrazine": "0.003",
    "carbofuran": "0.04",
    "chlordane": "0.002",
    "dbcp": "0.0002",
    "2_4_d": "0.07",
    "edb": "0.00005",
    "heptachlor": "0.0004",
    "heptachlor_epoxide": "0.0002",
    "lindane": "0.0002",
    "methoxychlor": "0.04",
    "pcbs": "0.0005",
    "pentachlorophenol": "0.001",
    "toxaphene": "0.003",
    "silvex": "0.05",
    "benzo_a_pyrene": "0.0002",
    "dalapon": "0.2",
    "di_2_ethylhexyl_adipate": "0.4",
    "di_2_ethylhexyl_phthalate": "0.006",
    "dinoseb": "0.007",
    "diquat": "0.02",
    "endothall": "0.1",
    "endrin": "0.002",
    "glyphosate": "0.7",
    "hexachlorobenzene": "0.001",
    "hexachlorocyclopentadiene": "0.05",
    "oxamyl": "0.2",
    "picloram": "0.5",
    "simazine": "0.004",
    "dioxin": "0.00000003",
}

# 40 CFR 141.61(c)(2), table 4: PFAS, ng/L; the hazard index has no unit
PFAS = {
    "pfoa": ("4.0", "ng/L"),
    "pfos": ("4.0", "ng/L"),
    "pfhxs": ("10", "ng/L"),
    "pfna": ("10", "ng/L"),
    "hfpo_da": ("10", "ng/L"),
    "pfas_hazard_index": ("1", "ratio"),
}

# 40 CFR 141.62(b): inorganic contaminants
INORGANIC = {
    "fluoride": ("(1)", "4.0", "mg/L", None),
    "asbestos": ("(2)", "7", "MFL", None),
    "barium": ("(3)", "2", "mg/L", None),
    "cadmium": ("(4)", "0.005", "mg/L", None),
    "chromium": ("(5)", "0.1", "mg/L", None),
    "mercury": ("(6)", "0.002", "mg/L", None),
    "nitrate": ("(7)", "10", "mg/L", "N"),
    "nitrite": ("(8)", "1", "mg/L", "N"),
    "nitrate_nitrite": ("(9)", "10", "mg/L", "N"),
    "selenium": ("(10)", "0.05", "mg/L", None),
    "antimony": ("(11)", "0.006", "mg/L", None),
    "beryllium": ("(12)", "0.004", "mg/L", None),
    "cyanide": ("(13)", "0.2", "mg/L", None),
    "thallium": ("(15)", "0.002", "mg/L", None),
    "arsenic": ("(16)", "0.010", "mg/L", None),
}

# 40 CFR 141.64: disinfection byproducts, mg/L
BYPRODUCTS = {
    "bromate": ("141.64(a)", "0.010"),
    "chlorite": ("141.64(a)", "1.0"),
    "total_trihalomethanes": ("141.64(b)", "0.080"),
    "haloacetic_acids_five": ("141.64(b)", "0.060"),
}

# 40 CFR 141.65(a): maximum residual disinfectant levels, mg/L
RESIDUALS = {"chlorine": "4.0", "chloramines": "4.0", "chlorine_dioxide": "0.8"}

# 40 CFR 141.66(b) to (e): radionuclides
RADIONUCLIDES = {
    "radium_226_228": ("141.66(b)", "5", "pCi/L"),
    "gross_alpha": ("141.66(c)", "15", "pCi/L"),
    "beta_photon_emitters": ("141.66(d)", "4", "mrem/yr"),
    "uranium": ("141.66(e)", "30", "ug/L"),
}

# 40 CFR 143.3: secondary levels (aluminum and pH as ranges)
SECONDARY = {
    "aluminum": ("0.05", "0.2", "mg/L"),
    "chloride": (None, "250", "mg/L"),
    "color": (None, "15", "CU"),
    "copper": (None, "1.0", "mg/L"),
    "fluoride": (None, "2.0", "mg/L"),
    "foaming_agents": (None, "0.5", "mg/L"),
    "iron": (None, "0.3", "mg/L"),
    "manganese": (None, "0.05", "mg/L"),
    "odor": (None, "3", "TON"),
    "ph": ("6.5", "8.5", "SU"),
    "silver": (None, "0.1", "mg/L"),
    "sulfate": (None, "250", "mg/L"),
    "total_dissolved_solids": (None, "500", "mg/L"),
    "zinc": (None, "5", "mg/L"),
}

# 40 CFR 141.61(c)(2)(i): divisors of the hazard index, ng/L
HAZARD_DIVISORS = {"hfpo_da": "10", "pfbs": "2000", "pfna": "10", "pfhxs": "10"}


def deciding(slug: str, kind: str, day: date = DAY) -> Level:
    """Return the one rule of that kind; several rows of one rule would be a mistake."""
    rows = [
        level
        for level in load_levels(("us_federal",), day).of(slug)
        if level.kind == kind and level.role == "health"
    ]
    assert len(rows) == 1, rows
    return rows[0]


def number(level: Level) -> tuple[Decimal | None, str, str | None]:
    return level.value, level.unit, level.basis


@pytest.mark.parametrize(("slug", "row"), VOLATILE.items())
def test_volatile_organics_of_141_61_a(slug: str, row: tuple[str, str]) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(row[1]), "mg/L", None)
    assert f"141.61(a){row[0]}" in level.citation


@pytest.mark.parametrize(("slug", "value"), SYNTHETIC.items())
def test_synthetic_organics_of_141_61_c_1(slug: str, value: str) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(value), "mg/L", None)
    assert "141.61(c)(1)" in level.citation


@pytest.mark.parametrize(("slug", "row"), PFAS.items())
def test_pfas_of_141_61_c_2(slug: str, row: tuple[str, str]) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(row[0]), row[1], None)
    assert "141.61(c)(2)" in level.citation


@pytest.mark.parametrize(("slug", "row"), INORGANIC.items())
def test_inorganics_of_141_62_b(slug: str, row: tuple[str, str, str, str | None]) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(row[1]), row[2], row[3])
    assert f"141.62(b){row[0]}" in level.citation


@pytest.mark.parametrize(("slug", "row"), BYPRODUCTS.items())
def test_byproducts_of_141_64(slug: str, row: tuple[str, str]) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(row[1]), "mg/L", None)
    assert row[0] in level.citation


@pytest.mark.parametrize(("slug", "value"), RESIDUALS.items())
def test_residual_disinfectants_of_141_65(slug: str, value: str) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(value), "mg/L", None)
    assert "141.65(a)" in level.citation


@pytest.mark.parametrize(("slug", "row"), RADIONUCLIDES.items())
def test_radionuclides_of_141_66(slug: str, row: tuple[str, str, str]) -> None:
    level = deciding(slug, "primary_limit")
    assert number(level) == (Decimal(row[1]), row[2], None)
    assert row[0] in level.citation


@pytest.mark.parametrize(("slug", "row"), SECONDARY.items())
def test_secondary_levels_of_143_3(slug: str, row: tuple[str | None, str, str]) -> None:
    rows = [lv for lv in load_levels(("us_federal",), DAY).of(slug) if lv.kind == "secondary"]
    assert len(rows) == 1
    low = None if row[0] is None else Decimal(row[0])
    assert (rows[0].low, rows[0].value, rows[0].unit) == (low, Decimal(row[1]), row[2])
    assert rows[0].role == "nuisance"
    assert "143.3" in rows[0].citation


def test_the_secondary_table_has_no_row_that_143_3_does_not_have() -> None:
    table = load_levels(("us_federal",), DAY)
    ours = {s for s, rows in table.by_slug.items() if any(lv.kind == "secondary" for lv in rows)}
    assert ours == {*SECONDARY, "corrosivity"}  # 143.3 lists corrosivity without a number


def test_the_primary_limits_have_no_row_that_the_rules_do_not_have() -> None:
    table = load_levels(("us_federal",), DAY)
    ours = {
        level.slug
        for rows in table.by_slug.values()
        for level in rows
        if level.kind == "primary_limit" and level.role == "health"
    }
    rules = {*VOLATILE, *SYNTHETIC, *PFAS, *INORGANIC, *BYPRODUCTS, *RESIDUALS, *RADIONUCLIDES}
    # other forms that the same rules name: free cyanide (141.62(b)(13)), free and total chlorine
    # (141.65(a)), gross alpha already adjusted (141.66(c)), tritium and strontium-90 (141.66(d),
    # table A), E. coli (141.63(c))
    forms = {"free_cyanide", "free_chlorine", "total_chlorine", "monochloramine"}
    forms |= {"gross_alpha_adjusted"}
    assert ours == rules | forms | {"tritium", "strontium_90", "e_coli"}


def test_action_levels_of_141_80_c() -> None:
    # 40 CFR 141.80(c)(1) lead 0.010 mg/L (since 2024-12-30), (c)(2) copper 1.3 mg/L
    copper = deciding("copper", "action_level")
    assert number(copper) == (Decimal("1.3"), "mg/L", None)
    assert "141.80(c)" in copper.citation
    rows = load_levels(("us_federal",), DAY).of("lead")
    lead = [lv for lv in rows if lv.kind == "action_level"]
    assert [(lv.value, lv.status) for lv in lead] == [
        (Decimal("0.010"), "adopted_not_applying"),
        (Decimal("0.015"), "in_force"),
    ]


def test_bacteria_of_141_63_and_subpart_y() -> None:
    table = load_levels(("us_federal",), DAY)
    e_coli, coliform = table.of("e_coli")[0], table.of("total_coliform")[0]
    assert (e_coli.op, e_coli.acute, e_coli.role) == ("absent", True, "health")
    assert "141.63" in e_coli.citation
    assert (coliform.op, coliform.acute, coliform.role) == ("absent", False, "health")
    assert "subpart Y" in coliform.citation


def test_tritium_and_strontium_of_141_66_d_table_a() -> None:
    assert number(deciding("tritium", "primary_limit")) == (Decimal(20000), "pCi/L", None)
    assert number(deciding("strontium_90", "primary_limit")) == (Decimal(8), "pCi/L", None)

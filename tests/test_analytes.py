from __future__ import annotations

from collections import Counter
from pathlib import Path

import periodictable
import pytest

from welltold import analyte_table, names, tables
from welltold.analyte_table import GROUPS
from welltold.analytes import analyte, identify, registry
from welltold.errors import DataFileError, UnknownAnalyteError

# Published registry numbers (CAS Common Chemistry) and the same with one digit changed.
RIGHT_CAS = ("7732-18-5", "7439-92-1", "14797-55-8", "1634-04-4", "179601-23-1", "58-08-2")
WRONG_CAS = (
    "7732-18-4",
    "7439-92-2",
    "14797-55-0",
    "1634-04-5",
    "7727-37-9TKN",
    "",
    "TDS",
    "1-2-3",
)

FIXED_SLUGS = """
nitrate total_coliform specific_conductance hardness nitrate_nitrite radium_226_228
pfas_hazard_index arsenic_iii chromium_vi uv_transmittance iron manganese e_coli ph
total_dissolved_solids alkalinity lead copper sodium orthophosphate phosphorus
tetrachloroethylene trichloroethylene pfoa pfos radon uranium calcium_hardness tannin
hydrogen_sulfide carbon_dioxide methane iron_bacteria perchlorate mtbe
"""

HEALTH_KINDS = {"primary_limit", "action_level"}

# Molecular weights as the NIST Chemistry WebBook prints them (g/mol).
PUBLISHED_WEIGHTS = {
    "benzene": 78.1118,
    "trichloroethylene": 131.388,
    "tetrachloroethylene": 165.833,
    "mtbe": 88.1482,
    "chloroform": 119.378,
    "atrazine": 215.683,
    "naphthalene": 128.1705,
    "dichloromethane": 84.933,
    "toluene": 92.1384,
    "vinyl_chloride": 62.498,
    "carbon_tetrachloride": 153.823,
    "lindane": 290.830,
    "1_4_dioxane": 88.1051,
    "pfoa": 414.0684,
    "pfos": 500.130,
    "glyphosate": 169.0731,
    "edb": 187.861,
    "di_2_ethylhexyl_phthalate": 390.5561,
    "methane": 16.0425,
    "hydrogen_sulfide": 34.081,
}


def test_the_registry_holds_the_promised_breadth() -> None:
    assert len(registry()) >= 280
    assert set(FIXED_SLUGS.split()) <= registry().keys()
    counts = Counter(one.group for one in registry().values())
    assert counts.keys() == GROUPS
    # EPA methods 533 and 537.1 together measure 29 PFAS.
    assert sum(one.group == "pfas" and one.cas is not None for one in registry().values()) >= 29


def test_there_are_many_ways_to_print_a_name() -> None:
    assert sum(1 for _ in tables.read_table("aliases.csv")) >= 1800


@pytest.mark.parametrize("cas", RIGHT_CAS)
def test_a_right_check_digit_is_accepted(cas: str) -> None:
    assert names.cas_is_valid(cas)


@pytest.mark.parametrize("cas", WRONG_CAS)
def test_a_wrong_check_digit_is_refused(cas: str) -> None:
    assert not names.cas_is_valid(cas)


def test_every_cas_number_is_valid_and_belongs_to_one_analyte() -> None:
    numbers = [one.cas for one in registry().values() if one.cas]
    assert len(numbers) > 250
    assert [cas for cas in numbers if not names.cas_is_valid(cas)] == []
    assert [cas for cas, count in Counter(numbers).items() if count > 1] == []


def test_molar_masses_follow_from_the_formulas() -> None:
    with_mass = [one for one in registry().values() if one.molar_mass is not None]
    assert len(with_mass) > 250
    for one in with_mass:
        mass = periodictable.formula(one.formula).mass
        assert float(one.molar_mass or 0) == pytest.approx(mass, rel=1e-4), one.slug


@pytest.mark.parametrize(("slug", "weight"), PUBLISHED_WEIGHTS.items())
def test_molar_masses_agree_with_published_ones(slug: str, weight: float) -> None:
    assert float(analyte(slug).molar_mass or 0) == pytest.approx(weight, rel=3e-4)


def test_natural_ranges_are_ranges_with_a_source() -> None:
    for one in registry().values():
        if one.natural_low is not None and one.natural_high is not None:
            assert one.natural_low < one.natural_high, one.slug
        assert (one.natural_high is None) == (one.citation is None), one.slug


def test_units_and_bases_are_known_to_the_unit_tables() -> None:
    units = {row.text("unit") for row in tables.read_table("canonical_units.csv")}
    assert {one.unit for one in registry().values()} <= units
    for one in registry().values():
        assert one.basis is None or one.basis in one.bases, one.slug


def test_every_level_of_the_federal_table_is_for_a_registered_analyte() -> None:
    slugs = {row.text("slug") for row in tables.read_table("levels_us_federal.csv")}
    assert slugs - registry().keys() == set()


def test_what_has_a_federal_health_level_says_so() -> None:
    levels = tables.read_table("levels_us_federal.csv")
    limited = {row.text("slug") for row in levels if row.text("kind") in HEALTH_KINDS}
    assert {slug for slug in limited if not analyte(slug).health} == set()
    assert analyte("e_coli").health
    assert analyte("legionella").health
    for nuisance in ("iron_bacteria", "tannin", "odor", "silica", "chloride", "calcium"):
        assert not analyte(nuisance).health


def test_an_unknown_slug_names_its_neighbours() -> None:
    with pytest.raises(UnknownAnalyteError, match="nitrate"):
        analyte("nitrat")


@pytest.fixture
def fresh_tables(monkeypatch: pytest.MonkeyPatch):
    def forget() -> None:
        for cached in (
            analyte_table.names_by_key,
            analyte_table.known_names,
            analyte_table.rewritten_names,
            analyte_table.words_only,
            identify,
        ):
            cached.cache_clear()

    def serve(*lines: tuple[int, list[str]]) -> None:
        monkeypatch.setattr(analyte_table, "alias_lines", lambda: iter(lines))
        forget()

    yield serve
    monkeypatch.undo()
    forget()


@pytest.mark.parametrize(
    ("alias", "slug", "problem"),
    [
        ("wasserhaerte (x)", "chloride", "already a name of hardness"),
        ("Wasserhaerte X", "hardness", "already a name of hardness"),
        ("Nitrate", "nitrite", "already a name of nitrate"),
        ("Unobtainium ore", "unobtainium", "unknown analyte"),
        ("***", "nitrite", "nobody"),
    ],
)
def test_a_name_of_two_analytes_is_refused_with_its_line(
    fresh_tables, alias: str, slug: str, problem: str
) -> None:
    fresh_tables((7, ["Wasserhaerte (X)", "hardness", "", ""]), (8, [alias, slug, "", ""]))
    with pytest.raises(DataFileError, match=problem) as caught:
        identify("Nitrate")
    assert caught.value.args[:2] == ("aliases.csv", 8)


def test_the_lines_of_the_names_are_counted_as_an_editor_counts_them() -> None:
    data = Path(analyte_table.__file__).parent / "data" / "aliases.csv"
    lines = data.read_text("utf-8").splitlines()
    for number, cells in analyte_table.alias_lines():
        assert lines[number - 1].strip('"').startswith(cells[0].split('"')[0])
        assert len(cells) == 4

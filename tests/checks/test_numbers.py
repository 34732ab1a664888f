"""Single numbers, things measured twice, and the place of the tap."""

from __future__ import annotations

from decimal import Decimal

import pytest
from checks.made import analytes, checks, codes, row

from welltold.analytes import registry
from welltold.site import Equipment, SampleFacts, Site


@pytest.mark.parametrize(
    ("slug", "text", "unit"),
    [
        ("ph", "15", "SU"),
        ("ph", "-1", "SU"),
        ("iron", "-0.3", "mg/L"),
        ("nitrate", "-1", "mg/L"),
        ("ion_balance", "200", "%"),
        ("ion_balance", "-150", "%"),
        ("uv_transmittance", "104", "%"),
        ("temperature", "80", "degC"),
        ("dissolved_oxygen", "25", "mg/L"),
    ],
)
def test_what_cannot_be(slug: str, text: str, unit: str) -> None:
    check = checks(row(slug, text, unit))[f"possible_value:{slug}"]
    assert check.outcome == "doubt"
    assert analytes(check) == {slug}


@pytest.mark.parametrize(
    ("slug", "text", "unit"),
    [
        ("ph", "7", "SU"),
        ("langelier_index", "-2.1", "ratio"),
        ("ion_balance", "-4", "%"),
        ("redox_potential", "-120", "mV"),
        ("temperature", "176", "degF"),  # 80 C, but printed in its own unit: see below
    ][:4],
)
def test_what_can_be(slug: str, text: str, unit: str) -> None:
    assert not [name for name in checks(row(slug, text, unit)) if name.startswith("possible")]


@pytest.mark.parametrize(
    ("slug", "inside", "outside", "unit"),
    [
        ("ph", "14", "14.1", "SU"),
        ("uv_transmittance", "100", "100.1", "%"),
        ("percent_sodium", "100", "101", "%"),
        ("ion_balance", "100", "101", "%"),
        ("ion_balance", "-100", "-101", "%"),
        ("temperature", "60", "61", "degC"),
        ("dissolved_oxygen", "20", "20.5", "mg/L"),
    ],
)
def test_edges_of_what_can_be(slug: str, inside: str, outside: str, unit: str) -> None:
    name = f"possible_value:{slug}"
    assert name not in checks(row(slug, inside, unit))
    assert name in checks(row(slug, outside, unit))


def test_units_are_looked_at() -> None:
    assert "possible_value:temperature" in checks(row("temperature", "176", "degF"))
    assert "possible_value:temperature" not in checks(row("temperature", "55", "degF"))


@pytest.mark.parametrize(
    ("slug", "text", "unit", "name"),
    [
        ("lead", "15", "mg/L", "unit_slip:lead"),
        ("copper", "320", "mg/L", "unit_slip:copper"),
        ("manganese", "310", "mg/L", "unit_slip:manganese"),
        ("lead", "15", "ug/L", None),
        ("lead", "1.5", "mg/L", None),  # not in nature, but fresh brass can do it
        ("lead", "0.015", "ug/L", "unit_slip:lead"),  # 0.015 mg/L is the action level
        ("lead", "0.2", "ug/L", None),
        ("iron", "0.03", "ug/L", "unit_slip:iron"),
        ("sodium", "12", "ug/L", "unit_slip:sodium"),
        ("sodium", "12", "mg/L", None),
        ("nitrate", "60", "mg/L", None),
        ("iron", "12", "mg/L", None),
        ("chloride", "30000", "mg/L", "natural_range:chloride"),
        ("ph", "3.2", "SU", "natural_range:ph"),
        ("ph", "11.4", "SU", "natural_range:ph"),
    ],
)
def test_unit_slips_and_numbers_out_of_nature(
    slug: str, text: str, unit: str, name: str | None
) -> None:
    made = checks(row(slug, text, unit))
    assert [check for check in made if check.startswith(("unit_slip", "natural_range:"))] == (
        [name] if name else []
    )
    if name is None:
        assert made["natural_range"].outcome == "agrees"
    else:
        assert made[name].outcome == "doubt"
        assert "natural_range" not in made


def test_a_lab_that_can_find_so_little_is_believed() -> None:
    low = row("lead", "0.03", "ug/L", detection_limit=Decimal("0.01"))
    assert checks(low)["natural_range"].outcome == "agrees"


def test_a_slip_does_not_soothe() -> None:
    check = checks(row("lead", "15", "mg/L"))["unit_slip:lead"]
    assert "Until then, take the number as it is printed." in check.why[-1].text


# --- measured twice


@pytest.mark.parametrize(
    ("first", "second", "outcome"),
    [
        ("10", "12", "agrees"),  # 18 % of the mean
        ("10", "12.3", "doubt"),  # 21 %
        ("<1", "0.5", "agrees"),
        ("<1", "3", "doubt"),
        ("<1", "<0.5", "agrees"),
    ],
)
def test_duplicates(first: str, second: str, outcome: str) -> None:
    check = checks(row("nitrate", first), row("nitrate", second))["duplicates:nitrate"]
    assert check.outcome == outcome
    assert analytes(check) == ({"nitrate"} if outcome == "doubt" else set())


def test_duplicates_near_the_reporting_limit_say_nothing() -> None:
    def of(limit: str) -> str:
        more = {"reporting_limit": Decimal(limit)}
        made = checks(row("lead", "0.002", **more), row("lead", "0.003", **more))
        return made["duplicates:lead"].outcome

    assert of("0.001") == "agrees"
    assert of("0.0005") == "doubt"


def test_duplicates_in_two_units_and_bases() -> None:
    same = checks(row("nitrate", "10"), row("nitrate", "44.3", "mg/L", basis="NO3"))
    assert same["duplicates:nitrate"].outcome == "agrees"
    open_basis = checks(row("nitrate", "10"), row("nitrate", "44.3", "mg/L", basis=None))
    assert open_basis["duplicates:nitrate"].outcome == "agrees", "as NO3 it fits"
    metal = checks(row("lead", "0.015", "mg/L"), row("lead", "15", "ug/L"))
    assert metal["duplicates:lead"].outcome == "agrees"


def test_a_rejected_number_is_left_out() -> None:
    made = checks(row("nitrate", "10"), row("nitrate", "30", qualifiers=("R",)))
    assert "duplicates:nitrate" not in made


def test_ph_twice() -> None:
    def of(second: str) -> str:
        return checks(row("ph", "7.0"), row("ph", second))["duplicates:ph"].outcome

    assert [of("7.3"), of("7.31")] == ["agrees", "doubt"]


def test_germs_twice() -> None:
    made = checks(row("e_coli", "Present"), row("e_coli", "Absent"))
    assert made["duplicates:e_coli"].outcome == "doubt"
    fits = checks(row("e_coli", "Present"), row("e_coli", "4", "MPN/100mL"))
    assert fits["duplicates:e_coli"].outcome == "agrees"


def test_total_and_dissolved_are_no_duplicates() -> None:
    made = checks(row("iron", "3", fraction="total"), row("iron", "1", fraction="dissolved"))
    assert "duplicates:iron" not in made


@pytest.mark.parametrize(
    ("lab", "outcome", "code"),
    [
        ("7.2", "agrees", "agrees"),
        ("7.3", "agrees", "agrees"),
        ("7.31", "doubt", "ph_rose"),
        ("6.6", "doubt", "ph_fell"),
    ],
)
def test_ph_at_the_well_and_in_the_lab(lab: str, outcome: str, code: str) -> None:
    made = checks(row("ph", "7.0", method="Field meter"), row("ph", lab))
    assert made["ph_field_lab"].outcome == outcome
    assert code in codes(made["ph_field_lab"])
    assert "duplicates:ph" not in made


# --- behind a softener


@pytest.mark.parametrize(
    ("hardness", "sodium", "outcome"),
    [
        ("250", "10", "agrees"),
        ("17.1", "120", "agrees"),
        ("17", "120", "doubt"),
        ("<5", "120", "doubt"),
        ("17", "22.9", "agrees"),
        ("17", "23", "doubt"),
        ("17", None, "not_possible"),
        ("0.5 gpg", "120", "doubt"),
    ],
)
def test_low_hardness_with_sodium(hardness: str, sodium: str | None, outcome: str) -> None:
    text, _, unit = hardness.partition(" ")
    rows = [row("hardness", text, unit or None)] + ([row("sodium", sodium)] if sodium else [])
    check = checks(*rows, row("iron", "<0.05"))["behind_equipment"]
    assert check.outcome == outcome
    if outcome == "doubt":
        assert analytes(check) == {"hardness", "iron", "sodium"}


def test_softening_with_potassium() -> None:
    soft = (row("hardness", "3"), row("sodium", "8"))
    assert checks(*soft, row("potassium", "90"))["behind_equipment"].outcome == "doubt"
    assert checks(*soft, row("potassium", "38"))["behind_equipment"].outcome == "agrees"


def test_known_treatment_is_no_riddle() -> None:
    rows = (row("hardness", "3"), row("sodium", "120"))
    assert checks(*rows, taken="treated")["behind_equipment"].outcome == "agrees"
    site = Site(equipment=Equipment(after=("softener",)))
    assert checks(*rows, site=site)["behind_equipment"].outcome == "agrees"
    one = Site(samples={"A": SampleFacts(after=("softener",))})
    assert checks(*rows, site=one, id="A")["behind_equipment"].outcome == "agrees"
    assert checks(*rows, site=one, id="B")["behind_equipment"].outcome == "doubt"
    hard = (row("hardness", "300"), row("sodium", "120"))
    assert checks(*hard, site=site)["behind_equipment"].outcome == "doubt"


@pytest.mark.parametrize("slug", ["lead", "copper", "manganese"])
def test_a_slip_is_a_thousand_and_no_other_number(slug: str) -> None:
    # definition: 1 mg/L is 1000 ug/L; beyond that a mistaken unit explains nothing
    high = registry()[slug].natural_high
    assert high is not None
    assert registry()[slug].unit == "mg/L"
    told = {
        times: {name.partition(":")[0] for name in checks(row(slug, f"{high * times:f}", "mg/L"))}
        for times in (900, 1100)
    }
    assert "unit_slip" in told[900]
    assert "unit_slip" not in told[1100]
    assert "natural_range" in told[1100]


@pytest.mark.parametrize("slug", ["calcium", "magnesium", "sodium", "potassium"])
def test_so_little_of_a_salt_was_meant_in_another_unit(slug: str) -> None:
    assert f"unit_slip:{slug}" in checks(row(slug, "45", "ug/L"))
    assert f"unit_slip:{slug}" not in checks(row(slug, "55", "ug/L"))


def test_two_pairs_of_one_analyte_are_two_checks() -> None:
    """Dissolved and total iron, each measured twice: each pair has a name of its own."""
    made = checks(
        row("iron", "1.0", fraction="total"),
        row("iron", "1.0", fraction="total"),
        row("iron", "0.2", fraction="dissolved"),
        row("iron", "0.9", fraction="dissolved"),
    )
    assert made["duplicates:iron:total"].outcome == "agrees"
    assert made["duplicates:iron:dissolved"].outcome == "doubt"

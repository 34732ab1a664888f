"""Wholes and their parts: hardness, alkalinity, nitrogen, dissolved metals, germs."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from checks.made import analytes, checks, codes, row

from welltold.checks import check_sample
from welltold.reading import Sample
from welltold.site import Site


def hardness(
    printed: str, calcium: str = "32", magnesium: str = "9.7", **more: str
) -> tuple[str, str]:
    check = checks(row("hardness", printed), row("calcium", calcium), row("magnesium", magnesium))[
        "hardness_of_parts"
    ]
    return check.outcome, str(check.value)


def test_hardness_against_calcium_and_magnesium() -> None:
    # Standard Methods 2340 B: 2.497 Ca + 4.118 Mg; USGS water: 120 mg/L from Ca 32, Mg 9.7
    assert hardness("120") == ("agrees", "0.1")
    assert hardness("131")[0] == "agrees"
    assert hardness("133")[0] == "doubt"
    assert hardness("108")[0] == "agrees"
    assert hardness("107")[0] == "doubt"
    assert hardness("20") == ("doubt", "-83.3")
    assert hardness("0")[0] == "doubt"


def test_hardness_in_grains_is_recognised() -> None:
    # 120 mg/L are 7.0 grains per gallon
    check = checks(row("hardness", "7.0"), row("calcium", "32"), row("magnesium", "9.7"))
    assert "slip_grains" in codes(check["hardness_of_parts"])
    assert analytes(check["hardness_of_parts"]) == {"hardness", "calcium", "magnesium"}
    right = checks(row("hardness", "7.0", "gpg"), row("calcium", "32"), row("magnesium", "9.7"))
    assert right["hardness_of_parts"].outcome == "agrees"


def test_hardness_with_parts_that_were_not_found() -> None:
    # a softened water: Ca < 1 and Mg < 0.5 leave room for 4.6 mg/L
    assert hardness("3", "<1", "<0.5")[0] == "agrees"
    assert hardness("<5", "<1", "<0.5")[0] == "agrees"
    assert hardness("60", "<1", "<0.5")[0] == "doubt"
    assert hardness(">60", "<1", "<0.5")[0] == "not_possible"


def test_hardness_without_its_parts() -> None:
    check = checks(row("hardness", "120"), row("calcium", "32"))["hardness_of_parts"]
    assert check.outcome == "not_possible"
    assert check.why[0].text == "Not possible: no magnesium on the sheet."
    assert "hardness_of_parts" not in checks(row("calcium", "32"))


def test_hardness_is_not_less_than_one_part() -> None:
    # 2.497 x 120 = 300
    def of(printed: str) -> tuple[str, set[str]]:
        check = checks(row("hardness", printed), row("calcium", "120"))["hardness_of_parts"]
        return check.outcome, analytes(check)

    assert of("200") == ("doubt", {"hardness", "calcium"})
    assert of("275") == ("not_possible", set())
    assert of("400") == ("not_possible", set())


def test_calcium_hardness_is_a_part() -> None:
    def of(part: str) -> str:
        made = checks(row("hardness", "100"), row("calcium_hardness", part))
        return made["calcium_over_hardness"].outcome

    assert [of("60"), of("109"), of("112")] == ["agrees", "agrees", "doubt"]


# --- alkalinity


def test_alkalinity_against_bicarbonate() -> None:
    # USGS WRI 02-4045 Table 4: 707 mg/L of bicarbonate, alkalinity 580
    def of(alkalinity: str, bicarbonate: str) -> tuple[str, bool]:
        made = checks(row("alkalinity", alkalinity), row("bicarbonate", bicarbonate))
        check = made["alkalinity_of_parts"]
        return check.outcome, "slip_bicarbonate" in codes(check)

    assert of("580", "707") == ("agrees", False)
    assert of("267", "326") == ("agrees", False)
    plain = checks(row("alkalinity", "200"), row("bicarbonate", "90", "mg/L"))
    assert plain["alkalinity_of_parts"].outcome == "doubt"
    either = checks(row("alkalinity", "200"), row("bicarbonate", "200", "mg/L"))
    assert either["alkalinity_of_parts"].outcome == "agrees", "as CaCO3 it fits"
    assert of("637", "707") == ("agrees", False)  # 9.8 % over 579.9
    assert of("639", "707") == ("doubt", False)
    assert of("580", "580") == ("doubt", True)
    assert of("580", "300") == ("doubt", False)


@pytest.mark.parametrize(
    ("ph", "alkalinity", "code"),
    [
        ("7.4", "280", None),
        ("4.3", "0", None),
        ("4.3", "2", None),
        ("4.3", "2.1", "alkalinity_in_acid"),
        ("4.5", "20", None),
        ("4.3", "20", "alkalinity_in_acid"),
        ("5.0", "200", "too_much_gas"),  # 44 x 4 x 10^(6.45 - 5) = 4,960 mg/L of CO2
        ("6.0", "200", None),  # 496 mg/L
        ("5.4", "200", None),  # 1,970 mg/L
        ("5.3", "200", "too_much_gas"),  # 2,490 mg/L
    ],
)
def test_alkalinity_against_ph(ph: str, alkalinity: str, code: str | None) -> None:
    check = checks(row("ph", ph), row("alkalinity", alkalinity))["alkalinity_at_ph"]
    assert check.outcome == ("agrees" if code is None else "doubt")
    assert code is None or code in codes(check)
    assert analytes(check) == (set() if code is None else {"ph", "alkalinity"})


def test_no_carbonate_below_ph_8_3() -> None:
    def of(ph: str, carbonate: str) -> str:
        made = checks(
            row("ph", ph),
            row("alkalinity", "200"),
            row("carbonate", carbonate, "mg/L", basis="CaCO3"),
        )
        return made["alkalinity_at_ph"].outcome

    assert of("7.5", "<5") == "agrees"
    assert of("7.5", "10") == "agrees"
    assert of("7.5", "10.5") == "doubt"
    assert of("8.29", "20") == "doubt"
    assert of("8.3", "20") == "agrees"
    assert of("8.9", "20") == "agrees"


def test_alkalinity_needs_a_ph() -> None:
    check = checks(row("alkalinity", "200"))["alkalinity_at_ph"]
    assert check.why[0].text == "Not possible: no pH on the sheet."


# --- nitrogen


def nitrogen(total: str, nitrate: str, nitrite: str | None = "<0.1") -> str:
    parts = [row("nitrate", nitrate)] + ([row("nitrite", nitrite)] if nitrite else [])
    return checks(row("nitrate_nitrite", total), *parts)["nitrogen_of_parts"].outcome


def test_total_nitrogen_against_its_parts() -> None:
    assert nitrogen("5.1", "5") == "agrees"
    assert nitrogen("4.9", "5") == "agrees"
    assert nitrogen("4.5", "5") == "agrees"
    assert nitrogen("4.4", "5") == "doubt"
    assert nitrogen("4", "5") == "doubt"
    assert nitrogen("9", "5") == "doubt"
    assert nitrogen("<0.1", "<0.05", "<0.05") == "agrees"
    # the total as N, nitrate as NO3: 5 mg/L as N are 22 as NO3
    check = checks(
        row("nitrate_nitrite", "5"),
        row("nitrate", "22.1", "mg/L", basis="NO3"),
        row("nitrite", "<0.1"),
    )["nitrogen_of_parts"]
    assert check.outcome == "agrees"


def test_nitrate_alone_is_not_more_than_the_total() -> None:
    assert nitrogen("5", "4.8", None) == "agrees"
    assert nitrogen("5", "22", None) == "doubt"
    assert nitrogen("9", "5", None) == "agrees"


# --- dissolved metals


def iron(dissolved: str, total: str, **more: object) -> str:
    made = checks(
        row("iron", dissolved, "mg/L", fraction="dissolved"),
        row("iron", total, "ug/L", fraction="total", **more),
    )
    return made["dissolved_over_total:iron"].outcome


def test_dissolved_over_total() -> None:
    assert iron("1.0", "1000") == "agrees"
    assert iron("1.1", "1000") == "agrees"
    assert iron("1.2", "1000") == "agrees"
    assert iron("1.21", "1000") == "doubt"
    assert iron("1.3", "1000") == "doubt"
    assert iron("0.1", "<50") == "doubt"
    assert iron("<0.1", "<50") == "agrees"
    from decimal import Decimal

    assert iron("0.08", "50", reporting_limit=Decimal("0.05")) == "agrees", "under the limit"


# --- germs


@pytest.mark.parametrize(
    ("e_coli", "coliform", "outcome"),
    [
        ("Absent", "Absent", "agrees"),
        ("Absent", "Present", "agrees"),
        ("Present", "Present", "agrees"),
        ("Present", "Absent", "doubt"),
        ("3", "10", "agrees"),
        ("10", "3", "doubt"),
        ("3", "<1", "doubt"),
        ("<1", "<1", "agrees"),
        (">200", "150", "doubt"),
        ("5", ">200", "agrees"),
        ("Present", "5", "agrees"),
    ],
)
def test_e_coli_is_a_coliform(e_coli: str, coliform: str, outcome: str) -> None:
    unit = "MPN/100mL"
    check = checks(row("e_coli", e_coli, unit), row("total_coliform", coliform, unit))
    assert check["e_coli_over_coliform"].outcome == outcome


def test_the_meter_at_the_well_and_the_bottle_may_be_two_samples() -> None:
    # a mailed bottle loses carbon dioxide: its pH rises (40 CFR 136 table II: 15 minutes)
    lab, field = row("ph", "7.4"), replace(row("ph", "6.2"), label="pH (field)")
    one, other = Sample("L", results=(lab,)), Sample("F", results=(field,))
    for sample, beside in ((one, other), (other, one)):
        made = {c.check: c for c in check_sample(sample, (), Site(), (beside,))}
        found = made["ph_field_lab"]
        assert (found.outcome, found.value) == ("doubt", Decimal("1.2"))
    assert "ph_field_lab" not in {c.check for c in check_sample(one, (), Site())}
    nitrate = Sample("N", results=(row("nitrate", "1"),))
    assert "ph_field_lab" not in {c.check for c in check_sample(nitrate, (), Site(), (one, other))}

"""Ion balance, dissolved solids and conductance, with waters from published tables."""

from __future__ import annotations

from decimal import Decimal

import pytest
from checks.made import analytes, checks, codes, row
from hypothesis import given
from hypothesis import strategies as st

from welltold.checks.salts import salts_of
from welltold.checks.sheet import Sheet
from welltold.chemistry import conductance
from welltold.reading import Result, Sample
from welltold.site import Site

Numbers = dict[str, str]

# USGS WRI 02-4045 Table 4 (2002), first water; it misses its balance by -3.8 %
USGS: Numbers = {
    "calcium": "25",
    "magnesium": "14",
    "sodium": "190",
    "potassium": "13",
    "alkalinity": "580",
    "chloride": "7",
    "sulfate": "1.2",
    "fluoride": "1.1",
    "silica": "20",
    "total_dissolved_solids": "624",
}


def rows(numbers: Numbers) -> list[Result]:
    return [row(slug, text) for slug, text in numbers.items() if text]


def of(numbers: Numbers, name: str) -> tuple[str, float | None]:
    check = checks(*rows(numbers))[name]
    return check.outcome, None if check.value is None else float(check.value)


def test_usgs_water_agrees() -> None:
    assert of(USGS, "ion_balance") == ("agrees", -3.8)
    outcome, ratio = of(USGS, "solids_of_ions")
    # published: 624 measured, 619 worked out
    assert (outcome, ratio) == ("agrees", pytest.approx(1.01, abs=0.011))


@pytest.mark.parametrize(
    ("sodium", "outcome", "wide"),
    [
        # anions 11.85 meq/L; cations without sodium 2.73
        ("210", "agrees", False),  # 11.87: 0 %
        ("225", "agrees", False),  # 12.52: + 2.7 %
        ("160", "doubt", False),  # 9.69: - 10.0 % and a little more
        ("162", "agrees", True),  # 9.78: - 9.6 %
        ("187", "agrees", False),  # 10.87: - 4.3 %
        ("180", "agrees", True),  # 10.56: - 5.7 %
        ("270", "agrees", True),  # 14.48: + 9.9 %
        ("272", "doubt", False),  # 14.56: + 10.2 %
    ],
)
def test_edges_of_the_balance(sodium: str, outcome: str, wide: bool) -> None:
    # 5 % and 10 %: county and national groundwater protocols
    check = checks(*rows(USGS | {"sodium": sodium}))["ion_balance"]
    assert check.outcome == outcome
    assert ("balance_wide" in codes(check)) == wide


def spring(calcium: str) -> Numbers:
    # anions: 50.04/50.04 + 3.545/35.45 + 4.803/48.03 = 1.2 meq/L; magnesium and sodium 0.2
    return {
        "calcium": calcium,
        "magnesium": "1.2153",
        "sodium": "2.299",
        "potassium": "0.0001",
        "nitrate": "0.0001",
        "alkalinity": "50.04",
        "chloride": "3.545",
        "sulfate": "4.803",
    }


@pytest.mark.parametrize(
    ("calcium", "outcome"),
    [
        ("20.04", "agrees"),  # 1.2 meq/L: 0
        ("23.8", "agrees"),  # 1.388: 0.19 meq/L apart, 7 %
        ("24.3", "doubt"),  # 1.413: 0.21 meq/L apart
        ("16.2", "agrees"),  # 1.008: - 0.19
        ("15.8", "doubt"),  # 0.988: - 0.21
    ],
)
def test_little_salt_counts_by_the_difference(calcium: str, outcome: str) -> None:
    # Standard Methods 1030 E: up to 3 meq/L of anions, 0.2 meq/L apart
    assert of(spring(calcium), "ion_balance")[0] == outcome


@pytest.mark.parametrize(
    ("alkalinity", "sodium", "outcome"),
    [
        # chloride and sulfate 0.2 meq/L, calcium and magnesium 1.3; Standard Methods 1030 E
        ("139", "44.8", "doubt"),  # anions 2.98, cations 3.25: 0.27 apart, 4.4 %
        ("142", "45.9", "agrees"),  # anions 3.04, cations 3.30: 0.26 apart, 4.1 %
    ],
)
def test_from_3_meq_on_the_percent_counts(alkalinity: str, sodium: str, outcome: str) -> None:
    numbers = spring("24.05") | {"alkalinity": alkalinity, "sodium": sodium}
    assert of(numbers, "ion_balance")[0] == outcome


@pytest.mark.parametrize("missing", ["sodium", "alkalinity", "chloride", "sulfate"])
def test_a_missing_ion_is_named(missing: str) -> None:
    check = checks(*rows(USGS | {missing: ""}))["ion_balance"]
    assert (check.outcome, check.value) == ("not_possible", None)
    assert check.why[0].text == f"Not possible: no {missing} on the sheet."


def test_potassium_and_nitrate_may_be_missing() -> None:
    check = checks(*rows(USGS | {"potassium": ""}))["ion_balance"]
    assert check.outcome == "agrees"
    assert "Not tested and counted as none: potassium and nitrate." in [m.text for m in check.why]


def test_hardness_stands_in_for_calcium_and_magnesium() -> None:
    # 2.497 x 25 + 4.118 x 14 = 120
    numbers = USGS | {"calcium": "", "magnesium": "", "hardness": "120"}
    check = checks(*rows(numbers))["ion_balance"]
    assert (check.outcome, float(check.value or 0)) == ("agrees", -3.8)
    assert "from_hardness" in codes(check)
    assert of(numbers, "solids_of_ions")[0] == "not_possible"


def test_bicarbonate_stands_in_for_alkalinity() -> None:
    # the table's own pair: 707 mg/L of bicarbonate, 580 mg/L of alkalinity
    numbers = USGS | {"alkalinity": "", "bicarbonate": "707"}
    assert of(numbers, "ion_balance") == ("agrees", -3.8)


def test_what_was_not_found_counts_from_zero_to_its_limit() -> None:
    # 9.05 meq/L of cations against 8.5 to 9.54: nothing to doubt, whatever the sulfate is
    numbers = {
        "calcium": "100",
        "magnesium": "24.3",
        "sodium": "47",
        "alkalinity": "375",
        "chloride": "36",
        "sulfate": "<50",
    }
    assert of(numbers, "ion_balance") == ("agrees", 0.0)
    assert of(numbers | {"sulfate": "<5"}, "ion_balance")[0] == "agrees"
    assert of(numbers | {"sodium": "100", "sulfate": "<5"}, "ion_balance")[0] == "doubt"
    assert of(numbers | {"sulfate": ">50"}, "ion_balance")[0] == "not_possible"


@pytest.mark.parametrize(
    ("change", "conductance", "hint", "side"),
    [
        # the balanced water of the next test has about 900 uS/cm; aqion, TDS, EC and charge balance
        ({"sodium": "5"}, "900", "hint_cation_low", "calcium"),
        ({"chloride": "160"}, "900", "hint_anion_high", "chloride"),
        ({"chloride": "1", "sulfate": "20"}, "900", "hint_anion_low", "chloride"),
        ({"sodium": "150"}, "900", "hint_cation_high", "calcium"),
    ],
)
def test_conductance_hints_at_the_side(
    change: Numbers, conductance: str, hint: str, side: str
) -> None:
    numbers = BALANCED | {"specific_conductance": conductance} | change
    check = checks(*rows(numbers))["ion_balance"]
    assert check.outcome == "doubt"
    assert hint in codes(check)
    assert side in analytes(check)
    assert analytes(check).isdisjoint({"sodium"} if side == "chloride" else {"alkalinity"})


BALANCED: Numbers = {
    # 4.99 + 2 + 2.04 = 9.03 meq/L against 6.49 + 1.52 + 1.04 = 9.05
    "calcium": "100",
    "magnesium": "24.3",
    "sodium": "47",
    "potassium": "1",
    "nitrate": "0.1",
    "alkalinity": "325",
    "chloride": "54",
    "sulfate": "50",
    "specific_conductance": "860",
    "total_dissolved_solids": "475",
}


def test_conductance_of_a_balanced_water() -> None:
    # PHREEQC 3 gives 839 uS/cm at 25 C and pH 7.3 for these ions, the formula 853
    assert of(BALANCED, "conductance_of_ions")[0] == "agrees"
    edges = [("745", "doubt"), ("755", "agrees"), ("950", "agrees"), ("960", "doubt")]
    for measured, outcome in edges:  # 12 % either way
        numbers = BALANCED | {"specific_conductance": measured}
        assert of(numbers, "conductance_of_ions")[0] == outcome
    assert of(BALANCED | {"specific_conductance": "7900"}, "conductance_of_ions")[0] == "doubt"
    assert of(BALANCED | {"specific_conductance": "8100"}, "conductance_of_ions") == (
        "not_possible",
        None,
    )


@pytest.mark.parametrize(
    ("solids", "outcome"),
    # the ions leave 0.6 x 325 + 100 + 24.3 + 47 + 1 + 0.4 + 54 + 50 = 472 mg/L; 20 % either way
    [("475", "agrees"), ("380", "agrees"), ("370", "doubt"), ("560", "agrees"), ("575", "doubt")],
)
def test_solids_against_the_ions(solids: str, outcome: str) -> None:
    numbers = BALANCED | {"total_dissolved_solids": solids}
    check = checks(*rows(numbers))["solids_of_ions"]
    assert check.outcome == outcome
    assert analytes(check) == ({"total_dissolved_solids"} if outcome == "doubt" else set())


@pytest.mark.parametrize(
    ("solids", "conductance", "sulfate", "outcome"),
    [
        ("620", "1000", "", "agrees"),
        ("810", "1000", "", "agrees"),
        ("820", "1000", "", "doubt"),
        ("450", "1000", "", "agrees"),
        ("440", "1000", "", "doubt"),
        ("2400", "2500", "1400", "agrees"),  # gypsum water, Hem 1985
        ("2425", "2500", "1400", "doubt"),  # 0.97
        ("2400", "2500", "100", "doubt"),
        ("0.62", "1000", "", "doubt"),  # solids in g/L
    ],
)
def test_solids_against_conductance(
    solids: str, conductance: str, sulfate: str, outcome: str
) -> None:
    numbers = {
        "total_dissolved_solids": solids,
        "specific_conductance": conductance,
        "sulfate": sulfate,
    }
    assert of(numbers, "solids_of_conductance")[0] == outcome


def test_only_what_is_on_the_sheet_is_checked() -> None:
    assert set(checks(row("lead", "0.001"))) == {"natural_range"}
    assert checks() == {}
    solids_only = checks(row("total_dissolved_solids", "300"))
    assert solids_only["solids_of_conductance"].outcome == "not_possible"
    assert "ion_balance" not in solids_only


@given(st.permutations(sorted(USGS)))
def test_the_order_of_rows_changes_nothing(order: list[str]) -> None:
    shuffled = checks(*(row(slug, USGS[slug]) for slug in order))
    assert shuffled["ion_balance"] == checks(*rows(USGS))["ion_balance"]
    assert shuffled["solids_of_ions"] == checks(*rows(USGS))["solids_of_ions"]


def test_units_of_the_sheet_do_not_matter() -> None:
    other = [
        row("sodium", "190000", "ug/L") if one.analyte == "sodium" else one for one in rows(USGS)
    ]
    assert checks(*other)["ion_balance"] == checks(*rows(USGS))["ion_balance"]


def test_a_conductance_near_the_calculated_one_hints_at_nothing() -> None:
    # nearer than 5 % the formula itself may be off
    rows = [row("calcium", "80"), row("magnesium", "20"), row("sodium", "50"),
            row("alkalinity", "100"), row("chloride", "30"), row("sulfate", "30")]  # fmt: skip
    salts = salts_of(Sheet(Sample(results=tuple(rows)), (), Site()))
    calculated = Decimal(float(conductance(salts.high)))

    def hinted(times: str) -> bool:
        measured = row("specific_conductance", f"{calculated * Decimal(times):.1f}")
        why = checks(*rows, measured)["ion_balance"].why
        return any(message.code.startswith("check.hint_") for message in why)

    assert [hinted(times) for times in ("0.97", "1.03", "0.93", "1.07")] == [
        False, False, True, True,
    ]  # fmt: skip

"""Which bottles are compared, through which stages, and what is said of bad input."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import outlet_cases as oc
import pytest
from typer.testing import CliRunner

import welltold
from welltold.command.app import app
from welltold.errors import DamagedFileError, FileMissingError, SheetsSeveralError
from welltold.interpretation import Interpretation
from welltold.reading import Reading
from welltold.site import Equipment, EquipmentUnit, SampleFacts, Site

RAW = {"hardness": "250 mg/L", "sodium": "12 mg/L", "iron": "4.0 mg/L", "ph": "7.4"}
SOFT = {"hardness": "9 mg/L", "sodium": "122 mg/L"}


def raw(**more: Any) -> Reading:
    return oc.sheet("raw.csv", oc.bottle(RAW, **({"id": "R1", "collected": "2026-01-10"} | more)))


def later(*points: str, values: dict[str, str] | None = None, **more: Any) -> Reading:
    more = {"collected": "2026-05-10", **more}
    return oc.sheet(
        "later.csv",
        *(oc.bottle(values or SOFT, id=f"L{at}", point=p, **more) for at, p in enumerate(points)),
    )


def codes(view: Interpretation) -> set[str]:
    return {
        why.code
        for sample in view.samples
        for one in sample.outlet or ()
        for why in (
            *one.why,
            *(why for bottle in one.bottles for why in bottle.why),
            *(why for stage in one.stages for why in stage.why),
        )
    }


def through(view: Interpretation) -> list[tuple[str, ...]]:
    return [
        bottle.through
        for sample in view.samples
        for one in sample.outlet or ()
        for bottle in one.bottles
    ]


HOUSE = oc.house("oxidizing_filter", "softener", "reverse_osmosis")


@pytest.mark.parametrize(
    ("point", "line"),
    [
        ("After softener", ("oxidizing_filter", "softener")),
        ("Post-softener", ("oxidizing_filter", "softener")),
        ("Softener outlet, basement", ("oxidizing_filter", "softener")),
        ("before softener", ("oxidizing_filter",)),
        ("Iron filter out", ("oxidizing_filter",)),
        ("Después del ablandador", ("oxidizing_filter", "softener")),
        ("Kitchen, RO faucet", ("oxidizing_filter", "softener", "reverse_osmosis")),
        ("Drinking water tap", ("oxidizing_filter", "softener", "reverse_osmosis")),
        ("Kitchen cold", ("oxidizing_filter", "softener")),
        ("Road 12", ("oxidizing_filter", "softener")),
    ],
)
def test_the_place_tells_which_stages_stand_ahead(point: str, line: tuple[str, ...]) -> None:
    view = welltold.interpret(raw(), site=HOUSE, after=[later(point)])
    assert through(view) == [line]


def test_units_in_the_site_file_tell_what_stands_there() -> None:
    site = Site(equipment=Equipment(unit=(EquipmentUnit("softener"),)))
    view = welltold.interpret(raw(), site=site, after=[later("Bath")])
    assert through(view) == [("softener",)]
    assert "outlet.line_site" in codes(view)


def test_without_a_site_file_the_first_choice_counts() -> None:
    view = welltold.interpret(raw(), after=[later("Bath")])
    first = view.samples[0].trains[0]
    assert through(view) == [tuple(one.stage for one in first.stages)]
    assert "outlet.line_train" in codes(view)


def test_the_site_file_says_what_stood_ahead_of_one_sample() -> None:
    site = replace(HOUSE, samples=oc.facts(L0=("softener",)))
    view = welltold.interpret(raw(), site=site, after=[later("Bath")])
    assert through(view) == [("softener",)]


def test_one_sheet_with_raw_and_treated_is_compared_where_the_site_says_so() -> None:
    both = oc.sheet(
        "both.csv",
        oc.bottle(RAW, id="A", point="raw", collected="2026-01-10"),
        oc.bottle(SOFT, id="B", point="kitchen tap", collected="2026-01-10"),
    )
    assert all(one.outlet is None for one in welltold.interpret(both).samples)
    samples = {"A": SampleFacts(taken="raw"), "B": SampleFacts(after=("softener",))}
    view = welltold.interpret(both, site=Site(samples=samples))
    assert view.samples[0].outlet is not None
    assert [one.outcome for one in view.samples[0].outlet[0].stages] == ["working"]
    assert view.samples[1].outlet is None


def test_one_sheet_with_ahead_and_behind_is_compared_when_given_twice() -> None:
    both = oc.sheet(
        "both.csv",
        oc.bottle(RAW, id="A", point="before softener", collected="2026-01-10"),
        oc.bottle(SOFT, id="B", point="after softener", collected="2026-01-10"),
    )
    view = welltold.interpret(both, site=oc.house("softener"), after=[both])
    assert view.samples[0].outlet is not None
    assert [one.outcome for one in view.samples[0].outlet[0].stages] == ["working"]


def test_each_stage_is_told_by_the_bottle_next_behind_it() -> None:
    filtered = {"iron": "0.1 mg/L", "hardness": "248 mg/L", "sodium": "12 mg/L"}
    sheet = oc.sheet(
        "later.csv",
        oc.bottle(filtered, id="L1", point="before softener", collected="2026-05-10"),
        oc.bottle(SOFT | {"iron": "0.05 mg/L"}, id="L2", point="after softener",
                  collected="2026-05-10"),
    )  # fmt: skip
    view = welltold.interpret(raw(), site=oc.house("oxidizing_filter", "softener"), after=[sheet])
    outlet = view.samples[0].outlet
    assert outlet is not None
    (one,) = outlet
    assert [bottle.sample for bottle in one.bottles] == ["L1", "L2"]
    told = {stage.stage: stage for stage in one.stages}
    assert {name: stage.outcome for name, stage in told.items()} == {
        "oxidizing_filter": "working",
        "softener": "working",
    }
    assert [sign.bottle for sign in told["oxidizing_filter"].signs] == [1]
    hardness = oc.sign(told["softener"], "hardness")
    assert hardness.bottle == 2
    # measured right ahead, and not the 250 of the raw sheet
    assert hardness.inlet is not None
    assert hardness.inlet.low == 248


def test_what_was_not_tested_at_a_bottle_ahead_is_as_predicted() -> None:
    sheet = oc.sheet(
        "later.csv",
        oc.bottle({"iron": "0.1 mg/L"}, id="L1", point="before softener", collected="2026-05-10"),
        oc.bottle(SOFT, id="L2", point="after softener", collected="2026-05-10"),
    )
    view = welltold.interpret(raw(), site=oc.house("oxidizing_filter", "softener"), after=[sheet])
    outlet = view.samples[0].outlet
    assert outlet is not None
    # an iron filter adds no hardness: 250 goes into the softener
    hardness = oc.sign(outlet[0].stages[1], "hardness")
    assert hardness.inlet is not None
    assert (hardness.inlet.low, hardness.inlet.high) == (250, 250)
    assert outlet[0].stages[1].outcome == "working"


def test_raw_water_on_the_later_sheet_counts_before_that_of_the_first() -> None:
    sheet = oc.sheet(
        "later.csv",
        oc.bottle({"hardness": "320 mg/L"}, id="L0", point="well", taken="raw",
                  collected="2026-05-10"),
        oc.bottle(SOFT, id="L1", point="bath", collected="2026-05-10"),
    )  # fmt: skip
    view = welltold.interpret(raw(), site=oc.house("softener"), after=[sheet])
    outlet = view.samples[0].outlet
    assert outlet is not None
    hardness, sodium = (oc.sign(outlet[0].stages[0], slug) for slug in ("hardness", "sodium"))
    assert hardness.inlet is not None
    assert sodium.inlet is not None
    assert (hardness.inlet.low, sodium.inlet.low) == (320, 12)
    assert "outlet.raw_same_day" in codes(view)


def test_one_bottle_from_the_wrong_tap_does_not_spoil_the_other() -> None:
    sheet = oc.sheet(
        "later.csv",
        oc.bottle({"iron": "0.1 mg/L"}, id="L1", point="after iron filter",
                  collected="2026-05-10"),
        oc.bottle({"hardness": "248 mg/L", "sodium": "12 mg/L"}, id="L2", point="kitchen",
                  collected="2026-05-10"),
    )  # fmt: skip
    view = welltold.interpret(raw(), site=oc.house("oxidizing_filter", "softener"), after=[sheet])
    outlet = view.samples[0].outlet
    assert outlet is not None
    told = {stage.stage: stage.outcome for stage in outlet[0].stages}
    assert told == {"oxidizing_filter": "working", "softener": "wrong_tap"}


@pytest.mark.parametrize(
    ("first", "second", "site", "code"),
    [
        (raw(), raw(collected="2026-05-10", taken="raw"), oc.house("softener"), "not_all_raw"),
        (raw(), later("Bath", collected="2025-12-31"), oc.house("softener"), "not_older"),
        (raw(taken="treated"), later("Bath"), oc.house("softener"), "not_no_raw"),
        (raw(), raw(), oc.house("softener"), "not_same_sheet"),
        (
            oc.sheet("raw.csv", oc.bottle({"chloride": "9 mg/L"}, id="R1")),
            later("Bath"),
            Site(),
            "not_no_equipment",
        ),
    ],
)
def test_a_sheet_that_cannot_be_compared_says_why(
    first: Reading, second: Reading, site: Site, code: str
) -> None:
    view = welltold.interpret(first, site=site, after=[second])
    assert f"outlet.{code}" in codes(view)
    outlet = view.samples[0].outlet
    assert outlet is not None
    assert not outlet[0].compared
    assert outlet[0].stages == ()


@pytest.mark.parametrize("point", ["Pressure tank", "Raw", "Wellhead", "tanque de presión"])
def test_a_place_ahead_of_all_equipment_is_raw_water(point: str) -> None:
    view = welltold.interpret(raw(), site=HOUSE, after=[later(point)])
    assert "outlet.not_all_raw" in codes(view)


def test_raw_water_of_two_places_is_not_chosen_between() -> None:
    two = oc.sheet(
        "raw.csv",
        oc.bottle(RAW, id="R1", point="North well", collected="2026-01-10"),
        oc.bottle(RAW, id="R2", point="South well", collected="2026-01-10"),
    )
    view = welltold.interpret(two, site=oc.house("softener"), after=[later("Bath")])
    assert "outlet.not_which_raw" in codes(view)


def test_days_that_are_not_known_or_far_apart_are_told() -> None:
    site = oc.house("softener")
    far = welltold.interpret(raw(), site=site, after=[later("Bath", collected="2027-06-01")])
    assert "outlet.days_apart" in codes(far)
    unknown = welltold.interpret(raw(), site=site, after=[later("Bath", collected=None)])
    assert "outlet.no_day" in codes(unknown)
    near = welltold.interpret(raw(), site=site, after=[later("Bath")])
    assert not codes(near) & {"outlet.days_apart", "outlet.no_day"}


def test_nothing_common_asks_for_the_test_that_is_missing() -> None:
    sheet = later("Bath", values={"chloride": "20 mg/L"})
    view = welltold.interpret(raw(), site=oc.house("softener"), after=[sheet])
    assert "outlet.untested" in codes(view)


def test_without_later_sheets_there_is_no_such_part() -> None:
    view = welltold.interpret(raw(), site=oc.house("softener"))
    assert view.samples[0].outlet is None


HEAD = "sample,point,collected,taken,analyte,result,result_again,unit,basis"


def typed(path: Path, *rows: str) -> str:
    path.write_text("\n".join((HEAD, *rows)) + "\n")
    return str(path)


def test_the_command_takes_later_sheets_and_refuses_a_missing_one(tmp_path: Path) -> None:
    first = typed(
        tmp_path / "raw.csv",
        "R1,,2026-01-10,raw,Hardness,250,250,mg/L,CaCO3",
        "R1,,2026-01-10,raw,Sodium,12,12,mg/L,",
    )
    second = typed(
        tmp_path / "later.csv",
        "L1,Bath,2026-05-10,,Hardness,9,9,mg/L,CaCO3",
        "L1,Bath,2026-05-10,,Sodium,122,122,mg/L,",
    )
    site = tmp_path / "site.toml"
    site.write_text('[equipment]\nin_place = ["softener"]\n')
    words = ["report", first, "--site", str(site), "--json", "--after"]
    done = CliRunner().invoke(app, [*words, second])
    told = json.loads(done.stdout)["samples"][0]["outlet"]
    assert [stage["outcome"] for stage in told[0]["stages"]] == ["working"]
    gone = CliRunner().invoke(app, [*words, str(tmp_path / "gone.csv")])
    assert isinstance(gone.exception, FileMissingError)
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.4 nothing")
    broken = CliRunner().invoke(app, [*words, str(tmp_path / "broken.pdf")])
    assert isinstance(broken.exception, DamagedFileError)


TREATED_SHEET = "hard-rusty-treated.csv"
TREATED = """[equipment]
in_place = ["air_injection_filter", "softener"]
[samples."30688-1"]
after = ["air_injection_filter"]
[samples."30688-2"]
after = ["air_injection_filter", "softener"]
[samples."99"]
after = ["softener"]
"""


def _rusty(tmp_path: Path) -> Any:
    site = tmp_path / "site.toml"
    site.write_text(TREATED, encoding="utf-8")
    sheets = Path(__file__).parents[2] / "samples" / "sheets"
    words = ["report", str(sheets / "hard-rusty.pdf"), "--site", str(site), "--json", "--after"]
    return json.loads(CliRunner().invoke(app, [*words, str(sheets / TREATED_SHEET)]).stdout)


def test_a_sample_of_the_later_sheet_is_not_told_as_missing(tmp_path: Path) -> None:
    warnings = _rusty(tmp_path)["warnings"]
    missed = [one["args"]["id"] for one in warnings if one["code"] == "site.sample_unknown"]
    assert missed == ["99"], "that one is on neither sheet"


def test_each_of_two_stages_in_the_house_is_told_by_its_name(tmp_path: Path) -> None:
    stages = _rusty(tmp_path)["samples"][0]["trains"][0]["stages"]
    told = {
        one["text"]
        for stage in stages
        for one in stage["cautions"]
        if one["code"] == "treatment.caution_in_place"
    }
    assert len(told) == 2, "a sentence that two stages share is printed once"


@pytest.mark.parametrize("option", ["--after", "--earlier"])
@pytest.mark.parametrize(("language", "told"), [("en", "one well"), ("es", "un solo pozo")])
def test_several_sheets_beside_those_of_one_well_are_refused(
    option: str, language: str, told: str
) -> None:
    words = ["report", "house.pdf", "other.pdf", "--json", "--language", language]
    error = CliRunner().invoke(app, [*words, option, "later.csv"]).exception
    assert isinstance(error, SheetsSeveralError)
    assert str(error).startswith(f"{option} ")
    assert told in str(error)
    assert "other.pdf" in str(error)
    assert error.hint

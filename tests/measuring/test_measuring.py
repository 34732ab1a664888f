"""What is worth measuring before spending: shares worked out by hand from the ranges tried."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from treatment_wells import finding, health, level, plan, quiet

import welltold
from welltold.interpretation import Finding
from welltold.jsonform import to_jsonable
from welltold.measuring import Case, Measured, measure, unsure_in
from welltold.measuring.cheap import cheap_tests
from welltold.measuring.counting import first_train
from welltold.measuring.possible import known_as
from welltold.measuring.spread import Spread, spread_of
from welltold.messages import LANGUAGES, catalogue
from welltold.reading import Alternative, Result, Sample, Taken
from welltold.site import Site, Tap, Well
from welltold.site_keys import Timed
from welltold.sizing import pump_flow

KNOWN = Well(
    bucket=Timed(Decimal(10), Decimal(50)), gauge_psi=Decimal(30), water_temperature_c=Decimal(12)
)
"""12 gpm at 30 psi, 12 Celsius: nothing of the well is open but a second of the clock."""
FIELD_PH = Result("ph", "Field pH", "7.4", "value", value=Decimal("7.4"), unit="SU")


def told(*findings: Finding, site: Site | None = None, sample: Sample | None = None) -> Measured:
    site, sample = site or Site(well=KNOWN), sample or Sample()
    found = plan(*findings, site=site, sample=sample)
    measured = measure(Case(findings, sample, site), found.trains)
    assert measured is not None
    return measured


def changes(measured: Measured) -> dict[str, Decimal]:
    return {one.test: one.changes for one in measured.tests}


def of(*findings: Finding, site: Site | None = None) -> list[str]:
    return [one.name for one in unsure_in(Case(findings, Sample(), site or Site(well=KNOWN)))]


def test_where_nothing_is_needed_nothing_is_computed() -> None:
    findings = (quiet("iron", "0.05"), quiet("ph", "7.2"))
    assert plan(*findings).trains == ()
    assert measure(Case(findings, Sample(), Site()), ()) is None


def test_where_nothing_is_open_the_share_is_one_and_nothing_is_said() -> None:
    site = Site(
        well=Well(
            pump_gpm=None, drawdown=Timed(Decimal(16), Decimal(90)), water_temperature_c=Decimal(12)
        )
    )
    findings = (finding("hardness", "250"),)
    assert unsure_in(Case(findings, Sample(), site)) == ()
    measured = told(*findings, site=site)
    assert (measured.share, measured.tests, measured.why) == (Decimal(1), (), ())


def test_a_softener_for_plain_hardness_hangs_on_nothing() -> None:
    measured = told(finding("hardness", "250"), site=Site())
    assert measured.share == 1
    assert measured.tests == ()
    assert "100 of 100" in measured.why[0].text


def test_a_nitrate_beside_the_level_hangs_on_the_laboratory() -> None:
    # 10.3 mg/L as N, 10 % either way (Michigan R 325.12702 table 1): 9.27 to 11.33. Below 10 lies
    # (10 - 9.27) / 2.06 = 35.4 %: 7 of 20 steps, and 35 or 36 of 100 slices.
    measured = told(health("nitrate", "10.3", levels=(level("10", "mg/L", basis="N"),)))
    assert changes(measured) == {"repeat_test:nitrate": Decimal("0.35")}
    assert measured.share in {Decimal("0.64"), Decimal("0.65")}
    assert "35 of 100" in measured.tests[0].why[1].text


def test_iron_that_may_be_rust_hangs_on_its_dissolved_part() -> None:
    # 2 mg/L: a sediment filter will do up to 0.3 mg/L dissolved (stage_choice.csv): 0.3 / 2 = 15 %
    measured = told(finding("iron", "2"))
    assert changes(measured) == {"dissolved_iron": Decimal("0.15")}
    assert measured.share == Decimal("0.85")


@pytest.mark.parametrize(
    ("seen", "share"), [("clear_then_rusty", Decimal(0)), ("rusty_at_once", Decimal("0.3"))]
)
def test_the_look_of_a_fresh_glass_narrows_what_iron_may_be(seen: str, share: Decimal) -> None:
    # clear at first: 90 to 100 % dissolved, 1.8 mg/L at least. Rusty at once: 0 to 50 %, 0 to 1
    # mg/L, of which 30 % are up to 0.3 mg/L.
    measured = told(finding("iron", "2"), site=Site(well=KNOWN, tap=Tap((seen,))))
    assert changes(measured).get("dissolved_iron", Decimal(0)) == share


def test_an_acid_water_with_iron_near_a_limit_flips_on_the_ph_at_the_well() -> None:
    # A mailed pH of 6.4 is 5.9 to 6.4 at the well: 20 % lie below 6.0, where plain calcite no
    # longer serves (stage_choice.csv, low_ph). Iron of 1.9 mg/L is near the limit of 2.
    measured = told(finding("ph", "6.4"), finding("iron", "1.9"), finding("hardness", "250"))
    assert changes(measured)["field_ph"] == Decimal("0.2")
    assert measured.share < Decimal("0.9")
    assert changes(measured)["dissolved_iron"] > 0


def test_a_ph_read_at_the_well_is_not_asked_for_again() -> None:
    findings = (finding("ph", "6.4"),)
    assert "field_ph" in of(*findings)
    at_well = Sample(results=(FIELD_PH,))
    names = [one.name for one in unsure_in(Case(findings, at_well, Site(well=KNOWN)))]
    assert "field_ph" not in names


@pytest.mark.parametrize(
    ("well", "test"),
    [
        (Well(), "pump_bucket"),
        (Well(pump_gpm=Decimal(7)), "pump_at_30_psi"),
        (Well(bucket=Timed(Decimal(5), Decimal(43))), "pump_at_30_psi"),
        (KNOWN, "bucket_again"),
    ],
)
def test_the_pump_is_open_until_a_gauge_is_read(well: Well, test: str) -> None:
    assert test in of(finding("iron", "2"), site=Site(well=well))


def test_an_untimed_pump_is_tried_from_four_to_twelve_gallons() -> None:
    # 5 gal in 75 s are 4 gpm, in 25 s 12 gpm; the gauge is not read by a bucket
    case = Case((finding("iron", "2"),), Sample(), Site())
    thing = next(one for one in unsure_in(case) if one.test == "pump_bucket")
    wells = [thing.put(case, share).site.well for share in (0.0, 1.0)]
    assert [well.bucket for well in wells] == [Timed(Decimal(5), Decimal(s)) for s in (75, 25)]
    assert not any(pump_flow(Site(well=well)).proven for well in wells)


def test_an_open_tap_shows_more_than_the_pump_gives_at_pressure() -> None:
    # 7 gpm at an open tap: 70 % of it at 30 psi is 4.9, and a tank is chosen by 4
    case = Case((finding("iron", "2"),), Sample(), Site(well=Well(pump_gpm=Decimal(7))))
    thing = next(one for one in unsure_in(case) if one.test == "pump_at_30_psi")
    slow, fast = (pump_flow(thing.put(case, share).site) for share in (0.0, 1.0))
    assert (slow.floor_gpm, fast.floor_gpm) == (4, 7)
    assert slow.proven


def test_a_smell_of_eggs_that_nobody_tested_is_to_be_tested() -> None:
    site = Site(well=KNOWN, tap=Tap(("rotten_egg_cold",)))
    assert "hydrogen_sulfide_at_well" in of(finding("iron", "2"), site=site)
    tested = (finding("iron", "2"), quiet("hydrogen_sulfide", "0.02"))
    assert "hydrogen_sulfide_at_well" not in of(*tested, site=site)


def test_acid_water_without_a_first_draw_hangs_on_its_lead() -> None:
    """Pieper and others, J. Water Health 13(3), 2015: almost 20 % of first draws above 15 ug/L.

    From 0 to 1.25 times the level in 20 steps: at 0.8 of the way the level is reached, so the steps
    16 to 19 lie above it, four of 20.
    """
    acid = (finding("ph", "6.2"), quiet("alkalinity", "40"), quiet("hardness", "60"))
    measured = told(*acid)
    assert changes(measured)["first_draw_lead"] == Decimal("0.2")
    assert measured.share <= Decimal("0.85")


@pytest.mark.parametrize(
    ("findings", "taken", "asks"),
    [
        ((quiet("ph", "6.8"),), None, True),
        ((quiet("ph", "7.4"),), None, False),
        ((quiet("ph", "7.4"), finding("copper", "1.1", "watch")), None, True),
        ((quiet("ph", "6.8"), quiet("lead", "0.001")), "first_draw", False),
        ((quiet("ph", "6.8"), quiet("lead", "0.001")), "flushed", True),
        ((quiet("ph", "6.8"), health("lead", "0.022")), "flushed", False),
    ],
)
def test_lead_is_asked_for_where_pipes_wear_and_no_first_draw_was_tested(
    findings: tuple[Finding, ...], taken: Taken | None, asks: bool
) -> None:
    case = Case(findings, Sample(taken=taken), Site(well=KNOWN))
    assert ("first_draw_lead" in [one.name for one in unsure_in(case)]) is asks


def test_stained_fixtures_ask_for_it_too() -> None:
    stained = Site(well=KNOWN, tap=Tap(("blue_green_stains",)))
    assert "first_draw_lead" in of(quiet("ph", "7.6"), site=stained)


def test_below_a_limit_lies_everything_from_nothing() -> None:
    spread = spread_of(quiet("iron", "0.5", operator="<"), Sample())
    assert spread == Spread("lower_limit", Decimal(0), Decimal("0.5"))
    assert spread.at(0.25) == Decimal("0.125")


def test_the_printed_spread_goes_before_the_table() -> None:
    row = Result("nitrate", "Nitrate", "8.0 ± 0.4", "value", value=Decimal("8.0"))
    one = Finding(
        "nitrate", "Nitrate", "8.0 ± 0.4", "watch", operator="=", value=Decimal(8), unit="mg/L",
        basis="N",
    )  # fmt: skip
    spread = spread_of(one, Sample(results=(row,)))
    assert spread == Spread("repeat_test", Decimal("7.6"), Decimal("8.4"))


def test_another_reading_counts_as_often_as_the_first_is_wrong() -> None:
    row = Result(
        "iron", "Iron", "1.0", "value", value=Decimal("1.0"), confidence=0.75,
        alternatives=(Alternative("10", Decimal(10), "no point"),),
    )  # fmt: skip
    one = Finding(
        "iron", "Iron", "1.0", "nuisance_only", operator="=", value=Decimal(1), unit="mg/L"
    )
    spread = spread_of(one, Sample(results=(row,)))
    assert spread is not None
    assert [spread.at(share) for share in (0.0, 0.74, 0.76, 1.0)] == [1, 1, 10, 10]


def test_a_verdict_is_tried_anew_only_where_a_level_lies_between() -> None:
    near = health("nitrate", "10.3", levels=(level("10", "mg/L", basis="N"),))
    assert known_as(near, Decimal("10.1")).verdict == "health_concern"
    assert known_as(near, Decimal("9.9")).verdict == "no_concern_found"
    assert near.verdict == "health_concern"
    stains = quiet("iron", "0.28", levels=(level("0.3", "mg/L", "secondary"),))
    assert known_as(stains, Decimal("0.31")).verdict == "nuisance_only"


@settings(max_examples=8, deadline=None)
@given(
    iron=st.decimals("0.35", "12", places=2),
    ph=st.decimals("5.2", "8", places=1),
    gpm=st.integers(3, 14),
)
def test_shares_are_shares_sorted_and_always_the_same(iron: Decimal, ph: Decimal, gpm: int) -> None:
    site = Site(well=Well(pump_gpm=Decimal(gpm)))
    acid = finding if ph < Decimal("6.5") else quiet
    findings = (finding("iron", str(iron)), acid("ph", str(ph)))
    # the choice that is tried is the one that the report shows
    shown = [stage.stage for stage in plan(*findings, site=site).trains[0].stages]
    assert list(first_train(Case(findings, Sample(), site))) == shown
    measured = told(*findings, site=site)
    assert 0 <= measured.share <= 1
    shares = [one.changes for one in measured.tests]
    assert all(0 < share <= 1 for share in shares)
    assert shares == sorted(shares, reverse=True)
    assert told(*findings, site=site) == measured


def test_every_test_says_how_in_both_languages_and_names_a_source() -> None:
    for language in LANGUAGES:
        said = catalogue("measuring", language)
        assert {f"do_{test}" for test in cheap_tests()} == {key for key in said if key[:3] == "do_"}
    assert all(row.citation and row.range_citation for row in cheap_tests().values())


def test_the_report_tells_it_when_it_is_asked(tmp_path: Path) -> None:
    sheet = tmp_path / "well.csv"
    sheet.write_text("analyte,result,unit\nIron,2.0,mg/L\npH,7.4,SU\n", "utf-8")
    reading = welltold.read(sheet)
    site = Site(well=KNOWN)
    plain = welltold.interpret(reading, site=site).samples[0]
    assert plain.measure_first is None
    assert plain.trains[0].share is None
    asked = welltold.interpret(reading, site=site, measure_first=True)
    printed = to_jsonable(asked)["samples"][0]
    assert printed["trains"][0]["share"] == 0.85
    assert [one["test"] for one in printed["measure_first"]] == ["dissolved_iron"]
    (text,) = welltold.write(asked, tmp_path, ["text"])
    told_to = " ".join(text.read_text("utf-8").split())
    assert "These stages came first in 85 of 100." in told_to
    assert "have the dissolved iron tested" in told_to


def test_where_nothing_changes_the_choice_it_is_said_and_what_is_open_is_counted() -> None:
    findings = (finding("iron", "3.4"), finding("hardness", "357"), quiet("ph", "7.3"))
    open_ = plan(*findings).trains[0]
    unknown = sum(one.holds is None for stage in open_.stages for one in stage.conditions)
    assert unknown > 1
    measured = told(*findings, site=Site())
    texts = [one.text for one in measured.why]
    said = "No test that we tried would change the first choice by itself."
    assert (said in texts) == (measured.tests == ())
    assert any(f"the {unknown} conditions that are not known" in text for text in texts)


def test_a_softener_that_hangs_on_nothing_says_that_no_test_would_change_it() -> None:
    measured = told(finding("hardness", "300"))
    assert measured.tests == ()
    assert "No test that we tried" in measured.why[1].text

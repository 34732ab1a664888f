"""The site file: what it takes, and what it says about what it does not take."""

from __future__ import annotations

import re
from dataclasses import fields
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from welltold.errors import FileMissingError, SiteFileError
from welltold.jsonform import to_jsonable
from welltold.messages import speaking
from welltold.site import (
    Equipment,
    EquipmentUnit,
    Home,
    LevelsChoice,
    SampleFacts,
    Site,
    Tap,
    Well,
    Wishes,
    load_site,
    site_template,
)
from welltold.site_keys import KEYS, SAMPLE_KEYS, STATES, UNIT_KEYS, Timed, state_letters

EVERYTHING = """
[home]
people = 4
bathrooms = 2.5
waste = "septic"
piping = "copper"
state = "WI"
language = "en"
elevation_ft = 900
farmed_nearby = true
animals = ["dog"]
persons = ["infant", "low_sodium_diet"]
[well]
kind = "drilled"
pump_gpm = 7.0
pressure_psi = [40, 60]
yield_gpm = 3.0
water_temperature_c = 11
depth_ft = 180
casing_in = 6
static_ft = 40
aquifer = "bedrock"
gauge_psi = 38
drawdown = {gallons = 16, seconds = 90}
flooded = true
shocked_days_ago = 5
bucket = {gallons = 5, seconds = 40}
[tap]
observations = ["clear_then_rusty", "oily_film"]
[equipment]
in_place = ["softener"]
after = ["softener"]
[[equipment.unit]]
stage = "softener"
tank_in = 10
medium = "resin"
media_ft3 = 1.5
metered = true
salt_lb = 9
age_years = 6
[levels]
packs = ["us_federal"]
as_of = 2026-11-25
[samples."A-1001"]
taken = "first_draw"
after = ["softener"]
[wishes]
scope = "drinking_water"
no_salt = true
no_chemicals = false
"""


def load(tmp_path: Path, text: str) -> Site:
    path = tmp_path / "site.toml"
    path.write_text(text, "utf-8")
    return load_site(path)


def complaint(tmp_path: Path, text: str) -> str:
    with pytest.raises(SiteFileError) as caught:
        load(tmp_path, text)
    return str(caught.value)


def test_every_key_arrives_with_its_value(tmp_path: Path) -> None:
    site = load(tmp_path, EVERYTHING)
    assert site.home == Home(
        people=4,
        bathrooms=Decimal("2.5"),
        waste="septic",
        piping="copper",
        state="WI",
        language="en",
        elevation_ft=Decimal(900),
        farmed_nearby=True,
        animals=("dog",),
        persons=("infant", "low_sodium_diet"),
    )
    assert site.well == Well(
        kind="drilled",
        pump_gpm=Decimal("7.0"),
        pressure_psi=(Decimal(40), Decimal(60)),
        yield_gpm=Decimal("3.0"),
        water_temperature_c=Decimal(11),
        depth_ft=Decimal(180),
        casing_in=Decimal(6),
        static_ft=Decimal(40),
        aquifer="bedrock",
        gauge_psi=Decimal(38),
        drawdown=Timed(Decimal(16), Decimal(90)),
        flooded=True,
        shocked_days_ago=5,
        bucket=Timed(Decimal(5), Decimal(40)),
    )
    assert site.tap == Tap(("clear_then_rusty", "oily_film"))
    unit = EquipmentUnit(
        "softener", Decimal(10), "resin", Decimal("1.5"), True, Decimal(9), Decimal(6)
    )
    assert site.equipment == Equipment(("softener",), ("softener",), (unit,))
    assert site.levels == LevelsChoice(("us_federal",), date(2026, 11, 25))
    assert site.samples == {"A-1001": SampleFacts("first_draw", ("softener",))}
    assert site.wishes == Wishes("drinking_water", no_salt=True, no_chemicals=False)


def test_as_dict_gives_the_file_back_in_its_own_names(tmp_path: Path) -> None:
    import tomllib

    expected = tomllib.loads(EVERYTHING, parse_float=Decimal)
    expected["levels"]["as_of"] = "2026-11-25"
    site = load(tmp_path, EVERYTHING)
    assert site.as_dict() == expected
    assert to_jsonable(site.as_dict())["well"]["bucket"] == {"gallons": 5, "seconds": 40}


def test_nothing_given_is_nothing_known(tmp_path: Path) -> None:
    assert load(tmp_path, "") == Site()
    assert Site().as_dict() == {}


def test_false_and_zero_were_given(tmp_path: Path) -> None:
    site = load(tmp_path, "[well]\nflooded = false\nshocked_days_ago = 0\nstatic_ft = 0")
    assert site.as_dict() == {"well": {"flooded": False, "shocked_days_ago": 0, "static_ft": 0}}


def test_the_keys_are_those_of_the_dataclasses() -> None:
    classes = {
        "home": Home,
        "well": Well,
        "tap": Tap,
        "levels": LevelsChoice,
        "wishes": Wishes,
    }
    for section, kind in classes.items():
        assert set(KEYS[section]) == {field.name for field in fields(kind)}
    assert {*KEYS["equipment"], "unit"} == {field.name for field in fields(Equipment)}
    assert set(UNIT_KEYS) == {field.name for field in fields(EquipmentUnit)}
    assert set(SAMPLE_KEYS) == {field.name for field in fields(SampleFacts)}
    assert {*KEYS, "samples"} == {field.name for field in fields(Site)}


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("[hoem]", ["hoem", 'did you mean "home"', "home, well, tap"]),
        ("people = 4", ["people", "is not a known name", "home, well, tap"]),
        ("[home]\npeopel = 4", ["home.peopel", 'did you mean "people"', "people, bathrooms"]),
        ("[home]\nwaste = 'septik'", ["home.waste", 'did you mean "septic"', "septic, sewer"]),
        ("[home]\npeople = 0", ["home.people", "0 is out of range", "1 to 30"]),
        ("[home]\npeople = 31", ["31 is out of range", "1 to 30"]),
        ("[home]\npeople = 2.5", ["2.5 is not a whole number"]),
        ("[home]\npeople = true", ["true is not a whole number"]),
        ("[home]\nstate = 'Ohio'", ["home.state", "OH"]),
        ("[home]\nstate = 'Wisconsin'", ['is not known here (did you mean "WI"?). Known: AK']),
        ("[home]\nstate = 'new york'", ['did you mean "NY"?']),
        ("[home]\nwaste = septic", ["line 2", 'words need quotes: waste = "septic"']),
        ("[well]\nbucket = {gallons = 5, second = 40}", ["{gallons = 5, second = 40} is no"]),
        ("[home]\npeople = ['a', 2.5]", ['["a", 2.5] is not a whole number']),
        ("[home]\nstate = 1", ["home.state", "1 is not known here"]),
        ("[home]\npersons = ['everyone']", ["home.persons", "infant, pregnant"]),
        ("[home]\npersons = ['infant', 'infant']", ['"infant" stands there twice']),
        ("[home]\npersons = 'infant'", ["is not a list"]),
        ("[home]\nfarmed_nearby = 'yes'", ['"yes" is neither true nor false']),
        ("home = 3", ["home", "is not a section"]),
        ("[well]\npump_gpm = 0", ["well.pump_gpm", "0 is out of range", "0.1 to 100"]),
        ("[well]\npump_gpm = -7.0", ["-7.0 is out of range"]),
        ("[well]\npump_gpm = '7'", ['"7" is not a number']),
        ("[well]\npump_gpm = true", ["true is not a number"]),
        ("[well]\npump_gpm = nan", ["is out of range"]),
        ("[well]\npump_gpm = inf", ["is out of range"]),
        ("[well]\npressure_psi = [60, 40]", ["well.pressure_psi", "not below the second"]),
        ("[well]\npressure_psi = [40]", ["is not a pair"]),
        ("[well]\nbucket = {gallons = 5}", ["well.bucket", "{gallons = 5, seconds = 40}"]),
        ("[well]\nbucket = {gallons = 5, seconds = 0}", ["0 is out of range"]),
        ("[well]\ndepth_ft = 100\nstatic_ft = 120", ["well.static_ft", "deeper than the well"]),
        ("[tap]\nobservations = ['rotten_eggs']", ["tap.observations", "rotten_egg_"]),
        ("[equipment]\nafter = ['softner']", ["equipment.after", 'did you mean "softener"']),
        ("[equipment]\nbefore = []", ["equipment.before", "in_place, after, unit"]),
        ("[[equipment.unit]]\ntank_in = 10", ["equipment.unit 1", "has no stage"]),
        (
            "[[equipment.unit]]\nstage = 'uv'\n[[equipment.unit]]\nstage = 'uv'\nmedium = 'x'",
            ["equipment.unit 2.medium"],
        ),
        ("[equipment]\nunit = 3", ["equipment.unit", "[[equipment.unit]]"]),
        ("[levels]\nas_of = '2026-11-25'", ["levels.as_of", "a date without quotes"]),
        ("[levels]\nas_of = 2026-11-25T10:00:00", ["levels.as_of", "is not a date"]),
        ("[levels]\nas_of = 1066-10-14", ["levels.as_of", "out of range"]),
        ("[levels]\npacks = []", ["levels.packs"]),
        ("[samples.A]\ntaken = 'raw water'", ['samples."A".taken', "first_draw, flushed, raw"]),
        ("[samples]\nA = 'raw'", ['samples."A"', "is not a section"]),
        ("[wishes]\nscope = 'all'", ["wishes.scope", "whole_house, drinking_water"]),
        ("[home]\npeople = ", ["TOML", "line 2"]),
        ("[home]\npeople = 4\npeople = 5", ["TOML", "line 3"]),
    ],
)
def test_a_wrong_file_is_told_what_is_wrong_and_what_is_known(
    tmp_path: Path, text: str, parts: list[str]
) -> None:
    told = complaint(tmp_path, text)
    for part in parts:
        assert part in told
    assert "\n" not in told
    assert "site.toml" in told


def test_a_missing_file_and_a_file_of_another_kind(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        load_site(tmp_path / "none.toml")
    (tmp_path / "latin.toml").write_bytes(b"# caf\xe9")
    with pytest.raises(SiteFileError, match="UTF-8"):
        load_site(tmp_path / "latin.toml")


def test_a_file_saved_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "site.toml"
    path.write_bytes(b"\xef\xbb\xbf[home]\npeople = 3\n")
    assert load_site(path).home.people == 3


def test_the_template_is_all_commented_out(tmp_path: Path) -> None:
    assert load(tmp_path, site_template()) == Site()


def test_the_template_holds_every_key_and_each_example_is_valid(tmp_path: Path) -> None:
    used = re.sub(r"^#(?=[\w\[])", "", site_template(), flags=re.MULTILINE)
    site = load(tmp_path, used)
    given_ = site.as_dict()
    for section, keys in KEYS.items():
        assert set(given_[section]) - {"unit"} == set(keys)
    assert set(given_["equipment"]["unit"][0]) == set(UNIT_KEYS)
    assert {key for facts in given_["samples"].values() for key in facts} == set(SAMPLE_KEYS)


def test_every_key_of_the_template_is_explained() -> None:
    """Each key, or the run of keys it stands in, follows a line of prose."""
    lines = site_template().splitlines()
    bare = [
        line
        for number, line in enumerate(lines)
        if re.match(r"#\w", line) and not re.match(r"# |#\w|#\[+[es]", lines[number - 1])
    ]
    assert bare == []


@given(st.text(max_size=60))
def test_any_text_is_a_site_or_a_named_complaint(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    path = tmp_path_factory.mktemp("site") / "site.toml"
    path.write_text(text, "utf-8", errors="replace")
    try:
        outcome: object = load_site(path)
    except SiteFileError as error:
        outcome = error.args[0]
    assert isinstance(outcome, Site) or outcome == str(path)


def test_every_state_that_is_known_has_its_name() -> None:
    assert sorted(state_letters().values()) == sorted(STATES)


def test_a_hint_on_quotes_in_spanish(tmp_path: Path) -> None:
    path = tmp_path / "site.toml"
    path.write_text("[home]\nwaste = septic", "utf-8")
    with speaking("es"), pytest.raises(SiteFileError, match="entre comillas: waste = "):
        load_site(path)

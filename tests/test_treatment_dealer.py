"""What a dealer of twenty years would not install, and what he would say first.

Where no source is named, the rule is common practice without a source.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from treatment_wells import bacteria, finding, health, plan, quiet, refused, steps, trains

from welltold.interpretation import Finding, Stage
from welltold.reading import Sample
from welltold.site import Home, Site, Well
from welltold.site_keys import Timed
from welltold.sizing import load_shelf
from welltold.treatment import Known, Plan, consider

D = Decimal


def home(**well: object) -> Site:
    """Two bathrooms, four people, a pump of 8.3 gpm at 36 psi."""
    facts: dict[str, object] = {
        "bucket": Timed(D(5), D(36)),
        "gauge_psi": D(36),
        "pressure_psi": (D(40), D(60)),
        **well,
    }
    return Site(home=Home(people=4, bathrooms=D(2)), well=Well(**facts))  # type: ignore[arg-type]  # real fields


def stage(told: Plan, name: str) -> Stage:
    return next(one for train in told.trains for one in train.stages if one.stage == name)


def said(one: Stage, words: str) -> tuple[bool | None, str]:
    found = [(c.holds, c.has) for c in one.conditions if words in c.asks]
    assert len(found) == 1, [c.asks for c in one.conditions]
    return found[0]


def test_behind_a_feed_much_rust_meets_a_filter_that_washes_itself() -> None:
    """15 mg/L of iron x 300 gal a day x 3.785 L = 17 g a day: a cartridge is full in days.

    (15 + 2 x 0.3) mg/L x 300 gal / 5,000 a cubic foot = 0.94 ft3 a day: the 1 ft3 of a 9 in tank.
    Behind it the softener is set on what is left of the iron, not on all 15: 14 gpg and at most
    1.2 mg/L of iron at 4 grains each stay below 20.
    """
    told = plan(
        finding("iron", "15"), finding("hardness", "240"), quiet("manganese", "0.3"),
        quiet("ph", "7.1"), quiet("tannin", "0.1"), quiet("hydrogen_sulfide", "0.1"), site=home(),
    )  # fmt: skip
    assert trains(told)[0] == [
        "chlorine_feed", "retention_tank", "multi_layer_filter", "carbon_filter", "softener",
    ]  # fmt: skip
    washed, soft = stage(told, "multi_layer_filter"), stage(told, "softener")
    assert washed.size is not None
    assert soft.settings is not None
    assert (washed.size["tank_in"], washed.size["media_ft3"]) == (9, 1)
    assert soft.settings["compensated_gpg"] < 20


def test_a_little_iron_behind_a_feed_needs_no_filter_of_its_own() -> None:
    """8 mg/L of hydrogen sulfide is too much for air (3 at most); 1 mg/L of iron is little rust."""
    told = plan(
        finding("iron", "1"), finding("hydrogen_sulfide", "8"), quiet("ph", "7.2"), site=home()
    )
    assert ["chlorine_feed", "retention_tank", "sediment_filter", "carbon_filter"] in trains(told)


def test_peroxide_never_meets_the_coat_of_an_iron_filter() -> None:
    """Peroxide eats manganese dioxide: carbon follows it, ahead of any resin."""
    told = plan(
        finding("iron", "3"), finding("hydrogen_sulfide", "8"), finding("hardness", "180"),
        quiet("ph", "7.2"), site=home(bucket=Timed(D(5), D(30))),
    )  # fmt: skip
    assert ["peroxide_feed", "carbon_filter", "softener"] in trains(told)
    for line in trains(told):
        assert "peroxide_feed" not in line or not {
            "air_injection_filter", "oxidizing_filter", "greensand_filter",
        } & set(line)  # fmt: skip


def test_tannin_with_a_little_iron_gets_resin_and_no_chlorine_first() -> None:
    """Chlorine makes new compounds of tannin; the softener takes 0.8 mg/L of iron ahead of it."""
    told = plan(
        finding("iron", "0.8"), finding("color", "60"), quiet("tannin", "2.5"), quiet("ph", "6.9"),
        quiet("hardness", "90"), site=home(),
    )  # fmt: skip
    assert trains(told)[0] == ["softener", "tannin_exchanger"]


def test_a_weak_pressure_switch_gets_a_booster_and_no_distiller() -> None:
    """NSF/ANSI 58: nitrate claims hold from 40 psi on; the unit lifts 30 psi by a small pump."""
    told = plan(health("nitrate", "14"), quiet("ph", "6.8"), site=home(pressure_psi=(D(30), D(50))))
    assert trains(told)[0] == ["reverse_osmosis"]
    membrane = stage(told, "reverse_osmosis")
    assert said(membrane, "At least 40 psi") == (
        None, "30 psi: a small booster pump goes with the unit",
    )  # fmt: skip
    assert membrane.size is not None
    assert membrane.size["booster"] is True


@pytest.mark.parametrize(("radon", "has"), [("6000", "check it"), ("12000", "10000 pCi/L")])
def test_the_air_is_tested_for_radon_first_unless_the_water_is_far_above(
    radon: str, has: str
) -> None:
    """Maine CDC, radon testing services: from 4,000 on the risk of air and water together comes
    first; near 10,000 treatment is advised more strongly."""
    told = plan(health("radon", radon), site=home())
    assert trains(told) == [["aerator"]]
    holds, text = said(stage(told, "aerator"), "The air of the house")
    assert holds is None
    assert has in text
    assert "radon_air" in steps(told)


def test_health_is_named_first_where_the_pipe_has_comfort_first() -> None:
    told = plan(
        health("nitrate", "13"), finding("hardness", "350"), quiet("ph", "7.4"), site=home()
    )
    first = told.trains[0]
    assert [one.stage for one in first.stages] == ["softener", "reverse_osmosis"]
    assert first.for_[0].code == "treatment.for_health"
    assert "reverse osmosis unit (nitrate)" in first.for_[0].text


def test_nothing_is_said_of_health_where_it_comes_first_or_not_at_all() -> None:
    for findings in (
        (health("nitrate", "13"),),
        (finding("hardness", "350"), finding("iron", "4")),
    ):
        told = plan(*findings, quiet("ph", "7.4"), site=home())
        codes = {one.code for train in told.trains for one in train.for_}
        assert "treatment.for_health" not in codes


def test_one_broken_limit_is_told_once() -> None:
    told = plan(
        finding("iron", "3"), finding("hydrogen_sulfide", "8"), quiet("ph", "7.2"), site=home()
    )
    assert refused(told)["air_injection_filter"].count("Hydrogen sulfide at most 3 mg/L") == 1


def test_what_nobody_measured_is_not_expected_anywhere() -> None:
    told = plan(finding("iron", "3"), finding("hardness", "250"), quiet("ph", "7.2"), site=home())
    has = [c.has for train in told.trains for one in train.stages for c in one.conditions]
    assert not [text for text in has if "not known" in text and "expected" in text]
    assert not [text for text in has if text.startswith("7.2 to 7.2")]


def test_a_weak_pump_hears_of_the_storage_tank_too() -> None:
    """4 gpm wash two 8 in tanks (3.49 gpm each); 300 gal + 7.85 x 15 = 418 gal in tens, 8 gpm."""
    weak = Site(home=Home(people=4, bathrooms=D(2)), well=Well(bucket=Timed(D(5), D(75))))
    told = plan(finding("iron", "3"), quiet("ph", "7.2"), site=weak)
    texts = [one.text for one in stage(told, "air_injection_filter").cautions]
    assert any("420 gal storage tank and a booster pump of 8 gpm" in text for text in texts)


def test_silt_gets_a_filter_that_washes_itself_beside_the_cartridge() -> None:
    cloudy: Finding = finding("turbidity", "14")
    assert trains(plan(cloudy, site=home())) == [["sediment_filter"], ["multi_layer_filter"]]
    assert trains(plan(finding("turbidity", "3"), site=home())) == [["sediment_filter"]]


def test_a_listing_is_asked_for_what_the_stage_is_there_for() -> None:
    """NSF/ANSI 42 is for taste and chlorine, 53 for health (NSF, Residential Standards)."""
    comfort = stage(plan(finding("iron", "15"), quiet("ph", "7.1"), site=home()), "carbon_filter")
    told = " ".join(one.text for one in comfort.cautions)
    assert "NSF/ANSI 42" in told
    assert "health department how to get rid" not in told
    grave = plan(health("trichloroethylene", "9"), site=home())
    carbon = stage(grave, "carbon_filter")
    assert any("NSF/ANSI 53" in c.asks for c in carbon.conditions)
    assert any("health department how to get rid" in one.text for one in carbon.cautions)


@pytest.mark.parametrize(
    ("unwell", "name", "listed"),
    [
        (health("lead", "0.020"), "lead_cartridge", "NSF/ANSI 53 for lead."),
        (health("nitrate", "14"), "reverse_osmosis", "NSF/ANSI 58 for this use."),
        (health("uranium", "90"), "reverse_osmosis", "NSF/ANSI 58 for this use."),
    ],
)
def test_the_homeowner_hears_which_listing_a_filter_at_the_tap_needs(
    unwell: Finding, name: str, listed: str
) -> None:
    """53 is claimed for each contaminant (NSF, Residential Standards); of 58 no name is told."""
    told = consider((unwell,), Sample(taken="first_draw"), home())
    assert f"Ask for a model that is listed under {listed}" in [
        one.text for one in stage(told, name).cautions
    ]


def test_a_lamp_against_germs_is_left_to_its_class() -> None:
    """NSF/ANSI 55 has classes; a condition of the lamp asks for the right one."""
    lamp = stage(plan(bacteria(), site=home()), "uv")
    assert not [one.text for one in lamp.cautions if "listed under" in one.text]


def test_bleach_that_is_fed_all_day_meets_filters_and_nobody_is_told_otherwise() -> None:
    fed = stage(plan(finding("iron", "15"), quiet("ph", "7.1"), site=home()), "chlorine_feed")
    told = " ".join(one.text for one in fed.cautions)
    assert "Use plain bleach" in told
    assert "Keep it out of filters" not in told


def test_only_what_is_missing_is_asked_for_the_membrane() -> None:
    told = plan(
        health("nitrate", "14"), quiet("total_dissolved_solids", "300"), quiet("ph", "7.2"),
        site=home(),
    )  # fmt: skip
    asked = [c.asks for c in stage(told, "reverse_osmosis").conditions]
    assert "The temperature of the water, to work out the gallons a day." in asked
    assert not [one for one in asked if "dissolved solids, to work out" in one]


def test_a_weak_pump_does_not_turn_the_order_of_iron_filters_around() -> None:
    """Clear iron of 8 mg/L wants air: an oxidizing filter alone waits for oxygen from somewhere.

    Both are built as twins here (3 bathrooms 9 gpm, a pump of 5), and the softener takes the 0.1
    mg/L of manganese in both lines, so the order of preference decides.
    """
    weak = Site(
        home=Home(people=5, bathrooms=D(3)),
        well=Well(bucket=Timed(D(5), D(60)), gauge_psi=D(36), pressure_psi=(D(40), D(60))),
    )
    told = plan(
        finding("iron", "8"), finding("manganese", "0.1"), finding("hardness", "220"),
        quiet("ph", "7.2"), site=weak,
    )  # fmt: skip
    assert trains(told)[:2] == [
        ["air_injection_filter", "softener"], ["oxidizing_filter", "softener"],
    ]  # fmt: skip


def test_manganese_gets_no_coated_lightweight_media() -> None:
    """Coated lightweight media take manganese only at pH 8 to 9."""
    told = plan(health("manganese", "0.45"), quiet("ph", "7.2"), quiet("iron", "0.1"), site=home())
    built = stage(told, "oxidizing_filter")
    assert built.size is not None
    assert built.size["medium"] == "manganese_blend"


def test_no_aerator_stands_ahead_of_an_iron_filter_that_draws_air_itself() -> None:
    """1.8 mg/L of hydrogen sulfide with iron: the air of the iron filter does both, up to 3."""
    told = plan(
        finding("iron", "1.5"), finding("hydrogen_sulfide", "1.8"), quiet("ph", "7.4"), site=home()
    )
    assert trains(told)[0] == ["air_injection_filter"]
    assert not [line for line in trains(told) if "aerator" in line]


def test_a_dealer_sells_first_what_stands_on_his_shelf(tmp_path: Path) -> None:
    """Air goes ahead of a plain oxidizing filter, unless only the second one is on the shelf."""
    path = tmp_path / "shelf.csv"
    path.write_text(
        "name,stage,medium,tank_in,media_ft3\nOx 10,oxidizing_filter,coated_lightweight,10,1.5\n",
        "utf-8",
    )
    findings = (finding("iron", "4"), quiet("ph", "7.2"))
    without = consider(findings, Sample(), home())
    with_it = consider(findings, Sample(), home(), known=Known(shelf=load_shelf(path)))
    assert trains(without)[0] == ["air_injection_filter"]
    assert trains(with_it)[0] == ["oxidizing_filter"]
    size = with_it.trains[0].stages[0].size
    assert size is not None
    assert size["shelf_item"] == "Ox 10"

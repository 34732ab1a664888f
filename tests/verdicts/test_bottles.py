"""Several bottles of one tap on one sheet: one answer, and no call for what is there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

import pytest

from welltold import treatment
from welltold.interpretation import Finding, SampleView
from welltold.reading import Reading, Result, Sample, Source
from welltold.site import SampleFacts, Site
from welltold.treatment import consider

if TYPE_CHECKING:
    from .conftest import Bench

DAY = date(2026, 11, 25)


def views(bench: Bench, *samples: Sample, **more: Any) -> tuple[SampleView, ...]:
    reading = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=samples)
    told: tuple[SampleView, ...] = bench.interpret(reading, as_of=DAY, **more).samples
    return told


def bottle(number: str, taken: str | None, *rows: Result, **more: Any) -> Sample:
    facts = {"point": "Kitchen", "collected": "2026-11-10"} | more
    return Sample(number, taken=taken, results=rows, **facts)  # type: ignore[arg-type]  # a test's own words


def finding(view: SampleView, slug: str = "lead") -> Finding:
    return next(f for f in view.findings if f.analyte == slug)


def pair(bench: Bench, first: str, ran: str, **more: Any) -> tuple[SampleView, ...]:
    rows = [bench.result("lead", text, "ug/L") for text in (first, ran)]
    bottles = (
        bottle("A", "first_draw", rows[0], **more),
        bottle("B", "flushed", rows[1], **more),
    )
    return views(bench, *bottles)


def asked(view: SampleView) -> set[str]:
    return {step.code for f in view.findings for step in f.do}


@pytest.mark.parametrize(("first", "ran"), [("18", "<1"), ("2", "15"), ("22", "15"), ("<1", "<1")])
def test_nobody_is_asked_for_a_bottle_that_is_there(bench: Bench, first: str, ran: str) -> None:
    for view in pair(bench, first, ran):
        assert not asked(view) & {"verdict.do_lead_two_samples", "verdict.do_pipes_first_draw"}


@pytest.mark.parametrize(("first", "ran"), [("18", "<1"), ("2", "15"), ("18", "3")])
def test_one_tap_gets_one_answer_the_graver_one(bench: Bench, first: str, ran: str) -> None:
    # EPA homeowner instructions of 2024: both bottles show the same tap; 10 ug/L is the level
    told = [finding(view) for view in pair(bench, first, ran)]
    assert {(f.verdict, f.urgency) for f in told} == {("health_concern", "soon")}
    assert all("verdict.do_lead_bottled" in {s.code for s in f.do} for f in told)


def test_the_low_bottle_names_the_number_of_the_high_one(bench: Bench) -> None:
    flushed = finding(pair(bench, "18", "<1")[1])
    assert flushed.text == "<1"
    assert "18 ug/L" in flushed.why[0].text
    assert flushed.why[0].code == "doubt.bottle_stood"


def test_two_quiet_bottles_answer_what_one_flushed_bottle_cannot(bench: Bench) -> None:
    lead = bench.result("lead", "<1", "ug/L")
    alone = finding(views(bench, bottle("B", "flushed", lead))[0])
    beside = finding(pair(bench, "<1", "<1")[1])
    assert (alone.verdict, beside.verdict) == ("cant_tell", "no_concern_found")
    assert beside.why[-1].code == "doubt.pair_stood"


def test_lead_that_falls_when_the_water_runs_comes_from_the_pipes(bench: Bench) -> None:
    assert "doubt.pair_pipes" in {m.code for m in finding(pair(bench, "18", "<1")[0]).why}
    assert "doubt.pair_pipes" not in {m.code for m in finding(pair(bench, "22", "15")[0]).why}


@pytest.mark.parametrize(
    "points",
    [
        ("Kitchen - 1st draw", "Kitchen - flushed 5 min"),
        ("KITCHEN SINK (First Draw)", "Kitchen sink (Flush)"),
        ("First draw", "Flushed"),
        (None, None),
    ],
)
def test_a_pair_is_known_by_its_place_whatever_the_words_for_the_draw(
    bench: Bench, points: tuple[str | None, str | None]
) -> None:
    rows = [bench.result("lead", text, "ug/L") for text in ("18", "<1")]
    bottles = (
        bottle("A", "first_draw", rows[0], point=points[0]),
        bottle("B", "flushed", rows[1], point=points[1]),
    )
    assert finding(views(bench, *bottles)[1]).verdict == "health_concern"


@pytest.mark.parametrize(
    "other",
    [{"point": "Barn"}, {"collected": "2025-11-10"}, {"point": None, "collected": "2026-11-11"}],
)
def test_another_tap_or_another_day_says_nothing_of_this_one(
    bench: Bench, other: dict[str, Any]
) -> None:
    rows = [bench.result("lead", text, "ug/L") for text in ("18", "<1")]
    bottles = (bottle("A", "first_draw", rows[0]), bottle("B", "flushed", rows[1], **other))
    assert finding(views(bench, *bottles)[1]).verdict == "cant_tell"


def test_the_site_file_tells_which_bottle_is_which(bench: Bench) -> None:
    rows = [bench.result("lead", text, "ug/L") for text in ("18", "<1")]
    site = Site(samples={"A": SampleFacts(taken="first_draw"), "B": SampleFacts(taken="flushed")})
    told = views(bench, bottle("A", None, rows[0]), bottle("B", None, rows[1]), site=site)
    assert not asked(told[0]) & {"verdict.do_lead_two_samples"}
    assert finding(told[1]).why[0].code == "doubt.bottle_stood"


def test_lead_that_was_tested_is_not_called_untested(bench: Bench) -> None:
    for taken in ("flushed", "raw", "treated"):
        view = views(bench, bottle("B", taken, bench.result("lead", "<1", "ug/L")))[0]
        assert "lead" not in {f.analyte for f in view.findings if f.verdict == "not_tested"}
        assert "verdict.do_pipes_first_draw" in asked(view)


def test_nitrate_in_one_bottle_forbids_boiling_for_the_germs_in_the_other(bench: Bench) -> None:
    # New York State: a boil notice is no answer to nitrate; both bottles are one tap's water
    germs = bottle("A", None, bench.result("e_coli", "Present"))
    salts = bottle("B", None, bench.result("nitrate", "20", "mg/L", "N"))
    told = asked(views(bench, germs, salts)[0])
    assert "verdict.do_germs_never_boil" in told
    assert not {code for code in told if "others_boil" in code}
    assert "verdict.do_germs_others_boil" in asked(views(bench, germs)[0])


def test_bottles_of_one_filling_without_a_place_belong_together(bench: Bench) -> None:
    germs = bottle("A", None, bench.result("e_coli", "Present"), point=None)
    salts = bottle("B", None, bench.result("nitrate", "20", "mg/L", "N"), point=None)
    assert "verdict.do_germs_never_boil" in asked(views(bench, germs, salts)[0])


def test_a_quiet_bottle_beside_one_over_the_level_cannot_be_told(bench: Bench) -> None:
    rows = [bench.result("nitrate", text, "mg/L", "N") for text in ("2", "15")]
    quiet, over = views(bench, bottle("A", "raw", rows[0]), bottle("B", "raw", rows[1]))
    assert finding(quiet, "nitrate").verdict == "cant_tell"
    assert "15" in finding(quiet, "nitrate").why[-1].text
    assert finding(over, "nitrate").verdict == "health_concern"


def test_water_before_and_behind_equipment_does_not_contradict_itself(bench: Bench) -> None:
    rows = [bench.result("arsenic", text, "ug/L") for text in ("15", "2")]
    _, behind = views(bench, bottle("A", "raw", rows[0]), bottle("B", "treated", rows[1]))
    assert "doubt.bottle_contradicts" not in {m.code for m in finding(behind, "arsenic").why}


def test_the_plan_does_not_ask_for_the_pair_again(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(treatment, "consider", consider)
    for view in pair(bench, "18", "<1"):
        assert "first_draw_pair" not in {step.step for step in view.steps}
    alone = views(bench, bottle("A", "first_draw", bench.result("lead", "18", "ug/L")))[0]
    assert {"first_draw_pair"} & {s.step for s in alone.steps} or "verdict.do_lead_two_samples" in (
        asked(alone)
    )


@pytest.mark.parametrize(
    ("labels", "taken"),
    [
        (("Lead, first draw",), "first_draw"),
        (("LEAD (1ST DRAW)", "Copper 1st Draw"), "first_draw"),
        (("Lead - flushed",), "flushed"),
        (("Lead, first draw", "Copper"), None),
        (("Lead, first draw", "Copper flushed"), None),
        (("Lead",), None),
    ],
)
def test_the_names_of_the_lines_tell_the_draw(
    bench: Bench, labels: tuple[str, ...], taken: str | None
) -> None:
    slugs = [label.split(",")[0].split()[0].lower() for label in labels]
    rows = [
        replace(bench.result(slug, "<1", "ug/L"), label=label)
        for slug, label in zip(slugs, labels, strict=True)
    ]
    (view,) = views(bench, bottle("A", None, *rows))
    assert view.taken == taken

"""The batch summary: who must be called today stands first, and no cell is empty."""

from __future__ import annotations

from dataclasses import replace

from welltold.interpretation import Finding, Interpretation, SampleView, Verdict
from welltold.messages import Message
from welltold.reading import Reading, Sample, Source
from welltold.summary import COLUMNS, Row, in_order, sample_rows


def finding(slug: str, verdict: Verdict, *, now: bool = False) -> Finding:
    return Finding(slug, slug, "1", verdict, urgency="now" if now else None, persons=("infant",))


def row_of(file: str, *findings: Finding) -> Row:
    reading = Reading(Source(file, "0" * 64, "pdf", 1), samples=(Sample(id="1"),))
    sample = SampleView("1", None, None, None, findings)
    view = Interpretation(reading, "2026-11-25", ("us_federal",), samples=(sample,))
    return sample_rows(view, file, ["a.pdf"])[0]


def test_no_cell_is_empty() -> None:
    row = row_of("a.pdf")
    assert tuple(row) == COLUMNS
    assert all(row.values())


def test_act_now_rows_come_first_even_when_in_doubt() -> None:
    rows = [
        row_of("clean.pdf", finding("iron", "no_concern_found")),
        row_of("arsenic.pdf", finding("arsenic", "health_concern")),
        row_of("open.pdf", finding("nitrate", "cant_tell", now=True)),
    ]
    assert [row["file"] for row in in_order(rows)] == ["open.pdf", "arsenic.pdf", "clean.pdf"]
    assert rows[2]["phone_first"] == "yes"
    assert rows[2]["act_now"] == "nitrate"
    assert rows[2]["persons"] == "infant"


def test_a_solvent_whose_first_step_is_for_today_is_called_about_today() -> None:
    today = Message("verdict.do_call_health_today", {}, "Call today.")
    solvent = replace(finding("benzene", "health_concern"), urgency="soon", do=(today,))
    row = row_of("voc.pdf", solvent)
    assert (row["phone_first"], row["act_now"], row["urgency"]) == ("yes", "benzene", "now")


def test_what_nobody_can_tell_stands_before_what_is_known_to_be_less() -> None:
    row = row_of("a", finding("iron", "no_concern_found"), finding("lead", "cant_tell"))
    assert row["gravest_verdict"] == "cant_tell"


def test_every_germ_counts_as_bacteria() -> None:
    germ, nitrate = finding("salmonella", "health_concern"), finding("nitrate", "health_concern")
    assert row_of("a", germ, nitrate)["bacteria_and_nitrate"] == "yes"


def test_the_gravest_verdict_and_the_lists_by_verdict() -> None:
    row = row_of(
        "a.pdf",
        finding("iron", "nuisance_only"),
        finding("lead", "watch"),
        finding("hardness", "nuisance_only"),
    )
    assert row["gravest_verdict"] == "watch"
    assert row["nuisances"] == "iron hardness"
    assert row["health_concerns"] == "none"


def test_what_a_private_well_should_be_tested_for_and_was_not() -> None:
    row = row_of("a.pdf", finding("nitrate", "watch"), finding("arsenic", "not_tested"))
    assert row["core_not_tested"] == "total_coliform arsenic lead"


def test_bacteria_and_nitrate_together_are_told_apart_from_not_known() -> None:
    coliform, nitrate = "total_coliform", "nitrate"
    both = row_of("a", finding(coliform, "health_concern"), finding(nitrate, "health_concern"))
    one = row_of("a", finding(coliform, "health_concern"), finding(nitrate, "watch"))
    half = row_of("a", finding(coliform, "health_concern"), finding(nitrate, "not_tested"))
    assert [r["bacteria_and_nitrate"] for r in (both, one, half)] == ["yes", "no", "unknown"]

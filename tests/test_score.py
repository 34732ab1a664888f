"""The scorer: what counts as right, doubted, silently wrong, lost, phantom."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from samples.proving import alike  # noqa: E402 - the samples are no installed package
from samples.proving.judge import score_document, total  # noqa: E402
from samples.proving.report import bounds, calibration, render, wilson  # noqa: E402
from samples.proving.score import load_truths, score_folders  # noqa: E402

Told = dict[str, Any]


def true(analyte: str | None, text: str, **more: Any) -> Told:
    told = {"analyte": analyte, "label": str(analyte), "operator": "=", "value": float(text)}
    told |= {"presence": None, "unit": "mg/L", "basis": None, "fraction": None, "text": text}
    return told | more


def read(told: Told, **more: Any) -> Told:
    """Return the right reading of a true result."""
    result = {key: value for key, value in told.items() if key != "presence"}
    result |= {"present": told["presence"], "use": "as_is", "review": []}
    return result | more


def truth_of(*samples: list[Told]) -> Told:
    told = [
        {"id": f"S-{i}", "point": f"Well {i}", "collected": "2026-05-01", "results": results}
        for i, results in enumerate(samples, 1)
    ]
    return {"name": "sheet", "layout": "plain", "samples": told}


def reading_of(truth: Told) -> Told:
    samples = []
    for sample in truth["samples"]:
        named = {key: sample[key] for key in ("id", "point", "collected")}
        samples.append(named | {"results": [read(one) for one in sample["results"]]})
    return {"schema": "welltold.reading/1", "samples": samples, "unread": []}


TWO = truth_of(
    [true("iron", "0.31"), true("lead", "5", unit="ug/L"), true("nitrate", "4.2", basis="N")],
    [true("iron", "1.4"), true("lead", "2", unit="ug/L"), true("nitrate", "0.8", basis="N")],
)


def changed(truth: Told, place: tuple[int, int] = (0, 0), **fault: Any) -> Told:
    reading = reading_of(truth)
    sample, result = place
    reading["samples"][sample]["results"][result].update(fault)
    return reading


def test_a_right_reading_is_all_right() -> None:
    score = score_document(TWO, reading_of(TWO))
    assert (score.results, score.right, score.silent, score.lost, score.phantoms) == (6, 6, 0, 0, 0)
    assert score.f1 == 1.0


@pytest.mark.parametrize(
    "fault",
    [
        {"value": 3.1},
        {"operator": "<"},
        {"unit": "ug/L"},
        {"unit": None},
        {"analyte": "manganese"},
        {"analyte": None},
    ],
)
def test_each_fault_is_silent_until_the_reading_asks_to_look(fault: Told) -> None:
    score = score_document(TWO, changed(TWO, **fault))
    assert (score.right, score.silent, score.doubted, score.lost) == (5, 1, 0, 0)
    assert list(score.faults) == list(fault)
    honest = score_document(TWO, changed(TWO, use="look", **fault))
    assert (honest.right, honest.silent, honest.doubted, honest.lost) == (5, 0, 1, 0)


def test_a_wrong_basis_is_a_fault_and_an_open_one_takes_any() -> None:
    assert score_document(TWO, changed(TWO, (0, 2), basis="NO3")).faults == {"basis": 1}
    assert score_document(TWO, changed(TWO, (0, 2), basis=None)).faults == {"basis": 1}
    assert score_document(TWO, changed(TWO, (0, 0), basis="CaCO3")).right == 6


def test_a_right_result_under_review_is_right_and_counted_as_looked_at() -> None:
    score = score_document(TWO, changed(TWO, use="look"))
    assert (score.right, score.right_looked) == (6, 1)
    assert score.review_share == pytest.approx(1 / 6)


def test_results_of_the_wrong_sample_are_wrong() -> None:
    reading = reading_of(TWO)
    first, second = reading["samples"]
    first["results"][0], second["results"][0] = second["results"][0], first["results"][0]
    score = score_document(TWO, reading)
    assert (score.right, score.silent, score.lost) == (4, 2, 0)


def test_samples_with_wrong_names_are_wrong() -> None:
    reading = reading_of(TWO)
    for sample in reading["samples"]:
        sample["id"], sample["point"] = "Page 1", None
    score = score_document(TWO, reading)
    assert (score.right, score.silent) == (0, 6)
    assert score.faults == {"sample": 6}


def test_one_of_the_two_names_is_enough_and_order_does_not_matter() -> None:
    reading = reading_of(TWO)
    reading["samples"].reverse()
    for sample in reading["samples"]:
        sample["id"] = None
        sample["results"].reverse()
    assert score_document(TWO, reading).right == 6


def test_two_rounds_of_one_well_are_told_apart_by_their_days() -> None:
    truth = copy.deepcopy(TWO)
    for at, sample in enumerate(truth["samples"]):
        sample.update(id=None, point="Cabin", collected=f"2026-05-0{at + 1}")
    assert score_document(truth, reading_of(truth)).right == 6
    swapped = reading_of(truth)
    first, second = swapped["samples"]
    first["collected"], second["collected"] = second["collected"], first["collected"]
    assert score_document(truth, swapped).right == 0
    blind = reading_of(truth)
    for sample in blind["samples"]:
        sample["collected"] = None
    assert score_document(truth, blind).faults == {"sample": 6}


def test_a_large_document_is_scored_in_no_time() -> None:
    truth = truth_of(*([true("iron", f"{at}.5"), true("zinc", f"{at}")] for at in range(1, 801)))
    start = time.process_time()
    assert score_document(truth, reading_of(truth)).right == 1600
    assert time.process_time() - start < 10


def test_a_missing_result_is_lost_unless_unread_has_it_once() -> None:
    truth = truth_of([true("iron", "0.31"), true("iron", "0.44")])
    reading = reading_of(truth)
    reading["samples"][0]["results"] = []
    assert score_document(truth, reading).lost == 2
    reading["unread"] = [{"text": "Iron ..... 0.31 mg/L"}]
    score = score_document(truth, reading)
    assert (score.in_unread, score.lost) == (1, 1)


def test_what_is_on_no_sheet_is_a_phantom() -> None:
    reading = reading_of(TWO)
    reading["samples"][0]["results"] += [
        read(true("zinc", "5")),
        read(true("iron", "0.3"), use="look"),
        read(true("copper", "1"), state="blank", value=None),
    ]
    score = score_document(TWO, reading)
    assert (score.phantoms, score.phantoms_doubted, score.right) == (1, 1, 6)


def test_a_doubled_result_is_a_phantom() -> None:
    reading = reading_of(TWO)
    results = reading["samples"][0]["results"]
    results.append(copy.deepcopy(results[0]))
    assert score_document(TWO, reading).phantoms == 1


def test_presence_goes_by_presence_and_not_by_number() -> None:
    truth = truth_of([true("e_coli", "0", presence="absent", unit="100 mL")])
    right = reading_of(truth)
    right["samples"][0]["results"][0].update(present=False, unit=None)
    assert score_document(truth, right).right == 1
    wrong = reading_of(truth)
    wrong["samples"][0]["results"][0].update(present=True)
    assert score_document(truth, wrong).silent == 1


def test_a_limit_that_the_sheet_does_not_name_fits_any() -> None:
    truth = truth_of([true("iron", "0") | {"operator": "<", "value": None, "text": "ND"}])
    reading = reading_of(truth)
    assert score_document(truth, reading).right == 1
    reading["samples"][0]["results"][0]["value"] = 0.05
    assert score_document(truth, reading).right == 1
    reading["samples"][0]["results"][0]["operator"] = "="
    assert score_document(truth, reading).silent == 1


def test_total_and_dissolved_are_not_taken_for_each_other() -> None:
    truth = truth_of([
        true("iron", "0.5", fraction="total"), true("iron", "0.5", fraction="dissolved"),
    ])  # fmt: skip
    reading = reading_of(truth)
    reading["samples"][0]["results"].reverse()
    assert score_document(truth, reading).right == 2


def test_an_unknown_analyte_goes_by_its_label() -> None:
    truth = truth_of([true(None, "16", label="Nitrogen, Total Kjeldahl")])
    reading = reading_of(truth)
    reading["samples"][0]["results"][0]["analyte"] = "total_kjeldahl_nitrogen"
    assert score_document(truth, reading).right == 1


def test_no_reading_loses_everything() -> None:
    score = score_document(TWO, None)
    assert (score.failed, score.lost, score.recall, score.f1) == (1, 6, 0.0, 0.0)


def test_no_lab_report_is_read_right_by_reading_nothing() -> None:
    truth = truth_of() | {"samples": []}
    assert score_document(truth, {"samples": [], "unread": []}).f1 == 1.0
    phantom = {"samples": [{"results": [read(true("iron", "31"))]}]}
    assert score_document(truth, phantom).phantoms == 1


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("mg/L", "ppm"), ("ug/L", "µg/l"), ("µg/L", "μg/L"), ("mcg/L", "ppb"), ("ppt", "ng/L"),
        ("mg/L as N", "MG/L"), ("umhos/cm", "uS/cm"), ("S.U.", None), ("grains/gal", "gpg"),
        ("mg/L CaCO3", "mg/L"), ("mg/L (as CaCO3)", "mg/L"),
        ("CFU/100 mL", "cfu/100mL"), ("MPN per 100 mL", "MPN/100mL"), ("Pt-Co", "CU"),
    ],
)  # fmt: skip
def test_spellings_of_one_unit(one: str | None, other: str | None) -> None:
    assert alike.unit(one) == alike.unit(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [("mg/L", "ug/L"), ("mg/L", None), ("gpg", "mg/L"), ("CFU/100mL", "MPN/100mL"), ("NTU", "CU")],
)
def test_units_that_differ(one: str | None, other: str | None) -> None:
    assert alike.unit(one) != alike.unit(other)


NAMES = ["iron", "lead", "nitrate", "nitrite", "zinc", None]
RESULTS = st.builds(
    lambda name, value, sign: true(name, str(value), operator=sign, label=f"L {name}"),
    st.sampled_from(NAMES),
    st.sampled_from([0.1, 0.2, 1.0, 12.5]),
    st.sampled_from("=<>"),
)


@given(st.lists(st.lists(RESULTS, min_size=1, max_size=6), min_size=1, max_size=4), st.randoms())
def test_the_counts_always_add_up(samples: list[list[Told]], dice: Any) -> None:
    truth = truth_of(*samples)
    reading = reading_of(truth)
    for sample in reading["samples"]:
        dice.shuffle(sample["results"])
        sample["results"] = [r for r in sample["results"] if dice.random() < 0.8]
        for result in sample["results"]:
            if dice.random() < 0.3:
                result["value"] = 99.0
    score = score_document(truth, reading)
    told = score.right + score.doubted + score.silent + score.in_unread + score.lost
    assert told == score.results == sum(map(len, samples))
    assert score.given == sum(len(sample["results"]) for sample in reading["samples"])


@given(st.lists(st.lists(RESULTS, min_size=1, max_size=6), min_size=1, max_size=4), st.randoms())
def test_the_truth_itself_is_always_right(samples: list[list[Told]], dice: Any) -> None:
    truth = truth_of(*samples)
    reading = reading_of(truth)
    dice.shuffle(reading["samples"])
    for sample in reading["samples"]:
        dice.shuffle(sample["results"])
    assert score_document(truth, reading).right == sum(map(len, samples))


def test_the_expected_readings_of_the_samples_fit_themselves() -> None:
    expected = ROOT / "samples" / "expected"
    scores = score_folders(expected, expected)
    whole = total(scores)
    assert whole.documents == len(scores) == len(list(expected.glob("*.json")))
    assert (whole.right, whole.silent, whole.lost, whole.phantoms) == (whole.results, 0, 0, 0)


def test_the_command_compares_two_folders(tmp_path: Path) -> None:
    (tmp_path / "t").mkdir()
    (tmp_path / "r").mkdir()
    (tmp_path / "t" / "sheet.truth.json").write_text(json.dumps(TWO), encoding="utf-8")
    (tmp_path / "t" / "other.truth.json").write_text(json.dumps(TWO), encoding="utf-8")
    reading = json.dumps(changed(TWO, value=3.1))
    (tmp_path / "r" / "sheet.json").write_text(reading, encoding="utf-8")
    assert sorted(load_truths(tmp_path / "t")) == ["other", "sheet"]
    command = [sys.executable, "-m", "samples.proving.score", str(tmp_path / "t")]
    told = subprocess.run([*command, str(tmp_path / "r"), "--json"], cwd=ROOT, check=True,
                          capture_output=True, text=True)  # fmt: skip
    whole = json.loads(told.stdout)["all"]
    assert (whole["documents"], whole["right"], whole["silent"], whole["failed"]) == (2, 5, 1, 1)
    table = render(score_folders(tmp_path / "t", tmp_path / "r"))
    assert "silent (value): iron '0.31'" in table


def test_wilson_bounds_are_those_of_the_published_example() -> None:
    # Newcombe 1998, Statistics in Medicine 17:857, table I, method 3: 81 of 263 and 0 of 20
    assert wilson(81, 263) == pytest.approx((0.2553, 0.3662), abs=5e-4)
    assert wilson(0, 20) == pytest.approx((0.0, 0.1611), abs=5e-4)


def test_calibration_tells_how_often_the_sure_were_right() -> None:
    reading = reading_of(TWO)
    for sample in reading["samples"]:
        for result in sample["results"]:
            result["confidence"] = 0.97
    reading["samples"][0]["results"][0]["value"] = 7.0
    lines = calibration([score_document(TWO, reading)])
    assert len(lines) == 2
    assert lines[1].split()[:4] == ["0.950-0.990", "6", "0.9700", "0.8333"]


def test_bounds_by_layout_hold_the_rate_between_them() -> None:
    good = score_document(TWO | {"layout": "one"}, reading_of(TWO))
    bad = score_document(TWO | {"layout": "other"}, changed(TWO, value=3.1))
    low, high = bounds([good, bad], "silent")
    assert low == 0.0
    assert high == pytest.approx(1000 / 6)

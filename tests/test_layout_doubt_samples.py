"""Whose results these are: what the whole file says against the samples that were made."""

from __future__ import annotations

import pytest
from tests.layout_sheets import read_csv

from welltold.reading import Reading, Result, Sample
from welltold_parsers.layout.doubt_samples import doubt_samples


def _results(count: int, value: str = "1") -> tuple[Result, ...]:
    return tuple(Result(f"a{i}", f"A{i}", value, "value") for i in range(count))


def _codes(samples: tuple[Sample, ...]) -> list[set[str]]:
    return [{m.code for r in s.results for m in r.review} for s in samples]


def _uses(reading: Reading) -> set[str]:
    return {r.use for r in reading.results}


def test_a_sample_without_a_name_beside_others_is_doubted_alone() -> None:
    samples = (Sample(id="A-1", results=_results(3)), Sample(results=_results(3)))
    assert _codes(doubt_samples(samples, [])) == [set(), {"read.sample_nameless"}]


def test_the_only_sample_of_a_sheet_needs_no_name() -> None:
    assert _codes(doubt_samples((Sample(results=_results(3)),), [])) == [set()]


def test_a_number_that_no_result_has_doubts_the_samples_that_were_made() -> None:
    samples = (Sample(id="B-1", results=_results(2)), Sample(id="B-2", results=_results(2)))
    told = {"read.sample_astray"}
    assert _codes(doubt_samples(samples, ["QK-7"])) == [told, told]


@pytest.mark.parametrize(("number", "doubted"), [("26-06793-2", True), ("88214", False)])
def test_one_sample_is_doubted_for_a_number_of_its_own_shape_only(
    number: str, doubted: bool
) -> None:
    found = doubt_samples((Sample(id="26-06793-1", results=_results(2)),), [number])
    assert (_codes(found) == [{"read.sample_astray"}]) is doubted


def test_a_stray_pair_beside_a_whole_sample_is_doubted() -> None:
    samples = (Sample(id="A", results=_results(12)), Sample(id="NOTE", results=_results(1)))
    assert _codes(doubt_samples(samples, [])) == [set(), {"read.sample_fragment"}]


def test_three_short_samples_are_no_strays() -> None:
    samples = tuple(Sample(id=f"S{i}", results=_results(2)) for i in range(3))
    assert _codes(doubt_samples(samples, [])) == [set(), set(), set()]


def test_a_sample_with_many_tests_twice_is_doubted_whole() -> None:
    lines = "Analyte,Result,Units\n" + "".join(
        f"{name},{value},mg/L\n"
        for value in ("0.21", "0.34")
        for name in ("Iron", "Zinc", "Copper")
    )
    reading = read_csv(lines + "Sodium,12,mg/L\n")
    assert _uses(reading) == {"look"}
    sodium = next(r for r in reading.results if r.analyte == "sodium")
    assert [m.code for m in sodium.review] == ["read.sample_mixed"]


def test_one_repeat_on_a_long_sheet_leaves_the_other_results_alone() -> None:
    reading = read_csv(
        "Analyte,Result,Units\nIron,0.21,mg/L\nIron,0.34,mg/L\nZinc,1,mg/L\nCopper,0.1,mg/L\n"
    )
    assert sorted(r.analyte or "" for r in reading.results if r.use == "as_is") == [
        "copper",
        "zinc",
    ]


def test_two_bottles_with_the_same_answers_in_one_column_are_not_one() -> None:
    rows = "".join(f"{n},<0.5,ug/L\n" for n in ("Benzene", "Toluene", "Styrene", "Bromoform"))
    reading = read_csv(f"Analyte,Result,Units\n{rows}Fobamu,,\n{rows}")
    assert {m.code for r in reading.results for m in r.review} == {"read.sample_mixed"}

"""What a letter says of germs and other things in words: found, not found, or not told.

The sentences were written for these tests in the manner of county letters; what each says was
noted down before the reader was asked.
"""

from __future__ import annotations

import pytest
from tests.layout_sheets import page, pdf

from welltold.reading import Reading
from welltold_parsers.layout import read_document
from welltold_parsers.layout.claims import claims_in


def _read(*lines: str) -> Reading:
    placed = [(60.0 + 14 * at, {40.0: text}) for at, text in enumerate(lines)]
    return read_document(pdf(page(*placed)))


_TC, _EC, _FC = "total_coliform", "e_coli", "fecal_coliform"


@pytest.mark.parametrize(
    ("sentence", "absent", "present"),
    [
        ("No coliform bacteria or E. coli were found.", [_TC, _EC], []),
        ("Neither total coliform nor E. coli bacteria were detected there.", [_TC, _EC], []),
        ("Total coliform and E. coli bacteria were both absent.", [_TC, _EC], []),
        ("Your sample was negative for total coliform bacteria and E. coli.", [_TC, _EC], []),
        ("The sample tested positive for total coliform but negative for E. coli.", [_EC], [_TC]),
        ("Total coliform bacteria were present; E. coli was not.", [_EC], [_TC]),
        ("We did not find any E. coli in the sample.", [_EC], []),
        ("Total coliform bacteria were found, but no E. coli.", [_EC], [_TC]),
        ("Your well water is free of coliform bacteria.", [_TC], []),
        ("No E. coli were found, but total coliform bacteria were present.", [_EC], [_TC]),
        ("Coliform bacteria were not found in your well water.", [_TC], []),
        ("There was no evidence of total coliform or fecal coliform bacteria.", [_TC, _FC], []),
        ("Bacteria test: Total coliform PRESENT, E. coli ABSENT.", [_EC], [_TC]),
        ("Total coliforms were detected here, whereas E. coli bacteria were absent.", [_EC], [_TC]),
        ("We detected total coliform but did not detect E. coli.", [_EC], [_TC]),
        ("The lab found both coliform bacteria and E. coli in the sample.", [], [_TC, _EC]),
        ("Tested for total coliform and E. coli, and both were absent.", [_TC, _EC], []),
        ("Coliform bacteria were found in the sample but E. coli were not.", [_EC], [_TC]),
        ("Here E. coli was absent and total coliform was present.", [_EC], [_TC]),
        ("The test for E. coli bacteria came back negative.", [_EC], []),
        ("E. coli was never found in this sample of water.", [_EC], []),
        ("Total coliform, a sign of surface water, were present in this sample.", [], [_TC]),
    ],
)
def test_an_answer_in_a_sentence_is_read_the_right_way_round(
    sentence: str, absent: list[str], present: list[str]
) -> None:
    told = {r.analyte: r.present for r in _read(sentence).results}
    assert told == dict.fromkeys(absent, False) | dict.fromkeys(present, True)


@pytest.mark.parametrize(
    "sentence",
    [
        "Had E. coli been present, we would have called you on that day.",
        "If E. coli is present in the water, boil it before you drink it.",
        "The absence of coliform bacteria does not guarantee that the well is clean.",
        "E. coli are bacteria that are found in the intestines of animals.",
        "Drinking water must be free of coliform bacteria at every tap.",
        "E. coli was not tested since there was too little water in the bottle.",
        "Fewer than 5 percent of wells in our program test positive for E. coli.",
        "Standard: total coliforms absent; E. coli absent in 100 mL of water.",
        "U: E. coli not detected at the limit of the test in this water.",
        "2 = Nitrate-N is greater than 10 mg/L. Do not give it to a baby.",
        "Code 3 = Nitrate-N is greater than 20 mg/L in the water of the well.",
        "When the well was sampled last year coliform bacteria were present.",
    ],
)
def test_what_may_be_and_what_was_once_is_no_answer(sentence: str) -> None:
    assert _read(sentence).results == ()


@pytest.mark.parametrize(
    "sentence",
    [
        "Coliform bacteria were present in the sample, not E. coli.",
        "It is not true that total coliform bacteria were absent.",
        "E. coli was not analyzed since total coliform was absent.",
    ],
)
def test_an_answer_with_a_denial_left_over_is_left_to_a_person(sentence: str) -> None:
    assert {claim.told for claim in claims_in(sentence)} == {"open"}
    reading = _read("The pH of the water was 7.1 on that day.", sentence)
    assert [r.analyte for r in reading.results] == ["ph"]
    assert [u.reason.code for u in reading.unread] == ["read.sentence_open"] * len(reading.unread)
    assert reading.unread


_COUNTED = (
    (60.0, {40.0: "Test", 200.0: "Result", 300.0: "Unit"}),
    (74.0, {40.0: "Total coliform bacteria", 200.0: "3.1", 300.0: "MPN/100 mL"}),
    (88.0, {40.0: "E. coli bacteria", 200.0: "<1", 300.0: "MPN/100 mL"}),
)


def test_words_that_agree_with_a_count_are_no_second_result() -> None:
    words = "Your sample contained coliform bacteria, and no E. coli was found."
    reading = read_document(pdf(page(*_COUNTED, (130.0, {40.0: words}))))
    assert [(r.text, r.use) for r in reading.results] == [("3.1", "as_is"), ("<1", "as_is")]
    assert len(reading.results[0].where) > 3


def test_words_that_contradict_a_count_are_doubted_with_it() -> None:
    words = "No coliform bacteria were found in your sample, nor any E. coli."
    reading = read_document(pdf(page(*_COUNTED, (130.0, {40.0: words}))))
    doubted = [r for r in reading.results if r.analyte == "total_coliform"]
    assert [(r.text, r.use) for r in doubted] == [("3.1", "look"), ("not detected", "look")]
    assert "read.twice_different" in {m.code for m in doubted[0].review}


def test_a_chemical_that_was_not_found_is_a_result_to_look_at() -> None:
    reading = _read("Arsenic and lead were not detected in your water.")
    assert [(r.analyte, r.state, r.value) for r in reading.results] == [
        ("arsenic", "below", None),
        ("lead", "below", None),
    ]
    assert {r.use for r in reading.results} == {"look"}
    assert _read("The pH was 7.1 and there were no lead pipes in the house.").results[1:] == ()


@pytest.mark.parametrize(
    ("sentence", "value"),
    [
        ("Your iron level of 1.4 mg/L is above the recommended 0.3 mg/L.", "1.4"),
        ("Your water contains 1.4 mg/L of iron, which is above the level of 0.3 mg/L.", "1.4"),
        ("Iron in your water is 1.4 mg/L, higher than the 0.3 mg/L that EPA recommends.", "1.4"),
        ("The iron result, 1.4 mg/L, exceeds the secondary standard of 0.3 mg/L.", "1.4"),
        ("Your iron level (1.4 mg/L) may stain the laundry and the sink.", "1.4"),
    ],
)
def test_a_result_beside_its_limit_is_the_result_and_not_the_limit(
    sentence: str, value: str
) -> None:
    assert [(r.analyte, str(r.value)) for r in _read(sentence).results] == [("iron", value)]


@pytest.mark.parametrize(
    ("sentence", "told"),
    [
        (
            "If you have a softener, please note that the hardness was 21 grains per gallon.",
            ("hardness", "21", "grains per gallon"),
        ),
        ("The pH of 7.4 is in the normal range for a drilled well.", ("ph", "7.4", None)),
        (
            "Nitrate was found at 2.6 milligrams per liter (mg/L), as nitrogen, in the well.",
            ("nitrate", "2.6", "milligrams per liter"),
        ),
    ],
)
def test_a_result_among_courtesies_is_read(
    sentence: str, told: tuple[str, str, str | None]
) -> None:
    (result,) = _read(sentence).results
    assert (result.analyte, str(result.value), result.unit) == told


def test_what_was_looked_for_and_not_found_is_a_result() -> None:
    reading = _read("We also looked for arsenic and did not detect any in the water.")
    assert [(r.analyte, r.state) for r in reading.results] == [("arsenic", "below")]


def test_numbers_of_a_sentence_that_were_not_understood_are_told() -> None:
    reading = _read(
        "The pH of the water was 7.1 on that day.",
        "Nitrate, nitrite and fluoride were 4.7, 0.1 and 0.3 mg/L in that order.",
        "The water is hard, at 268 mg/L as calcium carbonate, says the laboratory.",
        "Your nitrate was 3.1 mg/L last year and 4.6 mg/L this year in all.",
    )
    told = " ".join(u.text for u in reading.unread)
    assert "Nitrate, nitrite" in told
    assert "268" in told
    assert "4.6" in told

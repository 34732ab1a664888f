"""Numbers in sentences that tell a rule, a range, a trade or another water are no results.

The sentences were written for these tests in the manner of leaflets, quotes and kit cards.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.layout_sheets import page, pdf

from welltold.reading import Reading
from welltold_parsers.layout import read_document


def _read(*lines: str) -> Reading:
    placed = [(60.0 + 14 * at, {40.0: text}) for at, text in enumerate(lines)]
    return read_document(pdf(page(*placed)))


@pytest.mark.parametrize(
    "sentence",
    [
        "Iron: over 0.5 ppm stains sinks and the laundry of the house.",
        "Our softeners handle up to 4 ppm clear water iron; above that use an iron filter.",
        "The lender adds total nitrate and nitrite not over 9 mg/L for this loan.",
        "Our lab recovers 96 to 104 % of a known 20 ppb arsenic sample every day.",
        "We advise to disinfect the well (leaflet W-12, 150 ppm chlorine for 12 hours).",
        "Reverse osmosis units remove 91 to 97 percent of arsenic and 94 percent of uranium.",
        "The unit is taking out about 96 percent of the radon, as it should do.",
        "For cattle: TDS under 1000 ppm excellent, 1000 - 2999 satisfactory, 3000 - 4999 limited.",
        "Nitrate-N 10 - 20 ppm fair with a balanced ration, 20 - 40 caution for cattle.",
        "Sodium hazard: adjusted SAR under 6 none, 6 - 9 increasing, over 9 severe.",
        "Water with a pH under 6.2 and a low hardness dissolves copper from the pipes.",
        "A calcite filter raises pH to about 7.3 in most of the houses.",
        "The gross alpha limit is 15 pCi/L, and combined radium is 5 pCi/L for all.",
        "Limits are shown for your information (e.g. nitrate 10 mg/L, iron 0.3 mg/L) only.",
        "Your basement air test from January was 3.1 pCi/L of radon, so look at it again.",
        "Lead and copper in one liter: 1 mg/L is 1000 parts per billion of lead here.",
        "Laboratory blank arsenic <0.4 ug/L; control sample arsenic 24.1 of 25.0 ug/L.",
    ],
)
def test_a_rule_or_a_range_is_neither_a_result_nor_told_as_unread(sentence: str) -> None:
    reading = _read(sentence)
    assert [(r.analyte, r.text) for r in reading.results] == []
    assert [u.text for u in reading.unread] == []


@pytest.mark.parametrize(
    ("sentence", "value"),
    [
        ("Your iron was 0.7 ppm, which stains sinks.", "0.7"),
        ("Nitrate-N was found to be 12.4 mg/L in your water, over the 10 mg/L standard.", "12.4"),
        ("The arsenic concentration in your sample was 14 ug/L.", "14"),
        ("Your water contains 0.4 ppm iron, and a softener removes it.", "0.4"),
        ("Uranium was 22 ug/L in the sample, and 30 ug/L is the limit.", "22"),
    ],
)
def test_a_result_of_this_water_stays_one_beside_a_rule(sentence: str, value: str) -> None:
    assert [r.value for r in _read(sentence).results] == [Decimal(value)]


def test_a_sentence_that_begins_with_a_number_is_one_of_its_own() -> None:
    reading = _read(
        "Two of the compounds are above the federal limits of 4.0 ng/L for PFOA and PFOS that",
        "apply to public systems. 2 ng/L is 2 parts per trillion: a few drops in 20 pools.",
    )
    assert [(r.analyte, r.text) for r in reading.results] == []


def test_a_list_of_the_least_that_is_reported_gives_no_results() -> None:
    reading = _read(
        "Notes on reporting. Smallest reportable amounts: arsenic, lead, uranium 0.4 ug/L; iron,",
        "chromium, manganese 2 ug/L; copper, vanadium 3 ug/L; lithium 6 ug/L; boron 15 ug/L;",
        "nitrate (as N) 0.2 mg/L; fluoride 0.3 mg/L; sodium, sulfate 2 mg/L.",
    )
    assert [(r.analyte, r.text) for r in reading.results] == []

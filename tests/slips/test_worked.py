"""Four published waters with a slip put in by hand, and what may be said about it.

USGS WRI 02-4045 (2002), Table 4, first and second water; hydrocodes/Varios 13_Balanceion_Piper.R,
second and third water. What the tables lack is worked out by hand beside them.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from checks.made import row

from welltold.interpretation import Finding, Interpretation
from welltold.reading import Correction, Reading, Result, Sample, Source, Where
from welltold.site import Site
from welltold.slips import Suspect, suspects
from welltold.verdicts import interpret

Numbers = dict[str, str]

# charges 10.997 and 11.867 meq/L, published: hardness 120, alkalinity 580, solids 624
FIRST: Numbers = {
    "calcium": "25",
    "magnesium": "14",
    "sodium": "190",
    "potassium": "13",
    "bicarbonate": "707",
    "alkalinity": "580",
    "chloride": "7.0",
    "sulfate": "1.2",
    "fluoride": "1.1",
    "silica": "20",
    "hardness": "120",
    "total_dissolved_solids": "624",
}
# charges 62.589 and 62.081 meq/L, published: hardness 2500, alkalinity 267, solids 4020
SECOND: Numbers = {
    "calcium": "550",
    "magnesium": "280",
    "sodium": "270",
    "potassium": "14",
    "bicarbonate": "326",
    "alkalinity": "267",
    "chloride": "18",
    "sulfate": "2700",
    "fluoride": "0.3",
    "silica": "17",
    "hardness": "2500",
    "total_dissolved_solids": "4020",
}
# published: the ions, balance - 4.95 % (0.13 meq/L of 1.3). By hand: nitrate 1 mg/L = 0.23 as N,
# alkalinity 69 / 1.2193 = 56.6, hardness 8.976 / 0.40078 + 3.33 / 0.24284 = 36.1, solids
# 9.0 + 3.3 + 7.8 + 4.4 + 34 (half of the bicarbonate) + 2.4 + 4 + 1 = 66
THIRD: Numbers = {
    "calcium": "8.98",
    "magnesium": "3.33",
    "sodium": "7.82",
    "potassium": "4.43",
    "alkalinity": "56.6",
    "chloride": "2.4",
    "sulfate": "4.0",
    "nitrate": "0.23",
    "hardness": "36.1",
    "total_dissolved_solids": "66",
}
# the second water of that source: nitrate 22 mg/L as NO3 = 4.97 as N; by hand alkalinity
# 108 / 1.2193 = 88.6, hardness 97.4 + 36.3 = 133.7, solids 173, and a conductance of
# 353 (sum over the ions at no salt) times 0.927 squared = 303
FARMED: Numbers = {
    "calcium": "39.0",
    "magnesium": "8.82",
    "sodium": "12.7",
    "potassium": "1.95",
    "alkalinity": "88.6",
    "chloride": "6.0",
    "sulfate": "30",
    "nitrate": "4.97",
    "hardness": "134",
    "total_dissolved_solids": "173",
    "specific_conductance": "303",
}


def results(numbers: Numbers, **units: str) -> tuple[Result, ...]:
    return tuple(
        row(slug, text, units.get(slug), where=(Where("value", page=2, box=(9, line, 20, line)),))
        for line, (slug, text) in enumerate(numbers.items())
    )


def found(numbers: Numbers, **units: str) -> tuple[Suspect, ...]:
    return suspects(Sample(results=results(numbers, **units)), Site())


@pytest.mark.parametrize("numbers", [FIRST, SECOND, THIRD, FARMED])
def test_published_waters_are_not_accused(numbers: Numbers) -> None:
    assert found(numbers) == ()


@pytest.mark.parametrize(
    ("numbers", "slug", "slipped", "kind", "proposed"),
    [
        (FIRST, "sodium", "19.0", "decimal", "190"),
        (FIRST, "calcium", "250", "decimal", "25.0"),
        (FIRST, "alkalinity", "58", "decimal", "580"),
        (FIRST, "hardness", "1200", "decimal", "120.0"),
        (SECOND, "calcium", "55.0", "decimal", "550"),
        (SECOND, "magnesium", "28.0", "decimal", "280"),
        (SECOND, "total_dissolved_solids", "1020", "digit", "4020"),
        (SECOND, "hardness", "250", "decimal", "2500"),
        (SECOND, "sulfate", "270", "decimal", "2700"),
        (THIRD, "sodium", "78.2", "decimal", "7.82"),
        (THIRD, "calcium", "89.8", "decimal", "8.98"),
        (THIRD, "hardness", "86.1", "digit", "36.1"),
        (FARMED, "total_dissolved_solids", "17.3", "decimal", "173"),
    ],
)
def test_the_number_that_slipped_is_named_first(
    numbers: Numbers, slug: str, slipped: str, kind: str, proposed: str
) -> None:
    first = found(numbers | {slug: slipped})[0]
    assert (first.analyte, first.kind, first.proposed) == (slug, kind, proposed)
    assert first.printed == slipped
    line = list(numbers).index(slug)
    assert first.where == (Where("value", page=2, box=(9, line, 20, line)),)


def test_magnesium_in_grams_as_the_table_prints_it() -> None:
    # WRI 02-4045 itself prints the unit of magnesium as g/L
    first = found(FIRST, magnesium="g/L")[0]
    assert (first.kind, first.printed, first.proposed) == ("unit", "14 g/L", "14 mg/L")


def test_nitrate_counted_as_nitrate_and_printed_as_nitrogen() -> None:
    first = found(FARMED | {"nitrate": "22"})[0]
    assert (first.analyte, first.kind) == ("nitrate", "basis")
    assert (first.printed, first.proposed) == ("22 mg/L as N", "22 mg/L as NO3")


def test_two_rows_that_changed_places() -> None:
    first = found(FIRST | {"sodium": "13", "potassium": "190"})[0]
    assert {first.analyte, first.other} == {"sodium", "potassium"}
    assert (first.kind, len(first.where)) == ("swap", 2)


def test_a_sign_that_was_lost() -> None:
    # 50 mg/L of chloride would add 1.4 meq/L to the 2.7 of the anions; the lab's limit was 50
    rows = results(THIRD | {"chloride": "50"})
    limited = [
        replace(one, reporting_limit=Decimal(50)) if one.analyte == "chloride" else one
        for one in rows
    ]
    first = suspects(Sample(results=tuple(limited)), Site())[0]
    assert (first.analyte, first.kind, first.proposed) == ("chloride", "lost_sign", "<50")


def test_what_the_checks_say_before_and_after() -> None:
    # sodium 19 leaves 3.56 meq/L of cations against 11.87; hardness and alkalinity stand apart
    first = found(FIRST | {"sodium": "19.0"})[0]
    assert first.settles == ("ion_balance", "solids_of_ions")
    assert first.agree == ("alkalinity_of_parts", "hardness_of_parts")


def test_a_lab_error_that_is_no_slip_accuses_nobody() -> None:
    # solids 30 % high: no single known slip makes 811 of 624
    assert found(FIRST | {"total_dissolved_solids": "811"}) == ()


def test_two_slips_at_once_are_not_explained_by_one() -> None:
    assert found(FIRST | {"sodium": "19.0", "hardness": "777"}) == ()


def test_a_sheet_that_is_merely_somewhat_off_names_nobody() -> None:
    # 80 mg/L of chloride in place of 7: 13.9 against 11.0 meq/L, - 12 %. A slip of the point would
    # explain it, so would a lab that was off, and the second is the likelier
    assert found(FIRST | {"chloride": "80"}) == ()


def test_an_edit_that_makes_another_check_doubt_is_not_proposed() -> None:
    # solids of 780 agree with the ions only while magnesium is 140 (745), not when it is 14 (619)
    assert found(FIRST | {"magnesium": "140", "total_dissolved_solids": "780"}) == ()


def test_what_a_person_corrected_is_left_alone() -> None:
    settled = Correction("19.0", Decimal("19.0"), "R. Roe", "2026-11-25")
    rows = [
        replace(one, correction=settled) if one.analyte == "sodium" else one
        for one in results(FIRST | {"sodium": "19.0"})
    ]
    told = suspects(Sample(results=tuple(rows)), Site())
    assert "sodium" not in {one.analyte for one in told}


def view(numbers: Numbers) -> Interpretation:
    sample = Sample(id="1", results=results(numbers))
    reading = Reading(Source("sheet.pdf", "0" * 64, "pdf", 2), samples=(sample,))
    return interpret(reading, as_of=date(2026, 11, 25))


def sodium(told: Interpretation) -> Finding:
    (one,) = (one for one in told.samples[0].findings if one.analyte == "sodium")
    return one


def test_the_question_stands_beside_its_place_and_beside_the_first_doubt() -> None:
    told = view(FIRST | {"sodium": "19.0"})
    asked = "If sodium is 190 and not 19.0, four checks agree."
    assert asked in [message.text for message in sodium(told).why]
    assert sodium(told).where[0].page == 2
    carrying = [
        one.check
        for one in told.samples[0].checks or ()
        if asked in [message.text for message in one.why]
    ]
    assert carrying == ["ion_balance"]


def test_nothing_is_applied_and_no_verdict_moves() -> None:
    slipped = FARMED | {"sulfate": "300"}
    told, without = view(slipped), view(FARMED)
    (sulfate,) = (one for one in told.samples[0].findings if one.analyte == "sulfate")
    assert "slip.number" in [message.code for message in sulfate.why]
    # 250 mg/L is the federal secondary level of sulfate (40 CFR 143.3): the printed 300 counts
    assert (sulfate.text, sulfate.value, sulfate.verdict) == ("300", 300, "nuisance_only")
    assert not [one for one in told.reading.results if one.correction or one.alternatives]
    others = [
        {one.analyte: one.verdict for one in each.samples[0].findings} for each in (told, without)
    ]
    assert {slug for slug in others[0] if others[0][slug] != others[1][slug]} == {"sulfate"}

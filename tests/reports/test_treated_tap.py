"""What page 1 says of the uses of a tap behind equipment: of this tap, and of no other."""

from __future__ import annotations

from decimal import Decimal

from welltold.reading import Reading, Result, Sample, Source
from welltold.site import Equipment, Site
from welltold.verdicts import interpret
from welltold_reports.homeowner import build

ABSENT = tuple(
    Result(slug, slug, "Absent", "absent", present=False, unit="P/A")
    for slug in ("total_coliform", "e_coli")
)


def answers(*results: Result, after: str) -> dict[str, tuple[str, str]]:
    sample = Sample(results=(*ABSENT, *results))
    reading = Reading(Source("tap.csv", "0" * 64, "csv", 1), samples=(sample,))
    site = Site(equipment=Equipment(in_place=(after,), after=(after,)))
    rows = build(interpret(reading, site=site), 0).first.uses
    return {row.use: (row.answer, row.why) for row in rows}


def below(slug: str, limit: str, unit: str) -> Result:
    amount = Decimal(limit)
    return Result(slug, slug, f"<{limit}", "below", operator="<", value=amount, unit=unit)


QUIET = "No concern found in what was tested"
HERE = "Of this treated tap only, as long as the equipment works."


def test_a_treated_tap_that_was_tested_answers_for_drinking_from_it() -> None:
    told = answers(below("arsenic", "1", "ug/L"), after="reverse_osmosis")
    assert told["Drink"] == (QUIET, HERE)
    assert told["Cook"] == (QUIET, HERE)
    assert told["Baby, formula"][0] == "Can't tell", "nitrate was not tested"


def test_a_tap_behind_carbon_says_nothing_of_the_vapor_of_the_shower() -> None:
    told = answers(below("benzene", "0.5", "ug/L"), after="carbon_filter")
    assert told["Drink"] == (QUIET, HERE)
    assert told["Bath, shower"][0] == "Can't tell"


def test_what_was_found_behind_the_equipment_still_counts() -> None:
    found = Result("arsenic", "Arsenic", "14", "value", value=Decimal(14), unit="ug/L")
    assert answers(found, after="reverse_osmosis")["Drink"][0] == "Use bottled"

"""The levels room: what holds on which day, what may decide, what a wrong row is told."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from welltold import levels
from welltold.analytes import registry
from welltold.errors import DataFileError, UnknownLevelsError
from welltold.level_rows import level_of_row
from welltold.levels import Level, all_rows, load_levels, printed_limits
from welltold.tables import Row
from welltold.units import unit

PACK = ("us_federal",)
NOW = date(2026, 11, 25)
ROWS = all_rows("us_federal")


def health(slug: str, day: date) -> list[tuple[Decimal | None, str]]:
    return [(lv.value, lv.status) for lv in load_levels(PACK, day).of(slug) if lv.role == "health"]


def test_every_level_is_of_a_known_analyte_and_in_a_known_unit() -> None:
    assert {level.slug for level in ROWS} <= set(registry())
    assert [lv.unit for lv in ROWS if lv.op != "none" and unit(lv.unit) is None] == []


def test_lead_changes_with_the_rule() -> None:
    # 40 CFR 141.80(c)(1): 0.010 mg/L in the code since 2024-12-30; systems comply from 2027-11-01
    old, new = Decimal("0.015"), Decimal("0.010")
    assert health("lead", date(2024, 12, 29)) == [(old, "in_force")]
    assert health("lead", date(2024, 12, 30)) == [(new, "adopted_not_applying"), (old, "in_force")]
    assert health("lead", date(2027, 10, 31)) == [(new, "adopted_not_applying"), (old, "in_force")]
    assert health("lead", date(2027, 11, 1)) == [(new, "in_force")]


def test_pfas_change_with_the_rule() -> None:
    # 89 FR 32532 (effective 2024-06-25, compliance 2029-04-26); proposals of 2026-05-18
    assert [lv for lv in health("pfoa", date(2024, 6, 24)) if lv[1] != "advisory"] == []
    assert health("pfoa", date(2024, 6, 25)) == [(Decimal("4.0"), "adopted_not_applying")]
    assert health("pfoa", date(2029, 4, 26)) == [(Decimal("4.0"), "in_force")]
    assert health("pfna", date(2026, 5, 17)) == [(Decimal(10), "adopted_not_applying")]
    assert health("pfna", date(2026, 5, 18)) == [(Decimal(10), "proposed_withdrawal")]


def test_the_coliform_rule_of_2016() -> None:
    # 40 CFR 141.63(c) and subpart Y apply from 2016-04-01
    before = load_levels(PACK, date(2016, 3, 31))
    after = load_levels(PACK, date(2016, 4, 1))
    assert before.of("total_coliform")[0].kind == "primary_limit"
    assert after.of("total_coliform")[0].kind == "treatment_technique"
    assert [lv.role for lv in before.of("e_coli")] == ["health"]
    assert after.of("e_coli")[0].citation == "40 CFR 141.63(c)"


@pytest.mark.parametrize("day", [date(1999, 1, 1), date(2006, 1, 22)])
def test_a_day_before_the_table_begins_is_refused(day: date) -> None:
    with pytest.raises(UnknownLevelsError, match=r"us_federal from 2006-01-23") as caught:
        load_levels(PACK, day)
    assert str(day) in str(caught.value)


def test_an_unknown_pack_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownLevelsError, match=r"no levels for mars\. Known: us_federal"):
        load_levels(("mars",), NOW)


def test_the_first_day_of_the_table_has_the_arsenic_limit_of_2006() -> None:
    assert health("arsenic", date(2006, 1, 23)) == [(Decimal("0.01"), "in_force")]


def test_nothing_from_memory_proposed_withdrawn_or_a_goal_decides_about_health() -> None:
    strange = [
        level
        for level in ROWS
        if level.role == "health"
        and (
            not level.verified
            or "memory" in level.source
            or level.status in {"proposed", "withdrawn", "no_limit"}
            or (level.kind == "goal" and level.op != "absent")
        )
    ]
    assert strange == []


def test_no_two_rows_of_one_level_hold_on_the_same_day() -> None:
    days = sorted({day for lv in ROWS for day in (lv.effective, lv.until) if day} | {NOW})
    for day in (day for day in days if day >= date(2006, 1, 23)):
        for rows in load_levels(PACK, day).by_slug.values():
            keys = [(lv.programme, lv.kind, lv.form, lv.value, lv.basis) for lv in rows]
            assert len(keys) == len(set(keys)), (day, keys)


def test_every_health_row_names_its_source_and_what_it_guards_against() -> None:
    for level in ROWS:
        assert level.effect
        assert level.citation or level.role == "none"
        assert level.source != "from memory" or not level.verified


@pytest.mark.parametrize(
    ("slug", "values"),
    [
        # current, older and goal values as labs print them in a limit column
        ("lead", {"0.015", "0.01", "0.05"}),
        ("arsenic", {"0.01", "0.05"}),
        ("nitrate", {"10"}),
        ("ph", {"6.5", "8.5"}),
        ("fluoride", {"4.0", "2.0"}),
        ("pfos", {"4.0"}),
        ("aluminum", {"0.05", "0.2"}),
        ("uranium", {"30"}),
        ("total_dissolved_solids", {"500"}),
    ],
)
def test_printed_limits_hold_the_current_and_the_outdated(slug: str, values: set[str]) -> None:
    assert {Decimal(value) for value in values} <= printed_limits(slug)


def test_printed_limits_are_in_the_analytes_own_unit() -> None:
    # 45 mg/L as NO3, printed by some labs, is 10.165 mg/L as N (62.004 / 14.007)
    nitrate = sorted(value.quantize(Decimal("0.001")) for value in printed_limits("nitrate"))
    assert Decimal("10.166") in nitrate or Decimal("10.165") in nitrate
    assert max(nitrate) < Decimal("10.2")


def test_printed_limits_leave_out_what_is_no_limit() -> None:
    assert Decimal("0.005") not in printed_limits("arsenic")  # the number for a notice only
    assert printed_limits("calcium") == frozenset()


GOOD = {
    "slug": "arsenic",
    "programme": "EPA limit",
    "kind": "primary_limit",
    "form": "limit",
    "op": "max",
    "low": "",
    "value": "0.01",
    "unit": "mg/L",
    "basis": "",
    "role": "health",
    "acute": "no",
    "persons": "",
    "effect": "cancer",
    "status": "in_force",
    "effective": "2006-01-23",
    "until": "",
    "dated": "rule",
    "verified": "yes",
    "citation": "40 CFR 141.62(b)(16)",
    "source": "40 CFR 141.62(b)",
}


def parse(**changes: str) -> Level:
    return level_of_row(Row("levels.csv", 7, GOOD | changes))


def test_a_good_row_is_read() -> None:
    level = parse()
    assert level.holds(date(2006, 1, 23))
    assert not level.holds(date(2006, 1, 22))


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"verified": "no"}, "not read in a source"),
        ({"citation": ""}, "not read in a source"),
        ({"status": "proposed"}, "is proposed cannot decide"),
        ({"status": "withdrawn"}, "is withdrawn cannot decide"),
        ({"kind": "goal"}, "goal cannot decide"),
        ({"kind": "rule"}, "'rule' is not one of"),
        ({"value": ""}, "op max does not fit"),
        ({"op": "range"}, "op range does not fit"),
        ({"op": "none"}, "op none does not fit"),
        ({"value": "ten"}, "'ten' is not a number"),
        ({"effective": "2006-13-01"}, "is not a date"),
        ({"until": "2006-01-23"}, "until is not after effective"),
        ({"persons": "martian"}, "martian not known"),
        ({"role": "person"}, "persons and role do not fit"),
        ({"acute": "perhaps"}, "'perhaps' is not one of"),
    ],
)
def test_a_wrong_row_is_told_by_file_and_line(changes: dict[str, str], problem: str) -> None:
    with pytest.raises(DataFileError, match=r"levels\.csv, line 7") as caught:
        parse(**changes)
    assert problem in str(caught.value)


def test_the_table_opens_with_its_grammar_and_its_date() -> None:
    text = (Path(levels.__file__).parent / "data" / "levels_us_federal.csv").read_text("utf-8")
    head = text[: text.index("\nslug,")]
    assert all(line.startswith("#") for line in head.splitlines())
    columns = next(line for line in text.splitlines() if not line.startswith("#")).split(",")
    assert [column for column in columns if column not in head] == []
    assert "Compiled 2026-11-25" in head

"""What holds on which day, told by statuses with dates; and what is not used before it was read."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import UnknownLevelsError
from welltold.levels import MAY_DECIDE, all_rows, known_packs, load_levels
from welltold.reading import Reading, Source
from welltold.verdicts import interpret

ALL = tuple(known_packs())
START, END = date(2006, 1, 23), date(2040, 1, 1)


def health(slug: str, day: str, *packs: str) -> list[tuple[str, str, str]]:
    """Programme, number and status of the levels that may decide about health."""
    rows = load_levels(packs, date.fromisoformat(day)).of(slug)
    return [
        (level.programme.split()[0], f"{level.value:f}", level.status)
        for level in rows
        if level.role == "health"
    ]


# 40 CFR 141.80(c)(1) and 89 FR 86418: 0.010 mg/L in the code since 2024-12-30; systems comply from
# 2027-11-01 and use 0.015 until then
@pytest.mark.parametrize(
    ("day", "wanted"),
    [
        ("2024-12-29", [("EPA", "0.015", "in_force")]),
        ("2024-12-30", [("EPA", "0.01", "adopted_not_applying"), ("EPA", "0.015", "in_force")]),
        ("2027-10-31", [("EPA", "0.01", "adopted_not_applying"), ("EPA", "0.015", "in_force")]),
        ("2027-11-01", [("EPA", "0.01", "in_force")]),
    ],
)
def test_lead_from_one_rule_to_the_next(day: str, wanted: list[tuple[str, str, str]]) -> None:
    assert health("lead", day) == wanted


# 89 FR 32532: in the code since 2024-06-25, systems comply from 2029-04-26. Two proposals of
# 2026-05-18: to withdraw PFHxS, PFNA, HFPO-DA and the hazard index, and to let systems ask for
# 2031-04-26 on PFOA and PFOS. A proposal changes no date.
@pytest.mark.parametrize(
    ("slug", "day", "status"),
    [
        ("pfoa", "2026-11-25", "adopted_not_applying"),
        ("pfos", "2026-11-25", "adopted_not_applying"),
        ("pfoa", "2029-04-25", "adopted_not_applying"),
        ("pfoa", "2029-04-26", "in_force"),
        ("pfos", "2029-04-26", "in_force"),
        ("pfoa", "2031-04-26", "in_force"),
        ("pfhxs", "2026-05-17", "adopted_not_applying"),
        ("pfhxs", "2026-05-18", "proposed_withdrawal"),
        ("pfna", "2029-04-26", "proposed_withdrawal"),
        ("hfpo_da", "2031-04-26", "proposed_withdrawal"),
        ("pfas_hazard_index", "2026-11-25", "proposed_withdrawal"),
    ],
)
def test_pfas_from_2026_to_2031(slug: str, day: str, status: str) -> None:
    rules = [one for one in health(slug, day) if one[2] != "advisory"]
    assert [one[2] for one in rules] == [status]


# Maine: Resolve 2021 c. 82 until systems must meet the rule of 2025-12-01 in April 2029
@pytest.mark.parametrize(
    ("day", "six", "pfoa"),
    [
        ("2021-06-22", [], []),
        ("2025-11-30", ["in_force"], []),
        ("2025-12-01", ["in_force"], ["adopted_not_applying"]),
        ("2029-04-25", ["in_force"], ["adopted_not_applying"]),
        ("2029-04-26", [], ["in_force"]),
    ],
)
def test_maine_from_its_interim_limit_to_its_rule(
    day: str, six: list[str], pfoa: list[str]
) -> None:
    assert [one[2] for one in health("pfas_6", day, "maine")] == six
    assert [one[2] for one in health("pfoa", day, "maine") if one[0] == "Maine"] == pfoa


@pytest.mark.parametrize(
    ("pack", "slug", "last_without", "first"),
    [
        ("new_jersey", "pfoa", "2020-05-31", "2020-06-01"),  # N.J. notice of 2020-06-01
        ("michigan", "pfna", "2020-08-02", "2020-08-03"),  # R 325.10604g, effective date
        ("pennsylvania", "pfos", "2023-01-13", "2023-01-14"),  # published and in force
        ("massachusetts", "pfas_6", "2020-10-01", "2020-10-02"),
        ("massachusetts", "perchlorate", "2006-07-27", "2006-07-28"),  # "Changes Effective"
        ("california", "chromium_vi", "2024-09-30", "2024-10-01"),
        ("vermont", "pfas_5", "2020-03-16", "2020-03-17"),
        ("canada", "strontium", "2019-05-24", "2019-05-25"),  # Canada Gazette
        ("canada", "pfas_25", "2024-08-08", "2024-08-09"),
    ],
)
def test_a_level_holds_from_its_first_day(
    pack: str, slug: str, last_without: str, first: str
) -> None:
    def own(day: str) -> bool:
        rows = load_levels((pack,), date.fromisoformat(day)).of(slug)
        return any(level.pack == pack and level.role == "health" for level in rows)

    assert not own(last_without)
    assert own(first)


def test_a_level_without_a_first_day_is_not_used_before_it_was_read_and_says_so() -> None:
    # N.J.A.C. 7:10-5.2 was read in a text current through 2024-12-18; no first day was read
    before = load_levels(("new_jersey",), date(2024, 12, 17))
    assert [level.pack for level in before.of("benzene") if level.role == "health"] == [
        "us_federal"
    ]
    (note,) = before.notes("benzene")
    assert "New Jersey limit for benzene: read on 2024-12-18" in note.text
    assert "not used for 2024-12-17" in note.text
    after = load_levels(("new_jersey",), date(2024, 12, 18))
    assert after.of("benzene")[0].pack == "new_jersey"
    assert after.notes("benzene") == ()


def test_a_known_first_day_needs_no_note() -> None:
    assert load_levels(("new_jersey",), date(2010, 1, 1)).notes("pfoa") == ()


def test_levels_that_are_held_back_are_counted_by_pack() -> None:
    known = load_levels(("new_jersey", "michigan"), date(2024, 1, 1))
    texts = [note.text for note in known.notes()]
    assert any(
        text.startswith("Of the levels in new_jersey, 17 ") for text in texts
    )  # table 1 has 17 rows
    assert not any("michigan" in text for text in texts)


def test_the_interpretation_says_what_is_not_used() -> None:
    reading = Reading(Source("sheet.csv", "0" * 64, "csv", 1))
    before = interpret(reading, as_of=date(2024, 12, 17), packs=("new_jersey",))
    assert any("in new_jersey, 17 " in note.text for note in before.reading.warnings)
    assert interpret(reading, as_of=date(2026, 11, 25)).reading.warnings == ()


def test_the_command_says_what_is_not_used() -> None:
    words = ("levels", "--levels", "new_jersey", "--as-of", "2024-12-17", "benzene")
    done = CliRunner().invoke(app, words, catch_exceptions=False)
    assert "first day is not known" in done.output


@given(st.dates(START, END))
def test_on_every_day_all_packs_load_and_what_decides_may_decide(day: date) -> None:
    known = load_levels(ALL, day)
    for rows in known.by_slug.values():
        for level in rows:
            assert level.holds(day)
            assert level.role == "none" or level.verified
            assert level.role != "health" or level.status in MAY_DECIDE
            assert level.status not in {"proposed", "withdrawn"} or level.role in {"watch", "none"}
    assert all(level.effective > day for level in known.held_back)


def test_a_status_ends_on_the_day_on_which_the_next_begins() -> None:
    for pack in ALL:
        rows = all_rows(pack)
        for row in (row for row in rows if row.status == "adopted_not_applying"):
            assert row.until is not None, row
            following = [
                other
                for other in rows
                if (other.slug, other.programme, other.value)
                == (row.slug, row.programme, row.value)
                and other.effective == row.until
            ]
            assert [other.status for other in following] in (["in_force"], ["proposed_withdrawal"])


def test_a_day_before_a_pack_begins_is_told_by_name() -> None:
    with pytest.raises(UnknownLevelsError, match=r"us_federal from 2006-01-23"):
        load_levels(("who",), START - timedelta(days=1))


def test_the_number_that_is_outdated_is_not_the_one_that_decides() -> None:
    # Canada's iron objective was 0.3 mg/L and is 0.1 since 2024
    def iron(day: str) -> list[Decimal | None]:
        rows = load_levels(("canada",), date.fromisoformat(day)).of("iron")
        return [level.value for level in rows if level.pack == "canada"]

    assert iron("2024-01-01") == [Decimal("0.3")]
    assert iron("2025-01-01") == [Decimal("0.1")]

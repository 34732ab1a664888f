"""The sentences of the verdicts, and the tables that choose them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from welltold import verdicts
from welltold.analytes import registry
from welltold.messages import catalogue
from welltold.tables import read_table
from welltold.verdicts.tables import core_tests, totals
from welltold.verdicts.wording import plain, ratio_words, times

if TYPE_CHECKING:
    from .conftest import Bench

ROOM = Path(verdicts.__file__).parent
SENTENCES = catalogue("verdict")
BESIDE = {
    f"{room}.{name}": text
    for room in ("doubt", "rule", "cause")
    for name, text in catalogue(room).items()
}
"""Sentences of the rooms beside: doubt, rules, causes."""
FORBIDDEN = (
    "safe|unsafe|pure|clean bill|ok to drink|potable|passed|failed|acceptable|normal|guaranteed|"
    "risk-free|no risk|harmless|toxic|poison|chemical-free|trace amount|exceedance|violation|"
    "legal limit|epa-approved|epa requires|must buy|score|grade|rating|nd|n/a|bdl|mcl|smcl"
)


def used_codes() -> Iterator[str]:
    """Yield the catalogue names that the code and the tables ask for."""
    for path in ROOM.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield node.value.removeprefix("verdict.")
    yield from (f"do_{row.text('step')}" for row in read_table("step_when.csv"))
    for name in ("first_steps.csv", "sampling_doubts.csv", "flag_effects.csv", "sample_rules.csv"):
        for row in read_table(name):
            yield from (f"do_{step}" for step in row.cells["steps"].split("|"))
            yield row.cells.get("why", "")
    yield from (row.text("why") for row in read_table("basis_evidence.csv"))
    yield from (f"untested_{test.why}" for test in core_tests())
    yield from (f"how_{test.how}" for test in core_tests())


def test_every_sentence_is_used_and_every_step_has_its_sentence() -> None:
    codes = set(used_codes())
    ratios = {f"ratio_{word}" for word in codes} | {"ratio_about_plain"}
    assert set(SENTENCES) - codes - ratios == set()
    asked = {
        f"do_{s}" for row in read_table("first_steps.csv") for s in row.text("steps").split("|")
    }
    assert asked - {"do_germs"} <= set(SENTENCES)
    assert {f"untested_{test.why}" for test in core_tests()} <= set(SENTENCES)


def test_no_sentence_holds_a_word_that_promises_or_frightens() -> None:
    told = {**SENTENCES, **BESIDE}
    wrong = {n for n, s in told.items() if re.search(rf"\b({FORBIDDEN})\b", s, re.IGNORECASE)}
    assert wrong == set()


def sentences(text: str) -> list[int]:
    filled = re.sub(r"\{[a-z_]+\}", "five", text.replace("E. coli", "Ecoli"))
    return [len(part.split()) for part in re.split(r"(?<=[.?!])\s+", filled) if part]


def test_sentences_are_short() -> None:
    told = (*SENTENCES.values(), *BESIDE.values())
    lengths = [n for text in told for n in sentences(text)]
    assert max(lengths) <= 22
    assert sum(lengths) / len(lengths) <= 14


def test_boiling_is_advised_only_behind_the_boil_rule() -> None:
    advised = {
        name
        for name, text in SENTENCES.items()
        if name.startswith("do_") and re.search(r"\bboil", text, re.IGNORECASE)
    }
    allowed = {
        n
        for n in advised
        if re.search(r"(?i)never boil|do not boil|no boiling|boiling does not", SENTENCES[n])
    }
    assert advised - allowed == {
        "do_germs_boil",
        "do_germs_boil_3",
        "do_germs_boil_high",
        "do_germs_others_boil",
        "do_germs_others_boil_3",
    }
    steps = {s for row in read_table("first_steps.csv") for s in row.text("steps").split("|")}
    assert not {"germs_boil", "germs_boil_high", "germs_bottled"} & steps


@pytest.mark.parametrize(
    ("value", "code"),
    [
        # the edges of the ratio words, level 10
        ("4.99", "ratio_less_than_half"),
        ("5", "ratio_below"),
        ("8.99", "ratio_below"),
        ("9", "ratio_just_below"),
        ("9.99", "ratio_just_below"),
        ("10", "ratio_at"),
        ("10.01", "ratio_just_above"),
        ("11", "ratio_just_above"),
        ("11.01", "ratio_about_plain"),
        ("100", "ratio_about_plain"),
    ],
)
def test_ratio_words_at_their_edges(value: str, code: str) -> None:
    assert ratio_words(Decimal(value), Decimal(10)).code == f"verdict.{code}"


@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        ("1.11", "1.1"),
        ("1.15", "1.2"),
        ("1.6", "1.6"),
        ("2", "2"),
        ("9.96", "10"),
        ("10.4", "10"),
        ("23.4", "23"),
        ("234", "230"),
        ("2345", "2,300"),
    ],
)
def test_ratios_have_two_digits(ratio: str, words: str) -> None:
    assert times(Decimal(ratio)) == words


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("16", "16"),
        ("0.0015", "0.0015"),
        ("1E+3", "1,000"),
        ("2419.6", "2,419.6"),
        ("2.71085736404102961", "2.71"),
        ("171.18", "171.18"),
        ("10.0", "10.0"),
        ("123456789", "123,000,000"),
    ],
)
def test_numbers_have_no_exponent_and_no_digits_of_arithmetic(value: str, text: str) -> None:
    assert plain(Decimal(value)) == text


def test_a_level_is_told_in_a_unit_in_which_it_is_one_or_more(bench: Bench) -> None:
    # 40 CFR 141.153(d): units in which the level is a number of 1 or more
    told = " ".join(m.text for m in bench.judge(bench.result("lead", "0.016", "mg/L")).why)
    assert "Lead is 16 µg/L" in told
    assert "10 µg/L" in told
    assert "0.01" not in told


def test_a_ratio_comes_with_what_it_does_not_mean(bench: Bench) -> None:
    told = " ".join(m.text for m in bench.judge(bench.result("arsenic", "16", "ug/L")).why)
    assert "about 1.6 times the level. It does not mean 1.6 times the risk." in told


@pytest.mark.parametrize(
    ("slug", "text", "unit"),
    [("ph", "5", "SU"), ("e_coli", "5", "CFU/100mL"), ("arsenic", "<0.001", "mg/L")],
)
def test_some_numbers_have_no_ratio(bench: Bench, slug: str, text: str, unit: str) -> None:
    told = bench.judge(bench.result(slug, text, unit)).why
    assert not [m for m in told if "ratio" in m.code]


@pytest.mark.parametrize(("text", "steps"), [("<6.2", ()), ("<7", ("do_ask_lab_number_found",))])
def test_a_strip_below_a_range_is_told_with_both_ends(
    bench: Bench, text: str, steps: tuple[str, ...]
) -> None:
    # 40 CFR 143.3: pH from 6.5 to 8.5; a test that sees 8.5 or less would settle nothing
    found = bench.judge(bench.result("ph", text, "SU"))
    edge = text.removeprefix("<")
    level = "The EPA level for taste, color and stains runs from 6.5 to 8.5."
    assert f"pH is less than {edge}. {level}" in [m.text for m in found.why]
    assert tuple(m.code.removeprefix("verdict.") for m in found.do) == steps


def test_an_action_level_is_told_to_be_no_level_of_one_tap(bench: Bench) -> None:
    told = " ".join(m.text for m in bench.judge(bench.result("lead", "16", "ug/L")).why)
    assert "EPA's own goal is zero" in told
    assert "15 µg/L" in told


def test_the_tables_name_known_analytes_only() -> None:
    known = set(registry())
    named = {part.slug for total in totals() for part in total.parts}
    named |= {total.slug for total in totals()}
    named |= {slug for total in totals() for part in total.parts for slug in part.covers}
    named |= {slug for test in core_tests() for slug in (test.slug, *test.met_by)}
    named -= {slug for slug in named if slug.startswith("group:")}
    named |= {row.text("slug") for row in read_table("analyte_words.csv")}
    named |= {
        row.text("slug")
        for row in read_table("first_steps.csv")
        if row.text("slug") != "*" and not row.text("slug").startswith("group:")
    }
    assert named <= known


@pytest.mark.parametrize(
    "name", ["analyte_words.csv", "first_steps.csv", "core_tests.csv", "sums.csv"]
)
def test_every_table_explains_its_columns(name: str) -> None:
    text = (ROOM.parent / "data" / name).read_text("utf-8")
    lines = text.splitlines()
    head = "\n".join(line for line in lines if line.startswith("#"))
    columns = next(line for line in lines if not line.startswith("#")).split(",")
    assert [column for column in columns if column not in head] == []
    assert "Compiled" in head


def test_every_person_and_every_step_has_a_source() -> None:
    for row in read_table("analyte_words.csv"):
        assert row.cells["source"] or not row.cells["persons"]
    for name in ("first_steps.csv", "core_tests.csv"):
        assert all(row.text("source") for row in read_table(name))


def test_every_sentence_of_the_rooms_beside_is_used() -> None:
    asked = {f"doubt.{code}" for code in used_codes()} | {f"rule.{code}" for code in used_codes()}
    code = "\n".join(path.read_text("utf-8") for path in ROOM.glob("*.py"))
    for row in read_table("causes.csv"):
        asked |= {f"cause.{row.cells['say']}", f"cause.name_{row.text('cause')}"}
    asked |= {f"rule.label_{row.text('rule')}" for row in read_table("sample_rules.csv")}
    asked |= {f"doubt.{row.text('why')}" for row in read_table("waiting_limits.csv")}
    unused = {name for name in set(BESIDE) - asked if f'"{name}"' not in code}
    assert unused == set()


def test_every_step_says_how_soon() -> None:
    named = {row.text("step") for row in read_table("step_when.csv")}
    steps = {name.removeprefix("do_") for name in SENTENCES if name.startswith("do_")}
    assert named == steps


@pytest.mark.parametrize(
    "name",
    [
        "basis_evidence.csv",
        "causes.csv",
        "equipment_hides.csv",
        "flag_effects.csv",
        "remarks.csv",
        "sample_rules.csv",
        "sampling_doubts.csv",
        "step_when.csv",
        "test_precision.csv",
        "waiting_limits.csv",
    ],
)
def test_every_table_of_doubt_explains_its_columns_and_names_its_sources(name: str) -> None:
    text = (ROOM.parent / "data" / name).read_text("utf-8")
    head = "\n".join(line for line in text.splitlines() if line.startswith("#"))
    rows = list(read_table(name))
    assert [column for column in rows[0].cells if column not in head] == []
    assert "Compiled" in head
    assert all(row.text("source") for row in rows)


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        # at most the lab's digits after converting; more where fewer would reach the level
        ("0.8", "ug/L", "Lead is 0.8 µg/L"),
        ("0.0008000", "mg/L", "Lead is 0.8000 µg/L"),
        ("0.016", "mg/L", "Lead is 16 µg/L"),
        ("10.4", "ug/L", "Lead is 10.4 µg/L"),
    ],
)
def test_numbers_have_the_labs_own_digits(bench: Bench, text: str, unit: str, words: str) -> None:
    told = bench.judge(bench.result("lead", text, unit)).why[0].text
    assert words in told


def test_a_converted_number_stays_on_its_side_of_the_level(bench: Bench) -> None:
    # 45 as NO3 is 10.166 as N; two digits would print "10", right on the level
    told = bench.judge(bench.result("nitrate", "45", "mg/L", "NO3")).why[0].text
    assert "Nitrate is 10.2 mg/L as N" in told
    low = bench.judge(bench.result("nitrate", "12", "mg/L", "NO3")).why[0].text
    assert "Nitrate is 2.7 mg/L as N" in low

"""The sentences and tables of the search, and what one row says against itself."""

from __future__ import annotations

import ast
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import textstat
from checks.made import row

import welltold
from welltold.analytes import registry
from welltold.messages import catalogue
from welltold.reading import Result, Sample
from welltold.site import Site
from welltold.slips import Suspect, suspects
from welltold.slips.rows import contradictions
from welltold.slips.rules import slips, status_words, usual
from welltold.slips.telling import sentences
from welltold.tables import read_table

ROOT = Path(welltold.__file__).parent
SENTENCES = catalogue("slip")
TABLES = ("slips.csv", "slip_rules.csv", "slip_usual.csv", "slip_words.csv")
FORBIDDEN = (
    "safe|unsafe|pure|passed|failed|acceptable|normal|guaranteed|harmless|toxic|violation|"
    "legal limit|exceedance|score|grade|rating|wrong"
)


def told(**more: Any) -> list[str]:
    given: dict[str, Any] = {
        "analyte": "chloride",
        "kind": "decimal",
        "printed": "120",
        "proposed": "12.0",
        "settles": ("ion_balance", "solids_of_ions"),
        "agree": ("hardness_of_parts", "solids_of_conductance"),
        "where": (),
        "share": 0.9,
    }
    return [message.text for message in sentences(Suspect(**(given | more)))]


def test_the_sentence_that_was_asked_for() -> None:
    assert told()[0] == "If chloride is 12.0 and not 120, four checks agree."
    assert told()[1] == "As printed, two checks agree."


@pytest.mark.parametrize(
    ("more", "first", "second"),
    [
        (
            {"kind": "swap", "other": "sulfate", "agree": ("hardness_of_parts",)},
            "If chloride is 12.0 and sulfate is 120, the other way round, three checks agree.",
            "As printed, one check agrees.",
        ),
        (
            {"kind": "basis", "analyte": "nitrate", "printed": "22 mg/L as N", "agree": ()}
            | {"proposed": "22 mg/L as NO3"},
            "If nitrate counts as 22 mg/L as NO3 and not as 22 mg/L as N, two checks agree.",
            "As printed, no check agrees.",
        ),
    ],
)
def test_swaps_and_bases_in_words(more: dict[str, Any], first: str, second: str) -> None:
    assert told(**more)[:2] == [first, second]


def test_every_sentence_is_used_short_and_easy() -> None:
    used = {
        node.value.removeprefix("slip.")
        for node in ast.walk(ast.parse((ROOT / "slips" / "telling.py").read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert set(SENTENCES) <= used
    plain = [re.sub(r"\{[a-z_]+\}", "five", text) for text in SENTENCES.values()]
    parts = [part for text in plain for part in re.split(r"(?<=[.?!])\s+", text) if part]
    assert max(len(part.split()) for part in parts) <= 22
    assert textstat.flesch_kincaid_grade(" ".join(plain)) <= 7
    assert not re.search(rf"\b({FORBIDDEN})\b", " ".join(plain), re.IGNORECASE)


@pytest.mark.parametrize("name", TABLES)
def test_tables_explain_themselves_and_give_a_source(name: str) -> None:
    lines = (ROOT / "data" / name).read_text("utf-8").splitlines()
    head = "\n".join(line for line in lines if line.startswith("#"))
    columns = next(line for line in lines if not line.startswith("#")).split(",")
    assert [column for column in columns if not re.search(rf"^# {column} ", head, re.M)] == []
    assert "Compiled" in head
    assert all(one.text("source") for one in read_table(name))


def test_every_number_of_the_rules_is_used() -> None:
    code = "\n".join(path.read_text("utf-8") for path in (ROOT / "slips").glob("*.py"))
    names = [one.text("name") for one in read_table("slip_rules.csv")]
    assert [name for name in names if f'"{name}"' not in code] == []
    assert len(names) == len(set(names))


def test_the_tables_name_what_there_is() -> None:
    assert set(usual()) <= set(registry())
    for slip in slips()["basis"]:
        printed, meant = slip.change.split(">")
        assert slip.of in registry()
        assert printed != meant
    for slip in slips()["digit"]:
        assert re.fullmatch(r"\d-\d", slip.of)
        assert slip.of[0] < slip.of[2]
    assert all(word == word.upper() for word in status_words())


def marked(slug: str, text: str, word: str, limit: str, **more: Any) -> Result:
    return row(slug, text, qualifiers=(word,), printed_limit=limit, **more)


@pytest.mark.parametrize(
    ("text", "word", "limit", "contradicts"),
    [
        ("0.50", "HIGH", "0.3", False),
        ("0.05", "HIGH", "0.3", True),
        ("0.50", "Pass", "0.3", True),
        ("0.30", "Pass", "0.3", False),
        ("<0.05", "Fail", "0.3", True),
        ("0.05", "J", "0.3", False),
        ("0.05", "HIGH", "6.5 - 8.5", False),
        ("0.05", "HIGH", "report", False),
    ],
)
def test_the_labs_word_against_its_own_limit(
    text: str, word: str, limit: str, contradicts: bool
) -> None:
    found = contradictions(marked("iron", text, word, limit))
    assert found == (("status_column:iron",) if contradicts else ())


@pytest.mark.parametrize(
    ("text", "marks", "contradicts"),
    [("0.02", (), True), ("0.02", ("J",), False), ("0.05", (), False), ("<0.02", (), False)],
)
def test_a_number_under_its_reporting_limit(
    text: str, marks: tuple[str, ...], contradicts: bool
) -> None:
    result = row("iron", text, reporting_limit=Decimal("0.05"), qualifiers=marks)
    assert contradictions(result) == (("reporting_limit:iron",) if contradicts else ())


def test_a_metal_whose_point_moved_under_its_limits() -> None:
    # 0.45 mg/L of iron over the printed 0.3 was flagged HIGH; printed 0.045 is under both limits
    kept = marked("iron", "0.045", "HIGH", "0.3", reporting_limit=Decimal("0.050"))
    others = (
        row("manganese", "0.08", reporting_limit=Decimal("0.010")),
        row("copper", "0.21", reporting_limit=Decimal("0.010")),
    )
    (first, *_) = suspects(Sample(results=(kept, *others)), Site())
    assert (first.analyte, first.kind, first.proposed) == ("iron", "decimal", "0.45")
    assert first.settles == ("reporting_limit:iron", "status_column:iron")
    assert first.agree == ()


def test_one_odd_row_alone_names_no_number() -> None:
    odd = row("iron", "0.045", reporting_limit=Decimal("0.050"))
    beside = row("manganese", "0.08", reporting_limit=Decimal("0.010"))
    assert suspects(Sample(results=(odd, beside)), Site()) == ()

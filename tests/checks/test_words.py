"""The sentences and tables of the checks and of the indices."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest
import textstat
from jsonschema import Draft202012Validator

import welltold
from welltold.analytes import registry
from welltold.checks.hold_times import holds
from welltold.checks.salts import MINOR, NEEDED
from welltold.chemistry.ions import ions
from welltold.chemistry.ranges import formulas
from welltold.chemistry.told import WAYS
from welltold.jsonform import to_jsonable
from welltold.messages import catalogue
from welltold.tables import read_table

ROOT = Path(welltold.__file__).parent
SAMPLES = Path(__file__).parents[2] / "samples" / "sheets"
SENTENCES = catalogue("check")
FORBIDDEN = (
    "safe|unsafe|pure|clean bill|ok to drink|potable|passed|failed|acceptable|normal|guaranteed|"
    "risk-free|no risk|harmless|toxic|poison|chemical-free|trace amount|exceedance|violation|"
    "legal limit|epa-approved|epa requires|must buy|score|grade|rating|nd|n/a|bdl|mcl|smcl"
)
TABLES = (
    "checks.csv",
    "equilibria.csv",
    "hold_times.csv",
    "index_words.csv",
    "indices.csv",
    "ions.csv",
    "possible_values.csv",
)


def said() -> Iterator[str]:
    """Yield every text in the code that may name a sentence, and those that the tables name."""
    for room in ("checks", "chemistry"):
        for path in (ROOT / room).glob("*.py"):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value.removeprefix("check.")
    yield from (f"index_{row.text('says')}" for row in read_table("index_words.csv"))


def test_every_sentence_is_used_and_every_code_has_its_sentence() -> None:
    codes = set(said())
    built = {f"{kind}_{name}" for name in codes for kind in ("settle", "slip", "hint", "dates")}
    assert set(SENTENCES) - codes - built == set()
    named = {f"index_{row.text('says')}" for row in read_table("index_words.csv")}
    assert named <= set(SENTENCES)


def test_no_sentence_promises_or_frightens() -> None:
    wrong = {n for n, s in SENTENCES.items() if re.search(rf"\b({FORBIDDEN})\b", s, re.IGNORECASE)}
    assert wrong == set()


def plain_text(text: str) -> str:
    return re.sub(r"\{[a-z_]+\}", "five", text.replace("E. coli", "Ecoli"))


def test_sentences_are_short_and_easy() -> None:
    parts = [
        part
        for text in SENTENCES.values()
        for part in re.split(r"(?<=[.?!:])\s+", plain_text(text))
    ]
    lengths = [len(part.split()) for part in parts if part]
    assert max(lengths) <= 22
    assert sum(lengths) / len(lengths) <= 14
    whole = " ".join(plain_text(text) for text in SENTENCES.values())
    assert textstat.flesch_kincaid_grade(whole) <= 7


def test_no_index_speaks_against_a_measured_metal() -> None:
    explains = SENTENCES["index_explains"]
    assert "Lead and copper measured at the tap decide" in explains
    promised = [n for n, s in SENTENCES.items() if re.search(r"no (lead|copper|metal)", s)]
    assert promised == []


@pytest.mark.parametrize("name", TABLES)
def test_every_table_explains_its_columns_and_its_date(name: str) -> None:
    lines = (ROOT / "data" / name).read_text("utf-8").splitlines()
    head = "\n".join(line for line in lines if line.startswith("#"))
    columns = next(line for line in lines if not line.startswith("#")).split(",")
    assert [column for column in columns if column not in head] == []
    assert "Compiled" in head


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_a_source(name: str) -> None:
    column = "source" if "source" in next(iter(read_table(name))).cells else "citation"
    assert all(row.text(column) for row in read_table(name))


def test_the_tables_name_known_analytes() -> None:
    named = {slug for hold in holds() for slug in hold.slugs} | set(NEEDED) | set(MINOR)
    named |= {row.text("slug") for row in read_table("possible_values.csv")}
    named |= set(ions()) - {"hydrogen"}
    assert named <= set(registry())


def test_every_number_of_the_table_is_used() -> None:
    code = "\n".join(path.read_text("utf-8") for path in (ROOT / "checks").glob("*.py"))
    for row in read_table("checks.csv"):
        assert f'"{row.text("name")}"' in code, row.cells
        assert f'"{row.text("check")}' in code, row.cells


def test_equivalents_follow_from_the_registry() -> None:
    for slug, ion in ions().items():
        own = registry().get(slug)
        if own is None or own.molar_mass is None or not own.charge or own.basis == "N":
            continue
        charge = abs(own.charge)
        assert ion.per_meq == pytest.approx(float(own.molar_mass) / charge, rel=2e-4), slug


def test_what_ions_weigh_and_leave() -> None:
    """From the atomic masses: nitrogen, iron and manganese; what is left when they are dried."""
    weights = {"ammonia": 14.007, "nitrate": 14.007, "iron": 55.845 / 2, "manganese": 54.938 / 2}
    for slug, weight in weights.items():
        assert ions()[slug].per_meq == pytest.approx(weight, rel=2e-4)
    assert ions()["hydrogen"].per_meq == pytest.approx(1.008, rel=1e-3)
    assert ions()["alkalinity"].per_meq == pytest.approx(100.087 / 2, rel=1e-4)
    dry = {"nitrate": 62.005 / 14.007, "ammonia": 18.039 / 14.007, "alkalinity": 60.009 / 100.087}
    dry |= {"hydrogen": 0.0}
    for slug, ion in ions().items():
        assert ion.in_solids == pytest.approx(dry.get(slug, 1.0), rel=2e-3), slug


def test_every_index_has_its_formula_and_its_words() -> None:
    told = {row.text("index") for row in read_table("index_words.csv")}
    assert set(WAYS) == told
    assert set(WAYS) == set(formulas()) - {"carbonate"}


def test_the_reports_of_all_samples_keep_the_contract() -> None:
    schema = files("welltold") / "data" / "schemas" / "welltold.report-1.json"
    validator = Draft202012Validator(json.loads(schema.read_text("utf-8")))
    seen = 0
    for path in sorted(SAMPLES.iterdir()):
        try:
            reading = welltold.read(path)
        except welltold.WelltoldError:
            continue
        view = welltold.interpret(reading, as_of=date(2026, 11, 25))
        assert not list(validator.iter_errors(to_jsonable(view)))
        seen += sum(len(sample.checks or ()) for sample in view.samples)
    assert seen > 50

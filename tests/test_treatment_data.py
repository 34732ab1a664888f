"""The tables and sentences of the treatment room hold together."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from welltold.analytes import registry
from welltold.interpretation import Person
from welltold.messages import catalogue
from welltold.site_keys import stage_names
from welltold.tables import read_table
from welltold.treatment import knowledge
from welltold.treatment.facts import _CHECKS
from welltold.treatment.retest import FOUND, retest_rows
from welltold.treatment.steps import step_rows
from welltold.units import unit

ROOM = Path(str(files("welltold"))) / "treatment"
TABLES = (
    "stage_choice.csv",
    "treatment_steps.csv",
    "retest.csv",
)
# The stage names that the report and the site file promise.
PROMISED = set(
    "sediment_filter calcite_neutralizer calcite_magnesia_neutralizer soda_ash_feed "  # noqa: SIM905
    "air_injection_filter oxidizing_filter chlorine_feed peroxide_feed permanganate_feed "
    "greensand_filter retention_tank carbon_filter carbon_block_tap ultrafilter "
    "copper_zinc_filter softener tannin_exchanger anion_exchanger arsenic_adsorber "
    "multi_layer_filter fluoride_adsorber aerator uv reverse_osmosis distiller lead_cartridge "
    "shock_chlorination".split()
)
FORBIDDEN = (
    "safe|unsafe|pure|clean bill|potable|passed|failed|acceptable|normal|guaranteed|harmless|"
    "toxic|poison|trace|violation|legal limit|exceedance|must buy|score|grade|rating|ND|N/A|BDL"
)
SENTENCES = ("because_", "caution_", "waste_", "refused_", "step_", "retest_", "for_", "against_")


def test_every_promised_stage_is_there_and_no_other() -> None:
    assert set(stage_names()) == PROMISED
    assert set(knowledge.stages()) == PROMISED


@pytest.mark.parametrize("table", TABLES)
def test_every_row_has_its_source(table: str) -> None:
    for row in read_table(table):
        assert row.text("citation"), f"{table}, line {row.line}"


@pytest.mark.parametrize("table", TABLES)
def test_every_file_opens_with_its_grammar_and_date(table: str) -> None:
    text = (files("welltold") / "data" / table).read_text("utf-8")
    assert text.startswith("#")
    assert "2026-" in text.split("\n\n")[0]


def test_every_analyte_named_is_in_the_registry() -> None:
    known = set(registry())
    for slug in knowledge.needs():
        assert slug in known or slug.startswith("group:"), slug
    groups = {analyte.group for analyte in registry().values()}
    named = {slug.removeprefix("group:") for slug in knowledge.needs() if ":" in slug}
    assert named <= groups
    for row in retest_rows():
        assert row.analytes == (FOUND,) or set(row.analytes) <= known


def test_every_condition_can_be_evaluated() -> None:
    made_up = {"iron_and_manganese", "coliform"}
    for stage in stage_names():
        for row in knowledge.conditions(stage):
            if row.op == "check":
                continue
            assert row.fact in registry() or row.fact in made_up, row
            assert row.unit is None or unit(row.unit), row


def test_every_condition_and_choice_belongs_to_a_stage_and_a_need() -> None:
    needs = {row.need for row in knowledge.needs().values()}
    for stage in stage_names():
        assert {row.need for row in knowledge.conditions(stage)} <= needs | {None}
    for row in read_table("stage_choice.csv"):
        assert row.text("need") in needs
        assert set(knowledge.parts(row.text("stages"))) <= PROMISED
    for stage in knowledge.stages().values():
        assert set(stage.treats) <= needs


def test_ranks_count_up_from_one() -> None:
    for need in {row.need for row in knowledge.needs().values()}:
        ranks = [option.rank for option in knowledge.options(need)]
        assert ranks == list(range(1, len(ranks) + 1)), need


def test_every_check_with_its_own_evaluation_stands_in_the_table() -> None:
    named = {row.fact for stage in stage_names() for row in knowledge.conditions(stage)}
    assert set(_CHECKS) <= named


def test_a_number_from_memory_never_refuses_a_stage() -> None:
    for stage in stage_names():
        for row in knowledge.conditions(stage):
            assert row.citation != "from memory, unverified" or row.beyond == "look"


def codes_called_for() -> set[str]:
    """Return every code of the room that the code or a table names."""
    source = "".join(path.read_text("utf-8") for path in ROOM.glob("*.py"))
    codes = set(re.findall(r'"treatment\.(\w+)"', source))
    codes |= set(re.findall(r'"((?:has|ask|caution|used)_\w+)"', source))
    for stage in knowledge.stages().values():
        codes |= {f"name_{stage.stage}"}
        codes |= {f"upkeep_{stage.stage}"} - {f"upkeep_{knowledge.NOT_EQUIPMENT}"}
        codes |= {f"caution_{code}" for code in stage.cautions}
        codes |= {f"waste_{stage.waste}"} - {"waste_none", "waste_cartridge"}
    codes |= {"against_salt", "against_chemical"}
    codes |= {f"because_{code}" for code in re.findall(r'because="(\w+)"', source)}
    codes |= {f"because_{row.text('because')}" for row in read_table("stage_choice.csv")}
    rows = [row for stage in stage_names() for row in knowledge.conditions(stage)]
    codes |= {f"ask_{row.ask}" for row in rows if row.ask}
    codes |= {f"step_{row.step}" for row in step_rows()}
    for row in retest_rows():
        codes |= {f"when_{row.when}", f"retest_{row.why}"}
    return codes


def test_every_code_has_its_sentence_and_every_sentence_is_used() -> None:
    assert codes_called_for() == set(catalogue("treatment"))


def test_every_sentence_is_short_and_has_no_forbidden_word() -> None:
    for name, text in catalogue("treatment").items():
        assert not re.search(rf"\b(?:{FORBIDDEN})\b", text), (name, text)
        for sentence in re.split(r"(?<=[.!?:])\s", text):
            assert len(sentence.split()) <= 22, (name, sentence)
        assert text.endswith(".") or not name.startswith(SENTENCES), (name, text)


def test_the_catalogue_is_flat_text() -> None:
    path = files("welltold") / "data" / "messages" / "en" / "treatment.toml"
    assert all(isinstance(value, str) for value in tomllib.loads(path.read_text("utf-8")).values())


def test_persons_named_by_the_room_exist() -> None:
    from typing import get_args

    source = "".join(path.read_text("utf-8") for path in ROOM.glob("*.py"))
    named = set(re.findall(r'"(\w+)" in (?:persons|water\.site\.home\.persons)', source))
    assert named
    assert named <= set(get_args(Person))

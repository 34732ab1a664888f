"""One file a stage: each keeps to the grammar, and a wrong one is refused with its line."""

from __future__ import annotations

from importlib.resources import files

import pytest

from welltold.analytes import registry
from welltold.errors import DataFileError
from welltold.simulation.batch import IONS, IRON_II, IRON_III, MANGANESE_IV
from welltold.simulation.effects import LIBRARY
from welltold.simulation.stages import effects_of, least_inputs
from welltold.stage_files import read_stage, stage_names
from welltold.treatment.stage_rows import conditions, stages

TEMPLATE = (files("welltold") / "data" / "stage_template.toml").read_text("utf-8")
GASES = {"carbon_dioxide", "hydrogen_peroxide"}


def changed(old: str, new: str) -> str:
    assert TEMPLATE.count(old) >= 1
    return TEMPLATE.replace(old, new, 1)


def test_the_template_is_itself_a_stage() -> None:
    stage = read_stage("template", TEMPLATE)
    assert stage["order"]["number"] == 70
    assert [condition["fact"] for condition in stage["condition"]] == ["ph"]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('place = "whole_house"', "", "line 1: place is missing"),
        ("backwash = true", 'backwash = "yes"', "line 1: backwash is not true or false"),
        ("salt = false", "salt = false\nsugar = true", "line 1: sugar is not a known key"),
        ("number = 70", 'number = "70"', "number is not a number"),
        ('do = "oxidize"', "", "do is missing"),
        ('status = "practice"', 'status = "verified"', "'common practice, no source' is not veri"),
        ('status = "practice"', 'status = "sure"', "'sure' is not one of memory, practice, veri"),
        ('citation = "common practice, no source"', 'citation = ""', "citation is not a text"),
        ("salt = false", "salt = maybe", "line 16"),
    ],
)
def test_a_file_that_breaks_the_grammar_is_refused(old: str, new: str, told: str) -> None:
    with pytest.raises(DataFileError, match=told.replace("(", r"\(")):
        read_stage("stages/some.toml", changed(old, new))


def test_the_line_of_a_wrong_table_is_named() -> None:
    text = changed('beyond = "ahead"', "beyond = 3")
    line = text.splitlines().index("[[condition]]") + 1
    with pytest.raises(DataFileError, match=f"line {line}: beyond is not a text"):
        read_stage("stages/some.toml", text)


@pytest.mark.parametrize("stage", stage_names())
def test_every_effect_is_in_the_library_and_names_what_is_tracked(stage: str) -> None:
    groups = {f"group:{analyte.group}" for analyte in registry().values()}
    known = {*registry(), *groups, *IONS, IRON_II, IRON_III, MANGANESE_IV, *GASES}
    for row in effects_of(stage):
        assert row.do in LIBRARY
        assert set(row.given.get("of", ())) <= known
        for key in ("left", "metals_left", "alkalinity_left"):
            low, high = row.given.get(key, (0, 0))
            assert 0 <= low <= high <= 1, (stage, key)
    assert set(least_inputs(stage)) <= set(registry())


@pytest.mark.parametrize("stage", stage_names())
def test_every_file_opens_with_its_grammar_and_date(stage: str) -> None:
    text = (files("welltold") / "data" / "stages" / f"{stage}.toml").read_text("utf-8")
    assert text.startswith("#")
    assert "2026-" in text.split("\n\n")[0]
    assert all(len(line) <= 200 for line in text.splitlines())


def test_the_order_keeps_what_the_reference_says() -> None:
    """Neutraliser ahead of the softener (it hardens), lamp behind all that a house gets."""
    order = {name: row.order for name, row in stages().items()}
    assert order["calcite_neutralizer"] < order["softener"] < order["anion_exchanger"]
    assert order["aerator"] < order["chlorine_feed"] < order["retention_tank"]
    assert order["soda_ash_feed"] < order["air_injection_filter"] < order["softener"]
    assert order["carbon_filter"] < order["uv"] < order["reverse_osmosis"]


def test_no_condition_of_an_unknown_stage() -> None:
    assert conditions("moon_filter") == ()

"""The sentences and tables of the sizing room hold together, in both languages."""

from __future__ import annotations

import re
import string
from importlib.resources import files
from pathlib import Path

import pytest

from welltold.messages import catalogue, speaking, untranslated
from welltold.site_keys import MEDIA
from welltold.sizing.carbon import contact_of
from welltold.sizing.feed_pump import solution
from welltold.sizing.rules import line, rule
from welltold.sizing.stock import media, stage_media, tanks
from welltold.stage_files import stage_names
from welltold.tables import read_table

DATA = Path(str(files("welltold"))) / "data"
ROOM = Path(str(files("welltold"))) / "sizing"
TABLES = sorted(path.name for path in DATA.glob("sizing_*.csv"))
SOURCE = "".join(path.read_text("utf-8") for path in sorted(ROOM.glob("*.py")))
QUOTED = set(re.findall(r'"(?:sizing\.)?(\w+)"', SOURCE))
JOINED = ("asks_", "has_", "medium_", "solution_", "shelf_", "unit_")
LONGEST, MEAN = 22, 14


def fields(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def sentences(text: str) -> list[str]:
    return [one for one in re.split(r"(?<=[.!?])\s+", text) if one.endswith((".", "!", "?"))]


@pytest.mark.parametrize("table", TABLES)
def test_every_table_opens_with_its_grammar_and_each_row_has_a_source(table: str) -> None:
    assert (DATA / table).read_text("utf-8").startswith("# ")
    assert "As of 2026-" in (DATA / table).read_text("utf-8")
    for row in read_table(table):
        assert row.text("citation"), f"{table}, line {row.line}"


def test_every_rule_is_used_and_every_rule_used_is_there() -> None:
    named = {row.text("name") for row in read_table("sizing_rules.csv")}
    assert len(named) == len(list(read_table("sizing_rules.csv"))), "a name twice"
    assert named <= QUOTED, named - QUOTED
    asked = set(re.findall(r'(?<!\.)\b(?:rule|number)\("(\w+)"\)', SOURCE))
    assert asked <= named, asked - named
    assert rule("bath_base_gpm").unit == "gpm"


def test_no_number_from_memory_stands_behind_germs() -> None:
    for point in line("sizing_contact_ct.csv", "celsius", "ct"):
        assert "memory" not in point.citation
        assert "practice" not in point.citation


def test_every_sentence_is_asked_for_and_every_one_asked_for_is_there() -> None:
    english = catalogue("sizing", "en")
    for name in english:
        bare = next((name.removeprefix(one) for one in JOINED if name.startswith(one)), name)
        bare = bare.removesuffix("_here")
        assert {name, bare} & (QUOTED | set(media()) | {"bleach", "soda_ash", "permanganate"}) or (
            bare in {"peroxide"}
        ), name
    for code in re.findall(r'say\("sizing\.(\w+)"', SOURCE):
        assert code in english
    for code in re.findall(r'\.ask\(\s*"(\w+)"', SOURCE):
        assert {f"asks_{code}", f"has_{code}"} <= set(english), code
    for code in re.findall(r'\.(?:warn|refuse)\(\s*"(\w+)"', SOURCE):
        assert code in english


@pytest.mark.parametrize("language", ["en", "es"])
def test_sentences_are_short(language: str) -> None:
    longest = LONGEST if language == "en" else 26
    lengths = []
    for name, text in catalogue("sizing", "en" if language == "en" else "es").items():
        for one in sentences(text):
            words = re.findall(r"[^\W\d_]{2,}", re.sub(r"\{\w+\}", "5", one))
            lengths.append(len(words))
            assert lengths[-1] <= longest, (name, one)
    assert sum(lengths) / len(lengths) <= MEAN


def test_every_sentence_has_its_spanish_twin_with_the_same_fields() -> None:
    assert not untranslated("sizing", "es")
    english, spanish = catalogue("sizing", "en"), catalogue("sizing", "es")
    assert set(english) == set(spanish)
    for name, text in english.items():
        assert fields(spanish[name]) == fields(text), name


def test_media_are_those_of_the_site_file() -> None:
    assert set(media()) == set(MEDIA)
    for name in media():
        assert f"medium_{name}" in catalogue("sizing")
    for row in read_table("sizing_stage_media.csv"):
        assert row.text("stage") in stage_names()
        assert row.text("medium") in media()


def test_needs_that_have_a_medium_or_a_contact_of_their_own() -> None:
    assert (
        stage_media("carbon_filter", frozenset({"hydrogen_sulfide"}))[0].medium
        == "catalytic_carbon"
    )
    assert stage_media("carbon_filter", frozenset({"voc"}))[0].medium == "carbon"
    contact = contact_of("carbon_filter", frozenset({"hydrogen_sulfide", "pfas"}))
    assert contact is not None
    assert (contact.minutes, contact.tanks) == (10, 2)
    assert contact_of("carbon_filter", frozenset({"iron"})) is None


def test_tanks_leave_the_room_that_a_bed_lifts_into() -> None:
    """40 to 50 % of the bed's depth, by common practice; 5 inches of gravel below."""
    for tank in tanks():
        bed = tank.media_ft3 * 144 * 12 / (tank.diameter_in**2 * 314 / 400)
        assert tank.height_in - 5 - bed >= bed * 40 / 100, tank


def test_solutions_have_words() -> None:
    for stage in ("chlorine_feed", "peroxide_feed", "permanganate_feed", "soda_ash_feed"):
        assert f"solution_{solution(stage).chemical}" in catalogue("sizing")


def test_spanish_is_spoken() -> None:
    with speaking("es"):
        assert catalogue("sizing")["no"] == "no"
        assert catalogue("sizing")["yes"] == "sí"

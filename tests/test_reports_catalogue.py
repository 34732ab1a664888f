"""The sentences of every room and the words of every level pack."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path
from typing import get_args

import pytest
from test_reports_words import EXEMPT, FORBIDDEN

import welltold_reports
from welltold.boil import BoilAdvice
from welltold.interpretation import LevelKind, Person, Verdict
from welltold.messages import catalogue
from welltold.reading import Taken
from welltold.site import Equipment, Home, Site, Tap, Well
from welltold.tables import read_table
from welltold_reports.homeowner.first_page import COUNTED
from welltold_reports.homeowner.hazards import ANSWERS, SIGNALS, USES
from welltold_reports.worksheet.sizes import SHOWN

ENGLISH = files("welltold") / "data" / "messages" / "en"
ROOMS = sorted(entry.name.removesuffix(".toml") for entry in ENGLISH.iterdir())
PACKS = [row.text("table") for row in read_table("level_packs.csv")]
OF_A_LEVEL = ("programme", "who", "effect")
PRINTED = {"correct.not_a_result"}
"""Names what may be typed for a result, as labs print it."""
JOINED = ("sources_head_", "appendix_head_", "work_before_", "advice_")
"""Beginnings that the code puts before a list of endings which stands beside it."""
URGENT = ("health_concern_now", "health_concern_soon", "cant_tell_now", "cant_tell_soon")
WATCHED = ("watch_at", "watch_near", "watch_goal", "watch_above", "watch_other")


@pytest.mark.parametrize("room", ROOMS)
def test_no_sentence_of_any_room_holds_a_forbidden_word(room: str) -> None:
    for name, text in catalogue(room).items():
        if f"{room}.{name}" in PRINTED:
            continue
        assert not FORBIDDEN.findall(EXEMPT.sub("", text)), (name, text)


@pytest.mark.parametrize("table", PACKS)
def test_no_word_of_a_level_that_reaches_a_reader_is_forbidden(table: str) -> None:
    for row in read_table(table):
        told = " ".join(row.cells.get(column, "") for column in OF_A_LEVEL)
        assert not FORBIDDEN.findall(EXEMPT.sub("", told)), (row.line, told)


def hazard_cells(column: str) -> set[str]:
    cells = " ".join(row.text(column) for row in read_table("hazards.csv"))
    return {name.rpartition("=")[2] for name in cells.split()} - {"-"}


def asked() -> set[str]:
    """Every name that code puts together from a closed list, worked out from that list."""
    verdicts, forms = get_args(Verdict), ("_one", "_many")
    kinds = {f"kind_{kind}{end}" for kind in get_args(LevelKind) for end in ("", "_other")}
    return (
        {f"person_{name}" for name in get_args(Person)}
        | {f"advice_{name}" for name in hazard_cells("advice")}
        | {f"call_{name}" for name in (*hazard_cells("calls"), "plumber_ph")}
        | {f"use_note_{name}" for name in hazard_cells("notes")}
        | {f"use_{name}" for name in USES}
        | {f"answer_{name}" for name in ANSWERS}
        | {f"verdict_{name}" for name in (*verdicts, *URGENT, *WATCHED)}
        | {f"shape_{name}" for name in verdicts}
        | {f"short_{name}" for name in verdicts}
        | {f"figure_{name}" for name in SHOWN if name != "medium"}
        | {f"label_{name}" for name in SHOWN}
        | {f"existing_{name}" for name in ("keep", "reset", "replace", "cant_tell")}
        | {f"backwash_{name}" for name in ("fits", "fits_not", "fits_unknown")}
        | {f"head_{name}" for name in verdicts}
        | {f"count_{name}{form}" for name in COUNTED for form in forms}
        | {f"signal_{name}" for name in SIGNALS}
        | {f"taken_{name}" for name in get_args(Taken)}
        | {f"water_{name}" for name in get_args(BoilAdvice) if name.startswith("babies")}
        | {f"stage_place_{name}" for name in ("whole_house", "point_of_use")}
        | {f"line_tick_{name}" for name in get_args(LevelKind)}
        | kinds
        | {f"unit_{name}_one" for name in ("ppm", "ppb", "ppt")}
        | {f"site_{name}" for part in (Home, Well, Tap, Equipment, Site) for name in part.__slots__}
        | {f"means_{name[5:]}" for name in catalogue("report") if name.startswith("word_")}
    )


def test_no_entry_of_the_catalogue_is_unused() -> None:
    """Every name stands whole in the sources, or is put together from a closed list."""
    folder = Path(welltold_reports.__file__).parent
    sources = "".join(
        path.read_text("utf-8")
        for suffix in ("py", "j2", "typ")
        for path in folder.rglob(f"*.{suffix}")
    )
    words = {name for name in catalogue("report") if name.startswith("word_")}
    counted = {
        f"{name}{form}"
        for name in _bare(catalogue("report"))
        for form in ("_one", "_many")
        if f'"{name}"' in sources
    }
    joined = {
        f"{prefix}{ending}" for prefix in JOINED for ending in re.findall(r'"(\w+)"', sources)
    }
    unused = [
        name
        for name in catalogue("report")
        if not re.search(rf"[\"'.]{name}\b", sources)
        and name not in asked() | words | counted | joined
    ]
    assert " ".join(unused) == ""


def _bare(names: object) -> set[str]:
    assert isinstance(names, dict)
    return {name.removesuffix("_one") for name in names if name.endswith("_one")}

"""The sources that reports print name no firm: agencies, schools and standards bodies only."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

DATA = files("welltold") / "data"
TABLES = sorted(
    str(entry.name) for entry in DATA.iterdir() if entry.name.endswith((".csv", ".toml"))
)
STAGES = sorted(f"stages/{entry.name}" for entry in (DATA / "stages").iterdir())
FIRM = re.compile(
    r"\.(?:com|net|biz)\b|\b(?:Inc\.|LLC|Corp\.)"
    r"|\b[A-Z]\w+ (?:Environmental )?(?:Laborator(?:y|ies)|Labs)\b"
    r"|Envirosphere|US Water\b|Getting Smart"
)


@pytest.mark.parametrize("name", [*TABLES, *STAGES])
def test_no_table_names_a_firm_as_its_source(name: str) -> None:
    text = (DATA / name).read_text("utf-8")
    assert FIRM.findall(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "Converse Laboratories, Sampling",
        "well-water-treatment.com",
        "Maine Environmental Laboratory",
    ],
)
def test_what_such_a_name_looks_like(text: str) -> None:
    assert FIRM.search(text)

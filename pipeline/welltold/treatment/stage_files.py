"""Reads the stage files, ``data/stages/NAME.toml``: one file a stage, all that is known of it.

The grammar stands in ``data/stage_template.toml``. A file that does not keep to it is refused with
its name and the key; nothing is filled in for it.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def stage_names() -> tuple[str, ...]:
    """Return the name of every stage, in alphabetical order."""
    folder = files("welltold") / "data" / "stages"
    names = (entry.name for entry in folder.iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


@cache
def stage_file(stage: str) -> Mapping[str, Any]:
    """Return one stage file as it is written, numbers as Decimal; KeyError for no such stage."""
    if stage not in stage_names():
        raise KeyError(stage)
    text = (files("welltold") / "data" / "stages" / f"{stage}.toml").read_text("utf-8")
    return tomllib.loads(text, parse_float=Decimal)

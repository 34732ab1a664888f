"""What the stage files say of each stage's effects."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from ..analytes import registry
from ..stage_files import stage_file


@dataclass(frozen=True, slots=True)
class EffectRow:
    """One ``[[effect]]`` of a stage file."""

    do: str
    """Name of a function of the library (`simulation.effects`)."""
    given: Mapping[str, Any]
    """What the function takes beside the water."""
    citation: str
    verified: bool


@cache
def effects_of(stage: str) -> tuple[EffectRow, ...]:
    """Return what a stage does to the water, in the order in which it does it; KeyError."""
    return tuple(_effect(raw) for raw in stage_file(stage).get("effect", ()))


@cache
def least_inputs(stage: str) -> tuple[str, ...]:
    """Return the analytes without which the stage's effect cannot be told."""
    return tuple(stage_file(stage)["needs"])


def spread_out(names: tuple[str, ...]) -> frozenset[str]:
    """Return analytes by slug; ``group:NAME`` stands for all of a group of the registry."""
    groups = {name.removeprefix("group:") for name in names if name.startswith("group:")}
    members = {slug for slug, analyte in registry().items() if analyte.group in groups}
    return frozenset(members | {name for name in names if not name.startswith("group:")})


def _effect(raw: Mapping[str, Any]) -> EffectRow:
    rest = {key: value for key, value in raw.items() if key not in {"do", "citation", "status"}}
    return EffectRow(raw["do"], rest, raw["citation"], raw["status"] == "verified")

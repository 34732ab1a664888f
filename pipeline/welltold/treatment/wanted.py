"""From findings to needs.

Only a health concern and a nuisance ask for anything; what cannot be told or was not tested never
does. What is watched does for persons of the home whom it concerns; and it stays a nuisance where
it is above its level for taste and stains too, whoever lives there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ..analytes import registry
from ..errors import UnitMismatchError
from ..interpretation import Finding, Goal, LevelUsed, Need
from ..messages import Message, say
from ..units import convert
from .knowledge import Exposure, NeedRow, needs
from .water import Water
from .words import name_of, with_unit

OTHER_HEALTH = "other_health"
OTHER_NUISANCE = "other_nuisance"
"""Needs for which the tables name no stage."""
_UNNAMED = {"health_concern": OTHER_HEALTH, "nuisance_only": OTHER_NUISANCE}
_HEALTH_KINDS = frozenset({"primary_limit", "action_level", "treatment_technique", "advisory"})
_Purpose = Literal["health", "nuisance"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """One need with the findings that call for it."""

    need: str
    for_: _Purpose
    exposure: Exposure
    findings: tuple[Finding, ...]
    row: NeedRow | None
    """None for a finding that no table row covers."""

    @property
    def analytes(self) -> tuple[str, ...]:
        """The slugs of the findings, each once, in the sheet's order."""
        return tuple(dict.fromkeys(f.analyte for f in self.findings if f.analyte is not None))

    def shown(self) -> Need:
        """Return the need as it is published."""
        return Need(self.analytes, self.for_, self._goal(), tuple(map(self._why, self.findings)))

    def _why(self, finding: Finding) -> Message:
        code = "treatment.need_health" if self.for_ == "health" else "treatment.need_nuisance"
        if finding.verdict == "watch" and self.for_ == "health":
            code = "treatment.need_watched"
        name = name_of(finding.analyte or "", finding.label)
        return say(code, name=name, text=_result_text(finding))

    def _goal(self) -> Goal | None:
        if self.row and self.row.goal:
            return Goal(*self.row.goal)
        if len(self.analytes) != 1:
            return None
        kinds = _HEALTH_KINDS if self.for_ == "health" else frozenset({"secondary", "advisory"})
        levels = [
            level
            for finding in self.findings
            for level in finding.levels
            if level.kind in kinds and level.value is not None and _passes(finding, level)
        ]
        if not levels:
            return None
        lowest = min(levels, key=lambda level: level.value or 0)
        return Goal(lowest.value, lowest.unit, lowest.basis)


def wanted(water: Water) -> tuple[Wanted, ...]:
    """Return what the findings ask for: health first, then in the table's order."""
    grouped: dict[str, list[Finding]] = {}
    rows: dict[str, NeedRow | None] = {}
    for finding in water.findings:
        if finding.analyte is None:
            continue
        row = _row(finding.analyte)
        if not _asks(finding, row, water):
            continue
        if row and row.test and not water.meets(row.test):
            if row.otherwise == "none":
                continue
            row = None
        need = row.need if row else _UNNAMED.get(finding.verdict, OTHER_NUISANCE)
        grouped.setdefault(need, []).append(finding)
        rows[need] = row
    made = (_made(need, findings, rows[need], water) for need, findings in grouped.items())
    return tuple(sorted(made, key=_rank))


def equipment_need(slugs: tuple[str, ...], asked_by: Iterable[str]) -> Need:
    """Return the need of stages, given by their plain names, that want better water."""
    name = ", ".join(name_of(slug) for slug in slugs)
    why = (say("treatment.need_equipment", name=name, stage=stage) for stage in asked_by)
    return Need(slugs, "equipment", None, tuple(why))


def _row(slug: str) -> NeedRow | None:
    table, known = needs(), registry().get(slug)
    if slug in table or known is None:
        return table.get(slug)
    return table.get(f"group:{known.group}")


def _asks(finding: Finding, row: NeedRow | None, water: Water) -> bool:
    """Return whether a finding calls for anything."""
    if finding.verdict == "watch":
        return _concerns(row, water) or _stains(finding, row)
    return finding.verdict in {"health_concern", "nuisance_only"}


def _concerns(row: NeedRow | None, water: Water) -> bool:
    """Return whether what is watched asks for something for the health of persons who live here."""
    return row is not None and bool(set(row.watched) & set(water.site.home.persons))


def _stains(finding: Finding, row: NeedRow | None) -> bool:
    """Return whether what is watched is above a level for taste and stains as well.

    Where the table names the persons for whom it asks, the two levels are about the same harm
    (fluoride that stains the teeth of children), and it asks for them only.
    """
    if row is not None and row.watched:
        return False
    return any(level.kind == "secondary" and _over(finding, level) for level in finding.levels)


def _over(finding: Finding, level: LevelUsed) -> bool:
    """Return whether a finding is known to lie above a level."""
    if finding.value is None or finding.unit is None or level.value is None:
        return False
    slug = finding.analyte or ""
    try:
        own = convert(finding.value, slug, finding.unit, finding.basis, level.unit, level.basis)
    except UnitMismatchError:
        return False
    return finding.operator != "<" and own > level.value


def _made(need: str, findings: list[Finding], row: NeedRow | None, water: Water) -> Wanted:
    health = any(
        finding.verdict == "health_concern"
        or (finding.verdict == "watch" and _concerns(row, water))
        for finding in findings
    )
    exposure: Exposure = row.exposure if row else "house"
    return Wanted(need, "health" if health else "nuisance", exposure, tuple(findings), row)


def _rank(need: Wanted) -> tuple[bool, bool, int]:
    return need.for_ != "health", need.row is None, need.row.rank if need.row else 0


def _passes(finding: Finding, level: LevelUsed) -> bool:
    """Return whether the finding lies above a level, as far as units can be compared."""
    if finding.value is None or level.value is None or level.unit != finding.unit:
        return True
    return finding.value > level.value


def _result_text(finding: Finding) -> str:
    """Return the result in words: as printed, with the unit of the level."""
    if finding.value is None or finding.unit is None:
        return finding.text or finding.label
    sign = "" if finding.operator in {"=", None} else finding.operator
    return f"{sign}{with_unit(finding.value, finding.unit, finding.basis)}"

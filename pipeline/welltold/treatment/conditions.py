"""Whether a stage's inlet conditions hold in the water that reaches it.

Without a computation of what each stage does to the water, only the raw water is known. So a
condition that fails in the raw water and has a stage ahead that cures it is "not known: measure
behind that stage", and one that a stage ahead could spoil is so too. Nothing is promised.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ..interpretation import Condition
from .facts import bacteria, check
from .knowledge import ConditionRow, Limit, NeedRow, Place, conditions, needs, stages
from .water import Water
from .words import amount_text, name_of, stage_name, text, with_unit


@dataclass(slots=True)
class Draft:
    """A stage of a train that is being put together."""

    stage: str
    place: Place
    because: dict[str, str] = field(default_factory=dict)
    """By need: the code of the reason."""

    def cures(self, need: str) -> bool:
        """Return whether the water behind it is better in that respect."""
        return need in self.because or stages()[self.stage].treats[:1] == (need,)


@dataclass(frozen=True, slots=True)
class Judged:
    """A condition with its row; ``broken``: it fails, and nothing ahead cures it."""

    row: ConditionRow
    shown: Condition
    broken: bool


def judge(draft: Draft, ahead: Sequence[Draft], water: Water) -> tuple[Judged, ...]:
    """Return every condition of a stage that counts in this train."""
    return tuple(
        _judged(row, ahead, water)
        for row in conditions(draft.stage)
        if row.need is None or row.need in draft.because
    )


def cure_of(fact: str) -> str | None:
    """Return the need whose stages cure too much of this, or None."""
    if fact == "coliform":
        return "bacteria"
    row: Mapping[str, NeedRow] = needs()
    return row[fact].need if fact in row else None


def _judged(row: ConditionRow, ahead: Sequence[Draft], water: Water) -> Judged:
    holds, has = _raw(row, water)
    broken = holds is False
    if broken:
        cure = cure_of(row.fact)
        helper = next((draft for draft in ahead if cure and draft.cures(cure)), None)
        if helper:
            code = "has_found_ahead" if row.op == "absent" else "has_ahead"
            has = text(f"treatment.{code}", value=has, stage=stage_name(helper.stage))
        broken = helper is None
        holds = False if broken and row.beyond != "look" else None
    elif holds and row.op in {"<=", "<"}:
        spoiler = next((draft for draft in ahead if row.fact in stages()[draft.stage].raises), None)
        if spoiler:
            holds = None
            has = text("treatment.has_raised", value=has, stage=stage_name(spoiler.stage))
    shown = Condition(asks(row), has, holds, row.citation)
    return Judged(row, shown, broken and row.beyond != "look")


def asks(row: ConditionRow) -> str:
    """Return what a condition asks, in words."""
    limit = "" if row.value is None else with_unit(row.value, row.unit or "", row.basis)
    if row.ask:
        return text(f"treatment.ask_{row.ask}", name=name_of(row.fact), limit=limit)
    if row.op == "absent":
        return text("treatment.ask_absent")
    code = "ask_at_most" if row.op in {"<=", "<"} else "ask_at_least"
    return text(f"treatment.{code}", name=name_of(row.fact), limit=limit)


def asks_limit(test: Limit) -> str:
    """Return what a test asks, in words."""
    limit = with_unit(test.value, test.unit, test.basis)
    code = "ask_at_most" if test.op in {"<=", "<"} else "ask_at_least"
    return text(f"treatment.{code}", name=name_of(test.fact), limit=limit)


def has_limit(test: Limit, water: Water) -> str:
    """Return what the raw water has of what a test asks, in words."""
    amount = water.amount(test.fact, test.unit, test.basis)
    if amount is None:
        return text("treatment.has_unknown")
    return amount_text(amount, test.unit, test.basis)


def _raw(row: ConditionRow, water: Water) -> tuple[bool | None, str]:
    """Return what the raw water says, without any stage ahead."""
    if row.op == "check":
        return check(row.fact, water)
    if row.op == "absent":
        found = bacteria(water)
        if found is None:
            return None, text("treatment.has_unknown")
        return not found, text("treatment.has_found" if found else "treatment.has_not_found")
    return _number(row, water)


def _number(row: ConditionRow, water: Water) -> tuple[bool | None, str]:
    if row.value is None or row.unit is None:
        raise ValueError(f"{row.stage}: {row.fact} has no limit")
    amount = water.amount(row.fact, row.unit, row.basis)
    if amount is None:
        return None, text("treatment.has_unknown")
    holds, value = amount.holds(row.op, row.value), amount_text(amount, row.unit, row.basis)
    if row.fact == "pump_gpm" and holds:
        # The limit is the smallest tank's: more flow only means that a tank can be looked for.
        return None, text("treatment.has_gpm", value=value)
    if not amount.sure:
        return None, text("treatment.has_doubt", value=value)
    return holds, text("treatment.has_value", value=value)

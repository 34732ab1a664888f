"""Whether a stage's inlet conditions hold in the water that reaches it.

The water is worked out stage by stage (`welltold.simulation`). What rests on a range without a
source, or on a reading in doubt, never makes a condition hold: it is "expected, measure there". A
reading in doubt that breaks a condition breaks it all the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..interpretation import Condition
from ..simulation import Stream
from .drafts import Draft
from .facts import bacteria, check
from .knowledge import ConditionRow, Limit, NeedRow, conditions, needs, stages
from .water import Amount, Water
from .words import amount_text, name_of, stage_name, text, with_unit

BARRIERS = frozenset({"uv", "chlorine_feed"})
"""Stages that stand for germs as long as they work."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A condition with its row.

    ``broken``: it fails for sure, and the row does not leave it to a person to look at.
    """

    row: ConditionRow
    shown: Condition
    broken: bool
    waits: bool = False
    """True: it fails now, and is to be seen to before the stage goes in."""


@dataclass(frozen=True, slots=True)
class Ahead:
    """The stages that the water has gone through, with the water in front of each."""

    drafts: tuple[Draft, ...]
    inlets: tuple[Stream, ...]

    def changed(self, fact: str, unit: str, basis: str | None, here: Amount | None) -> str | None:
        """Return the last stage that changed an amount; None if it is as in the well."""
        for draft, inlet in zip(reversed(self.drafts), reversed(self.inlets), strict=True):
            if inlet.amount(fact, unit, basis) != here:
                return draft.stage
        return None


def judge(draft: Draft, ahead: Ahead, inlet: Stream) -> tuple[Judged, ...]:
    """Return every condition of a stage that counts in this train."""
    return tuple(
        _judged(row, ahead, inlet)
        for row in conditions(draft.stage)
        if row.need is None or row.need in draft.because
    )


def cure_of(fact: str) -> str | None:
    """Return the need whose stages cure too much of this, or None."""
    if fact == "coliform":
        return "bacteria"
    row: Mapping[str, NeedRow] = needs()
    return row[fact].need if fact in row else None


def _judged(row: ConditionRow, ahead: Ahead, inlet: Stream) -> Judged:
    if row.op == "absent":
        return _germs(row, ahead.drafts, inlet.raw)
    if row.op == "check":
        holds, has = check(row.fact, inlet.raw, [draft.stage for draft in ahead.drafts])
    else:
        holds, has = _number(row, ahead, inlet)
    shown = Condition(asks(row), has, holds, row.citation)
    return Judged(row, shown, holds is False and row.beyond != "look")


def _germs(row: ConditionRow, ahead: Sequence[Draft], water: Water) -> Judged:
    found = bacteria(water)
    if not found:
        has = text("treatment.has_unknown" if found is None else "treatment.has_not_found")
        clear = found is False or None
        return Judged(row, Condition(asks(row), has, clear, row.citation), broken=False)
    barrier = next((draft.stage for draft in ahead if draft.stage in BARRIERS), None)
    first = barrier or next((draft.stage for draft in ahead if draft.cures("bacteria")), None)
    has = text("treatment.has_found")
    if first:
        has = text("treatment.has_found_ahead", stage=stage_name(first))
    shown = Condition(asks(row), has, None if barrier else False, row.citation)
    return Judged(row, shown, first is None, waits=barrier is None)


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


def _number(row: ConditionRow, ahead: Ahead, inlet: Stream) -> tuple[bool | None, str]:
    if row.value is None or row.unit is None:
        raise ValueError(f"{row.stage}: {row.fact} has no limit")
    here = inlet.amount(row.fact, row.unit, row.basis)
    raw = inlet.raw.amount(row.fact, row.unit, row.basis)
    behind = ahead.changed(row.fact, row.unit, row.basis, here)
    if here is None or _open(here):
        return None, _untold(row, raw, ahead.drafts, behind)
    value, holds = amount_text(here, row.unit, row.basis), here.holds(row.op, row.value)
    if behind is None:
        if here.sure:
            return holds, text("treatment.has_value", value=value)
        return None if holds else holds, text("treatment.has_doubt", value=value)
    told = text("treatment.has_behind", value=value, stage=stage_name(behind))
    if here.sure or _no_worse(row, raw, here):
        return holds, told
    expected = text("treatment.has_expected", value=value, stage=stage_name(behind))
    if holds is False and not _helped(row, raw, here):
        return False, expected
    return None, expected


def _untold(
    row: ConditionRow, raw: Amount | None, ahead: Sequence[Draft], behind: str | None
) -> str:
    """Say that nobody can tell, and where to measure."""
    cure = cure_of(row.fact)
    helper = next((draft.stage for draft in ahead if cure and draft.cures(cure)), behind)
    if raw is None or row.unit is None or _open(raw):
        return text("treatment.has_unknown")
    value = amount_text(raw, row.unit, row.basis)
    if helper is None:
        return text("treatment.has_value", value=value)
    spoils = row.fact in stages()[helper].raises and row.op in {"<=", "<"}
    code = "has_raised" if spoils else "has_ahead"
    return text(f"treatment.{code}", value=value, stage=stage_name(helper))


def _open(amount: Amount) -> bool:
    """Return whether nothing at all is known of an amount."""
    return not amount.low and amount.high is None


def _no_worse(row: ConditionRow, raw: Amount | None, here: Amount) -> bool:
    """Return whether the raw water met an upper limit for sure, and no more can be here."""
    if row.op not in {"<=", "<"} or row.value is None or raw is None or not raw.sure:
        return False
    if raw.high is None or here.high is None:
        return False
    return here.high <= raw.high and raw.holds(row.op, row.value) is True


def _helped(row: ConditionRow, raw: Amount | None, here: Amount) -> bool:
    """Return whether the stages ahead made the water better in that respect."""
    if raw is None:
        return True
    if row.op in {">=", ">"}:
        return here.low > raw.low
    return raw.high is None or (here.high is not None and here.high < raw.high)

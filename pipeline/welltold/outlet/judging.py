"""From the signs of each stage to an outcome; then the whole line is looked at once more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..behind import OutletOutcome
from .tables import Meaning
from .weighing import ORDER, Weighed, states

_SPENT = Meaning("exhausted", "spent")


@dataclass(frozen=True, slots=True)
class Judged:
    """One stage with its signs and what follows."""

    stage: str
    signs: tuple[Weighed, ...]
    outcome: OutletOutcome
    reason: str
    """``reason_NAME`` of the catalogue."""


def judge(stage: str, signs: Sequence[Weighed]) -> Judged:
    """Return the outcome of one stage from its own signs."""
    meaning = _meaning(signs)
    return Judged(stage, tuple(signs), meaning.outcome, meaning.reason)


def _meaning(signs: Sequence[Weighed]) -> Meaning:
    jobs = _jobs(signs)
    if not jobs:
        return Meaning("cant_tell", "no_job")
    worst = max(jobs, key=lambda one: ORDER.index(one.state))
    if worst.state == "done":
        return _at_work(signs)
    if worst.state == "over" and worst.row.more:
        return worst.row.more
    left = [s for s in signs if s.row.role == "mark" and s.told and s.state != "undone"]
    if worst.state == "undone" and left:
        return _idle(worst, left)
    every = all(one.state in {"undone", "over"} for one in jobs)
    return _SPENT if every else worst.row.partly or _SPENT


def _idle(job: Weighed, left: Sequence[Weighed]) -> Meaning:
    """Return the outcome where a stage leaves what it does by working, and its job is not done.

    Of a stage that is merely set wrong when it does half of its job, the salt comes from the brine.
    """
    more = next((mark.row.more for mark in left if mark.row.more), None)
    half = job.row.partly or _SPENT
    return more if more and half.outcome == "wrongly_set" else half


def _jobs(signs: Sequence[Weighed]) -> list[Weighed]:
    """Return the signs that decide; what a stage does beside its job only where that is all."""
    extra = [one for one in signs if one.told and one.row.role == "extra"]
    jobs = [one for one in signs if one.row.role == "job" and not one.little]
    told = [one for one in jobs if one.told]
    return told + [one for one in extra if one.state == "over"] if jobs else extra


def _at_work(signs: Sequence[Weighed]) -> Meaning:
    """Return the outcome of a stage that does what it is there for."""
    beyond = next((s for s in signs if s.row.role == "mark" and s.state == "over"), None)
    if beyond is not None and beyond.row.more:
        return beyond.row.more
    marks = states(signs, "mark")
    if marks and set(marks) == {"undone"}:
        return Meaning("cant_tell", "no_mark")
    return Meaning("working", "working")


@dataclass(frozen=True, slots=True)
class Odd:
    """What is odd about one bottle as a whole."""

    thinned: bool
    """The salts are gone, and no stage in front of the tap takes them out."""
    other_well: bool
    """What no stage changes is different."""
    tap_named: bool
    """The sheet itself names the stage that it was filled behind."""


def over_all(judged: Sequence[Judged], odd: Sequence[Odd]) -> tuple[Judged, ...]:
    """Return the outcomes after a look at each bottle as a whole.

    Water that nothing has changed, or from which all salts are gone, comes from another tap; water
    that no stage can have made so, from another well. A stage that another bottle tells of keeps
    its outcome.
    """
    out = list(judged)
    for bottle, one in enumerate(odd):
        for at, stage in enumerate(out):
            seen = {sign.bottle for sign in stage.signs}
            if seen == {bottle}:
                out[at] = _odd(stage, one, untouched=_untouched(judged, bottle))
    return tuple(out)


def _odd(stage: Judged, odd: Odd, *, untouched: bool) -> Judged:
    if odd.thinned:
        return replace(stage, outcome="wrong_tap", reason="thinned")
    if odd.other_well:
        return replace(stage, outcome="cant_tell", reason="other_well")
    if untouched and not odd.tap_named and stage.outcome == "exhausted":
        return replace(stage, outcome="wrong_tap", reason="untouched")
    return stage


def _untouched(judged: Sequence[Judged], bottle: int) -> bool:
    """Whether two things or more should have changed in a bottle, and none of them has."""
    signs = [sign for one in judged for sign in one.signs if sign.bottle == bottle and sign.told]
    told = [sign for sign in signs if sign.row.role != "side"]
    names = {sign.row.analyte for sign in told}
    return len(names) > 1 and all(sign.state == "undone" for sign in told)

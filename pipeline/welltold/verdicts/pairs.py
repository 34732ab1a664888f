"""What the bottles of one tap say together.

Lead and copper are taken up while water stands in the pipes, so a laboratory gets two bottles: the
first water of the morning, and one after the water ran. One tap gets one answer, the graver one,
and nobody is asked for a bottle that is there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..interpretation import Finding
from ..messages import Message, say
from ..reading import Result, Sample
from .bottles import PAIR
from .compare import GRAVITY
from .drafts import Draft
from .names import name_of
from .tables import step

FROM_PIPES = frozenset({"lead", "copper"})
"""Metals that water takes up while it stands in the pipes."""
ASK_FOR_PAIR = frozenset(
    f"verdict.do_{name}" for name in ("lead_two_samples", "copper_two_samples", "pipes_first_draw")
)
HIGHER = {"first_draw": "doubt.bottle_stood", "flushed": "doubt.bottle_ran"}
"""What is said where the other bottle, taken so, held more."""
GRAVE = frozenset({"health_concern", "watch"})


@dataclass(frozen=True, slots=True)
class Bottle:
    """One bottle with its findings."""

    sample: Sample
    drafts: tuple[Draft, ...]


def together(mine: Bottle, others: Sequence[Bottle]) -> tuple[Draft, ...]:
    """Return the findings of one bottle with what the others of the same tap add to them."""
    return tuple(_together(one, mine.sample, others) for one in mine.drafts)


def _together(one: Draft, sample: Sample, others: Sequence[Bottle]) -> Draft:
    slug = one.finding.analyte
    if slug is None or not one.finding.text or one.answer is None:
        return one
    beside = [
        (bottle.sample, other)
        for bottle in others
        for other in bottle.drafts
        if other.finding.analyte == slug and other.finding.text and other.answer is not None
    ]
    if slug not in FROM_PIPES:
        return _contradicted(one, [d for bottle, d in beside if bottle.taken == sample.taken])
    if {sample.taken, *(bottle.taken for bottle, _ in beside)} >= PAIR:
        one = _with_pair(one, sample, beside)
    return _raised(one, beside)


def _with_pair(one: Draft, sample: Sample, beside: Sequence[tuple[Sample, Draft]]) -> Draft:
    """Return a finding without the call for a second bottle, and with what the pair shows."""
    why = (*one.finding.why, *_source(one.finding, sample, beside))
    return replace(one, finding=replace(one.finding, why=why), steps=_without_call(one))


def _without_call(one: Draft) -> tuple[Message | None, ...]:
    return tuple(entry for entry in one.steps if entry is None or entry.code not in ASK_FOR_PAIR)


def _source(
    finding: Finding, sample: Sample, beside: Sequence[tuple[Sample, Draft]]
) -> Iterator[Message]:
    """Yield where the metal comes from, as far as two bottles show."""
    by_draw = {bottle.taken: other.finding for bottle, other in beside} | {sample.taken: finding}
    first, ran = by_draw["first_draw"], by_draw["flushed"]
    if first.verdict in GRAVE and ran.verdict == "no_concern_found":
        yield say("doubt.pair_pipes", name=name_of(finding.analyte, finding.label))


def _raised(one: Draft, beside: Sequence[tuple[Sample, Draft]]) -> Draft:
    """Return a finding with the graver answer of another bottle of the same tap."""
    bottle, other = min(beside, key=lambda pair: _gravity(pair[1].finding), default=(None, None))
    if bottle is None or other is None:
        return one
    graver = other.finding
    if graver.verdict not in GRAVE or _gravity(graver) >= _gravity(one.finding):
        return one
    code = HIGHER.get(bottle.taken or "", "doubt.bottle_other")
    why = say(code, text=_printed(bottle, graver))
    finding = replace(
        one.finding,
        verdict=graver.verdict,
        urgency=graver.urgency,
        persons=tuple(dict.fromkeys((*one.finding.persons, *graver.persons))),
        why=(why, *one.finding.why),
    )
    theirs = _without_call(other)
    steps = (*theirs, *(entry for entry in one.steps if entry not in theirs))
    return replace(one, finding=finding, steps=steps)


def _contradicted(one: Draft, beside: Sequence[Draft]) -> Draft:
    """Return a quiet finding that another bottle, filled in the same way, contradicts."""
    if one.finding.verdict != "no_concern_found":
        return one
    over = next((other for other in beside if other.finding.verdict == "health_concern"), None)
    if over is None:
        return one
    why = say("doubt.bottle_contradicts", text=over.finding.text)
    finding = replace(one.finding, verdict="cant_tell", why=(*one.finding.why, why))
    return replace(one, finding=finding, steps=(*one.steps, step("ask_lab")))


def _gravity(finding: Finding) -> int:
    return GRAVITY.index((finding.verdict, finding.urgency))


def _printed(bottle: Sample, finding: Finding) -> str:
    """Return the result as the lab printed it, with its unit."""
    row: Result | None = next(
        (r for r in bottle.results if (r.label, r.text) == (finding.label, finding.text)), None
    )
    unit = row.unit if row is not None and row.unit else ""
    return finding.text if unit in finding.text else f"{finding.text} {unit}"

"""Two results of one sample that cannot both be right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from ..messages import Message, say
from ..reading import Result
from .drafts import Draft
from .tables import step

ALIKE = Decimal("0.1")
"""Common practice, no source: duplicates within this share of the larger agree."""
COMPARED = frozenset({"health_concern", "watch", "nuisance_only", "no_concern_found"})


def against_each_other(drafts: Sequence[Draft], results: Sequence[Result]) -> tuple[Draft, ...]:
    """Return the drafts with a word about each that another of the same analyte contradicts.

    A quiet result beside one over a level cannot be told; nothing that was found is taken back.
    """
    return tuple(
        _beside(one, result, drafts, results) for one, result in zip(drafts, results, strict=True)
    )


def _beside(
    one: Draft, result: Result, drafts: Sequence[Draft], results: Sequence[Result]
) -> Draft:
    for other, row in zip(drafts, results, strict=True):
        if row is result or row.analyte != result.analyte or row.analyte is None:
            continue
        why = _clash(one, other, result, row)
        if why is not None:
            return _told(one, why)
    return one


def _clash(one: Draft, other: Draft, result: Result, row: Result) -> Message | None:
    """Return what is wrong between two rows of one analyte, seen from the first."""
    mine, theirs = one.finding, other.finding
    if mine.verdict == theirs.verdict or not {mine.verdict, theirs.verdict} <= COMPARED:
        return None
    text = f"{row.label} {row.text}"
    part, whole = result.fraction == "dissolved", row.fraction == "dissolved"
    if part != whole:
        higher = not part and _apart(theirs.low, mine.high)
        return say("doubt.dissolved_higher", other=text) if higher else None
    germs = mine.present is not None and mine.present != theirs.present
    if germs or _apart(mine.low, theirs.high) or _apart(theirs.low, mine.high):
        return say("doubt.contradicts", other=text)
    return None


def _apart(low: Decimal | None, high: Decimal | None) -> bool:
    """Whether all of one amount lies clearly above all of the other."""
    return low is not None and high is not None and low > high * (1 + ALIKE)


def _told(one: Draft, why: Message) -> Draft:
    finding = replace(one.finding, why=(*one.finding.why, why))
    steps = one.steps
    if finding.verdict == "no_concern_found":
        finding = replace(finding, verdict="cant_tell")
        steps = (*steps, step("ask_lab"))
    return Draft(finding, steps, one.answer)

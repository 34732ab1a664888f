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
PART_OF = {"total_coliform": {"e_coli", "fecal_coliform"}, "fecal_coliform": {"e_coli"}}
"""Germs of which some kinds have a test of their own: found there, they are here too."""
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
        if row is result or row.analyte is None:
            continue
        if row.analyte in PART_OF.get(result.analyte or "", ()):
            why = _missed(one, other, row)
        elif row.analyte == result.analyte:
            why = _clash(one, other, result, row)
        else:
            continue
        if why is not None:
            return _told(one, why)
    return one


def _missed(one: Draft, other: Draft, row: Result) -> Message | None:
    """Return what is wrong where a kind of germ was found and the whole group was not."""
    if one.finding.present is False and other.finding.present is True:
        return say("doubt.contradicts_part", other=f"{row.label} {row.text}")
    return None


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

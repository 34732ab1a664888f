"""Which number is wrong? The edit of one number that makes a sheet agree with itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..checks.sheet import Sheet
from ..interpretation import Check
from ..reading import Result, Sample, Where
from ..site import Site
from ..speech import basis_words
from .edits import Edit
from .quantities import quantities
from .ranking import Ranked, Rows, ranked
from .rules import SlipKind, rule
from .settling import Standing, checked, doubted_alone, edited, standing

MOST = 3


@dataclass(frozen=True, slots=True)
class Suspect:
    """One number that may be wrong, and what it might have been. Only a question to a person."""

    analyte: str
    kind: SlipKind
    printed: str
    """The result as printed, with its unit or basis where these are in question."""
    proposed: str
    settles: tuple[str, ...]
    """Names of the checks that doubt the sheet as printed, and would agree then."""
    agree: tuple[str, ...]
    """Names of the checks that agree already, and still would."""
    where: tuple[Where, ...]
    share: float
    """How likely this is beside all other edits and beside no slip at all, from 0 to 1."""
    other: str | None = None
    """The analyte of the other row of a swap; ``proposed`` is what stands there."""


@dataclass(frozen=True, slots=True)
class _Case:
    """One sheet under search."""

    sample: Sample
    site: Site
    before: Standing


def suspects(
    sample: Sample, site: Site, checks: Iterable[Check] | None = None
) -> tuple[Suspect, ...]:
    """Return the numbers that a single slip would explain, best first, three at most.

    ``checks`` are the sample's checks where they are known already. Nothing is returned while no
    check doubts, and nothing where no edit settles a doubt without raising another.
    """
    told = checked(sample, site) if checks is None else tuple(checks)
    case = _Case(sample, site, standing(told, sample.results))
    if not case.before.doubt:
        return ()
    found: list[Suspect] = []
    for one in _likely(case):
        suspect = _suspect(case, one)
        if suspect is None and not found:
            break
        found += [suspect] if suspect else []
    return tuple(found[:MOST])


def _likely(case: _Case) -> list[Ranked]:
    """Return the edits to look at; none where no slip at all is likely enough."""
    known = quantities(Sheet(case.sample, (), case.site))
    odd = {
        at: against
        for at, one in enumerate(case.sample.results)
        if (against := doubted_alone(one, case.before))
    }
    positions = tuple(sorted({*known.positions.values(), *odd}))
    none, order = ranked(Rows(case.sample.results, positions, odd), known)
    if none > rule("none") or not order or order[0].share < rule("first"):
        return []
    return [one for one in order if one.share >= rule("also")]


def _suspect(case: _Case, one: Ranked) -> Suspect | None:
    """Return the suspect of an edit that settles a doubt and raises none; else None."""
    edit = one.edit
    sample = edited(case.sample, edit)
    after = standing(checked(sample, case.site), sample.results)
    # a check of one row has nothing left to say once its doubt is gone: that is its consent
    able = after.agree | {name for name in case.before.doubt if ":" in name}
    settles, agree = (case.before.doubt - after.doubt) & able, case.before.agree & after.agree
    if after.doubt - case.before.doubt or not settles:
        return None
    if after.doubt and one.share < rule("remain"):
        return None
    if len(settles) < rule("settling") and len(settles) + len(agree) < rule("agreeing"):
        return None
    at, then = edit.rows[0]
    printed = case.sample.results[at]
    return Suspect(
        printed.analyte or "",
        edit.kind,
        *_texts(printed, then, edit.kind),
        tuple(sorted(settles)),
        tuple(sorted(agree)),
        _places(case.sample, edit),
        one.share,
        edit.rows[1][1].analyte if edit.kind == "swap" else None,
    )


def _places(sample: Sample, edit: Edit) -> tuple[Where, ...]:
    return tuple(place for at, _ in edit.rows for place in sample.results[at].where)


def _texts(printed: Result, then: Result, kind: SlipKind) -> tuple[str, str]:
    """Return what stands there and what may have been meant, as far as they differ."""
    if kind == "unit":
        return f"{printed.text} {printed.unit}", f"{then.text} {then.unit}"
    if kind == "basis":
        return _counted(printed), _counted(then)
    return printed.text, then.text


def _counted(result: Result) -> str:
    basis = result.basis or (result.normalized.basis if result.normalized else None)
    amount = f"{result.text} {result.unit}"
    return basis_words(amount, basis) if basis else amount

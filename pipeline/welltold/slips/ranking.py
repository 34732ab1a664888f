"""How likely each edit is beside all others, and beside no slip at all."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..analytes import registry
from ..reading import Result
from .edits import Edit, edits
from .quantities import Quantities, Quantity, read_as
from .rows import contradictions
from .rules import rule, usual

Changes = dict[str, Quantity]


@dataclass(frozen=True, slots=True)
class Ranked:
    """An edit and its share of all that is possible, from 0 to 1."""

    edit: Edit
    share: float


@dataclass(frozen=True, slots=True)
class Rows:
    """The rows of a sample that may be edited."""

    results: Sequence[Result]
    positions: Sequence[int]
    against: Mapping[int, int]
    """How many contradictions a row has in itself, by position; none where it is left out."""


def ranked(rows: Rows, known: Quantities) -> tuple[float, list[Ranked]]:
    """Return the share of no slip at all, and the edits, the likeliest first."""
    from .evidence import log_likelihoods

    likely: list[tuple[Edit, Changes, float]] = []
    for edit in edits(rows.results, rows.positions):
        changes = _changes(rows, known, edit)
        if changes is not None:
            kept = {rows.results[at].analyte or "": one for at, one in changes.items()}
            likely.append((edit, kept, _prior(rows, known, edit, changes)))
    counted = [
        {slug: one for slug, one in kept.items() if slug in known.positions}
        for _, kept, _ in likely
    ]
    together = log_likelihoods(known, [{}, *counted])
    logs = [float(together[0])]
    logs += [float(one) + prior for one, (_, _, prior) in zip(together[1:], likely, strict=True)]
    top = max(logs)
    total = sum(math.exp(one - top) for one in logs)
    shares = [math.exp(one - top) / total for one in logs]
    order = [Ranked(edit, share) for (edit, _, _), share in zip(likely, shares[1:], strict=True)]
    return shares[0], sorted(order, key=lambda one: -one.share)


def _changes(rows: Rows, known: Quantities, edit: Edit) -> dict[int, Quantity] | None:
    """Return the quantities of the edited rows; None where no water at all has them."""
    found: dict[int, Quantity] = {}
    for at, result in edit.rows:
        amount = _amount(rows.results[at], result, known)
        if amount is None or _beyond(result.analyte or "", amount.middle) > rule("far_beyond"):
            return None
        found[at] = amount
    return found


def _beyond(slug: str, amount: float) -> float:
    """Return how many times an amount is the highest that natural waters have; 0: no such end."""
    own = registry()[slug]
    if own.slug == "ph" and own.natural_low:
        amount = max(amount, float(own.natural_low) + float(own.natural_high or 0) - amount)
    return amount / float(own.natural_high) if own.natural_high else 0.0


def _amount(before: Result, after: Result, known: Quantities) -> Quantity | None:
    """Return the quantity of an edited row; by the rule of three where only its number changed."""
    was = known.of.get(after.analyte or "")
    same = (before.state, before.unit, before.basis) == (after.state, after.unit, after.basis)
    if was and same and after.state == "value" and before.value and after.value:
        return Quantity(was.middle * float(after.value / before.value), was.spread)
    return read_as(after)


def _prior(rows: Rows, known: Quantities, edit: Edit, changes: Mapping[int, Quantity]) -> float:
    """Return the logarithm of the chance of a slip before the rest of the sheet has spoken."""
    told = math.log(edit.weight)
    for at, result in edit.rows:
        slug = result.analyte or ""
        against = len(contradictions(result)) + (_beyond(slug, changes[at].middle) > 1)
        eased = rows.against.get(at, 0) - against
        told -= math.log(rule("row_odds")) * eased
        before = known.of.get(slug)
        if before is not None:
            told += _usualness(slug, changes[at].middle) - _usualness(slug, before.middle)
    return told


def _usualness(slug: str, amount: float) -> float:
    """Return how usual an amount is, as a logarithm; 0 where nothing is on record."""
    middle, decades = usual().get(slug, (amount, 1.0))
    tail = rule("usual_tail")
    return -(tail + 1) / 2 * math.log1p((math.log10(amount / middle) / decades) ** 2 / tail)

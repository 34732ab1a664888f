"""What the checks themselves say before and after an edit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..checks import balance, carbonates, hardness, parts, solids, values
from ..checks.sheet import Sheet
from ..interpretation import Check
from ..reading import Result, Sample
from ..site import Site
from .edits import Edit
from .rows import contradictions

FAMILIES = (
    values.checks,
    parts.checks,
    hardness.checks,
    carbonates.checks,
    balance.checks,
    solids.checks,
)
TOGETHER = frozenset(
    {
        "ion_balance",
        "solids_of_ions",
        "conductance_of_ions",
        "solids_of_conductance",
        "hardness_of_parts",
        "calcium_over_hardness",
        "alkalinity_of_parts",
        "alkalinity_at_ph",
        "nitrogen_of_parts",
        "dissolved_over_total",
    }
)
"""The checks that set numbers of the sheet against each other."""
ALONE = frozenset({values.POSSIBLE, values.NATURAL, values.SLIP})
"""The checks of single numbers: their doubt counts, and their consent says nothing."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Names of the checks that doubt a sheet, and of those that agree with it."""

    doubt: frozenset[str]
    agree: frozenset[str]


def standing(checks: Iterable[Check], rows: Iterable[Result]) -> Standing:
    """Return how a sheet stands with the checks of several numbers and with those of its rows."""
    told = [check for check in checks if kind_of(check) in TOGETHER | ALONE]
    against = {name for row in rows for name in contradictions(row)}
    return Standing(
        frozenset(check.check for check in told if check.outcome == "doubt") | against,
        frozenset(c.check for c in told if c.outcome == "agrees" and kind_of(c) in TOGETHER),
    )


def kind_of(check: Check) -> str:
    """Return a check's name without the analyte behind it."""
    return check.check.partition(":")[0]


def checked(sample: Sample, site: Site) -> tuple[Check, ...]:
    """Return the checks of a sample that an edit of a number can move."""
    sheet = Sheet(sample, (), site)
    return tuple(check for family in FAMILIES for check in family(sheet))


def doubted_alone(result: Result, standing: Standing) -> int:
    """Return how many doubts a sheet has about one row by itself."""
    alone = {f"{name}:{result.analyte}" for name in ALONE}
    return len(standing.doubt & alone) + len(contradictions(result))


def edited(sample: Sample, edit: Edit) -> Sample:
    """Return the sample as it would read."""
    results = list(sample.results)
    for at, result in edit.rows:
        results[at] = result
    return replace(sample, results=tuple(results))

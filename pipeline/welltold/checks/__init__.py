"""Is this sheet believable? One small module for each family of checks.

`check_sample` gives every check with its figure and reason; `doubtful` says which analytes a doubt
concerns, and `lowered` lets the doubt count in the findings: they become less sure and say why,
and nothing that protects is taken away.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ..interpretation import Check, Finding
from ..reading import Sample
from ..site import Site
from . import balance, carbonates, hardness, hold_times, parts, position, repeats, solids, values
from .doubts import doubtful, look_first, lowered
from .sheet import Sheet

__all__ = ["check_sample", "doubtful", "lowered"]

Family = Callable[[Sheet], Iterator[Check]]
FAMILIES: tuple[Family, ...] = (
    values.checks,
    repeats.checks,
    parts.checks,
    hardness.checks,
    carbonates.checks,
    balance.checks,
    solids.checks,
    position.checks,
    hold_times.checks,
)


def check_sample(
    sample: Sample, findings: tuple[Finding, ...], site: Site, beside: tuple[Sample, ...] = ()
) -> tuple[Check, ...]:
    """Return what the sheet says about itself; a check without any of its numbers is left out.

    ``beside``: the other bottles of the same tap and day.
    """
    sheet = Sheet(sample, findings, site, beside)
    return tuple(look_first(check, sheet) for family in FAMILIES for check in family(sheet))

"""Lead that nobody looked for in the first water of the day, where the water wears on pipes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..interpretation import Finding, Verdict
from ..reading import Sample
from ..thresholds import threshold
from ..treatment.water import Water
from ..verdicts.bottles import taken_of
from .cheap import cheap_tests
from .possible import Case
from .spread import short

LEAD, TEST = "lead", "first_draw_lead"
_WORN = frozenset({"blue_green_stains", "pinholes"})


def first_draw_open(water: Water) -> bool:
    """Return whether the water wears on pipes, and no first draw was tested for lead.

    Lead that is a health concern already in another bottle leaves nothing open.
    """
    tested = water.of(LEAD)
    drawn = {taken_of(one, water.site) for one in (water.sample, *water.beside)}
    if any(one.verdict == "health_concern" for one in tested) or (tested and "first_draw" in drawn):
        return False
    return any(_worn(water))


def with_first_draw(case: Case, share: float) -> Case:
    """Return the case with lead in the first draw, at a share of what homes on wells have."""
    times = short(cheap_tests()[TEST].at(share))
    verdict: Verdict = "health_concern" if times > 1 else "watch"
    found = Finding(LEAD, LEAD, f"{times} x", verdict, present=True)
    drawn = Sample(taken="first_draw")
    return replace(case, findings=(*case.findings, found), beside=(*case.beside, drawn))


def _worn(water: Water) -> Iterator[bool]:
    acid = water.amount("ph", "SU")
    yield acid is not None and acid.low < threshold("corrosive_ph")
    yield bool(_WORN & set(water.site.tap.observations))
    yield any(one.verdict in {"health_concern", "watch"} for one in water.of("copper"))

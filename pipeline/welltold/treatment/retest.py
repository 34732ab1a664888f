"""What to test again, and when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from ..interpretation import Retest, Train
from ..messages import say
from ..tables import read_table
from ..verdicts.doing import NEW_SAMPLE
from .knowledge import NOT_EQUIPMENT, parts
from .water import Water
from .words import text

FOUND = "found"
LATE = ("doubt.waited", "doubt.flag_late")
"""What begins the codes of a bottle that waited too long."""
WAITED = "hold_time:"
"""What begins the names of checks that leave a number less sure for the same reason."""
ASKS_FOR_MORE = frozenset({"cant_tell", "health_concern", "watch"})


@dataclass(frozen=True, slots=True)
class RetestRow:
    """One row of ``retest.csv``."""

    on: str
    analytes: tuple[str, ...]
    when: str
    why: str
    citation: str


@cache
def retest_rows() -> tuple[RetestRow, ...]:
    """Return the rows in the table's order."""
    return tuple(
        RetestRow(
            row.text("on"),
            parts(row.text("analyte")),
            row.text("when"),
            row.text("why"),
            row.text("citation"),
        )
        for row in read_table("retest.csv")
    )


def retests(water: Water, happened: frozenset[str], trains: Sequence[Train]) -> tuple[Retest, ...]:
    """Return what to test again; each analyte once for each date."""
    calling = _calling(water, happened, trains)
    unique: dict[tuple[str, str], Retest] = {}
    for row in retest_rows():
        if row.on not in calling:
            continue
        for slug in calling[row.on] if row.analytes == (FOUND,) else row.analytes:
            why = say(f"treatment.retest_{row.why}", source=row.citation)
            again = Retest(slug, text(f"treatment.when_{row.when}"), (why,))
            # Yearly before and behind equipment says it all: no second yearly line.
            unique.setdefault((slug, row.when.removesuffix("_both")), again)
    return tuple(unique.values())


def _calling(
    water: Water, happened: frozenset[str], trains: Sequence[Train]
) -> Mapping[str, tuple[str, ...]]:
    """Return, for each cause that is there, the analytes that called for it."""
    persons = set(water.site.home.persons)
    causes: dict[str, tuple[str, ...]] = {"always": ()}
    causes |= {event: () for event in happened if event.startswith("need:")}
    if "infant" in persons:
        causes["infant"] = ()
    if "pregnant" in persons:
        causes["pregnant"] = ()
    if "flooded" in happened:
        causes["changed"] = ()
    fresh = _asking(water, NEW_SAMPLE)
    for cause, slugs in (
        ("watch", _slugs(water, verdict="watch")),
        ("new_sample", fresh),
        # the new sample for germs has a row of its own, with the day by which it is taken
        ("now", tuple(slug for slug in _slugs(water, urgency="now") if slug not in fresh)),
        ("late", tuple(slug for slug in _late(water) if slug not in fresh)),
        ("installed", tuple(_treated(trains))),
    ):
        if slugs:
            causes[cause] = tuple(dict.fromkeys(slugs))
    return causes


def _slugs(water: Water, **wanted: str) -> tuple[str, ...]:
    """Return the analytes of the findings whose fields have these values."""
    return tuple(
        finding.analyte
        for finding in water.findings
        if finding.analyte is not None
        and all(getattr(finding, name) == value for name, value in wanted.items())
    )


def _asking(water: Water, code: str) -> tuple[str, ...]:
    """Return the analytes of the findings that ask for a step."""
    asking = (one for one in water.findings if any(step.code == code for step in one.do))
    return tuple(one.analyte for one in asking if one.analyte is not None)


def _late(water: Water) -> Iterator[str]:
    """Yield what matters and is less sure, since its bottle waited too long for the test."""
    for one in water.findings:
        late = any(
            why.code.startswith(LATE) or why.args.get("check", "").startswith(WAITED)
            for why in one.why
        )
        if late and one.analyte is not None and one.verdict in ASKS_FOR_MORE:
            yield one.analyte


def _treated(trains: Sequence[Train]) -> Iterator[str]:
    """Yield what equipment is there for; a disinfected well has its own rows."""
    for stage in (stage for train in trains for stage in train.stages):
        if stage.stage != NOT_EQUIPMENT:
            yield from stage.for_

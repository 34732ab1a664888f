"""Which bottles of a sheet were filled at the same place, and on the same day."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from functools import cache, lru_cache

from ..reading import Reading, Result, Sample, Taken
from ..site import Site
from ..tables import read_table

PAIR: frozenset[Taken | None] = frozenset({"first_draw", "flushed"})
"""The two bottles of one tap: water that stood in the pipes, and water that ran."""
OF_PIPES = frozenset({"lead", "copper"})
_SAYS: dict[Taken, tuple[str, ...]] = {
    "first_draw": ("first draw", "1st draw", "first drawn"),
    "flushed": ("flushed", "flush", "after flushing", "fully flushed"),
}
_BREAKS = re.compile(r"[^\w]+")


def taken_of(sample: Sample, site: Site) -> Taken | None:
    """Return how the sample was taken: the site file knows better than the sheet."""
    facts = site.samples.get(sample.id or "")
    if facts and facts.taken:
        return facts.taken
    return sample.taken or _by_its_labels(sample)


def _by_its_labels(sample: Sample) -> Taken | None:
    """Return how the water was drawn where each line of lead or copper says it in its name."""
    draws = {_draw_of(row.label) for row in sample.results if row.analyte in OF_PIPES}
    return draws.pop() if len(draws) == 1 else None


def _draw_of(label: str) -> Taken | None:
    words = f" {_BREAKS.sub(' ', label.lower())} "
    told: list[Taken] = [
        draw for draw, said in _SAYS.items() if any(f" {w} " in words for w in said)
    ]
    return told[0] if len(told) == 1 else None


def same_place(samples: Sequence[Sample]) -> tuple[tuple[int, ...], ...]:
    """Return for each sample the positions of the others that were taken at its place."""
    alike: dict[str, list[int]] = defaultdict(list)
    for i, sample in enumerate(samples):
        alike[place_name(sample.point or "") or f"on {_day(sample)}"].append(i)
    groups = {i: group for group in alike.values() for i in group}
    return tuple(
        tuple(j for j in groups[i] if j != i and _one_place(one, samples[j]))
        for i, one in enumerate(samples)
    )


def same_day(one: Sample, other: Sample) -> bool:
    """Whether two bottles may have been filled on one day, as far as the sheet shows."""
    days = {_day(one), _day(other)} - {""}
    return len(days) < 2


def tells(row: Result, slug: str) -> bool:
    """Whether a line of the sheet says something of an analyte."""
    return row.analyte == slug and row.state not in {"blank", "unreadable"}


def bottle_with(slug: str, taken: Taken, bottles: Sequence[Sample]) -> Sample | None:
    """Return the bottle that was taken so and tested for an analyte."""
    found = (one for one in bottles if one.taken == taken)
    return next((one for one in found if any(tells(row, slug) for row in one.results)), None)


def with_draws(reading: Reading, site: Site) -> tuple[Sample, ...]:
    """Return the samples, each with how it was taken as the site file has it."""
    return tuple(replace(one, taken=taken_of(one, site)) for one in reading.samples)


def _one_place(one: Sample, other: Sample) -> bool:
    """Whether two bottles whose names allow it come from one place.

    Without the name of a place, they do where they are a pair of draws, or hold other tests each.
    """
    if one.point and other.point and (one.point == other.point or place_name(one.point)):
        return True
    if {one.taken, other.taken} == PAIR:
        return True
    tests = [{row.analyte for row in bottle.results} for bottle in (one, other)]
    return not (one.point or other.point) and bool(_day(one)) and tests[0].isdisjoint(tests[1])


def _day(sample: Sample) -> str:
    return (sample.collected or "")[:10]


@lru_cache(maxsize=4096)
def place_name(point: str) -> str:
    """Return a place without the words that only tell how the water was drawn."""
    words = f" {_BREAKS.sub(' ', point.lower())} "
    for phrase in _draw_words():
        words = words.replace(f" {phrase} ", " ")
    return " ".join(words.split())


@cache
def _draw_words() -> tuple[str, ...]:
    """Return the words for the draw, the longest first."""
    listed = (row.text("words") for row in read_table("draw_words.csv"))
    return tuple(sorted(listed, key=len, reverse=True))

"""A sample of the sheet while its results are gathered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from welltold.reading import Result, Sample

from .draws import how_taken

Facts = dict[str, str]
IDENTITY = ("lab_id", "sample_id", "client_id", "point")
NUMBERS = ("lab_id", "sample_id", "client_id")


@dataclass(slots=True, eq=False)
class Draft:
    """A sample while its results are gathered."""

    facts: Facts = field(default_factory=dict)
    results: list[Result] = field(default_factory=list)
    unsure: bool = False
    """Begun by another day alone, without a name."""

    def agrees(self, facts: Mapping[str, str]) -> bool:
        """Whether nothing known of this sample contradicts these facts."""
        told = (*IDENTITY, "taken")
        return all(self.facts.get(r, facts[r]) == facts[r] for r in told if r in facts)

    def same_day(self, facts: Mapping[str, str]) -> bool:
        """Whether these facts name no other day of collection than this sample's."""
        one, other = self.facts.get("collected"), facts.get("collected")
        return one is None or other is None or one[:10] == other[:10]


def sample_of(draft: Draft) -> Sample:
    """Return the sample with the first of its numbers, its place, days and results."""
    facts = draft.facts
    number = facts.get("lab_id") or facts.get("sample_id") or facts.get("client_id")
    point = facts.get("point") or facts.get("client_id")
    if point is None and "lab_id" in facts:
        point = facts.get("sample_id")
    if number is None:
        number = facts.get("report_id")
    return Sample(
        id=number,
        point=point,
        collected=_moment(facts),
        received=facts.get("received"),
        matrix=facts.get("matrix"),
        taken=how_taken(facts),
        results=tuple(draft.results),
    )


def _moment(facts: Facts) -> str | None:
    when, clock = facts.get("collected"), facts.get("collected_time")
    return f"{when}T{clock}" if when and clock and "T" not in when else when

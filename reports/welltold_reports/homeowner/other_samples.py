"""What the other samples of a sheet found, as page 1 of one sample needs it.

Each sample has a report of its own. Who holds only the one of the flushed bottle must not miss
that the first water of the same tap had lead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from welltold.interpretation import Finding, SampleView
from welltold.reading import Taken

from ..wording import analyte_name, in_sentence, word

_PAIR: frozenset[Taken | None] = frozenset({"first_draw", "flushed"})


@dataclass(frozen=True, slots=True)
class OtherSample:
    """Another sample of the same place, or day, with health concerns that this one has not."""

    name: str
    concerns: tuple[str, ...]
    """As inside a sentence."""


def other_samples(samples: Sequence[SampleView], index: int) -> tuple[OtherSample, ...]:
    """Return each with a health concern that the sample at ``index`` has not."""
    known = {finding.analyte for finding in _concerns(samples[index])}
    found = []
    for number, other in _beside(samples, index):
        names = tuple(
            dict.fromkeys(
                in_sentence(analyte_name(finding.analyte, finding.label))
                for finding in _concerns(other)
                if finding.analyte is None or finding.analyte not in known
            )
        )
        if names:
            name = other.id or other.point or word("sample_number", n=number)
            found.append(OtherSample(name, names))
    return tuple(found)


def has_the_pair(samples: Sequence[SampleView], index: int) -> bool:
    """Whether the first water of the morning and flushed water of a place are on the sheet."""
    beside = [other.taken for _, other in _beside(samples, index)]
    return {samples[index].taken, *beside} >= _PAIR


def _beside(samples: Sequence[SampleView], index: int) -> Iterator[tuple[int, SampleView]]:
    mine = samples[index]
    for number, other in enumerate(samples, start=1):
        if number != index + 1 and _of_one_home(mine, other):
            yield number, other


def _of_one_home(mine: SampleView, other: SampleView) -> bool:
    """Whether both were taken at one place, or on one day and the places are not told."""
    if mine.point is not None and other.point is not None:
        return mine.point == other.point
    day = _day(mine)
    return day is not None and day == _day(other)


def _day(sample: SampleView) -> str | None:
    return sample.collected[:10] if sample.collected else None


def _concerns(sample: SampleView) -> list[Finding]:
    return [one for one in sample.findings if one.verdict == "health_concern"]

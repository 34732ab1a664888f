"""Which bottles are compared: those behind equipment, each with the nearest ones ahead of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from ..interpretation import Interpretation, SampleView
from ..messages import Message
from ..reading import Reading, Sample
from ..site import Equipment, Site
from ..verdicts.bottles import place_name, with_draws
from ..verdicts.scene import Scene
from .bottle import Bottle
from .line import Line, house_line, line_of


@dataclass(frozen=True, slots=True)
class Placed:
    """One bottle with the stages in front of its tap."""

    bottle: Bottle
    line: Line
    told: bool
    """Whether the site file says that it was taken behind equipment."""

    @property
    def day(self) -> str:
        """The day it was taken; "" where that is not known."""
        return (self.bottle.sample.collected or "")[:10]


@dataclass(frozen=True, slots=True)
class Home:
    """The raw sheet with its site, and what stands in the house."""

    view: Interpretation
    site: Site
    packs: tuple[str, ...]
    """The levels that it was compared with, as they were asked for."""

    def raw(self) -> tuple[int, ...]:
        """Return the samples of the raw sheet that nothing stood ahead of, the fullest first."""
        house = self.house()
        samples = with_draws(self.view.reading, self.site)
        found = [
            at
            for at, one in enumerate(samples)
            if not Scene(one, self.site).after and not _placed_behind(one, self.site, house)
        ]
        return tuple(sorted(found, key=lambda at: -len(samples[at].results)))

    def house(self) -> tuple[tuple[str, ...], Message]:
        """Return the stages in the house, and where that is known from."""
        fullest = max(self.view.samples, key=_trains, default=None)
        return house_line(self.site, fullest.trains if fullest else ())

    def bottle(self, at: int) -> Bottle:
        """Return one sample of the raw sheet."""
        reading = self.view.reading
        site = replace(self.site, equipment=replace(self.site.equipment, after=()))
        findings = self.view.samples[at].findings
        return Bottle(reading, reading.samples[at], findings, site)

    def one_place(self, raw: Sequence[int]) -> bool:
        """Whether the raw samples come from one place, as far as their names tell."""
        points = (self.view.reading.samples[at].point or "" for at in raw)
        return len({place_name(one) for one in points} - {""}) < 2


def placed(home: Home, reading: Reading) -> tuple[Placed, ...]:
    """Return every bottle of a sheet with the stages in front of its tap."""
    house = home.house()
    bottles = _plain(home, reading)
    samples = with_draws(reading, home.site)
    return tuple(
        Placed(bottle, line_of(sample, home.site, house), _told(sample, home.site))
        for bottle, sample in zip(bottles, samples, strict=True)
    )


def chains(bottles: Sequence[Placed]) -> tuple[tuple[Placed, ...], ...]:
    """Return the bottles of a sheet in groups along one line and of one day, raw water in each.

    A bottle belongs to a line that begins as its own does.
    """
    groups: list[list[Placed]] = []
    for one in sorted(bottles, key=lambda it: -len(it.line.stages)):
        homes = [group for group in groups if _along(one, group[0])]
        for group in homes if not one.line.stages else homes[:1]:
            group.append(one)
        if not homes and one.line.stages:
            groups.append([one])
    return tuple(tuple(reversed(group)) for group in groups)


def _along(one: Placed, longest: Placed) -> bool:
    same_day = not one.day or not longest.day or one.day == longest.day
    return same_day and longest.line.stages[: len(one.line.stages)] == one.line.stages


def _placed_behind(sample: Sample, site: Site, house: tuple[tuple[str, ...], Message]) -> bool:
    """Whether the sheet's own words for the place put it behind equipment."""
    line = line_of(sample, site, house)
    return line.by_name and bool(line.stages)


def _told(sample: Sample, site: Site) -> bool:
    facts = site.samples.get(sample.id or "")
    return bool(facts and facts.after)


def _plain(home: Home, reading: Reading) -> tuple[Bottle, ...]:
    """Return the bottles of a sheet, judged as if nothing stood ahead: here the tap counts."""
    from ..verdicts import interpret

    site = replace(home.site, equipment=Equipment(), samples={})
    samples = tuple(
        replace(one, taken=None if one.taken == "treated" else one.taken)
        for one in with_draws(reading, home.site)
    )
    judged = interpret(
        replace(reading, samples=samples),
        site=site,
        as_of=date.fromisoformat(home.view.as_of),
        packs=home.packs,
    )
    return tuple(
        Bottle(reading, sample, seen.findings, site)
        for sample, seen in zip(samples, judged.samples, strict=True)
    )


def _trains(view: SampleView) -> int:
    return len(view.trains)

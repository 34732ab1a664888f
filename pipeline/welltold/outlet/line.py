"""Which stages stand in front of a tap, as far as the sheet, the site file or the trains tell."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..interpretation import Train
from ..messages import Message, say
from ..reading import Sample
from ..site import Site
from ..treatment.knowledge import NOT_EQUIPMENT, stages
from ..treatment.words import stage_name
from .tables import AHEAD, RAW, TAP, point_words

_BREAKS = re.compile(r"[^\w]+")


@dataclass(frozen=True, slots=True)
class Line:
    """The stages in front of one tap, in the order of the water."""

    stages: tuple[str, ...]
    how: Message
    """Where that is known from."""
    named: bool = False
    """Whether the sheet itself names the stage that the bottle was filled behind."""
    ahead: bool = False
    """Whether the sheet names a stage that the bottle was filled ahead of."""

    @property
    def by_name(self) -> bool:
        """Whether the sheet names a stage at all."""
        return self.named or self.ahead


def house_line(site: Site, trains: Sequence[Train]) -> tuple[tuple[str, ...], Message]:
    """Return what stands in the house, else what was proposed for it first."""
    units = (unit.stage for unit in site.equipment.unit)
    told = dict.fromkeys((*site.equipment.in_place, *units))
    placed = tuple(stage for stage in told if stage != NOT_EQUIPMENT)
    if placed:
        return placed, say("outlet.line_site")
    first = trains[0].stages if trains else ()
    proposed = tuple(one.stage for one in first if one.stage != NOT_EQUIPMENT)
    return proposed, say("outlet.line_train" if proposed else "outlet.line_none")


def line_of(sample: Sample, site: Site, house: tuple[tuple[str, ...], Message]) -> Line:
    """Return the stages in front of a sample's tap; none for a bottle of raw water."""
    every, how = house
    facts = site.samples.get(sample.id or "")
    named = _named(sample.point or "", every)
    if facts and facts.after:
        return Line(facts.after, say("outlet.line_sample"), named=named.named)
    if named.by_name:
        return named
    taken = facts.taken if facts and facts.taken else sample.taken
    if taken == "raw" or (taken is None and RAW in _meant(sample.point or "")):
        return Line((), say("outlet.line_raw"))
    whole = tuple(one for one in every if stages()[one].place == "whole_house")
    at_tap = TAP in _meant(sample.point or "")
    return Line(every if at_tap or not whole else whole, how)


def _named(point: str, every: tuple[str, ...]) -> Line:
    """Return the line up to the stage that the place is named for; empty where it names none."""
    told = say("outlet.line_point")
    meant = _meant(point)
    here = [one for one in meant if one not in {AHEAD, TAP, RAW}]
    stage = next((one for one in here if one in every), here[0] if here else None)
    if stage is None:
        return Line((), told)
    at = every.index(stage) if stage in every else len(every)
    if AHEAD in meant:
        return Line(every[:at], told, ahead=True)
    whole = every[:at] if stage in every else _whole(every)
    return Line((*whole, stage), told, named=True)


def _whole(every: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one for one in every if stages()[one].place == "whole_house")


def _meant(point: str) -> tuple[str, ...]:
    """Return all that the words of a place can mean; a word counts once, in the longest phrase."""
    text, found = f" {' '.join(_BREAKS.sub(' ', point.lower()).split())} ", list[str]()
    for words, means in point_words():
        if f" {words} " in text:
            text = text.replace(f" {words} ", " | ")
            found += means
    return tuple(found)


def names(line: Sequence[str]) -> str:
    """Return stages as a list in words."""
    from ..speech import in_sentence, listed

    told = [stage_name(one) for one in line]
    return listed([told[0], *map(in_sentence, told[1:])]) if told else ""

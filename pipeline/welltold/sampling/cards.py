"""One card for each bottle that the next sample needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from ..interpretation import Finding, SampleView
from ..messages import Message, say
from ..speech import in_sentence, listed, plain_name
from ..verdicts.pairs import ASK_FOR_PAIR
from .bottles import Bottle, Keeping, bottles, taken_in

MONTH, DAY = Decimal(720), Decimal(24)
HOURS_TOLD_AS_HOURS = Decimal(72)
LAST_ON_WEDNESDAY = Decimal(96)
"""Hours: a bottle that keeps no longer must be with the lab on a day when it can begin, with one
day in hand; common practice, no source."""
_PART_OF = {"nitrate_nitrite": "nitrate"}
"""A sum that comes with the test of its main part."""
_AS_N = frozenset({"nitrate", "nitrite", "nitrate_nitrite"})


@dataclass(frozen=True, slots=True)
class Asked:
    """One advised test, and when."""

    analyte: str
    when: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SampleCard:
    """One bottle: the tests in it, how it is filled, sent and written up."""

    bottle: str
    name: str
    tests: tuple[Asked, ...]
    do: tuple[Message, ...]
    ship: tuple[Message, ...]
    write: tuple[Message, ...]
    citations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class House:
    """What stands between the well and the taps."""

    in_place: tuple[str, ...]
    treated: bool
    """Whether there is treatment, or some is proposed."""


def sample_cards(sample: SampleView, site: Mapping[str, Any]) -> tuple[SampleCard, ...]:
    """Return the cards of a sample, those with a test that is due at once first.

    ``site`` is the site file as it was understood. Tests come from what the sheet lacks and from
    what is to be tested again.
    """
    by_bottle: dict[str, list[Asked]] = {}
    for asked in advised(sample):
        by_bottle.setdefault(taken_in(asked.analyte).bottle.name, []).append(asked)
    urgent = {one.analyte for one in sample.findings if one.urgency == "now"}
    order = list(bottles())
    names = sorted(
        by_bottle,
        key=lambda name: (not urgent & {one.analyte for one in by_bottle[name]}, order.index(name)),
    )
    in_place = tuple(site.get("equipment", {}).get("in_place", ()))
    house = House(in_place, bool(in_place or sample.trains))
    return tuple(_card(bottles()[name], by_bottle[name], house) for name in names)


def advised(sample: SampleView) -> Iterator[Asked]:
    """Yield each advised test once, with every date that it is advised for."""
    found: dict[str, list[str]] = {one.analyte: [] for one in sample.retest}
    for finding in sample.findings:
        if finding.verdict == "not_tested" and finding.analyte:
            found.setdefault(finding.analyte, []).append(say("sampling.when_next").text)
        elif finding.analyte and _asks_for_bottles(finding):
            found.setdefault(finding.analyte, [say("sampling.when_next").text])
    for one in sample.retest:
        found[one.analyte].append(one.when)
    for slug, when in found.items():
        if _PART_OF.get(slug) in found:
            continue
        yield Asked(slug, tuple(dict.fromkeys(when)))


def _asks_for_bottles(finding: Finding) -> bool:
    """Whether a result asks for the first water of the morning, with no date of its own."""
    return not ASK_FOR_PAIR.isdisjoint(step.code for step in finding.do)


def _card(bottle: Bottle, tests: Sequence[Asked], house: House) -> SampleCard:
    keepings = [taken_in(one.analyte).keeping for one in tests]
    return SampleCard(
        bottle=bottle.name,
        name=say(f"sampling.name_{bottle.name}").text,
        tests=tuple(tests),
        do=tuple(_steps(bottle, house)),
        ship=tuple(_ship(bottle, keepings)),
        write=tuple(_write(bottle, tests, house)),
        citations=tuple(dict.fromkeys((bottle.source, *(one.source for one in keepings)))),
    )


def _steps(bottle: Bottle, house: House) -> Iterator[Message]:
    """Yield how the bottle is filled, in the order of the work."""
    yield say(f"sampling.bottle_{bottle.name}")
    if bottle.draw == "none":
        yield say("sampling.chill_yes" if bottle.chill else "sampling.chill_no")
        return
    yield say(f"sampling.tap_{bottle.tap}")
    if house.treated and bottle.tap != "used":
        yield say("sampling.tap_two")
    if bottle.aerator != "stays":
        yield say(f"sampling.aerator_{bottle.aerator}")
    yield say(f"sampling.draw_{bottle.draw}")
    if bottle.fill != "none":
        yield say(f"sampling.fill_{bottle.fill}")
        yield say("sampling.chill_yes" if bottle.chill else "sampling.chill_no")


def _ship(bottle: Bottle, keepings: Sequence[Keeping]) -> Iterator[Message]:
    """Yield how long it keeps and on which weekdays it is best filled."""
    if _at_the_tap(bottle):
        yield say("sampling.hold_tap")
        return
    known = [one for one in keepings if one.hours is not None]
    least = min(known, key=lambda one: one.hours or Decimal(0), default=None)
    if least is not None:
        yield _held(least)
        if least.kept_hours:
            yield say("sampling.hold_acid", n=_whole(least.kept_hours / DAY))
        if not least.verified:
            yield say("sampling.hold_memory")
    if len(known) < len(keepings):
        yield say("sampling.hold_ask")
    yield say(f"sampling.ship_{last_weekday(least.hours if least else None, chill=bottle.chill)}")
    yield say("sampling.ship_holiday")


def _at_the_tap(bottle: Bottle) -> bool:
    """Whether the test is made on the spot, so that no bottle is sent."""
    return bottle.fill == "none" and bottle.draw != "none"


def last_weekday(hours: Decimal | None, *, chill: bool) -> str:
    """Return the last weekday on which a bottle is best filled: wednesday, thursday or any."""
    if hours is not None and hours <= LAST_ON_WEDNESDAY:
        return "wednesday"
    return "thursday" if chill else "any"


def _held(keeping: Keeping) -> Message:
    hours = keeping.hours or Decimal(0)
    if hours >= 3 * MONTH:
        return say("sampling.hold_months", n=_whole(hours / MONTH))
    if hours > HOURS_TOLD_AS_HOURS:
        return say("sampling.hold_days", n=_whole(hours / DAY))
    return say("sampling.hold_hours", n=_whole(hours))


def _write(bottle: Bottle, tests: Sequence[Asked], house: House) -> Iterator[Message]:
    """Yield what the lab's form has to say."""
    if _at_the_tap(bottle):
        return
    names = [in_sentence(plain_name(one.analyte) or one.analyte) for one in tests]
    yield say("sampling.write_tests", names=listed(names))
    if _AS_N & {one.analyte for one in tests}:
        yield say("sampling.write_as_n")
    if bottle.draw == "first":
        yield say("sampling.write_first")
    if bottle.name == "germs":
        yield say("sampling.write_chlorine")
    yield say("sampling.write_where")
    if house.in_place:
        stages = [say(f"treatment.name_{stage}").text for stage in house.in_place]
        yield say("sampling.write_equipment", names=listed(stages))
    yield say("sampling.write_when")
    yield say("sampling.write_well")


def _whole(value: Decimal) -> str:
    """Return a number of hours, days or months rounded down: never longer than it keeps."""
    return str(int(value))

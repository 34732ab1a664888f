"""Compares every bottle behind equipment with what was predicted there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..behind import OutletSheet
from ..interpretation import Interpretation
from ..messages import Message, say, speaking
from ..reading import Reading
from ..site import Site
from ..treatment.water import Water
from .bottle import Bottle, tested
from .bottles import Home, Placed, ahead, placed
from .judging import over_all
from .line import names
from .seeing import Pair, other_well, see, thinned
from .telling import Context, health_told, outlet, taken_apart


def with_after(
    view: Interpretation, later: Sequence[Reading], site: Site, packs: Sequence[str]
) -> Interpretation:
    """Return the view with what bottles behind equipment say, at its fullest sample of raw water.

    ``later`` are sheets taken after treatment. Where the site file says of samples of the sheet
    itself what stood ahead of them, these are compared too. Nothing else of the view changes.
    """
    if not view.samples:
        return view
    home = Home(view, site, tuple(packs))
    with speaking(view.language):
        sheets = tuple(_sheets(home, later))
    if not sheets:
        return view
    at = next(iter(home.raw()), 0)
    samples = list(view.samples)
    samples[at] = replace(samples[at], outlet=sheets)
    return replace(view, samples=tuple(samples))


def _sheets(home: Home, later: Sequence[Reading]) -> Iterator[OutletSheet]:
    given = {one.source.sha256: one for one in later}
    asked = given.pop(home.view.reading.source.sha256, None) is not None
    yield from _inside(home, asked=asked)
    for reading in given.values():
        yield from _of(home, reading)


def _inside(home: Home, *, asked: bool) -> Iterator[OutletSheet]:
    """Yield the comparisons within the sheet itself: of what the site file places behind a stage.

    Where the same sheet is given as the later one too, its own words for the places count as well.
    """
    own, told = home.view.reading, [one for one in home.site.samples.values() if one.after]
    if not (asked or told):
        return
    bottles = placed(home, own)
    inside = [one for one in bottles if one.told or (asked and _behind(one))]
    for one in inside:
        yield _compared(home, one, bottles)
    if asked and not inside:
        yield _refused(own, "same_sheet")


def _of(home: Home, reading: Reading) -> Iterator[OutletSheet]:
    """Yield one comparison for each bottle of a later sheet that equipment stands ahead of."""
    bottles = placed(home, reading)
    behind = [one for one in bottles if _behind(one)]
    for one in behind:
        yield _compared(home, one, bottles)
    if not behind:
        yield _refused(reading, "all_raw" if home.house()[0] else "no_equipment")


def _behind(one: Placed) -> bool:
    return bool(one.line.stages)


def _compared(home: Home, one: Placed, others: Sequence[Placed]) -> OutletSheet:
    reading = one.bottle.reading
    raw, near = home.raw(), ahead(one, others)
    if not raw and not near:
        return _refused(reading, "no_raw")
    if not near and not home.one_place(raw):
        return _refused(reading, "which_raw")
    if not near and _older(home, raw, one):
        return _refused(reading, "older")
    pair, start = _pair(home, raw, one, near)
    judged = over_all(
        see(pair),
        thinned=thinned(pair),
        other_well=other_well(pair),
        tap_named=one.line.named,
    )
    context = Context(pair, one.line, home.site)
    sample = one.bottle.sample
    return OutletSheet(
        reading.source.file,
        reading.source.sha256,
        sample.id,
        sample.point,
        sample.collected,
        compared=True,
        through=one.line.stages,
        why=(*_why(one, pair, start), *taken_apart(pair)),
        stages=tuple(outlet(context, stage) for stage in judged),
        health=tuple(health_told(context, judged)),
    )


def _pair(home: Home, raw: Sequence[int], one: Placed, near: Sequence[Placed]) -> tuple[Pair, int]:
    """Return the water ahead of the stages that are judged, and how many stages come before it.

    The nearest bottle of the same sheet counts; the raw sheet adds what was not tested in it,
    unless that bottle was filled behind stages itself.
    """
    start = len(near[0].line.stages) if near else 0
    bases = [other.bottle for other in near if len(other.line.stages) == start]
    if start == 0:
        bases += [home.bottle(at) for at in raw]
    return Pair(tuple(bases), _water(bases), one.bottle, one.line.stages[start:]), start


def _water(bases: Sequence[Bottle]) -> Water:
    """Return one water of several bottles: each analyte as the first one that tested it has it."""
    findings = list(bases[0].findings)
    for at, base in enumerate(bases[1:], start=1):
        known = tested(bases[:at])
        findings += [one for one in base.findings if one.analyte not in known]
    first = bases[0]
    return Water(tuple(findings), first.sample, first.site, first.beside)


def _older(home: Home, raw: Sequence[int], one: Placed) -> bool:
    """Whether the bottle was filled before the raw one; unknown days do not tell."""
    days = [(home.view.samples[at].collected or "")[:10] for at in raw]
    return bool(one.day) and all(days) and all(one.day < day for day in days)


def _why(one: Placed, pair: Pair, start: int) -> Iterator[Message]:
    yield one.line.how
    if start:
        yield say("outlet.from_bottle", point=pair.bases[0].sample.point or pair.bases[0].sample.id)
    yield say("outlet.through", stages=names(pair.stages))


def _refused(reading: Reading, why: str) -> OutletSheet:
    source = reading.source
    return OutletSheet(source.file, source.sha256, why=(say(f"outlet.not_{why}"),))

"""Compares every bottle behind equipment with what was predicted there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..behind import OutletBottle, OutletSheet
from ..interpretation import Interpretation
from ..messages import Message, say, speaking
from ..reading import Reading
from ..site import Site
from .bottles import Home, Placed, chains, placed
from .chain import Chain
from .judging import over_all
from .line import names
from .seeing import odd, see
from .telling import health_told, outlet, taken_apart

_MISSED = frozenset({"site.sample_unknown", "site.sample_without_number"})


def with_after(
    view: Interpretation, later: Sequence[Reading], site: Site, packs: Sequence[str]
) -> Interpretation:
    """Return the view with what bottles behind equipment say, at its fullest sample of raw water.

    ``later`` are sheets taken after treatment. Where the site file says of samples of the sheet
    itself what stood ahead of them, these are compared too. Nothing else of the view changes.
    """
    if not view.samples:
        return view
    view = _with_later_samples(view, later)
    home = Home(view, site, tuple(packs))
    with speaking(view.language):
        sheets = tuple(_sheets(home, later))
    if not sheets:
        return view
    at = next(iter(home.raw()), 0)
    samples = list(view.samples)
    samples[at] = replace(samples[at], outlet=sheets)
    return replace(view, samples=tuple(samples))


def _with_later_samples(view: Interpretation, later: Sequence[Reading]) -> Interpretation:
    """Return the view without notes that miss a sample of the site file which is on a later sheet.

    A site file with bottles behind the equipment names samples of that sheet.
    """
    there = {sample.id for reading in later for sample in reading.samples if sample.id}
    kept = tuple(
        one
        for one in view.reading.warnings
        if one.code not in _MISSED or one.args.get("id") not in there
    )
    return replace(view, reading=replace(view.reading, warnings=kept))


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
    inside = [one for one in bottles if one.told or (asked and one.line.by_name)]
    for group in chains([one for one in inside if one.line.stages]):
        yield _compared(home, group)
    if asked and not inside:
        yield _refused(own, "same_sheet")


def _of(home: Home, reading: Reading) -> Iterator[OutletSheet]:
    """Yield one comparison for each line of equipment from which a later sheet has bottles."""
    groups = chains(placed(home, reading))
    for group in groups:
        yield _compared(home, group)
    if not groups:
        yield _refused(reading, "all_raw" if home.house()[0] else "no_equipment")


def _compared(home: Home, group: Sequence[Placed]) -> OutletSheet:
    behind = [one for one in group if one.line.stages]
    reading, raw = behind[0].bottle.reading, home.raw()
    same_day = [one.bottle for one in group if not one.line.stages]
    why = _refusal(home, raw, behind) if not same_day else None
    if why:
        return _refused(reading, why)
    chain = Chain(
        (*same_day, *(home.bottle(at) for at in raw)),
        behind[-1].line.stages,
        tuple((len(one.line.stages), one.bottle) for one in behind),
    )
    odds = [odd(chain, at, tap_named=one.line.named) for at, one in enumerate(behind)]
    judged = over_all(see(chain), odds)
    return OutletSheet(
        reading.source.file,
        reading.source.sha256,
        compared=True,
        why=tuple(_why(chain, same_day=bool(same_day))),
        bottles=tuple(_bottle(one) for one in behind),
        stages=tuple(outlet(chain, stage) for stage in judged),
        health=tuple(health_told(chain, judged, home.site)),
    )


def _refusal(home: Home, raw: Sequence[int], behind: Sequence[Placed]) -> str | None:
    """Return why bottles cannot be compared with the raw sheet; None where they can."""
    if not raw:
        return "no_raw"
    if not home.one_place(raw):
        return "which_raw"
    return "older" if _older(home, raw, behind[0]) else None


def _older(home: Home, raw: Sequence[int], one: Placed) -> bool:
    """Whether the bottle was filled before the raw one; unknown days do not tell."""
    days = [(home.view.samples[at].collected or "")[:10] for at in raw]
    return bool(one.day) and all(days) and all(one.day < day for day in days)


def _bottle(one: Placed) -> OutletBottle:
    sample = one.bottle.sample
    through = say("outlet.through", stages=names(one.line.stages))
    return OutletBottle(
        sample.id, sample.point, sample.collected, one.line.stages, (one.line.how, through)
    )


def _why(chain: Chain, *, same_day: bool) -> Iterator[Message]:
    if same_day:
        yield say("outlet.raw_same_day")
    yield from taken_apart(chain)


def _refused(reading: Reading, why: str) -> OutletSheet:
    source = reading.source
    return OutletSheet(source.file, source.sha256, why=(say(f"outlet.not_{why}"),))

"""Sizes a stage with what stands on the dealer's shelf."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from ..interpretation import Worked
from ..messages import Message, say
from .job import Job
from .shelf import Item, Shelf
from .shelf_pick import claims, nothing_fits, offer, picked
from .sized import Sized

BARE = frozenset(
    {"chlorine_feed", "permanganate_feed", "peroxide_feed", "soda_ash_feed", "aerator"}
)
"""Stages for which a shelf names nothing that is sized."""


def size_from(shelf: Shelf, job: Job, sizer: Callable[[Job], Sized]) -> Sized:
    """Return the stage built with the shelf; the generic sizes where nothing on it fits."""
    if job.stage in BARE:
        return sizer(job)
    rows = tuple(shelf.of(job.stage))
    has = offer(job, iter(rows))
    told = has.told
    if has.tanks and job.media:
        built = sizer(replace(job.afresh(), tanks=has.tanks))
        item = None if built.refused else _item_of(built, has.items)
        if item is not None:
            return _named(built, item, told)
        told = (*told, *built.refused)
    generic = sizer(job)
    item = picked(generic, has.items)
    if item is not None:
        return _named(generic, item, told)
    if not generic.size:
        return generic
    return _without(generic, told, has_rows=bool(rows))


def _item_of(built: Sized, items: tuple[Item, ...]) -> Item | None:
    """Return the item whose tank was chosen: the cheapest of several alike."""
    wide, count = built.size.get("tank_in"), built.size.get("tanks")
    ft3 = built.size.get("media_ft3_total")
    if not isinstance(ft3, Decimal) or not isinstance(count, Decimal):
        return None
    alike = [
        item
        for item in items
        if item.tank_in == wide and item.media_ft3 is not None and item.media_ft3 * count >= ft3
    ]
    return min(alike, key=lambda item: (item.media_ft3 or 0, item.price or 0), default=None)


def _named(sized: Sized, item: Item, told: tuple[Message, ...]) -> Sized:
    how = say("sizing.shelf_taken", name=item.name, line=item.line)
    source = say("sizing.shelf_source", line=item.line, name=item.name).text
    worked = Worked("size.shelf_item", item.name, "", how, source)
    return replace(
        sized,
        size={"shelf_item": item.name, **sized.size},
        worked=(worked, *sized.worked),
        cautions=(*sized.cautions, *claims(item), *told),
    )


def _without(sized: Sized, told: tuple[Message, ...], *, has_rows: bool) -> Sized:
    lacking = nothing_fits(told, has_rows=has_rows)
    instead = tuple(replace(one, conditions=(*one.conditions, lacking)) for one in sized.instead)
    return replace(sized, conditions=(*sized.conditions, lacking), instead=instead)

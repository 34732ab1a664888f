"""Picks from the dealer's shelf, and tells where a claim goes beyond published limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from ..interpretation import Condition
from ..messages import Message, say
from .job import Job
from .rules import line, number
from .shelf import Item
from .sized import PRACTICE, Sized
from .stock import Tank, tanks
from .written import shown

_LIMITS: Mapping[str, str] = {
    "max_iron_mg_l": "iron",
    "max_manganese_mg_l": "manganese",
    "max_hydrogen_sulfide_mg_l": "hydrogen_sulfide",
}
_LEAST: Mapping[str, tuple[str, str]] = {
    "uv": ("service_gpm", "uv_gpm"),
    "sediment_filter": ("service_gpm", "service_gpm"),
    "ultrafilter": ("service_gpm", "service_gpm"),
    "retention_tank": ("tank_gal", "retention_gal"),
    "reverse_osmosis": ("makes_gpd", "wanted_gpd"),
    "distiller": ("makes_gpd", "wanted_gpd"),
    "arsenic_adsorber": ("service_gpm", "service_gpm"),
    "carbon_block_tap": ("service_gpm", "service_gpm"),
    "fluoride_adsorber": ("service_gpm", "service_gpm"),
    "lead_cartridge": ("service_gpm", "service_gpm"),
}
"""What an item without a bed must have, and the figure that asks for it."""
_GRAINS_OF_SALT = Decimal(5994)
"""Grains that a pound of sodium chloride can exchange at the very most; arithmetic."""


@dataclass(frozen=True, slots=True)
class Offer:
    """What the shelf has for one stage in this water."""

    tanks: tuple[Tank, ...]
    items: tuple[Item, ...]
    told: tuple[Message, ...]
    """Why rows are out of question."""


def offer(job: Job, rows: Iterator[Item]) -> Offer:
    """Return what may be used in the water that reaches the stage."""
    items: list[Item] = []
    told: list[Message] = []
    for item in rows:
        beyond = list(_beyond(job, item))
        told.extend(beyond)
        if not beyond:
            items.append(item)
    beds = sorted(
        (tank for item in items if (tank := _tank(item)) is not None),
        key=lambda tank: (tank.media_ft3, tank.diameter_in),
    )
    return Offer(tuple(beds), tuple(items), tuple(told))


def _tank(item: Item) -> Tank | None:
    """Return the tank of an item; None where its row names no tank or no volume."""
    if item.tank_in is None or item.media_ft3 is None:
        return None
    alike = [tank for tank in tanks() if tank.diameter_in >= item.tank_in]
    height = (alike[0] if alike else tanks()[-1]).height_in
    source = say("sizing.shelf_source", line=item.line, name=item.name).text
    return Tank(
        item.tank_in,
        height,
        item.media_ft3,
        source,
        item.name,
        item.service_gpm,
        item.backwash_gpm,
        item.medium,
    )


def _beyond(job: Job, item: Item) -> Iterator[Message]:
    """Yield where the water goes beyond what is claimed for an item."""
    for field, slug in _LIMITS.items():
        most: Decimal | None = getattr(item, field)
        high = job.high(slug, "mg/L")
        if most is not None and high is not None and high > most:
            yield say("sizing.shelf_water", name=item.name, has=shown(high), most=shown(most))
    hard = job.high("hardness", "mg/L", "CaCO3")
    grains = None if hard is None else hard / number("grain_mg_l")
    if item.max_hardness_gpg is not None and grains is not None and grains > item.max_hardness_gpg:
        limit = shown(item.max_hardness_gpg)
        yield say("sizing.shelf_water", name=item.name, has=shown(grains), most=limit)
    acid = job.least("ph", "SU")
    if item.min_ph is not None and acid is not None and acid < item.min_ph:
        yield say("sizing.shelf_water", name=item.name, has=shown(acid), most=shown(item.min_ph))


def claims(item: Item) -> Iterator[Message]:
    """Yield where a claim of an item goes beyond published limits, or beyond arithmetic."""
    # The treatment room sizes its stages here, so it is not there yet when this module loads.
    from ..treatment.stage_rows import conditions

    for row in conditions(item.stage):
        for field, slug in _LIMITS.items():
            claim: Decimal | None = getattr(item, field)
            if row.fact != slug or row.op not in {"<=", "<"} or row.value is None or claim is None:
                continue
            if row.unit == "mg/L" and claim > row.value:
                told = {"claim": shown(claim), "limit": shown(row.value), "source": row.citation}
                yield say("sizing.shelf_claim", name=item.name, **told)
    yield from _salt_claims(item)


def _salt_claims(item: Item) -> Iterator[Message]:
    best = line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")[-1]
    if item.capacity_grains is None:
        return
    if item.media_ft3 is not None and item.capacity_grains > best.y * item.media_ft3:
        each = shown(item.capacity_grains / item.media_ft3)
        yield say("sizing.shelf_claim_grains", name=item.name, claim=each, limit=shown(best.y))
    if item.salt_lb is not None and item.capacity_grains > _GRAINS_OF_SALT * item.salt_lb:
        each = shown(item.capacity_grains / item.salt_lb)
        most = shown(_GRAINS_OF_SALT)
        yield say("sizing.shelf_claim_salt", name=item.name, claim=each, limit=most)


def picked(sized: Sized, items: tuple[Item, ...]) -> Item | None:
    """Return the item for a stage without a bed: the smallest that is large enough."""
    if sized.stage not in _LEAST:
        return None
    column, figure = _LEAST[sized.stage]
    wants = sized.size.get(figure)
    if not isinstance(wants, Decimal):
        return None
    enough = [item for item in items if (getattr(item, column) or Decimal(0)) >= wants]
    return min(enough, key=lambda item: (getattr(item, column), item.price or 0), default=None)


def not_on_shelf(condition: Condition) -> bool:
    """Return whether a condition says that nothing on the shelf fits."""
    return condition.holds is False and condition.asks == say("sizing.asks_shelf").text


def nothing_fits(told: tuple[Message, ...], *, has_rows: bool) -> Condition:
    """Return the condition that the shelf does not meet."""
    has = "; ".join(one.text for one in told)
    code = "has_shelf_too_small" if has_rows else "has_shelf_nothing"
    has = has or say(f"sizing.{code}").text
    return Condition(say("sizing.asks_shelf").text, has, holds=False, citation=PRACTICE)

"""Sizes, settings and the water between the stages, as a dealer writes them down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from welltold.interpretation import Existing, Stage, Train, Worked
from welltold.messages import say

from ..homeowner.model import Entry
from ..homeowner.train_pictures import train_picture
from ..numbers import plain, rounded, trimmed
from ..wording import in_sentence, stage_name, texts, word
from .nights import night_lines

SHOWN = (
    "medium", "tanks", "tank_in", "media_ft3", "bed_depth_in", "first_fill_lb", "tank_gal",
    "retention_gal", "service_gpm", "carries_gpm", "contact_minutes", "uv_gpm", "rated_gpd",
    "makes_gpd", "backwash_gpm", "backwash_minutes", "rinse_minutes", "drain_gpm", "interval_days",
    "hardness_gpg", "compensated_gpg", "dial_gpg", "salt_lb", "capacity_grains", "reserve_grains",
    "override_days", "refill_minutes", "brine_minutes", "dose_mg_l", "feed_gpd", "feed_percent",
    "sodium_added_mg_l", "storage_gal", "booster_gpm", "refill_hours", "salt_lb_per_year",
    "water_gal_per_year", "media_lb_per_year", "solution_gal_per_year", "cartridges_per_year",
)  # fmt: skip
"""The figures that a dealer dials in or orders by, in that order; the workbook has them all."""
ARITHMETIC = (
    "compensated_gpg", "load_grains_per_day", "least_ft3", "salt_lb", "contact_minutes",
    "backwash_gpm", "interval_days", "retention_gal", "feed_gpd", "media_lb_per_year",
)  # fmt: skip
"""The figures whose formula stands on the sheet itself."""
_DIGITS = 3
_SINGLE = frozenset({"tanks"})
"""Not worth a word when there is one."""


@dataclass(frozen=True, slots=True)
class SizeLine:
    """One stage with what is ordered and dialled in."""

    name: str
    figures: str
    """"" where nothing could be sized."""
    arithmetic: tuple[str, ...]
    water: str
    """The water that leaves the stage, as far as it is new there."""


def size_lines(train: Train, units: Sequence[Existing] = ()) -> tuple[SizeLine, ...]:
    """Return one line for each stage of a train; a unit that stays makes its line a mere offer."""
    stay = {one.stage for one in units if one.do in {"keep", "reset"}}
    picture = train_picture(train)
    boxes = [box for box in picture.boxes if box.kind == "stage"] if picture else []
    waters = ["; ".join(box.water) for box in boxes] or [""] * len(train.stages)
    return tuple(
        _line(stage, water, offered=stage.stage in stay)
        for stage, water in zip(train.stages, waters, strict=True)
    )


def existing_lines(units: Sequence[Existing]) -> tuple[Entry, ...]:
    """Return what to do with each unit that is in place, with its settings and why."""
    return tuple(
        Entry(
            word(f"existing_{one.do}", name=in_sentence(stage_name(one.stage))),
            tuple(filter(None, (_settings(one), *texts(one.why)))),
        )
        for one in units
    )


def _settings(one: Existing) -> str:
    worked = {made.of.partition(".")[2]: made for made in one.worked}
    shown = [
        _figure(name, worked[name]) for name in SHOWN if name in worked and name in one.settings
    ]
    return word("existing_settings", figures=", ".join(shown)) if shown else ""


def pumping(train: Train) -> tuple[str, ...]:
    """Return what is known of the pump, the largest backwash, the drain and the worst night."""
    return (*_pumping(train), *night_lines(train))


def figure(value: Decimal) -> str:
    """Return a figure with three digits, as it is told to a reader."""
    return plain(trimmed(rounded(value, _DIGITS)))


def _line(stage: Stage, water: str, *, offered: bool) -> SizeLine:
    worked = {one.of.partition(".")[2]: one for one in stage.worked or ()}
    parts = [_figure(name, worked[name]) for name in SHOWN if name in worked]
    how = tuple(text for name in ARITHMETIC if (text := _how(name, worked)))
    name = stage_name(stage.stage)
    name = word("size_if_new", name=name) if offered else name
    return SizeLine(name, ", ".join(filter(None, parts)), how, water)


def _how(name: str, worked: Mapping[str, Worked]) -> str:
    return worked[name].how.text if name in worked else ""


def _figure(name: str, worked: Worked) -> str:
    if name in _SINGLE and worked.value == 1:
        return ""
    if name == "medium":
        return in_sentence(say(f"sizing.medium_{worked.value}").text)
    return word(f"figure_{name}", value=figure(Decimal(worked.value)))


def _pumping(train: Train) -> Iterator[str]:
    flow = train.flow
    if flow is None:
        return
    if flow.pump_gpm is None:
        yield word("pump_not_told")
    else:
        yield word("pump_told", gpm=figure(flow.pump_gpm), floor=int(flow.pump_gpm))
    if flow.backwash_gpm is None:
        yield word("backwash_none")
        return
    yield word("backwash_largest", gpm=figure(flow.backwash_gpm))
    answer = {True: "fits", False: "fits_not", None: "fits_unknown"}[flow.fits]
    yield word(f"backwash_{answer}")
    waste = [(stage.size or {}).get("waste_gal_day") for stage in train.stages]
    figures = [Decimal(one) for one in waste if isinstance(one, int | Decimal)]
    if figures:
        yield word("drain_gal_day", gal=figure(sum(figures, Decimal(0))))
    yield word("drain_air_gap")

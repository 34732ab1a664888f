"""Sizes, settings and the water between the stages, as a dealer writes them down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from welltold.interpretation import Existing, Stage, Train, Worked
from welltold.messages import say

from ..homeowner.model import Entry
from ..homeowner.train_pictures import train_picture
from ..numbers import plain, rounded, trimmed
from ..wording import in_sentence, stage_name, texts, word
from .nights import night_lines

ORDER = (
    "shelf_item", "medium", "tanks", "tank_in", "media_ft3", "bed_depth_in", "first_fill_lb",
    "tank_gal", "retention_gal", "uv_gpm", "rated_gpd", "makes_gpd", "service_gpm", "carries_gpm",
    "contact_minutes", "storage_gal", "booster_gpm", "refill_hours",
)  # fmt: skip
SET = (
    "hardness_gpg", "compensated_gpg", "dial_gpg", "salt_lb", "salt_lb_each", "capacity_grains",
    "capacity_grains_each", "reserve_grains",
    "interval_days", "override_days", "backwash_gpm", "drain_gpm", "backwash_minutes",
    "brine_minutes", "rinse_minutes", "refill_minutes", "dose_mg_l", "feed_gpd", "feed_percent",
    "sodium_added_mg_l",
)  # fmt: skip
YEAR = (
    "salt_lb_per_year", "water_gal_per_year", "media_lb_per_year", "solution_gal_per_year",
    "cartridges_per_year",
)  # fmt: skip
SHOWN = ORDER + SET + YEAR
"""The figures that a dealer orders by, dials in and fills up; the workbook has them all."""
_GROUPS = (("sizes_order", ORDER), ("sizes_set", SET), ("sizes_year", YEAR))
ARITHMETIC = (
    "compensated_gpg", "load_grains_per_day", "least_ft3", "salt_lb", "contact_minutes",
    "backwash_gpm", "drain_gpm", "interval_days", "retention_gal", "feed_gpd",
    "media_lb_per_year",
)  # fmt: skip
"""The figures whose formula stands on the sheet itself."""
_DIGITS, _YEAR_DIGITS = 3, 2
_TENTH, _HUNDREDTH = Decimal("0.1"), Decimal("0.01")
_NEEDED = frozenset({"backwash_gpm", "uv_gpm", "service_gpm", "booster_gpm"})
"""Flows that are asked for: rounded up. What a bed carries is rounded down."""
_CARRIED = frozenset({"carries_gpm"})


@dataclass(frozen=True, slots=True)
class Setting:
    """One figure with its label."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class SettingGroup:
    """What is ordered, what is dialled in, or what a year takes."""

    heading: str
    settings: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class SizeTable:
    """One stage with what is ordered and dialled in."""

    name: str
    groups: tuple[SettingGroup, ...]
    """Empty where nothing could be sized."""
    arithmetic: tuple[str, ...]
    water: str
    """The water that leaves the stage, as far as it is new there."""


def size_tables(train: Train, units: Sequence[Existing] = ()) -> tuple[SizeTable, ...]:
    """Return a table for each stage of a train; a unit that stays makes its table a mere offer."""
    stay = {one.stage for one in units if one.do in {"keep", "reset"}}
    picture = train_picture(train)
    boxes = [box for box in picture.boxes if box.kind == "stage"] if picture else []
    waters = ["; ".join(box.water) for box in boxes] or [""] * len(train.stages)
    return tuple(
        _table(stage, water, offered=stage.stage in stay)
        for stage, water in zip(train.stages, waters, strict=True)
    )


def existing_lines(units: Sequence[Existing]) -> tuple[Entry, ...]:
    """Return what to do with each unit that is in place, with its settings and why."""
    return tuple(
        Entry(
            word(f"existing_{one.do}", name=in_sentence(stage_name(one.stage))),
            tuple(filter(None, (_told(one), *texts(one.why)))),
        )
        for one in units
    )


def _told(one: Existing) -> str:
    worked = {made.of.partition(".")[2]: made for made in one.worked}
    shown = _settings_of([name for name in SHOWN if name in one.settings], worked)
    told = ", ".join(f"{in_sentence(made.name)} {made.value}" for made in shown)
    return word("existing_settings", figures=told) if told else ""


def pumping(train: Train) -> tuple[str, ...]:
    """Return what is known of the pump, the largest backwash, the drain and the worst night."""
    return (*_pumping(train), *night_lines(train))


def figure(value: Decimal) -> str:
    """Return a figure with three digits, as it is told to a reader."""
    return plain(trimmed(rounded(value, _DIGITS)))


def _table(stage: Stage, water: str, *, offered: bool) -> SizeTable:
    worked = {one.of.partition(".")[2]: one for one in stage.worked or ()}
    groups = ((head, _settings_of(names, worked)) for head, names in _GROUPS)
    how = tuple(text for name in ARITHMETIC if (text := _how(name, worked)))
    name = stage_name(stage.stage)
    return SizeTable(
        word("size_if_new", name=name) if offered else name,
        tuple(SettingGroup(word(head), shown) for head, shown in groups if shown),
        how,
        water,
    )


def _how(name: str, worked: Mapping[str, Worked]) -> str:
    return worked[name].how.text if name in worked else ""


def _settings_of(names: Sequence[str], worked: Mapping[str, Worked]) -> tuple[Setting, ...]:
    return tuple(
        Setting(word(f"label_{name}"), _figure(name, worked[name]))
        for name in names
        if name in worked
    )


def _figure(name: str, worked: Worked) -> str:
    if name == "medium":
        return in_sentence(say(f"sizing.medium_{worked.value}").text)
    if worked.value == 1 and name.endswith("_days"):
        return word("figure_one_day")
    if name == "shelf_item":  # the dealer's own name for it
        return word("figure_shelf_item", value=str(worked.value))
    if name == "backwash_gpm":  # as in its arithmetic, which stands below it
        exact = Decimal(worked.value).quantize(_HUNDREDTH, ROUND_CEILING)
        return word(f"figure_{name}", value=plain(trimmed(exact)))
    return word(f"figure_{name}", value=_number(name, Decimal(worked.value)))


def _number(name: str, value: Decimal) -> str:
    """Return a figure as it is worth telling; the exact one stands in the workbook."""
    if name in _NEEDED or name in _CARRIED:
        rounding = ROUND_CEILING if name in _NEEDED else ROUND_FLOOR
        return plain(trimmed(value.quantize(_TENTH, rounding)))
    return plain(trimmed(rounded(value, _YEAR_DIGITS if name in YEAR else _DIGITS)))


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
    yield word("backwash_largest", gpm=_number("backwash_gpm", flow.backwash_gpm))
    answer = {True: "fits", False: "fits_not", None: "fits_unknown"}[flow.fits]
    yield word(f"backwash_{answer}")
    waste = [(stage.size or {}).get("waste_gal_day") for stage in train.stages]
    figures = [Decimal(one) for one in waste if isinstance(one, int | Decimal)]
    if figures:
        day = rounded(sum(figures, Decimal(0)), _YEAR_DIGITS)
        yield word("drain_gal_day", gal=plain(trimmed(day)))
    yield word("drain_air_gap")

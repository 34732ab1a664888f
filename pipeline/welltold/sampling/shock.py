"""The card on shock chlorination: how much bleach for this well, or what to measure first.

Gallons of water in a round casing: 0.0408 x (inches)^2 x feet, from pi / 4 x 7.48052 gal/ft3 / 144.
Bleach of P percent holds P grams of sodium hypochlorite in 100 mL, which the published recipes
count as chlorine: Hickory Underground Water Conservation District (3 cups of 5.25 % in 100 gallons
for about 100 mg/L) and "Shock chlorination procedures", Table 1 (1 quart for 100 ft of 6 inches).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from ..interpretation import SampleView
from ..messages import Message, say
from ..tables import read_table

STEP = "shock_chlorinate"
GALLONS_FT_IN2 = Decimal("0.0408")
LITERS_GALLON = Decimal("3.785")
TARGET_MG_L = Decimal(100)
CUP_ML = Decimal("236.6")
WIDEST_IN = Decimal(12)
"""The published tables for bleach end here; wider wells are dug or bored."""
OPEN_KINDS = frozenset({"dug", "spring"})
NEEDED = ("casing_in", "depth_ft", "static_ft")
SOURCES = (
    "Shock chlorination procedures, well-water-treatment.com: 50 to 100 mg/L for 6 hours, Table 1",
    "How do I disinfect a drilled well?, Hickory Underground Water Conservation District",
    "Water Wells That Last, module 6, Alberta Agriculture, Agdex 716 (A10): 200 mg/L, sand",
    "American Ground Water Trust, node 152: water column, not for wide dug wells",
    "Well Disinfection, Frederick County Health Department, Maryland: 12 to 24 hours, power off",
    "Chlorinating Your Well, Ottawa County, Ohio: bypass equipment, nothing into the septic",
)


@dataclass(frozen=True, slots=True)
class ShockCard:
    """What a homeowner has to know before a well is disinfected."""

    first: tuple[Message, ...]
    measure: tuple[Message, ...]
    """What to find out before an amount can be told; empty where the amounts are told."""
    water: tuple[Message, ...]
    amounts: tuple[Message, ...]
    do: tuple[Message, ...]
    citations: tuple[str, ...]


def shock_card(sample: SampleView, site: Mapping[str, Any]) -> ShockCard | None:
    """Return the card where shock chlorination is one of the steps, else None.

    ``site`` is the site file as it was understood.
    """
    if not any(one.step == STEP for one in sample.steps):
        return None
    well = site.get("well", {})
    measure = tuple(_measure(well))
    return ShockCard(
        first=tuple(say(f"sampling.shock_{name}") for name in ("first", "ask", "bottled")),
        measure=measure,
        water=() if measure else tuple(_water(well)),
        amounts=() if measure else tuple(_amounts(well)),
        do=tuple(
            say(f"sampling.shock_{name}")
            for name in (
                "heater", "power", "bypass", "bleach", "never", "dilute", "close", "smell",
                "wait", "drain", "heater_on", "sand", "retest",
            )
        ),
        citations=SOURCES,
    )  # fmt: skip


def water_gallons(casing_in: Decimal, column_ft: Decimal) -> Decimal:
    """Return the US gallons in a round casing of this inside width (inches) and length (feet)."""
    return GALLONS_FT_IN2 * casing_in**2 * column_ft


def bleach_ml(gallons: Decimal, percent: Decimal, target_mg_l: Decimal = TARGET_MG_L) -> Decimal:
    """Return the mL of bleach of this strength that bring the water to the target."""
    return gallons * LITERS_GALLON * target_mg_l / (10 * percent)


def cups(milliliters: Decimal) -> str:
    """Return cups to the nearest quarter, at least one: "4 1/2"."""
    quarters = int((milliliters / CUP_ML * 4).quantize(Decimal(1), ROUND_HALF_UP)) or 1
    whole, part = divmod(quarters, 4)
    shown = {0: "", 1: "1/4", 2: "1/2", 3: "3/4"}[part]
    return " ".join(filter(None, (str(whole) if whole else "", shown)))


def _measure(well: Mapping[str, Any]) -> Iterator[Message]:
    """Yield what is in the way of an amount."""
    casing = well.get("casing_in")
    if well.get("kind") in OPEN_KINDS or (casing is not None and casing > WIDEST_IN):
        yield say("sampling.shock_wide")
        return
    missing = [name for name in NEEDED if well.get(name) is None]
    reversed_ = not missing and well["static_ft"] >= well["depth_ft"]
    if missing or reversed_:
        yield say("sampling.shock_measure")
        for name in missing or ("order",):
            yield say(f"sampling.shock_measure_{name}")
        yield say("sampling.shock_log")


def _water(well: Mapping[str, Any]) -> Iterator[Message]:
    depth, static, casing = (Decimal(well[name]) for name in ("depth_ft", "static_ft", "casing_in"))
    column = depth - static
    gallons = water_gallons(casing, column).quantize(Decimal(1), ROUND_HALF_UP)
    yield say(
        "sampling.shock_water",
        depth=depth,
        static=static,
        column=column,
        casing=casing,
        gallons=f"{gallons:,}",
    )
    yield say("sampling.shock_formula", casing=casing, column=column)


def _amounts(well: Mapping[str, Any]) -> Iterator[Message]:
    yield say("sampling.shock_amounts")
    column = Decimal(well["depth_ft"]) - Decimal(well["static_ft"])
    gallons = water_gallons(Decimal(well["casing_in"]), column)
    for row in read_table("bleach_strengths.csv"):
        percent = row.number("percent")
        if percent is None:
            raise row.wrong("percent is empty")
        milliliters = bleach_ml(gallons, percent)
        shown = (milliliters / 10).quantize(Decimal(1), ROUND_HALF_UP) * 10
        yield say("sampling.shock_amount", percent=percent, cups=cups(milliliters), ml=f"{shown:,}")
    yield say("sampling.shock_range")
    yield say("sampling.shock_pipes")

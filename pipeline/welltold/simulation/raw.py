"""The raw water as a batch: every corner of what the sheet leaves possible, or random draws of it.

A corner takes the low or the high end of each thing that is uncertain; things that push the same
way take their ends together. An effect is monotone in each, so the envelope of the corners holds
every water in between (checked in the tests with draws from the inside).
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

import numpy as np

from ..analytes import registry
from ..checks.sheet import Sheet, on_site, spans_of
from ..chemistry.arrays import Array
from ..chemistry.facts import facts_of
from ..reading import Result
from ..treatment.water import Amount, Water
from .batch import (
    ALKALINITY,
    HARD,
    HARDNESS,
    IONS,
    IRON_II,
    IRON_III,
    OTHER_HARDNESS,
    Batch,
    per_meq,
)
from .carbonate import MEQ_CACO3, set_carbon
from .corners import Corners, Span

COLDEST, WARMEST = 4.0, 25.0
"""Celsius; shallow groundwater of the contiguous United States lies between; from memory,
unverified. Only used where nobody measured the temperature, and then as a range."""
OTHERS = (
    "hydrogen_sulfide",
    "arsenic",
    "arsenic_iii",
    "arsenic_v",
    "uranium",
    "radium_226",
    "radium_228",
    "radium_226_228",
    "radon",
    "total_dissolved_solids",
    "turbidity",
    "color",
    "tannin",
    "free_chlorine",
    "dissolved_oxygen",
)
"""Tracked in the unit of the registry."""
Draws = Mapping[str, Array]


def batch_of(
    water: Water, count: int | None = None, seed: int = 0, given: Draws | None = None
) -> Batch:
    """Return the raw water; ``given`` sets quantities by slug, in the unit of the registry.

    ``count`` None: the corners. Otherwise so many draws, evenly from each range.
    """
    given = given or {}
    if given:
        count = next(iter(given.values())).size
    corners, blank = Corners(), set[str]()
    for slug, group in (*((ion, _group(ion)) for ion in IONS if ion != IRON_II), *_OTHERS):
        amount = _amount(water, slug)
        if amount is None:
            continue
        if amount.high is None:
            blank.add(slug)
        corners.add(slug, group, _span(amount))
    _add_hardness(corners, water)
    blank |= _add_iron(corners, water)
    for name, span in (("ph", ph_span(water)), (ALKALINITY, _alkalinity(water))):
        if span is not None:
            corners.add(name, name, span)
    corners.add("temperature", "temperature", celsius_span(water))
    shares, effects = corners.draw(count, seed)
    values = {name: _between(span, shares[name]) for name, (_, span) in corners.spans.items()}
    values.update({slug: np.asarray(value, dtype=float) for slug, value in given.items()})
    batch = _batch(values, effects, blank)
    batch.doubt = _in_doubt(water, batch)
    batch.split = set(HARD) if "calcium_share" in corners.spans else set()
    if not ph_at_well(water):
        batch.open_up.add("carbon_dioxide")
        batch.open_down.add("ph")
    return batch


def ph_span(water: Water) -> Span | None:
    """Return the pH: that at the well where there is one, else the lab's."""
    spans = [span for row in _ph_on_site(water) for span in spans_of(row, "SU", None)]
    if len(spans) == 1 and spans[0].high is not None:
        return float(spans[0].low), float(spans[0].high)
    amount = water.amount("ph", "SU")
    return None if amount is None or amount.high is None else _span(amount)


def ph_at_well(water: Water) -> bool:
    """Return whether the pH was read at the well: a bottle loses carbon dioxide on its way."""
    return bool(_ph_on_site(water))


def celsius_span(water: Water) -> Span:
    """Return the temperature of the well's water, or the range of groundwater."""
    facts = facts_of(Sheet(water.sample, (), water.site))
    return (facts.celsius, facts.celsius) if facts.warmth_known else (COLDEST, WARMEST)


def _ph_on_site(water: Water) -> tuple[Result, ...]:
    rows = Sheet(water.sample, (), water.site).rows("ph")
    return tuple(row for row in rows if on_site(row) and row.state == "value")


def _in_doubt(water: Water, batch: Batch) -> set[str]:
    """Return what the sheet has only in doubt."""
    slugs = {*batch.values, HARDNESS, "iron", "ph"} & set(registry())
    read = {slug: _amount(water, slug) for slug in slugs}
    doubt = {slug for slug, amount in read.items() if amount is not None and not amount.sure}
    if HARDNESS in doubt:
        doubt |= set(HARD)
    return doubt | ({IRON_II, IRON_III} if "iron" in doubt else set())


def _group(ion: str) -> str:
    return "cations" if ion in {"calcium", "magnesium", "sodium", "potassium"} else "anions"


_OTHERS = tuple((slug, "others") for slug in OTHERS)


def _amount(water: Water, slug: str) -> Amount | None:
    own = registry()[slug]
    amount = water.amount(slug, own.unit, own.basis)
    if amount is None and slug == "hydrogen_sulfide":
        amount = water.amount("sulfide", "mg/L", "H2S")
    if amount is None and slug == "nitrate":
        amount = water.amount("nitrate_nitrite", "mg/L", "N")
    return amount


def _span(amount: Amount) -> Span:
    """Return both ends; where no upper end is known, the lower one twice."""
    return float(amount.low), float(amount.low if amount.high is None else amount.high)


def _between(span: Span, share: Array) -> Array:
    return span[0] + share * (span[1] - span[0])


def _alkalinity(water: Water) -> Span | None:
    amount = water.amount(ALKALINITY, "mg/L", "CaCO3")
    if amount is None:
        bicarbonate = water.amount("bicarbonate", "mg/L", "HCO3")
        if bicarbonate is not None and bicarbonate.high is not None:
            factor = Decimal("0.8202")
            amount = Amount(bicarbonate.low * factor, bicarbonate.high * factor)
    return None if amount is None or amount.high is None else _span(amount)


def _add_hardness(corners: Corners, water: Water) -> None:
    """Where calcium or magnesium is missing, hardness gives it, or how they share is open.

    Where both are there, a laboratory's hardness may be more (strontium, iron): that stays too.
    """
    hardness = water.amount("hardness", "mg/L", "CaCO3")
    if hardness is None or hardness.high is None:
        return
    missing = {"calcium", "magnesium"} - set(corners.spans)
    corners.add("hardness", "cations", _span(hardness))
    if len(missing) == 2:
        corners.add("calcium_share", "split", (0.0, 1.0))


def _add_iron(corners: Corners, water: Water) -> set[str]:
    """Note iron(II) and iron(III); where dissolved iron was not tested their share is open.

    Return them if no upper end is known.
    """
    iron = water.amount("iron", "mg/L")
    if iron is None:
        return set()
    corners.add("iron", "others", _span(iron))
    dissolved = [one for one in water.of("iron") if one.fraction == "dissolved"]
    found = [one.value for one in dissolved if one.unit == "mg/L" and one.operator != "<"]
    share = (0.0, 1.0)
    if len(found) == 1 and found[0] is not None and iron.low > 0:
        share = (min(float(found[0] / iron.low), 1.0),) * 2
    corners.add("iron_ii_share", "iron", share)
    return {IRON_II, IRON_III} if iron.high is None else set()


def _batch(values: dict[str, Array], effects: Array, blank: set[str]) -> Batch:
    ph, alkalinity = values.pop("ph", None), values.pop(ALKALINITY, None)
    celsius = values.pop("temperature")
    _split(values)
    for ion in set(values) & set(IONS):
        values[ion] = values[ion] / per_meq(ion)
    blank |= {ion for ion in IONS if ion not in values}
    batch = Batch(values, celsius, effects, blank=blank)
    if alkalinity is not None:
        values[ALKALINITY] = alkalinity / MEQ_CACO3
        _close(batch)
        if ph is not None:
            set_carbon(batch, ph)
    return batch


def _split(values: dict[str, Array]) -> None:
    """Turn hardness and iron into their parts; mg/L."""
    hardness = values.pop("hardness", None)
    share = values.pop("calcium_share", None)
    if hardness is not None:
        whole = hardness / MEQ_CACO3
        if share is not None:
            values["calcium"] = share * whole * per_meq("calcium")
        known = [ion for ion in HARD if ion in values]
        rest = np.maximum(whole - sum(values[ion] / per_meq(ion) for ion in known), 0)
        if len(known) == 2:
            values[OTHER_HARDNESS] = rest
        else:
            missing = next(ion for ion in HARD if ion not in values)
            values[missing] = rest * per_meq(missing)
    iron = values.pop("iron", None)
    ferrous = values.pop("iron_ii_share", None)
    if iron is not None and ferrous is not None:
        values[IRON_II] = iron * ferrous
        values[IRON_III] = iron * (1 - ferrous)


def _close(batch: Batch) -> None:
    """Let sodium or chloride, if nobody measured it, make the charges add up.

    What still does not add up is the sheet's own error; it stays as it is through every stage.
    """
    unmeasured = [ion for ion in IONS if ion not in batch.values]
    short = -batch.balance()
    for ion, lacking in (("sodium", np.maximum(short, 0)), ("chloride", np.maximum(-short, 0))):
        if ion not in unmeasured:
            continue
        if np.any(lacking > 0):
            batch.assumed.add(ion)
            batch.blank.discard(ion)
        batch.values[ion] = lacking

"""What concerns the whole train: pressure lost on the way, and the water that it wastes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..interpretation import Condition, Flow, Worked
from ..site import Site
from ..tables import read_table
from .house import house
from .pump import pump_flow
from .rules import needed, number, rule
from .sized import ARITHMETIC, PRACTICE, Page, Sized
from .stock import media
from .storage import slower
from .written import fine


@dataclass(frozen=True, slots=True)
class Whole:
    """One figure of the whole train with what has to hold."""

    value: Decimal
    conditions: tuple[Condition, ...]
    worked: tuple[Worked, ...]


def train_flow(sized: Iterable[Sized], site: Site) -> Flow:
    """Return what the pump gives beside the largest single backwash; they never run at once."""
    told = [one for one in sized if one.backwash_gpm is not None]
    answers = [one.fits for one in told]
    fits = None if not told or None in answers else all(answers)
    most = max((one.backwash_gpm for one in told if one.backwash_gpm is not None), default=None)
    return Flow(pump_flow(site).gpm, None if most is None else fine(most), fits)


def pressure_loss_psi(sized: Iterable[Sized], site: Site) -> Whole:
    """Return the pressure that all whole-house stages take together at the peak flow."""
    page, peak = Page(), house(site).peak_gpm
    losses = {one.stage: loss for one in sized if (loss := _loss(one, peak)) is not None}
    whole = sum(losses.values(), Decimal(0))
    page.put(
        "size.loss_psi", whole, "psi", "loss", rule("bed_loss_psi"), parts=_parts(losses), gpm=peak
    )
    most = rule("most_loss_psi")
    page.ask("loss", most.citation, holds=whole <= most.value, loss=whole, most=most.value)
    return Whole(whole, tuple(page.conditions), tuple(page.worked))


def waste_gal_day(sized: Iterable[Sized], site: Site) -> Whole:
    """Return the water that backwashes and regenerations send to the drain in a day, on average."""
    page, told = Page(), list(sized)
    parts = {
        one.stage: amount
        for one in told
        if isinstance(amount := one.size.get("waste_gal_day"), Decimal)
    }
    whole = sum(parts.values(), Decimal(0))
    page.put("size.waste_gal_day", whole, "gpd", "waste_whole", ARITHMETIC, parts=_parts(parts))
    nights = [amount for one in told if isinstance(amount := one.size.get("backwash_gal"), Decimal)]
    gives = slower(pump_flow(site), site)
    if nights and gives:
        most = max(nights)
        page.put(
            "size.well_minutes",
            most / gives,
            "min",
            "well_minutes",
            ARITHMETIC,
            gal=most,
            gives=gives,
        )
    if site.home.waste == "septic" and parts:
        page.ask("septic", PRACTICE, gal=whole, day=house(site).gal_day or Decimal(0))
    return Whole(whole, tuple(page.conditions), tuple(page.worked))


def _loss(sized: Sized, peak: Decimal) -> Decimal | None:
    """Return the loss of one stage; a bed's grows with the flow over its published rate."""
    table = _table()
    if sized.stage in table:
        return table[sized.stage]
    medium = media().get(str(sized.size.get("medium")))
    carries = sized.size.get("carries_gpm")
    if medium is None or not isinstance(carries, Decimal) or not carries:
        return None
    in_a_row = 2 if sized.size.get("in_a_row") else 1
    return number("bed_loss_psi") * peak / carries * in_a_row


@cache
def _table() -> Mapping[str, Decimal]:
    return {row.text("stage"): needed(row, "psi") for row in read_table("sizing_losses.csv")}


def _parts(parts: Mapping[str, Decimal]) -> str:
    return " + ".join(f"{round(part, 1).normalize():f}" for part in parts.values()) or "0"

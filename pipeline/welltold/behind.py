"""What later bottles say of the water behind equipment, as published in ``welltold.report/1``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from .messages import Message

OutletOutcome = Literal["working", "exhausted", "wrongly_set", "wrong_tap", "cant_tell"]
"""exhausted: or bypassed. wrong_tap: the bottle seems to come from elsewhere."""
OutletState = Literal["as_predicted", "partly", "unchanged", "more", "open"]
"""more: beyond what goes in, or beyond what was predicted to be put in. open: it does not tell."""


@dataclass(frozen=True, slots=True)
class OutletSpan:
    """Lowest and highest amount that is possible; None: that end is not known."""

    low: Decimal | None
    high: Decimal | None


@dataclass(frozen=True, slots=True)
class OutletSign:
    """One analyte in front of a stage, as predicted behind it, and as found."""

    analyte: str
    unit: str | None
    """None for germs, which are only found or not found."""
    basis: str | None
    inlet: OutletSpan | None
    """As measured on the raw sheet, or as predicted behind the stages ahead."""
    expected: OutletSpan | None
    """None where no source allows to predict."""
    found: OutletSpan | None
    text: str
    """The result as printed, with its unit."""
    bottle: int
    """Position of the bottle in ``OutletSheet.bottles``, from 1."""
    citation: str
    """Where it was read that this result tells of the stage."""
    state: OutletState
    why: tuple[Message, ...] = ()
    present_ahead: bool | None = None
    """For germs: whether any were found ahead of the stage."""
    present: bool | None = None


@dataclass(frozen=True, slots=True)
class Outlet:
    """One stage: whether the water behind it is as predicted."""

    stage: str
    outcome: OutletOutcome
    signs: tuple[OutletSign, ...]
    why: tuple[Message, ...]
    look: tuple[Message, ...] = ()
    """The cheapest next look; empty for a stage at work."""


@dataclass(frozen=True, slots=True)
class OutletBottle:
    """One sample from behind equipment."""

    sample: str | None
    """The lab's number for the sample."""
    point: str | None
    collected: str | None
    through: tuple[str, ...]
    """The stages in front of its tap, in the order of the water."""
    why: tuple[Message, ...] = ()
    """How that is known."""


@dataclass(frozen=True, slots=True)
class OutletSheet:
    """One sheet with bottles from behind equipment, or why it has none that can be compared."""

    file: str
    sha256: str
    compared: bool = False
    why: tuple[Message, ...] = ()
    """What to know about the comparison, or why there is none."""
    bottles: tuple[OutletBottle, ...] = ()
    """In the order of the water."""
    stages: tuple[Outlet, ...] = ()
    """In the order of the water, each once."""
    health: tuple[Message, ...] = ()
    """What the tests behind the equipment found of each matter of health, beside its level."""

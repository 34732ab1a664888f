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
    state: OutletState
    why: tuple[Message, ...] = ()


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
class OutletSheet:
    """One sheet, or one sample of it that was taken behind equipment."""

    file: str
    sha256: str
    sample: str | None = None
    """The lab's number for the sample; None where none is compared."""
    point: str | None = None
    collected: str | None = None
    compared: bool = False
    through: tuple[str, ...] = ()
    """The stages in front of its tap, in the order of the water."""
    why: tuple[Message, ...] = ()
    """Why it is compared so, or why not."""
    stages: tuple[Outlet, ...] = ()
    health: tuple[Message, ...] = ()
    """What the test behind the equipment found of each matter of health, beside its level."""

"""What is to be considered for one sample."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..interpretation import Check, Existing, Need, Refused, Retest, Step, Train

if TYPE_CHECKING:
    from ..sizing import Shelf


@dataclass(frozen=True, slots=True)
class Known:
    """What else is known beside the sample and the site."""

    shelf: Shelf | None = None
    """What the dealer sells; None: sizes come from the tables."""
    checks: tuple[Check, ...] = ()
    """Whether the sheet agrees with itself."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything to consider for one sample."""

    needs: tuple[Need, ...] = ()
    trains: tuple[Train, ...] = ()
    """Best first; empty when nothing is needed, or nothing can be proposed."""
    refused: tuple[Refused, ...] = ()
    steps: tuple[Step, ...] = ()
    retest: tuple[Retest, ...] = ()
    existing: tuple[Existing, ...] | None = None
    """None where the site file names no equipment."""

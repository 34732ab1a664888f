"""What is to be considered for one sample."""

from __future__ import annotations

from dataclasses import dataclass

from ..interpretation import Existing, Need, Refused, Retest, Step, Train


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

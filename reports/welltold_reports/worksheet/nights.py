"""The worst night by the clock, in sentences for the work sheet."""

from __future__ import annotations

from welltold.interpretation import Train

from ..wording import texts


def night_lines(train: Train) -> tuple[str, ...]:
    """Return what falls short at which minute, what mends it, and what was assumed."""
    night = train.night
    return () if night is None else (*texts(night.why), *texts(night.cautions))

"""The worst night by the clock, in sentences for the work sheet."""

from __future__ import annotations

from welltold.interpretation import Train

from ..wording import texts

BRIEF = ("night.caution_reckoned", "night.caution_yield", "night.caution_casing")
"""The cautions that fit the page; the pressure is asked beside the pump, the rest is published."""


def night_lines(train: Train) -> tuple[str, ...]:
    """Return what falls short at which minute, what mends it, and what was assumed."""
    night = train.night
    if night is None:
        return ()
    return texts((*night.why, *(one for one in night.cautions if one.code in BRIEF)))

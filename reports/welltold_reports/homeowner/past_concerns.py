"""What earlier sheets found of concern and nobody has tested since, as page 1 needs it.

An earlier sheet changes no verdict. But who reads "no health concern" on page 1 must not miss that
the germs or the arsenic of the last sheet were not looked for again.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from welltold.boil import GERMS, BoilAdvice, boil_advice, boil_facts, observations
from welltold.interpretation import SampleView

from ..wording import analyte_name, in_sentence


@dataclass(frozen=True, slots=True)
class PastConcern:
    """One analyte that an earlier sheet had as a health concern, without a test since."""

    name: str
    """As inside a sentence."""
    boils_away: bool
    """Whether it is a germ that boiling kills."""


def past_concerns(sample: SampleView) -> tuple[PastConcern, ...]:
    """Return each once, in the order of the list that names its result and day."""
    left = sample.earlier.left if sample.earlier else ()
    return tuple(
        dict.fromkeys(
            PastConcern(in_sentence(analyte_name(one.analyte, one.label)), one.analyte in GERMS)
            for one in left
            if one.verdict == "health_concern" and not one.tested
        )
    )


def advice_about_boiling(sample: SampleView, site: Any) -> BoilAdvice:
    """Return what may be said about boiling; never where something stays that was not retested."""
    facts = boil_facts(sample.findings, observations(site))
    if any(not one.boils_away for one in past_concerns(sample)):
        facts = replace(facts, stays="high")
    return boil_advice(facts)

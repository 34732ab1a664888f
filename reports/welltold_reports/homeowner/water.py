"""Step 1: which water to use instead, with the one instruction about boiling."""

from __future__ import annotations

from welltold.boil import GERMS, NITROGEN

from ..wording import listed, word
from .hazards import hazard_of
from .picture import Picture, short_names
from .printed import Item

_COUNTED = frozenset(
    {"gross_alpha", "gross_alpha_adjusted", "gross_beta", "beta_photon_emitters"}
    | {"pfas_hazard_index", "radium_226_228"}
)
"""What is counted or added up: no substance of which one could say that boiling removes it."""


def water_steps(picture: Picture) -> tuple[str, ...]:
    """Return the paragraph that says which water to use; empty when nothing asks for it."""
    if picture.fuel_smell or any(_hazard(i) == "fumes" for i in picture.concerns):
        return (word("water_fumes"),)
    germs = any(item.finding.analyte in GERMS for item in picture.concerns)
    if germs:
        return _germs(picture)
    if any(_bottled(item.finding.analyte) for item in picture.concerns):
        return (word("water_bottled"), *_never_boil(picture))
    if picture.open_now:
        nitrogen = all(item.finding.analyte in NITROGEN for item in picture.open_now)
        return (word("water_bottled_baby" if nitrogen else "water_bottled_open"),)
    return ()


def _germs(picture: Picture) -> tuple[str, ...]:
    """Return what to do about germs, as the boil rule allows."""
    if picture.advice == "boil":
        return (word("water_boil"), word("water_boil_high"), word("water_boil_use"))
    if picture.advice in {"babies_unknown", "babies_near"}:
        return (
            word(f"water_{picture.advice}"),
            word("water_others_boil"),
            word("water_boil_high"),
        )
    return (word("water_bottled_germs"), *_never_boil(picture))


def _never_boil(picture: Picture) -> tuple[str, ...]:
    """Say that boiling does not help, with what stays in the water."""
    stays = [
        item
        for item in picture.concerns + picture.open_now
        if item.finding.analyte not in GERMS and _bottled(item.finding.analyte)
    ]
    named = [item for item in stays if item.finding.analyte is not None]
    if any(item.finding.analyte in _COUNTED for item in named):
        return (word("water_do_not_boil_counted"),)
    if named:
        return (word("water_do_not_boil", names=short_names(named)),)
    if stays:
        return (word("water_do_not_boil_flood"),)
    past = listed([one.name for one in picture.past if not one.boils_away])
    return (word("water_do_not_boil", names=past),) if past else ()


def _bottled(slug: str | None) -> bool:
    return "bottled" in {hazard_of(slug).uses[use] for use in ("drink", "baby")}


def _hazard(item: Item) -> str:
    return hazard_of(item.finding.analyte).name

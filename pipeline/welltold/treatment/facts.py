"""What is known about the things that a person checks: looks, samples taken, the pump."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from ..boil import GERMS
from ..reading import Sample
from ..simulation.raw import ph_at_well
from ..thresholds import threshold
from .water import Water
from .words import stage_name, text, with_unit

Answer = tuple[bool | None, str]
"""Whether it holds (None: not known), and what is there, in words."""


def check(fact: str, water: Water, ahead: Sequence[str] = ()) -> Answer:
    """Return what is known about a check; most are for a person and stay not known.

    ``ahead``: the stages that the water has gone through.
    """
    for stage in ahead:
        if stage in _BY_STAGE.get(fact, ()):
            return True, text("treatment.has_stage_ahead", stage=stage_name(stage))
    return _CHECKS.get(fact, _for_a_person)(water)


def bacteria(water: Water) -> bool | None:
    """Return whether the sample shows germs that boiling or a lamp would answer."""
    return water.present(GERMS)


def _for_a_person(_: Water) -> Answer:
    return None, text("treatment.has_check")


def _clear_iron(water: Water) -> Answer:
    """Dissolved iron against total iron decides, else the look of a fresh glass."""
    pairs = {finding.fraction: finding for finding in water.of("iron")}
    total, dissolved = pairs.get("total") or pairs.get(None), pairs.get("dissolved")
    if total and dissolved and total.value and dissolved.value and total.unit == dissolved.unit:
        has = text(
            "treatment.has_dissolved",
            dissolved=with_unit(dissolved.value, dissolved.unit or ""),
            total=with_unit(total.value, total.unit or ""),
        )
        share = dissolved.value / total.value
        if share > threshold("iron_dissolved_over"):
            return None, has
        if share >= threshold("iron_mostly_dissolved"):
            return True, has
        return (False if share < threshold("iron_mostly_rust") else None), has
    seen = water.site.tap.observations
    if "rusty_at_once" in seen:
        return False, text("treatment.has_rusty_at_once")
    if "clear_then_rusty" in seen:
        return True, text("treatment.has_clear_then_rusty")
    return _for_a_person(water)


def _no_iron_bacteria(water: Water) -> Answer:
    found = water.present(("iron_bacteria",))
    if found is not None:
        return not found, text("treatment.has_found" if found else "treatment.has_not_found")
    if "slime_in_tank" in water.site.tap.observations:
        return False, text("treatment.has_slime")
    return _for_a_person(water)


def _arsenic_v_only(water: Water) -> Answer:
    found = water.present(("arsenic_iii",))
    if found is None:
        return _for_a_person(water)
    if found and _little_arsenic_iii(water):
        return None, text("treatment.has_little_arsenic_iii")
    return not found, text("treatment.has_arsenic_iii" if found else "treatment.has_no_arsenic_iii")


def _little_arsenic_iii(water: Water) -> bool:
    """Return whether arsenic III alone is a small share, and far below the level."""
    three, whole = water.amount("arsenic_iii", "ug/L"), water.amount("arsenic", "ug/L")
    if three is None or whole is None or three.high is None or not three.sure:
        return False
    most = threshold("arsenic_iii_little") * whole.low
    return three.high <= min(most, threshold("arsenic_iii_low"))


def _lead_pair(water: Water) -> Answer:
    taken = {_taken(sample, water) for sample in (water.sample, *water.beside)}
    pair = taken & {"first_draw", "flushed"}
    if len(pair) == 2:
        return True, text("treatment.has_both")
    if pair:
        return None, text("treatment.has_one_of_pair")
    return False, text("treatment.has_no_pair")


def _taken(sample: Sample, water: Water) -> str | None:
    """Return how a sample was taken; what the site file says of it goes first."""
    facts = water.site.samples.get(sample.id or "")
    return facts.taken if facts and facts.taken else sample.taken


def _pressure(water: Water) -> Answer:
    switch = water.site.well.pressure_psi
    if switch is None:
        return _for_a_person(water)
    if switch[0] < threshold("membrane_psi"):
        return None, text("treatment.has_booster", value=with_unit(switch[0], "psi"))
    return True, with_unit(switch[0], "psi")


def _radon_air(water: Water) -> Answer:
    """Nobody told of an air test; far above, treatment is near whatever the air shows."""
    radon, high = water.amount("radon", "pCi/L"), threshold("radon_treat")
    if radon is not None and radon.low >= high:
        return None, text("treatment.has_radon_high", limit=with_unit(high, "pCi/L"))
    return _for_a_person(water)


def _field_ph(water: Water) -> Answer:
    if ph_at_well(water):
        return True, text("treatment.has_at_well")
    return None, text("treatment.has_mailed" if water.of("ph") else "treatment.has_unknown")


_BY_STAGE: Mapping[str, frozenset[str]] = {
    "oxidant": frozenset({"chlorine_feed", "permanganate_feed", "aerator"}),
    "prefilter": frozenset({"sediment_filter", "ultrafilter"}),
}
"""What a stage ahead sees to."""
_CHECKS: Mapping[str, Callable[[Water], Answer]] = {
    "clear_iron": _clear_iron,
    "field_ph": _field_ph,
    "iron_bacteria": _no_iron_bacteria,
    "arsenic_v_only": _arsenic_v_only,
    "lead_pair": _lead_pair,
    "pressure": _pressure,
    "radon_air": _radon_air,
}

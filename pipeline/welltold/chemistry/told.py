"""The indices of one sample, in words; a number that was measured is never overruled by them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache

from ..checks.rules import rounded
from ..checks.sheet import Sheet
from ..interpretation import Index
from ..messages import Message, say
from ..reading import Sample
from ..site import Site
from ..speech import in_sentence
from ..tables import read_table
from ..verdicts.names import name_of
from .carbonate import carbonate_system
from .facts import Facts, facts_of
from .indices import (
    aggressive_index,
    chloride_sulfate_ratio,
    langelier_index,
    langelier_ph,
    larson_index,
    ryznar_index,
)
from .ranges import Formula, formulas
from .saturation import Lime, lime
from .water import Water

ENOUGH_ALKALINITY = 50.0
"""mg/L from which on chloride over sulfate counts less; USGS SIR 2016-5092."""
BESIDE = frozenset({"ph", "total_dissolved_solids"})
"""Inputs that alone ask for no index."""
CARBONATE = ("ph", "alkalinity", "calcium", "total_dissolved_solids")


@dataclass(frozen=True, slots=True)
class Worked:
    """An index that could be worked out, and what has to be said of it."""

    value: float
    notes: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """How one index comes from the facts."""

    needs: tuple[str, ...]
    work: Callable[[Facts], Worked]
    warm: bool = True
    """Whether the temperature matters."""


def indices_of(sample: Sample, site: Site) -> tuple[Index, ...]:
    """Return the indices for which the sample has at least one input beside pH."""
    facts = facts_of(Sheet(sample, (), site))
    return tuple(
        _index(formulas()[name], way, facts)
        for name, way in WAYS.items()
        if facts.has & set(way.needs) - BESIDE
    )


def _index(formula: Formula, way: Way, facts: Facts) -> Index:
    missing = [slug for slug in way.needs if slug not in facts.has]
    if missing:
        names = ", ".join(in_sentence(name_of(slug, slug)) for slug in missing)
        return _without(formula, say("check.index_lacking", names=names))
    worked = way.work(facts)
    if not math.isfinite(worked.value):
        return _without(formula, say("check.index_refused"))
    value = rounded(Decimal(worked.value), str(Decimal(1).scaleb(-formula.digits)))
    why = [class_of(formula.index, value, facts), *worked.notes]
    if "ph" in way.needs and not facts.ph_at_tap:
        why.append(say("check.index_lab_ph"))
    if way.warm and not facts.warmth_known:
        why.append(say("check.index_warmth", celsius=f"{facts.celsius:g}"))
    if formula.index != "carbon_dioxide":
        why.append(say("check.index_explains"))
    return Index(formula.index, value, formula.unit, formula.citation, tuple(why))


def _without(formula: Formula, why: Message) -> Index:
    return Index(formula.index, None, formula.unit, formula.citation, (why,))


def class_of(index: str, value: Decimal, facts: Facts) -> Message:
    """Return what an index of this value says."""
    name = next(says for least, says in _words()[index] if least is None or value >= least)
    if name == "galvanic_much" and facts.alkalinity >= ENOUGH_ALKALINITY:
        name = "galvanic_some"
    return say(f"check.index_{name}")


@cache
def _words() -> Mapping[str, tuple[tuple[Decimal | None, str], ...]]:
    """Return the classes of each index, highest first."""
    rows: dict[str, list[tuple[Decimal | None, str]]] = {}
    for row in read_table("index_words.csv"):
        if row.text("source"):
            rows.setdefault(row.text("index"), []).append((row.number("from"), row.text("says")))
    return {index: tuple(reversed(classes)) for index, classes in rows.items()}


def _saturation_ph(facts: Facts) -> float:
    return float(
        langelier_ph(facts.solids, facts.celsius, facts.calcium_hardness, facts.alkalinity)
    )


def _larson(facts: Facts) -> Worked:
    chloride, sulfate = facts.chloride, facts.sulfate
    if chloride is None or sulfate is None or chloride.high is None or sulfate.high is None:
        return Worked(math.nan)
    notes = () if chloride.exact and sulfate.exact else (say("check.index_at_most"),)
    value = larson_index(float(chloride.high), float(sulfate.high), facts.alkalinity)
    return Worked(float(value), notes)


def _chloride_sulfate(facts: Facts) -> Worked:
    """Return Cl / SO4; a limit stands in for one that was not found, and is named."""
    chloride, sulfate = facts.chloride, facts.sulfate
    if chloride is None or sulfate is None or chloride.high is None or sulfate.high is None:
        return Worked(math.nan)
    if not chloride.exact and not sulfate.exact:
        return Worked(math.nan)
    value = float(chloride_sulfate_ratio(float(chloride.high), float(sulfate.high)))
    return Worked(value, tuple(_open_end(chloride.exact, sulfate.exact)))


def _open_end(chloride: bool, sulfate: bool) -> Iterator[Message]:  # noqa: FBT001 - two answers
    if not chloride:
        yield say("check.index_at_most")
    if not sulfate:
        yield say("check.index_at_least")


def _lime(name: str) -> Callable[[Facts], Worked]:
    """Return the way to one of the numbers that are worked out together."""

    def work(facts: Facts) -> Worked:
        rough = () if facts.every_ion else (say("check.index_rough"),)
        return Worked(float(getattr(_lime_of(facts.water), name)), rough)

    return work


@lru_cache(maxsize=8)
def _lime_of(water: Water) -> Lime:
    return lime(water)


WAYS: Mapping[str, Way] = {
    "calcite_saturation": Way(CARBONATE, _lime("saturation")),
    "calcite_saturation_heater": Way(CARBONATE, _lime("heated")),
    "calcium_carbonate_precipitation_potential": Way(CARBONATE, _lime("potential")),
    "carbon_dioxide": Way(
        ("ph", "alkalinity"),
        lambda f: Worked(float(carbonate_system(f.water).carbon_dioxide)),
    ),
    "langelier_index": Way(
        CARBONATE, lambda f: Worked(float(langelier_index(f.ph, _saturation_ph(f))))
    ),
    "ryznar_index": Way(CARBONATE, lambda f: Worked(float(ryznar_index(f.ph, _saturation_ph(f))))),
    "aggressive_index": Way(
        ("ph", "alkalinity", "calcium"),
        lambda f: Worked(float(aggressive_index(f.ph, f.alkalinity, f.calcium_hardness))),
        warm=False,
    ),
    "larson_index": Way(("alkalinity", "chloride", "sulfate"), _larson, warm=False),
    "chloride_sulfate_mass_ratio": Way(("chloride", "sulfate"), _chloride_sulfate, warm=False),
}

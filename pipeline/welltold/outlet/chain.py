"""The bottles of one sheet along the equipment: the water from bottle to bottle, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..analytes import registry
from ..interpretation import Finding
from ..simulation import Stream
from ..treatment.drafts import Draft
from ..treatment.knowledge import stages
from ..treatment.walk import Passage, Walker
from ..treatment.water import Amount, Water
from .bottle import Bottle, tested


@dataclass(frozen=True, slots=True)
class Chain:
    """The raw water, the stages, and the bottles that were filled behind some of them."""

    bases: tuple[Bottle, ...]
    """Bottles of the raw water, the one of the same day first; never empty."""
    stages: tuple[str, ...]
    bottles: tuple[tuple[int, Bottle], ...]
    """Each with how many stages stand ahead of it, in that order."""

    @property
    def water(self) -> Water:
        """The raw water: each analyte as the first bottle that tested it has it."""
        findings = list(self.bases[0].findings)
        for at, base in enumerate(self.bases[1:], start=1):
            known = tested(self.bases[:at])
            findings += [one for one in base.findings if one.analyte not in known]
        return replace(self.bases[0].water, findings=tuple(findings))

    @property
    def raised(self) -> frozenset[str]:
        """What is a health concern in the raw water."""
        found = (one.analyte for one in self.water.findings if one.verdict == "health_concern")
        return frozenset(slug for slug in found if slug)

    def germs(self, slug: str, position: int) -> bool | None:
        """Return whether germs were found ahead of a position: in the nearest bottle that tells."""
        near = [bottle for at, bottle in reversed(self.bottles) if at <= position]
        told = (bottle.germs(slug) for bottle in (*near, *self.bases))
        return next((one for one in told if one is not None), None)

    def passages(self) -> Iterator[Passage]:
        """Yield every stage with the water ahead of it: as measured there, else as predicted."""
        water, start = self.water, 0
        cuts = sorted({at for at, _ in self.bottles if at < len(self.stages)} | {len(self.stages)})
        for end in cuts:
            drafts = [Draft(one, stages()[one].place) for one in self.stages[start:end]]
            line = Walker(water).through(drafts, sized=True)
            yield from line
            start = end
            if end < len(self.stages):
                here = [bottle for at, bottle in self.bottles if at == end]
                water = _measured(here, line[-1].outlet if line else None, water)


def _measured(bottles: Sequence[Bottle], predicted: Stream | None, raw: Water) -> Water:
    """Return the water at a place where bottles were filled; what they lack is as predicted."""
    known = tested(bottles)
    first = bottles[0].water
    findings = [one for bottle in bottles for one in bottle.findings]
    if predicted is not None:
        findings += [
            one for slug in _slugs(raw) if slug not in known for one in _expected(slug, predicted)
        ]
    return replace(first, findings=tuple(findings))


def _slugs(raw: Water) -> dict[str, None]:
    """Return what is known of the raw water, in its order."""
    told = [one for one in raw.findings if one.verdict != "not_tested"]
    return dict.fromkeys(one.analyte for one in told if one.analyte)


def _expected(slug: str, stream: Stream) -> Iterator[Finding]:
    """Yield a predicted amount in the form of a finding, so that it can go into the next stage."""
    own = registry()[slug]
    amount: Amount | None = stream.amount(slug, own.unit, own.basis)
    if amount is None:
        return
    yield Finding(
        slug,
        own.name,
        "",
        "watch",
        low=amount.low,
        high=amount.high,
        unit=own.unit,
        basis=own.basis,
        confidence=1.0 if amount.sure else 0.0,
    )

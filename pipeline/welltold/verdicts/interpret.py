"""From a reading to an interpretation: every result judged, what is missing named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from ..boil import boil_advice, boil_facts
from ..interpretation import Finding, Interpretation, SampleView
from ..levels import load_levels
from ..messages import Message, say, spoken
from ..reading import Reading, Sample, Taken
from ..retelling import retold
from .causes import causes
from .combined import combined
from .compare import GRAVITY
from .doing import allowed
from .drafts import Draft
from .judging import Context
from .rules import with_rules
from .scene import Scene
from .tables import words
from .unmatched import site_notes
from .untested import STOOD, untested

if TYPE_CHECKING:
    from ..site import Site

FROM_PIPES = frozenset({"lead", "copper"})
"""Metals that water takes up while it stands in the pipes."""


def interpret(
    reading: Reading,
    *,
    site: Site | None = None,
    as_of: date | None = None,
    packs: Sequence[str] = ("us_federal",),
) -> Interpretation:
    """Return what a reading means beside the published levels of ``packs`` on the day ``as_of``.

    Without ``as_of`` the site file's day counts, else today. UnknownLevelsError for a pack that is
    not known or a day before its first.
    """
    from ..site import Site as SiteFacts

    known = site or SiteFacts()
    day = as_of or known.levels.as_of or datetime.now().astimezone().date()
    context = Context(load_levels(packs, day), frozenset(known.home.persons))
    reading = retold(reading)
    samples = tuple(_sample_view(sample, reading, known, context) for sample in reading.samples)
    packs = context.levels.packs
    reading = replace(
        reading, warnings=(*reading.warnings, *context.levels.notes(), *site_notes(known, reading))
    )
    return Interpretation(reading, day.isoformat(), packs, known.as_dict(), samples, spoken())


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings from the gravest to the least; ties by consequence, then as printed."""
    return tuple(sorted(findings, key=lambda f: (GRAVITY.index((f.verdict, f.urgency)), _order(f))))


def _order(finding: Finding) -> int:
    """Return the position in the order of consequence; what was not tested keeps its own."""
    return 0 if finding.verdict == "not_tested" else words(finding.analyte).order


def _sample_view(sample: Sample, reading: Reading, site: Site, context: Context) -> SampleView:
    from ..checks import check_sample, lowered
    from ..chemistry.told import indices_of
    from ..slips import suspects, told
    from ..treatment import consider

    taken = _taken(sample, site)
    sample = replace(sample, taken=taken)
    findings = _findings(sample, reading, site, context)
    checks = check_sample(sample, findings, site)
    findings = lowered(findings, checks)
    checks, findings = told(suspects(sample, site, checks), checks, findings)
    plan = consider(findings, sample, site, _beside_it(sample, reading))
    return SampleView(
        sample.id,
        sample.point,
        sample.collected,
        taken,
        findings,
        checks,
        indices_of(sample, site),
        plan.needs,
        plan.trains,
        causes(findings, Scene(sample, site, reading)),
        refused=plan.refused,
        steps=plan.steps,
        retest=plan.retest,
    )


def _beside_it(sample: Sample, reading: Reading) -> tuple[Sample, ...]:
    """Return the other samples of the sheet that come from the same point."""
    return tuple(
        other
        for other in reading.samples
        if other.id != sample.id and other.point and other.point == sample.point
    )


def _findings(
    sample: Sample, reading: Reading, site: Site, context: Context
) -> tuple[Finding, ...]:
    scene = Scene(sample, site, reading)
    drafts = with_rules(combined(sample.results, replace(context, scene=scene)), scene)
    advice = boil_advice(boil_facts([d.finding for d in drafts], site.tap.observations))
    told = [
        replace(
            d.finding,
            do=allowed(d.steps, advice, site.home.elevation_ft),
            why=(*d.finding.why, *_beside(d, drafts, sample)),
        )
        for d in drafts
    ]
    stood = _lead_stood(sample, reading, site)
    missing = untested(told, _tested(sample, reading), scene, lead_stood=stood)
    return ordered((*told, *missing))


def _beside(one: Draft, drafts: Sequence[Draft], sample: Sample) -> Iterator[Message]:
    """Yield what the rest of the sample says about one finding."""
    slug = one.finding.analyte
    if slug == "total_coliform" and one.finding.present:
        e_coli = [d.finding.present for d in drafts if d.finding.analyte == "e_coli"]
        if False in e_coli:
            yield say("verdict.coliform_no_e_coli")
        elif True not in e_coli:
            yield say("verdict.coliform_e_coli_unknown")
    if slug in FROM_PIPES and one.answer is not None and sample.taken not in STOOD:
        stood = say("doubt.not_stood")
        if stood not in one.finding.why:
            yield stood


def _taken(sample: Sample, site: Site) -> Taken | None:
    """Return how the sample was taken: the site file knows better than the sheet."""
    facts = site.samples.get(sample.id or "")
    return facts.taken if facts and facts.taken else sample.taken


def _lead_stood(sample: Sample, reading: Reading, site: Site) -> bool:
    """Whether lead was tested in water that had stood, in this bottle or in one beside it."""
    if sample.taken in STOOD:
        return True
    others = [one for one in reading.samples if _taken(one, site) == "first_draw"]
    return any(result.analyte == "lead" for one in others for result in one.results)


def _tested(sample: Sample, reading: Reading) -> frozenset[str]:
    """Return what was tested in this sample, or in another bottle from the same place."""
    bottles = [s for s in reading.samples if s is sample or (s.point and s.point == sample.point)]
    results = (*sample.results, *(result for bottle in bottles for result in bottle.results))
    return frozenset(result.analyte for result in results if result.analyte)

"""From a reading to an interpretation: every result judged, what is missing named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from ..boil import boil_advice, boil_facts
from ..interpretation import Finding, Interpretation, SampleView
from ..levels import load_levels
from ..messages import Message, say, spoken
from ..reading import Reading, Sample
from ..retelling import retold
from .bottles import bottle_with, same_day, same_place, with_draws
from .causes import causes
from .combined import combined
from .compare import GRAVITY
from .doing import after_shock, allowed
from .drafts import Draft
from .judging import Context
from .pairs import FROM_PIPES, Bottle, together
from .rules import with_rules
from .scene import Scene
from .tables import words
from .unmatched import site_notes
from .untested import untested

if TYPE_CHECKING:
    from ..site import Site
    from ..sizing import Shelf


def interpret(  # noqa: PLR0913 - all but one may be left out
    reading: Reading,
    *,
    site: Site | None = None,
    as_of: date | None = None,
    packs: Sequence[str] = ("us_federal",),
    shelf: Shelf | None = None,
    measure_first: bool = False,
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
    samples = _samples(Given(reading, known, shelf, measure_first), context)
    packs = context.levels.packs
    reading = replace(
        reading, warnings=(*reading.warnings, *context.levels.notes(), *site_notes(known, reading))
    )
    left_out = len(shelf.problems) if shelf else 0
    facts = known.as_dict()
    return Interpretation(reading, day.isoformat(), packs, facts, samples, spoken(), left_out)


@dataclass(frozen=True, slots=True)
class Given:
    """What holds for every sample of a sheet."""

    reading: Reading
    site: Site
    shelf: Shelf | None
    """What the dealer sells; None: sizes come from the tables."""
    measure_first: bool = False
    """Whether to work out what is worth measuring before spending; it takes seconds."""


def _samples(given: Given, context: Context) -> tuple[SampleView, ...]:
    """Return what each sample means, beside the others of its place."""
    reading, site = given.reading, given.site
    samples = with_draws(reading, site)
    places = [tuple(samples[i] for i in others) for others in same_place(samples)]
    taps = [
        tuple(i for i in others if same_day(one, samples[i]))
        for one, others in zip(samples, same_place(samples), strict=True)
    ]
    bottles = tuple(
        _bottle(one, tuple(samples[i] for i in tap), reading, site, context)
        for one, tap in zip(samples, taps, strict=True)
    )
    return tuple(
        _sample_view(at, bottles, Beside(places[at], tuple(bottles[i] for i in taps[at])), given)
        for at in range(len(samples))
    )


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings from the gravest to the least; ties by consequence, then as printed."""
    return tuple(sorted(findings, key=lambda f: (GRAVITY.index((f.verdict, f.urgency)), _order(f))))


def _order(finding: Finding) -> int:
    """Return the position in the order of consequence; what was not tested keeps its own."""
    return 0 if finding.verdict == "not_tested" else words(finding.analyte).order


def _sample_view(at: int, bottles: Sequence[Bottle], beside: Beside, given: Given) -> SampleView:
    from ..checks import check_sample, lowered
    from ..chemistry.told import indices_of
    from ..slips import suspects, told
    from ..treatment import Known, consider

    sample, site = bottles[at].sample, given.site
    scene = Scene(sample, site, given.reading, tuple(one.sample for one in beside.tap))
    findings = _findings(bottles[at], beside, scene)
    checks = check_sample(sample, findings, site, scene.beside)
    findings = lowered(findings, checks)
    checks, findings = told(suspects(sample, site, checks), checks, findings)
    plan = consider(findings, sample, site, beside.place, Known(given.shelf, checks))
    view = SampleView(
        sample.id,
        sample.point,
        sample.collected,
        sample.taken,
        findings,
        checks,
        indices_of(sample, site),
        plan.needs,
        plan.trains,
        causes(findings, scene),
        existing=plan.existing,
        refused=plan.refused,
        steps=plan.steps,
        retest=plan.retest,
    )
    if not given.measure_first:
        return view
    from ..measuring import Case, with_measuring

    return with_measuring(view, Case(findings, sample, site, beside.place), given.shelf)


@dataclass(frozen=True, slots=True)
class Beside:
    """The other bottles of a sheet that were filled where one was."""

    place: tuple[Sample, ...]
    """At the same place, on any day."""
    tap: tuple[Bottle, ...]
    """At the same place on the same day: they tell of the same water."""


def _bottle(
    sample: Sample, tap: tuple[Sample, ...], reading: Reading, site: Site, context: Context
) -> Bottle:
    """Return one bottle with what its own lines mean."""
    scene = Scene(sample, site, reading, tap)
    return Bottle(
        sample, with_rules(combined(sample.results, replace(context, scene=scene)), scene)
    )


def _findings(mine: Bottle, beside: Beside, scene: Scene) -> tuple[Finding, ...]:
    site, sample = scene.site, mine.sample
    drafts = together(mine, beside.tap)
    of_tap = [d.finding for one in beside.tap for d in one.drafts]
    facts = boil_facts([*(d.finding for d in drafts), *of_tap], site.tap.observations)
    advice = boil_advice(facts)
    told = [
        replace(
            d.finding,
            do=allowed(
                after_shock(d.steps) if scene.shocked else d.steps, advice, site.home.elevation_ft
            ),
            why=(*d.finding.why, *_beside(d, drafts, scene)),
        )
        for d in drafts
    ]
    places = (*sample.results, *(row for one in beside.place for row in one.results))
    elsewhere = frozenset(row.analyte for row in places if row.analyte)
    return ordered((*told, *untested(told, elsewhere, scene)))


def _beside(one: Draft, drafts: Sequence[Draft], scene: Scene) -> Iterator[Message]:
    """Yield what the rest of the sample says about one finding."""
    slug = one.finding.analyte
    if slug == "total_coliform" and one.finding.present:
        e_coli = [d.finding.present for d in drafts if d.finding.analyte == "e_coli"]
        if False in e_coli:
            yield say("verdict.coliform_no_e_coli")
        elif True not in e_coli:
            yield say("verdict.coliform_e_coli_unknown")
    if slug in FROM_PIPES and one.answer is not None:
        stood = say("doubt.not_stood")
        if scene.ran_only(slug) and stood not in one.finding.why:
            yield stood
        elif scene.sample.taken != "first_draw" and bottle_with(slug, "first_draw", scene.beside):
            yield say("doubt.pair_stood")

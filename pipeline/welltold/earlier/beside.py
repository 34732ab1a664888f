"""Finds the samples of the same tap on earlier sheets, and puts their results in order of time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..interpretation import Finding, Interpretation, SampleView
from ..messages import Message, say, speaking
from ..past import Earlier, EarlierResult, EarlierSheet, History
from ..verdicts.bottles import place_name
from .comparing import Then, compared
from .left import left_of


@dataclass(frozen=True, slots=True)
class Used:
    """One sample of an earlier sheet that stands beside the present one."""

    sheet: int
    """Position of its sheet, from 1."""
    view: Interpretation
    index: int

    @property
    def sample(self) -> SampleView:
        """The sample as it was interpreted."""
        return self.view.samples[self.index]


def with_earlier(view: Interpretation, earlier: Sequence[Interpretation]) -> Interpretation:
    """Return the view with what the earlier sheets say about each of its samples.

    All are interpreted against the same levels, so that units and bases agree where they can.
    Without earlier sheets the view comes back as it is.
    """
    if not earlier:
        return view
    with speaking(view.language):
        samples = tuple(
            replace(sample, earlier=_earlier(view, index, earlier))
            for index, sample in enumerate(view.samples)
        )
    return replace(view, samples=samples)


def _earlier(view: Interpretation, index: int, others: Sequence[Interpretation]) -> Earlier:
    sheets: list[EarlierSheet] = []
    used: list[Used] = []
    for other in others:
        for told, found in _sheets(view, index, other):
            sheets.append(told)
            if found is not None:
                used.append(Used(len(sheets), other, found))
    sample = view.samples[index]
    findings = [one for one in sample.findings if one.analyte and one.verdict != "not_tested"]
    drawn = (_history(finding, sample, used) for finding in findings)
    histories = tuple(one for one in drawn if one.results)
    before = [
        Then(one.sheet, one.view.reading, one.sample, found)
        for one in used
        for found in one.sample.findings
    ]
    return Earlier(tuple(sheets), histories, left_of(view, index, before, histories))


def _sheets(
    view: Interpretation, index: int, other: Interpretation
) -> Iterator[tuple[EarlierSheet, int | None]]:
    """Yield what is told of an earlier sheet: one line for each sample that is used, else one."""
    source, now = other.reading.source, view.samples[index]
    if source.sha256 == view.reading.source.sha256:
        yield EarlierSheet(source.file, source.sha256, why=(say("earlier.same_sheet"),)), None
        return
    found = _same_tap(view, index, other)
    for at in found:
        then = other.samples[at]
        told = EarlierSheet(
            source.file,
            source.sha256,
            then.id,
            then.point,
            then.collected,
            matched=True,
            why=tuple(_matched(now, then)),
        )
        yield told, at
    if not found:
        yield EarlierSheet(source.file, source.sha256, why=(say("earlier.no_match"),)), None


def _same_tap(view: Interpretation, index: int, other: Interpretation) -> tuple[int, ...]:
    """Return the samples that were taken at the same place: by its name, else the only ones."""
    place = place_name(view.samples[index].point or "")
    named = tuple(
        at for at, one in enumerate(other.samples) if place and place_name(one.point or "") == place
    )
    single = len(view.samples) == len(other.samples) == 1
    return named or ((0,) if single else ())


def _matched(now: SampleView, then: SampleView) -> Iterator[Message]:
    """Yield why a sample was taken for one of the same tap, and what to know about it."""
    places = {place_name(one.point or "") for one in (now, then)}
    if len(places - {""}) == 1 and now.point and then.point:
        yield say("earlier.same_place", point=then.point)
    else:
        yield say("earlier.only_samples")
    if now.point and then.point and len(places) > 1:
        yield say("earlier.other_name", now=now.point, then=then.point)
    if now.collected and then.collected and then.collected[:10] > now.collected[:10]:
        yield say("earlier.newer")


def _history(finding: Finding, sample: SampleView, used: Sequence[Used]) -> History:
    """Return the earlier results of one analyte, the oldest first; those without a day last."""
    results = [one for then in used for one in _results(finding, sample, then)]
    results.sort(key=lambda one: (one.collected is None, one.collected or "", one.sheet))
    return History(finding.analyte or "", finding.unit, finding.basis, tuple(results))


def _results(finding: Finding, sample: SampleView, used: Used) -> Iterator[EarlierResult]:
    same = [
        one
        for one in used.sample.findings
        if one.analyte == finding.analyte and one.verdict != "not_tested"
    ]
    exact = [one for one in same if one.fraction == finding.fraction]
    for one in (exact or same)[:1]:
        yield compared(finding, sample, Then(used.sheet, used.view.reading, used.sample, one))

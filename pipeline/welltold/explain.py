"""Why: the chain from the printed text of one analyte to what is said of it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal
from typing import TYPE_CHECKING

from .messages import Message, say, speaking
from .rows import place_in_words
from .speech import basis_words, phrase, plain_name

if TYPE_CHECKING:
    from .interpretation import Check, Finding, Interpretation, LevelUsed
    from .reading import Result

DIGITS = 6
"""Of a factor: enough to check it by hand."""


def explain(view: Interpretation, sample_index: int, slug: str) -> tuple[Message, ...]:
    """Return the chain for one analyte of one sample, in order; samples count from 0.

    Where the line stands, what was read, how it was converted, the levels with their citations,
    the verdict with its reasons and doubts, the steps. IndexError where there is no such sample;
    UnknownAnalyteError where there is no such analyte.
    """
    with speaking(view.language):
        return _chain(view, sample_index, slug)


def _chain(view: Interpretation, sample_index: int, slug: str) -> tuple[Message, ...]:
    from .analytes import analyte

    name = plain_name(slug) or analyte(slug).name
    findings = [f for f in view.samples[sample_index].findings if f.analyte == slug]
    if not findings:
        return (say("explain.no_line", name=name),)
    sample = view.reading.samples[sample_index]
    results = [result for result in sample.results if result.analyte == slug]
    told: list[Message] = []
    for finding in findings:
        told.extend(_line(finding, _result_of(finding, results), name))
        told.extend(_conclusion(finding, view))
    told.extend(_checks(view.samples[sample_index].checks or (), name))
    return tuple(told)


def _result_of(finding: Finding, results: list[Result]) -> Result | None:
    """Return the printed result that a finding rests on; None for one that was worked out.

    Several results may stand in one sentence of a letter, so a place alone tells them not apart.
    """
    alike = [r for r in results if (r.analyte, r.label) == (finding.analyte, finding.label)]
    by_place = (r for r in alike if finding.where and r.where == finding.where)
    by_text = (r for r in alike if finding.text and r.text == finding.text)
    return next(by_place, None) or next(by_text, None)


def _line(finding: Finding, result: Result | None, name: str) -> Iterator[Message]:
    """Yield where the line stands and what was read there."""
    if result is None:
        if finding.verdict != "not_tested":
            yield say("explain.worked_out", name=name)
        return
    unit = f" {result.unit}" if result.unit else ""
    place = place_in_words(result.where) or say("speech.place_open").text
    yield say("explain.printed", label=result.label, text=result.text, unit=unit, place=place)
    if result.correction is not None:
        fixed = result.correction
        yield say("explain.correction", text=fixed.text, by=fixed.by, at=fixed.at)
    yield _state(result)
    yield from _beside(result)
    for one in result.alternatives:
        yield say("explain.alternative", text=one.text, why=one.why)
    yield from result.review
    yield from _converted(finding, result)


def _state(result: Result) -> Message:
    open_limit = result.state == "below" and result.value is None
    code = "state_below_open" if open_limit else f"state_{result.state}"
    return say(f"explain.{code}", value=_number(result.value))


def _beside(result: Result) -> Iterator[Message]:
    """Yield what the sheet prints beside the value."""
    limits = (result.reporting_limit, result.detection_limit, result.printed_limit)
    if any(limit is not None for limit in limits):
        reporting, detection, rule = (_number(limit) for limit in limits)
        yield say("explain.limits", reporting=reporting, detection=detection, rule=rule)
    if result.basis is not None:
        yield say("explain.basis", basis=result.basis)
    if result.fraction is not None:
        yield say("explain.fraction", fraction=phrase(result.fraction))
    if result.qualifiers:
        yield say("explain.marks", marks=", ".join(result.qualifiers))
    if result.method is not None:
        yield say("explain.method", method=result.method)


def _converted(finding: Finding, result: Result) -> Iterator[Message]:
    """Yield the conversion with its factor, where the unit or the way of counting changed."""
    if finding.value is None or result.value is None or not result.value or not finding.unit:
        return
    if finding.value != result.value:
        factor = finding.value / result.value
        yield say(
            "explain.converted",
            value=_number(result.value),
            unit=result.unit or "",
            own=_number(finding.value),
            own_unit=_unit(finding.unit, finding.basis),
            factor=f"{factor:.{DIGITS}g}",
        )


def _conclusion(finding: Finding, view: Interpretation) -> Iterator[Message]:
    if finding.unit is not None and finding.low is not None and finding.low != finding.high:
        high = say("explain.open_above").text if finding.high is None else _number(finding.high)
        unit = _unit(finding.unit, finding.basis)
        yield say("explain.interval", low=_number(finding.low), high=high, unit=unit)
    for level in (*finding.levels, *finding.also):
        yield _level(level)
    if not finding.levels and finding.verdict != "not_tested":
        packs = ", ".join(view.levels_packs)
        yield say("explain.no_level", packs=packs, day=view.as_of)
    urgency = say(f"explain.urgency_{finding.urgency}").text if finding.urgency else ""
    verdict = say(f"explain.verdict_{finding.verdict}").text
    yield say("explain.verdict", verdict=verdict, urgency=urgency)
    yield say("explain.because")
    yield from finding.why
    if finding.confidence < 1:
        yield say("explain.sure", share=_share(finding.confidence))
    if finding.do:
        yield say("explain.do")
        yield from finding.do


def _level(level: LevelUsed) -> Message:
    """Return one level with its citation."""
    number = "" if level.value is None else _number(level.value)
    if level.low is not None:
        number = say("speech.amount_span", low=_number(level.low), high=number).text
    unit = _unit(level.unit, level.basis)
    value = f"{number} {unit}".strip() if number else say("speech.no_number").text
    return say(
        "explain.level",
        programme=phrase(level.programme),
        value=value,
        citation=level.citation,
        status=phrase(level.status).replace("_", " "),
    )


def _checks(checks: tuple[Check, ...], name: str) -> Iterator[Message]:
    """Yield what the checks of the sheet say about this analyte, where they doubt it."""
    word = re.compile(rf"\b{re.escape(name)}\b", re.IGNORECASE)
    doubts = (check for check in checks if check.outcome == "doubt")
    about = [check for check in doubts if any(word.search(m.text) for m in check.why)]
    if about:
        yield say("explain.checks")
    for check in about:
        yield from check.why


def _number(value: Decimal | str | None) -> str:
    if isinstance(value, Decimal):
        return f"{value:f}"
    return value or say("speech.none").text


def _share(confidence: float) -> str:
    """Return a confidence below 1 in two digits, rounded down: it never looks like certainty."""
    return str(Decimal(str(confidence)).quantize(Decimal("0.01"), ROUND_FLOOR))


def _unit(unit: str, basis: str | None) -> str:
    return basis_words(unit, basis) if basis else unit

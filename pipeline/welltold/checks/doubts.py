"""What a doubt does to the findings: they become less sure, never milder."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..interpretation import Check, Finding
from ..messages import Message, say
from .rules import DOUBTS, MOST_NAMES, limit
from .sheet import Sheet


def doubtful(checks: Iterable[Check]) -> Mapping[str, tuple[Message, ...]]:
    """Return, by slug, the sentences of the doubts that concern an analyte."""
    found: dict[str, dict[str, Message]] = {}
    for check, slug in _concerned(checks):
        about = say("check.less_sure", check=check.check, figure=check.why[0].text)
        found.setdefault(slug, {})[check.check] = about
    return {slug: tuple(sentences.values()) for slug, sentences in found.items()}


def lowered(findings: tuple[Finding, ...], checks: Iterable[Check]) -> tuple[Finding, ...]:
    """Return the findings with what the doubts say of them, and with no more confidence than left.

    Verdict, urgency, persons and steps stay as they are.
    """
    doubts = tuple(check for check in checks if check.outcome == "doubt")
    sentences = doubtful(doubts)
    caps: dict[str, float] = {}
    for check, slug in _concerned(doubts):
        caps[slug] = min(float(limit(check.check, "cap")), caps.get(slug, 1.0))
    return tuple(_lowered(finding, sentences, caps) for finding in findings)


def _lowered(
    finding: Finding, sentences: Mapping[str, tuple[Message, ...]], caps: Mapping[str, float]
) -> Finding:
    slug = finding.analyte or ""
    if slug not in sentences or finding.verdict == "not_tested":
        return finding
    doubts = sentences[slug]
    if any(message.code == "doubt.contradicts" for message in finding.why):  # it says the same
        twice = f"duplicates:{slug}"
        doubts = tuple(doubt for doubt in doubts if not doubt.args["check"].startswith(twice))
    if finding.urgency is not None or finding.verdict == "health_concern":
        doubts = tuple(say("check.less_sure_act", **doubt.args) for doubt in doubts)
    why = (*finding.why, *doubts)
    return replace(finding, why=why, confidence=min(finding.confidence, caps[slug]))


def look_first(check: Check, sheet: Sheet) -> Check:
    """Return a doubt with the cheapest step of all where a line may have been read wrongly."""
    slugs = [slug for _, slug in _concerned((check,))]
    unsure = dict.fromkeys(row.label for row in sheet.rows(*slugs) if row.use == "look")
    if not unsure:
        return check
    look = say("check.look_first", names=", ".join(list(unsure)[:MOST_NAMES]))
    return replace(check, why=(*check.why[:-1], look, check.why[-1]))


def _concerned(checks: Iterable[Check]) -> Iterable[tuple[Check, str]]:
    """Yield each doubt with each analyte that it concerns."""
    for check in checks:
        if check.outcome != "doubt":
            continue
        for message in check.why:
            if message.code == DOUBTS:
                yield from ((check, slug) for slug in message.args["analytes"].split("|") if slug)

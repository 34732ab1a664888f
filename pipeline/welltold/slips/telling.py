"""How a suspect is told: once beside the checks that it would settle, and beside its finding."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..interpretation import Check, Finding
from ..messages import Message, say
from ..speech import in_sentence
from ..verdicts.names import name_of
from .search import Suspect

MOST_IN_WORDS = 10


def told(
    found: tuple[Suspect, ...], checks: tuple[Check, ...], findings: tuple[Finding, ...]
) -> tuple[tuple[Check, ...], tuple[Finding, ...]]:
    """Return checks and findings with the question about each suspect; nothing else changes.

    Of the checks that an edit would settle the first one carries the question, so that a reader
    meets it once there.
    """
    for suspect in found:
        words = tuple(sentences(suspect))
        settled = next((one for one in checks if one.check in suspect.settles), None)
        checks = tuple(
            replace(one, why=(*one.why, *words)) if one is settled else one for one in checks
        )
        findings = tuple(
            replace(one, why=(*one.why, *words)) if _meant(one, suspect) else one
            for one in findings
        )
    return checks, findings


def sentences(suspect: Suspect) -> Iterator[Message]:
    """Yield what a person reads about a suspect."""
    fields = {
        "name": _name(suspect.analyte),
        "printed": suspect.printed,
        "proposed": suspect.proposed,
        "checks": _count(len(suspect.settles) + len(suspect.agree)),
    }
    if suspect.other is not None:
        yield say("slip.swapped", other=_name(suspect.other), **fields)
    else:
        yield say("slip.basis" if suspect.kind == "basis" else "slip.number", **fields)
    now = len(suspect.agree)
    if now > 1:
        yield say("slip.as_printed", checks=_count(now))
    else:
        yield say("slip.as_printed_one" if now else "slip.as_printed_none")
    yield say("slip.look")


def _meant(finding: Finding, suspect: Suspect) -> bool:
    return finding.verdict != "not_tested" and finding.analyte in {suspect.analyte, suspect.other}


def _name(slug: str) -> str:
    return in_sentence(name_of(slug, slug))


def _count(number: int) -> str:
    if number == 1:
        return say("speech.checks_one").text
    count = say(f"speech.number_{number}").text if number <= MOST_IN_WORDS else str(number)
    return say("speech.checks_many", count=count).text

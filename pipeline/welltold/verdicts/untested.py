"""What was not tested and should be in this well, in order of value."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from ..interpretation import Finding
from ..messages import say
from .doubt_tables import names
from .facts import Facts
from .names import name_of
from .scene import Scene
from .tables import CoreTest, core_tests

MOST = 8


def untested(
    findings: Iterable[Finding], elsewhere: Collection[str], scene: Scene
) -> tuple[Finding, ...]:
    """Return the missing tests as findings, most valuable first, at most eight.

    ``elsewhere`` are the slugs tested in another bottle from the same place. What was tested in a
    way that leaves it open is not among them: its own finding asks for the better sample.
    """
    facts = Facts(tuple(findings), scene)
    tested = {f.analyte for f in facts.findings if f.analyte and not _in_part(f)} | set(elsewhere)
    listed: dict[str, Finding] = {}
    for test in core_tests():
        if test.slug not in listed and facts.hold(test.when):
            listed.update((one.analyte or "", one) for one in _missing(test, tested))
    return tuple(listed.values())[:MOST]


def _in_part(finding: Finding) -> bool:
    """Whether a finding is a total of which a part was not tested."""
    return any(message.code == "verdict.total_missing" for message in finding.why)


def _missing(test: CoreTest, tested: Collection[str]) -> Iterator[Finding]:
    if not any(names(test.met_by, slug) for slug in tested):
        yield _finding(test.slug, test.why, test.how)


def _finding(slug: str, why: str, how: str) -> Finding:
    told = (say(f"verdict.untested_{why}"), say(f"verdict.how_{how}"))
    return Finding(slug, name_of(slug, slug), "", "not_tested", why=told)

"""Rules that need more than one line of the sheet: who lives there, what stands beside, the site.

They stand in ``data/sample_rules.csv``. A rule adds reasons, steps and persons to a finding, may
raise a quiet one to "watch", and may make a finding of its own (a smell of fuel, a flood). It never
takes anything away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import cast, get_args

from ..interpretation import Finding, Person, Urgency, Verdict
from ..messages import Message, say
from ..tables import Row, read_table
from .compare import GRAVITY
from .doing import GERMS, Step
from .doubt_tables import listed, names
from .drafts import Draft
from .facts import Facts, clauses
from .names import name_of
from .scene import Scene
from .tables import step

OWN = "sample"
"""Stands in the table for a finding that rests on no line of the sheet."""
RAISED = frozenset({"no_concern_found", "nuisance_only"})


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table."""

    name: str
    about: tuple[str, ...]
    when: tuple[str, ...]
    verdict: Verdict | None
    urgency: Urgency | None
    persons: tuple[Person, ...]
    why: str | None
    steps: tuple[str, ...]


def with_rules(drafts: Iterable[Draft], scene: Scene) -> tuple[Draft, ...]:
    """Return the drafts with what the rules add, and then the findings of their own."""
    told = tuple(drafts)
    facts = Facts(tuple(one.finding for one in told), scene, _asked(told))
    return (*(_with(one, facts) for one in told), *_own(facts))


def _asked(drafts: Iterable[Draft]) -> frozenset[str]:
    steps = (entry for one in drafts for entry in one.steps if entry is not None)
    return frozenset(entry.code.removeprefix("verdict.do_") for entry in steps)


def _with(one: Draft, facts: Facts) -> Draft:
    slug = one.finding.analyte
    if slug is None or (one.answer is None and one.finding.verdict == "not_tested"):
        return one
    for rule in _rules_for(slug):
        if facts.hold(rule.when, one.finding):
            one = _applied(one, rule)
    return one


def _applied(one: Draft, rule: Rule) -> Draft:
    finding = one.finding
    if finding.verdict == "not_tested":
        return one
    why = tuple(_why(rule, name_of(finding.analyte, finding.label)))
    raised = finding.verdict in RAISED and rule.verdict == "watch"
    steps = (*one.steps, *(s for s in _steps(rule) if s not in one.steps))
    return Draft(
        replace(
            finding,
            verdict="watch" if raised else finding.verdict,
            urgency=_graver(finding, rule),
            persons=tuple(dict.fromkeys((*finding.persons, *rule.persons))),
            why=(*finding.why, *(m for m in why if m not in finding.why)),
        ),
        steps,
        one.answer,
    )


def _graver(finding: Finding, rule: Rule) -> Urgency | None:
    """Return the graver urgency; only what is a concern, or cannot be told, has one."""
    if rule.urgency is None or finding.verdict not in {"health_concern", "cant_tell"}:
        return finding.urgency
    both = (finding.urgency, rule.urgency)
    return min(both, key=lambda one: GRAVITY.index(("cant_tell", one)))


def _own(facts: Facts) -> Iterator[Draft]:
    """Yield the findings that rest on the site file alone."""
    for rule in rules():
        if rule.about == (OWN,) and facts.hold(rule.when):
            finding = Finding(
                None,
                say(f"rule.label_{rule.name}").text,
                "",
                rule.verdict or "cant_tell",
                urgency=rule.urgency,
                persons=rule.persons,
                why=tuple(_why(rule, "")),
            )
            yield Draft(finding, tuple(_steps(rule)), None)


def _why(rule: Rule, name: str) -> Iterator[Message]:
    if rule.why is not None:
        yield say(f"rule.{rule.why}", name=name)


def _steps(rule: Rule) -> Iterator[Step]:
    for name in rule.steps:
        yield None if name == GERMS else step(name)


@cache
def rules() -> tuple[Rule, ...]:
    """Return the rules in the order of the table."""
    return tuple(_rule(row) for row in read_table("sample_rules.csv"))


@cache
def _rules_for(slug: str) -> tuple[Rule, ...]:
    return tuple(rule for rule in rules() if names(rule.about, slug))


def _rule(row: Row) -> Rule:
    persons = listed(row, "persons")
    if set(persons) - set(get_args(Person)):
        raise row.wrong("persons: not known")
    if row.text("source") and not (row.cells["why"] or row.cells["steps"] or persons):
        raise row.wrong("the rule does nothing")
    return Rule(
        row.text("rule"),
        listed(row, "about"),
        clauses(row.cells["when"]),
        cast(
            "Verdict | None", row.choice("verdict", frozenset({"", "watch", "cant_tell"})) or None
        ),
        cast("Urgency | None", row.choice("urgency", frozenset({"", "now", "soon"})) or None),
        cast("tuple[Person, ...]", persons),
        row.optional("why"),
        listed(row, "steps"),
    )

"""Likely causes of what is seen and smelled at the tap, with what speaks for and against each."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, cast, get_args

from ..interpretation import Cause, Finding
from ..messages import Message, say
from ..tables import Row, read_table
from .facts import Facts, clauses
from .names import name_of
from .scene import Scene

Kind = Literal["sign", "for", "against", "unless", "test"]
_SLUG = re.compile(r"!?(?:found:|absent:)?(?P<slug>\w+)(?:[<>].*)?")


@dataclass(frozen=True, slots=True)
class Hint:
    """One row of the table of causes."""

    kind: Kind
    when: tuple[str, ...]
    say: str


def causes(findings: Iterable[Finding], scene: Scene) -> tuple[Cause, ...]:
    """Return the likely causes; none where nothing was seen or smelled."""
    if not scene.site.tap.observations:
        return ()
    facts = Facts(tuple(findings), scene)
    found = (_cause(name, hints, facts) for name, hints in hints_by_cause().items())
    return tuple(one for one in found if one is not None)


def _cause(name: str, hints: tuple[Hint, ...], facts: Facts) -> Cause | None:
    holding = [hint for hint in hints if facts.hold(hint.when)]
    kinds = {hint.kind for hint in holding}
    if "sign" not in kinds or "unless" in kinds:
        return None
    tests = [_told(hint, facts) for hint in holding if hint.kind == "test"]
    return Cause(
        name,
        say(f"cause.name_{name}"),
        tuple(_once(_told(hint, facts) for hint in holding if hint.kind in {"sign", "for"})),
        tuple(_once(_told(hint, facts) for hint in holding if hint.kind == "against")),
        tests[0],
    )


def _once(messages: Iterable[Message]) -> Iterator[Message]:
    told: list[str] = []
    for message in messages:
        if message.text not in told:
            told.append(message.text)
            yield message


def _told(hint: Hint, facts: Facts) -> Message:
    """Return a hint's sentence, with what the sheet prints for the analyte of its last clause."""
    finding = _finding(hint, facts)
    if finding is None:
        return say(f"cause.{hint.say}", name="", text="")
    name = name_of(finding.analyte, finding.label)
    return say(f"cause.{hint.say}", name=name, text=finding.text or say("speech.worked_out").text)


def _finding(hint: Hint, facts: Facts) -> Finding | None:
    for clause in reversed(hint.when):
        match = _SLUG.fullmatch(clause)
        rows = facts.of(match["slug"]) if match else ()
        if rows:
            return next((row for row in rows if row.text), rows[0])
    return None


@cache
def hints_by_cause() -> Mapping[str, tuple[Hint, ...]]:
    """Return the rows by cause, in the order of the table; every cause has a test that holds."""
    found: dict[str, list[Hint]] = {}
    last: dict[str, Row] = {}
    for row in read_table("causes.csv"):
        kind = cast("Kind", row.choice("kind", frozenset(get_args(Kind))))
        if row.text("source") and (kind != "unless") != bool(row.cells["say"]):
            raise row.wrong("say does not fit the kind")
        hint = Hint(kind, clauses(row.cells["when"]), row.cells["say"])
        found.setdefault(row.text("cause"), []).append(hint)
        last[row.text("cause")] = row
    for name, hints in found.items():
        if not any(hint.kind == "test" and not hint.when for hint in hints):
            raise last[name].wrong("the cause has no test that always holds")
    return {name: tuple(hints) for name, hints in found.items()}

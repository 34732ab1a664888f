"""What is known of one sample and its house, asked with short clauses that stand in the tables.

Clauses are joined by ``&`` and all must hold; ``!`` before one turns it round. ``this`` is the
analyte that a row is about:

    person:infant  animal:cattle  animal:any  seen:scale  well:dug  aquifer:bedrock  piping:copper
    flooded  farmed  shallow  taken:flushed  after:softener
    iron>0.3  ph<6.5   number in the analyte's own unit; what cannot be told holds for neither
    found:iron  absent:iron  tested:iron  concern:iron  open:iron  may:iron  step:find_way_in
    is:iron    whether ``this`` is that analyte
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from ..analytes import registry
from ..errors import UnitMismatchError
from ..interpretation import Finding
from ..units import convert
from .doubt_tables import names
from .scene import Scene

SHALLOW_FT = 50
"""Common practice, no source: wells less deep than this take in surface water more easily."""
SHALLOW_KINDS = frozenset({"dug", "bored", "driven", "spring"})
THIS, IS = "this", "is"
_NUMBER = re.compile(r"(?P<slug>\w+)(?P<sign>[<>])(?P<number>[\d.]+)")


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause, taken apart."""

    word: str
    """What is asked; the sign for a comparison."""
    name: str
    number: Decimal | None
    turned: bool
    """Whether a ``!`` stands before it."""


@cache
def _parsed(text: str) -> Clause:
    turned = text.startswith("!")
    plain = text.lstrip("!")
    number = _NUMBER.fullmatch(plain)
    if number is not None:
        return Clause(number["sign"], number["slug"], Decimal(number["number"]), turned)
    word, _, name = plain.partition(":")
    if word not in {*_ASK, IS}:
        raise ValueError(f"{text!r} is no clause")
    return Clause(word, name, None, turned)


@dataclass(frozen=True, slots=True)
class Facts:
    """The findings of one sample with its scene."""

    findings: tuple[Finding, ...]
    scene: Scene
    steps: frozenset[str] = frozenset()
    """Names of the steps already asked for, without ``do_``."""

    def hold(self, clauses: Sequence[str], this: Finding | None = None) -> bool:
        """Whether every clause holds; ``this`` is one finding, whatever else the sheet has."""
        return all(self._holds(_parsed(clause), this) for clause in clauses)

    def _holds(self, clause: Clause, this: Finding | None) -> bool:
        facts, name = self, clause.name
        if clause.word == IS:
            return (this is not None and this.analyte == name) != clause.turned
        if name == THIS and this is not None:
            facts, name = replace(self, findings=(this,)), this.analyte or ""
        if clause.number is not None:
            held = facts.compare(name, clause.word, clause.number)
        else:
            held = _ASK[clause.word](facts, name)
        return held != clause.turned

    def of(self, slug: str) -> tuple[Finding, ...]:
        """Return the findings of an analyte, or of a ``group:``, that were tested."""
        wanted = [
            finding
            for finding in self.findings
            if finding.verdict != "not_tested" and names((slug,), finding.analyte or "")
        ]
        return tuple(wanted)

    def compare(self, slug: str, sign: str, number: Decimal) -> bool:
        """Whether all of an amount lies above (``>``) or below (``<``) a number."""
        for finding in self.of(slug):
            low, high = _ends(finding)
            if sign == ">" and low is not None and low > number:
                return True
            if sign == "<" and high is not None and high < number:
                return True
        return False

    def found(self, slug: str) -> bool:
        """Whether something was found: a number above 0 that is no limit, or germs."""
        return any(was_found(finding) for finding in self.of(slug))

    def absent(self, slug: str) -> bool:
        """Whether it was tested and nothing was found in any row."""
        rows = self.of(slug)
        return bool(rows) and not any(was_found(finding) for finding in rows)


def was_found(finding: Finding) -> bool:
    """Whether a finding says that something is there."""
    if finding.present is not None:
        return finding.present
    return finding.low is not None and finding.low > 0


def _ends(finding: Finding) -> tuple[Decimal | None, Decimal | None]:
    """Return the interval in the analyte's own unit; None where there is no end or no unit."""
    own = registry().get(finding.analyte or "")
    if own is None or finding.unit is None:
        return None, None

    def change(value: Decimal | None) -> Decimal | None:
        if value is None:
            return None
        return convert(value, own.slug, finding.unit or "", finding.basis, own.unit, own.basis)

    try:
        return change(finding.low), change(finding.high)
    except UnitMismatchError:
        return None, None


def _animal(facts: Facts, name: str) -> bool:
    animals = facts.scene.site.home.animals
    return bool(animals) if name == "any" else name in animals


def _shallow(facts: Facts, _: str) -> bool:
    well = facts.scene.site.well
    return well.kind in SHALLOW_KINDS or (well.depth_ft is not None and well.depth_ft < SHALLOW_FT)


_ASK: Mapping[str, Callable[[Facts, str], bool]] = {
    "person": lambda facts, name: name in facts.scene.site.home.persons,
    "animal": _animal,
    "seen": lambda facts, name: name in facts.scene.site.tap.observations,
    "well": lambda facts, name: facts.scene.site.well.kind == name,
    "aquifer": lambda facts, name: facts.scene.site.well.aquifer == name,
    "piping": lambda facts, name: facts.scene.site.home.piping == name,
    "flooded": lambda facts, _: bool(facts.scene.site.well.flooded),
    "farmed": lambda facts, _: bool(facts.scene.site.home.farmed_nearby),
    "shallow": _shallow,
    "taken": lambda facts, name: facts.scene.sample.taken == name,
    "after": lambda facts, name: name in facts.scene.after,
    "found": Facts.found,
    "absent": Facts.absent,
    "tested": lambda facts, slug: bool(facts.of(slug)),
    "concern": lambda facts, slug: any(f.verdict == "health_concern" for f in facts.of(slug)),
    "open": lambda facts, slug: any(f.verdict == "cant_tell" for f in facts.of(slug)),
    "may": lambda facts, slug: any(
        f.verdict == "health_concern" or f.urgency is not None for f in facts.of(slug)
    ),
    "step": lambda facts, name: name in facts.steps,
}


def clauses(cell: str) -> tuple[str, ...]:
    """Return the clauses of a cell; an empty cell has none and always holds."""
    return tuple(part.strip() for part in cell.split("&") if part.strip())


def wrong_clauses(cell: str) -> Iterator[str]:
    """Yield what in a cell is no clause, or names no analyte: for the test of the tables."""
    for text in clauses(cell):
        try:
            clause = _parsed(text)
        except ValueError:
            yield text
            continue
        slug = clause.name.removeprefix("group:")
        asks_analyte = clause.number is not None or clause.word in _OF_ANALYTES
        if asks_analyte and slug == clause.name and slug not in {THIS, *registry()}:
            yield text


_OF_ANALYTES = frozenset({IS, "found", "absent", "tested", "concern", "open", "may"})

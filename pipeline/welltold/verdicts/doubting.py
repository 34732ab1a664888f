"""Doubt about a result: what it leaves open, why, and the step that would tell.

Doubt never removes a protective step: a result over a level stays over it, and what becomes open
keeps the urgency that it had.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..messages import Message, say
from ..reading import Result
from .compare import GRAVITY, Judged
from .doubt_tables import BEHIND, Doubt, flag_effects, known_marks
from .scene import Scene

PLAIN_MARKS = frozenset({"U", "ND", "D", "a", "b", "c", "*", "**", "***"})
PLAIN_MARKS |= {"HIGH", "LOW", "High", "Low", "high", "low"}
"""Marks that change nothing about a number: not found, diluted, footnotes, over the lab's line."""


NOT_FOUND = frozenset({"U", "UJ"})


@dataclass(frozen=True, slots=True)
class Doubted:
    """A verdict with what makes it less sure."""

    judged: Judged
    before: Judged
    """The verdict on the printed result alone."""
    why: tuple[Message, ...] = ()
    steps: tuple[str, ...] = ()
    """Names in the table of steps, without ``do_``."""
    sure: float = 1.0
    open_above: bool = False
    """Whether the amount is only a lower bound."""


def as_marked(result: Result) -> Result:
    """Return a result as its mark has it: with "U" the printed number is a limit."""
    if result.state == "value" and NOT_FOUND & set(result.qualifiers):
        return replace(result, state="below", operator="<")
    return result


def doubted(result: Result, judged: Judged, scene: Scene | None) -> Doubted:
    """Return the verdict on one printed result with all doubt about it."""
    marks = tuple(_marks(result))
    beside = scene.doubts(result) if scene is not None else ()
    return _with(judged, (*marks, *beside), tuple(_unknown_marks(result)))


def doubted_total(results: Iterable[Result], judged: Judged, scene: Scene | None) -> Doubted:
    """Return the verdict on a total with the doubt about its parts."""
    found: dict[str, tuple[Doubt, Message]] = {}
    for result in results:
        beside = scene.doubts(result) if scene is not None else ()
        for doubt, why in (*_marks(result), *beside):
            found.setdefault(why.text, (doubt, why))
    return _with(judged, tuple(found.values()), ())


def _with(
    judged: Judged, doubts: Sequence[tuple[Doubt, Message]], also: tuple[Message, ...]
) -> Doubted:
    told = [(doubt, why) for doubt, why in doubts if _tells(doubt, judged)]
    acting = [doubt for doubt, _ in told if _acts(doubt, judged)]
    opening = [doubt for doubt in acting if _opens(doubt, judged)]
    steps = [step for doubt in acting for step in doubt.steps]
    only_behind = judged.verdict == "no_concern_found" and {d.name for d in opening} == {BEHIND}
    return Doubted(
        _opened(judged, opening) if opening else judged,
        judged,
        (*([say("doubt.at_this_tap")] if only_behind else ()), *(why for _, why in told), *also),
        tuple(dict.fromkeys((*steps, *(["ask_lab_mark"] if also else [])))),
        min((doubt.sure for doubt in acting), default=1.0),
        any(doubt.hides == "low" for doubt in acting),
    )


def _tells(doubt: Doubt, judged: Judged) -> bool:
    """Whether a doubt is worth a word: a mark of the lab and equipment always are."""
    return _acts(doubt, judged) or doubt.name == BEHIND or doubt.name.startswith("flag_")


def _acts(doubt: Doubt, judged: Judged) -> bool:
    """Whether there may be more than was found, and it matters."""
    return doubt.hides != "low" or judged.verdict == "watch" or _opens(doubt, judged)


def _opens(doubt: Doubt, judged: Judged) -> bool:
    """Whether a doubt leaves the verdict open: what hides low amounts does not touch high ones.

    What is watched is watched on, unless the doubt is pressing.
    """
    if doubt.hides != "low":
        return doubt.hides == "all"
    if judged.verdict == "watch":
        return judged.health_beside and doubt.urgency is not None
    if judged.verdict == "nuisance_only":
        return judged.health_beside
    return judged.verdict == "no_concern_found" or (
        judged.verdict == "cant_tell" and judged.urgency is None
    )


def _opened(judged: Judged, opening: Sequence[Doubt]) -> Judged:
    """Return a verdict that can no longer be told, with the gravest urgency of all reasons."""
    raised = [doubt.urgency for doubt in opening] if judged.health_beside else []
    urgencies = [judged.urgency, *raised]
    ranked = sorted(urgencies, key=lambda one: GRAVITY.index(("cant_tell", one)))
    return replace(judged, verdict="cant_tell", urgency=ranked[0])


def _marks(result: Result) -> Iterator[tuple[Doubt, Message]]:
    """Yield what the lab's own marks change."""
    slug = result.analyte or ""
    for mark in dict.fromkeys(result.qualifiers):
        effect = next((one for one in flag_effects().get(mark, ()) if one.about(slug)), None)
        if effect is not None:
            yield effect, say(f"doubt.{effect.why}", mark=mark)


def _unknown_marks(result: Result) -> Iterator[Message]:
    """Yield a word about each short mark that nobody here knows."""
    for mark in dict.fromkeys(result.qualifiers):
        known = mark in known_marks() or mark in PLAIN_MARKS or mark in flag_effects()
        if not known and 0 < len(mark) <= 4:
            yield say("doubt.flag_unknown", mark=mark)

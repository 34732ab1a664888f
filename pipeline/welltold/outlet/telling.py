"""What is said of each stage: the outcome, the figures, the doubts, and the cheapest next look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_EVEN, Decimal

from ..analytes import registry
from ..behind import Outlet, OutletSign, OutletSpan, OutletState
from ..checks.sheet import Span
from ..messages import Message, say
from ..site import Site
from ..speech import in_sentence, listed
from ..treatment.words import name_of, stage_name, with_unit
from .bottle import is_germ, tested
from .judging import Judged
from .line import Line
from .seeing import Pair
from .tables import look, rule, signs
from .weighing import State, Weighed

_STATES: dict[State, OutletState] = {
    "done": "as_predicted",
    "partly": "partly",
    "undone": "unchanged",
    "over": "more",
    "open": "open",
}
_BOTTLED = frozenset({"nitrate", "nitrite", "nitrate_nitrite"})
_BABY = frozenset({"infant", "pregnant"})
_CARED = frozenset({"health_concern", "watch", "cant_tell"})
_DIGITS = 4


@dataclass(frozen=True, slots=True)
class Context:
    """What holds for every stage in front of one tap."""

    pair: Pair
    line: Line
    site: Site


def outlet(context: Context, judged: Judged) -> Outlet:
    """Return one stage as it is published."""
    return Outlet(
        judged.stage,
        judged.outcome,
        tuple(_sign(context, one) for one in judged.signs),
        tuple(_why(context, judged)),
        tuple(_look(judged)),
    )


def _sign(context: Context, one: Weighed) -> OutletSign:
    seen, row, bottle = one.seen, one.row, context.pair.bottle
    germs = is_germ(row.analyte)
    expected = seen.expected
    return OutletSign(
        row.analyte,
        None if germs else row.unit,
        None if germs else row.basis,
        _span(seen.inlet),
        None if expected is None else OutletSpan(*(_short(end) for end in expected)),
        _span(seen.found),
        bottle.text(row.analyte),
        _STATES[one.state],
        (*one.why, *bottle.doubts(row.analyte)),
    )


def _why(context: Context, judged: Judged) -> Iterator[Message]:
    """Yield the outcome with its reason, then what makes it doubtful."""
    name = stage_name(judged.stage)
    yield say(f"outlet.reason_{judged.reason}", stage=name)
    if judged.outcome == "working":
        told = [one.row.analyte for one in judged.signs if one.state == "done"]
        if all(is_germ(slug) for slug in told):
            yield say("outlet.germs_one_day")
    untested = _untested(context, judged)
    if judged.reason == "no_job" and untested:
        yield say("outlet.untested", names=_names(untested))
    for slug in dict.fromkeys(one.row.analyte for one in judged.signs):
        for doubt in context.pair.bottle.doubts(slug):
            yield say("outlet.of", name=name_of(slug), told=doubt.text)


def _untested(context: Context, judged: Judged) -> list[str]:
    """Return what to test behind a stage that was not: at most two of what the raw sheet has."""
    found = tested([context.pair.bottle])
    rows = [row for row in signs(judged.stage) if row.role == "job"]
    known = tested(context.pair.bases)
    missing = [row.analyte for row in rows if row.analyte not in found and not row.ahead]
    return [slug for slug in missing if slug in known or is_germ(slug)][:2] or missing[:1]


def _look(judged: Judged) -> Iterator[Message]:
    """Yield the cheapest next look; nothing for a stage at work."""
    if judged.outcome == "working":
        return
    name = in_sentence(stage_name(judged.stage))
    if judged.outcome == "wrong_tap":
        yield say("outlet.look_tap", stage=name)
    if judged.outcome == "cant_tell":
        yield say("outlet.look_open", stage=name)
        return
    yield say(f"outlet.look_{look(judged.stage)}")


def health_told(context: Context, judged: Sequence[Judged]) -> Iterator[Message]:
    """Yield what the bottle found of each matter of health, beside its level; no promise."""
    pair = context.pair
    raised = {one.analyte for one in pair.water.findings if one.verdict in _CARED}
    jobs = {s.row.analyte for one in judged for s in one.signs if s.row.role == "job"}
    found = dict.fromkeys(row.analyte for row in pair.bottle.sample.results if row.analyte)
    for slug in found:
        if registry()[slug].health and slug in raised | jobs:
            yield from _health(pair, slug)
    baby = _BABY & set(context.site.home.persons)
    over = [one.analyte for one in pair.water.findings if one.verdict == "health_concern"]
    if baby and _BOTTLED & set(over):
        yield say("outlet.keep_bottled")


def _health(pair: Pair, slug: str) -> Iterator[Message]:
    name, text = name_of(slug), pair.bottle.text(slug)
    if is_germ(slug):
        found = pair.bottle.germs(slug)
        code = {True: "germs_found", False: "germs_not_found", None: "germs_open"}[found]
        yield say(f"outlet.{code}", name=name, text=text)
        return
    level = pair.bottle.level(slug)
    if level is None or level.value is None:
        yield say("outlet.found_no_level", name=name, text=text)
        return
    span = pair.bottle.span(slug, level.unit, level.basis)
    shown = with_unit(level.value, level.unit, level.basis)
    code = "found_open"
    if span is not None and span.low > level.value:
        code = "found_above"
    elif span is not None and span.high is not None and span.high <= level.value:
        code = "found_not_above"
    yield say(f"outlet.{code}", name=name, text=text, level=shown)


def taken_apart(pair: Pair) -> Iterator[Message]:
    """Yield what makes the two days hard to compare."""
    days = [(one.sample.collected or "")[:10] for one in (pair.bases[0], pair.bottle)]
    if not all(days):
        yield say("outlet.no_day")
        return
    first, second = (date.fromisoformat(one) for one in days)
    if (second - first).days > rule("days"):
        yield say("outlet.days_apart")


def _names(slugs: Sequence[str]) -> str:
    told = [name_of(slug) for slug in slugs]
    return listed([told[0], *map(in_sentence, told[1:])])


def _span(span: Span | None) -> OutletSpan | None:
    return None if span is None else OutletSpan(_short(span.low), _short(span.high))


def _short(value: Decimal | None) -> Decimal | None:
    """Return a number with four digits: the others come from the arithmetic."""
    if not value:
        return value
    step = Decimal(1).scaleb(value.adjusted() - _DIGITS + 1)
    short = (
        value.quantize(step, ROUND_HALF_EVEN) if len(value.as_tuple().digits) > _DIGITS else value
    )
    whole = short.quantize(Decimal(1))
    return whole if short == whole else short.normalize()

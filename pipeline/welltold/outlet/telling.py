"""What is said of each stage: the outcome, the figures, the doubts, and the cheapest next look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import ROUND_HALF_EVEN, Decimal

from ..analytes import registry
from ..behind import Outlet, OutletSign, OutletSpan, OutletState
from ..checks.sheet import Span
from ..conversion import convert
from ..messages import Message, say
from ..site import Site
from ..speech import in_sentence, listed
from ..treatment.words import name_of, stage_name, with_unit
from .bottle import RULES, Bottle, is_germ, tested
from .chain import Chain
from .judging import Judged
from .tables import SignRow, look, rule, signs
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
_DIGITS = 4


def outlet(chain: Chain, judged: Judged) -> Outlet:
    """Return one stage as it is published."""
    return Outlet(
        judged.stage,
        judged.outcome,
        tuple(_sign(chain, one) for one in judged.signs),
        tuple(_why(chain, judged)),
        tuple(_look(judged)),
    )


def _sign(chain: Chain, one: Weighed) -> OutletSign:
    seen, row, bottle = one.seen, one.row, chain.bottles[one.bottle][1]
    germs = is_germ(row.analyte)
    unit, basis = bottle.unit(row.analyte) or (row.unit, row.basis)

    def told(*ends: Decimal | None) -> OutletSpan:
        return OutletSpan(*(_told(end, row, unit, basis) for end in ends))

    return OutletSign(
        row.analyte,
        None if germs else unit,
        None if germs else basis,
        told(seen.inlet.low, seen.inlet.high) if seen.inlet else None,
        told(*seen.expected) if seen.expected else None,
        told(seen.found.low, seen.found.high) if seen.found else None,
        bottle.text(row.analyte),
        one.bottle + 1,
        row.source,
        _STATES[one.state],
        (*one.why, *bottle.doubts(row.analyte)),
        *seen.germs,
    )


def _why(chain: Chain, judged: Judged) -> Iterator[Message]:
    """Yield the outcome with its reason, then what makes it doubtful."""
    done = [one for one in judged.signs if one.state == "done"]
    if judged.outcome != "working":
        yield say(f"outlet.reason_{judged.reason}")
    elif all(is_germ(one.row.analyte) for one in done):
        yield say("outlet.reason_no_germs")
        yield say("outlet.germs_one_day")
    else:
        foretold = any(one.seen.expected for one in done)
        yield say("outlet.reason_working" if foretold else "outlet.reason_changed")
    role = {"no_job": "job", "no_mark": "mark"}.get(judged.reason)
    untested = _untested(chain, judged, role) if role else []
    if untested:
        yield say("outlet.untested", names=_names(untested))
    yield from _doubts(chain, judged)


def _doubts(chain: Chain, judged: Judged) -> Iterator[Message]:
    """Yield what makes the results doubtful, those behind the stage and those of the raw water."""
    told: dict[tuple[str, str], Message] = {}
    for one in judged.signs:
        slug, name = one.row.analyte, name_of(one.row.analyte)
        for doubt in chain.bottles[one.bottle][1].doubts(slug):
            told[slug, doubt.code] = say("outlet.of", name=name, told=doubt.text)
        for doubt in (doubt for base in chain.bases for doubt in base.doubts(slug)):
            raw = say("outlet.name_raw", name=name).text
            told[slug, f"raw {doubt.code}"] = say("outlet.of", name=raw, told=doubt.text)
    yield from told.values()


def _untested(chain: Chain, judged: Judged, role: str) -> list[str]:
    """Return what to test behind a stage that was not: at most two of what the raw sheet has."""
    found = {one.row.analyte for one in judged.signs}
    rows = [row for row in signs(judged.stage) if row.role == role]
    known = tested(chain.bases)
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


def health_told(chain: Chain, judged: Sequence[Judged], site: Site) -> Iterator[Message]:
    """Yield what the bottles found of each matter of health, beside its level; no promise."""
    raised = chain.raised
    jobs = {s.row.analyte for one in judged for s in one.signs if s.row.role in {"job", "extra"}}
    for _, bottle in chain.bottles:
        over = {one.analyte for one in bottle.findings if one.verdict == "health_concern"}
        for slug in dict.fromkeys(row.analyte for row in bottle.sample.results if row.analyte):
            if registry()[slug].health and slug in raised | over | (jobs & _limited(bottle)):
                yield _health(chain, bottle, slug)
    if _BABY & set(site.home.persons) and _BOTTLED & raised:
        yield say("outlet.keep_bottled")


def _limited(bottle: Bottle) -> frozenset[str]:
    """Return what a limit for health is known of, and germs."""
    slugs = {row.analyte for row in bottle.sample.results if row.analyte}
    limits = {slug: bottle.level(slug) for slug in slugs}
    return frozenset(
        slug for slug, one in limits.items() if is_germ(slug) or (one and one.kind in RULES)
    )


def _health(chain: Chain, bottle: Bottle, slug: str) -> Message:
    name, text = name_of(slug), bottle.text(slug)
    if len(chain.bottles) > 1 and bottle.sample.point:
        name = say("outlet.name_at", name=name, point=bottle.sample.point).text
    if is_germ(slug):
        code = {True: "germs_found", False: "germs_not_found", None: "germs_open"}
        return say(f"outlet.{code[bottle.germs(slug)]}", name=name, text=text)
    level = bottle.level(slug)
    if level is None or level.value is None:
        return say("outlet.found_no_level", name=name, text=text)
    shown = with_unit(level.value, level.unit, level.basis)
    span = bottle.span(slug, level.unit, level.basis)
    return say(f"outlet.{_side(span, level.value)}", name=name, text=text, level=shown)


def _side(span: Span | None, level: Decimal) -> str:
    """Return on which side of its level a result lies."""
    if span is not None and span.low > level:
        return "found_above"
    if span is not None and span.high is not None and span.high <= level:
        return "found_not_above"
    return "found_open"


def taken_apart(chain: Chain) -> Iterator[Message]:
    """Yield what makes the two days hard to compare."""
    bottles = (chain.bases[0], *(bottle for _, bottle in chain.bottles))
    days = [(one.sample.collected or "")[:10] for one in bottles]
    if not all(days):
        yield say("outlet.no_day")
        return
    first, last = (date.fromisoformat(one) for one in (days[0], max(days)))
    if (last - first).days > rule("days"):
        yield say("outlet.days_apart")


def _names(slugs: Sequence[str]) -> str:
    told = [name_of(slug) for slug in slugs]
    return listed([told[0], *map(in_sentence, told[1:])])


def _told(end: Decimal | None, row: SignRow, unit: str, basis: str | None) -> Decimal | None:
    """Return one end in the unit in which the later sheet has the result."""
    if end is None:
        return None
    return _short(convert(end, row.analyte, row.unit, row.basis, unit, basis))


def _short(value: Decimal) -> Decimal:
    """Return a number with four digits: the others come from the arithmetic."""
    if not value:
        return value
    step = Decimal(1).scaleb(value.adjusted() - _DIGITS + 1)
    short = (
        value.quantize(step, ROUND_HALF_EVEN) if len(value.as_tuple().digits) > _DIGITS else value
    )
    whole = short.quantize(Decimal(1))
    return whole if short == whole else short.normalize()

"""The part on later bottles: each stage of the equipment beside what was predicted behind it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from welltold.behind import Outlet, OutletSheet, OutletSign, OutletSpan
from welltold.interpretation import SampleView
from welltold.messages import say
from welltold.speech import basis_words

from ..numbers import plain, rounded, trimmed, with_unit
from ..wording import analyte_name, date_words, in_sentence, listed, stage_name, texts, word
from .model import OutletBlock, OutletPart, OutletStage, StepLine, Table

_HEADS = ("what", "inlet", "expected", "found", "note")
_CONCERNS = frozenset({"outlet.found_above", "outlet.germs_found"})
_DIGITS, _SPAN_DIGITS = 3, 2
"""Digits of a number, and of the ends of a range, which is never that exact."""


def outlet_part(sample: SampleView) -> OutletPart | None:
    """Return what later bottles say; None where there are none."""
    if sample.outlet is None:
        return None
    compared = any(one.compared for one in sample.outlet)
    caution = ("caution", "sized") if compared else ("none",)
    return OutletPart(
        heading=say("outlet.head").text,
        caution=tuple(say(f"outlet.{name}").text for name in caution),
        blocks=tuple(_block(one) for one in sample.outlet),
    )


def outlet_steps(sample: SampleView) -> tuple[StepLine, ...]:
    """Return what page 1 has to say of later bottles: a health concern behind the equipment."""
    found = [
        message.args["name"]
        for sheet in sample.outlet or ()
        for message in sheet.health
        if message.code in _CONCERNS
    ]
    if not found:
        return ()
    names = listed([in_sentence(name) for name in found])
    return (StepLine(word("step_today"), say("outlet.first_page", names=names).text),)


def stage_heading(one: Outlet) -> str:
    """Return a stage with its outcome: "Water softener: works as predicted"."""
    outcome = say(f"outlet.outcome_{one.outcome}").text
    return say("outlet.stage_line", stage=stage_name(one.stage), outcome=outcome).text


def figures(sign: OutletSign, sheet: OutletSheet) -> tuple[str, str, str]:
    """Return what goes in, what was predicted and what was found, each with its unit."""
    return _inlet(sign), _expected(sign), _found(sign, sheet)


def state_words(sign: OutletSign) -> str:
    """Return what a sign says in a word or two."""
    foretold = sign.expected is not None or sign.state != "as_predicted"
    return say(f"outlet.state_{sign.state}" if foretold else "outlet.state_as_it_should").text


def bottle_lines(one: OutletSheet) -> Iterator[str]:
    """Yield which bottles are compared, each with the stages ahead of it; or why none is."""
    for bottle in one.bottles:
        place = bottle.point or bottle.sample or one.file
        day = date_words(bottle.collected) if bottle.collected else ""
        name = ", ".join(filter(None, (place, day)))
        yield say("outlet.bottle", name=name, told=" ".join(texts(bottle.why))).text
    yield from texts(one.why)


def _block(one: OutletSheet) -> OutletBlock:
    return OutletBlock(
        heading=one.file,
        sentences=tuple(bottle_lines(one)),
        stages=tuple(_stage(stage, one) for stage in one.stages),
        health=texts(one.health),
    )


def _stage(one: Outlet, sheet: OutletSheet) -> OutletStage:
    rows = tuple(_rows(one, sheet))
    table = Table(
        say("outlet.caption", stage=stage_name(one.stage)).text,
        tuple(say(f"outlet.head_{head}").text for head in _HEADS),
        rows,
    )
    look = " ".join(texts(one.look))
    return OutletStage(
        heading=stage_heading(one),
        sentences=texts(one.why),
        table=table if rows else None,
        look=say("outlet.look", told=look).text if look else "",
    )


def _rows(one: Outlet, sheet: OutletSheet) -> Iterator[tuple[str, ...]]:
    for sign in one.signs:
        says = state_words(sign)
        note = ". ".join((says, " ".join(texts(sign.why)))) if sign.why else says
        yield (analyte_name(sign.analyte), *figures(sign, sheet), note)


def _inlet(sign: OutletSign) -> str:
    if sign.unit is None:
        return _germs(found=sign.present_ahead)
    return _span(sign.inlet, sign) or say("outlet.not_known").text


def _expected(sign: OutletSign) -> str:
    return _span(sign.expected, sign) or say("outlet.not_predicted").text


def _found(sign: OutletSign, sheet: OutletSheet) -> str:
    """Return what was found; where there are several bottles, in which."""
    found = _germs(found=sign.present) if sign.unit is None else sign.text
    point = sheet.bottles[sign.bottle - 1].point
    several = len(sheet.bottles) > 1
    return say("outlet.name_at", name=found, point=point).text if several and point else found


def _germs(*, found: bool | None) -> str:
    name = {True: "germ_found", False: "germ_not_found", None: "not_known"}[found]
    return say(f"outlet.{name}").text


def _span(span: OutletSpan | None, sign: OutletSign) -> str:
    """Return a range with its unit; "" where neither end is known."""
    if span is None or (span.low is None and span.high is None):
        return ""
    low, high = span.low, span.high
    if low is not None and low == high:
        return _amount(_number(low, _DIGITS), sign)
    first = None if low is None else _number(low, _SPAN_DIGITS)
    last = None if high is None else _number(high, _SPAN_DIGITS)
    if first is None or (not low and last is not None):
        return say("outlet.at_most", high=_amount(last or "", sign)).text
    if last is None:
        return say("outlet.at_least", low=_amount(first, sign)).text
    if first == last:
        return _amount(first, sign)
    return say("outlet.from_to", low=first, high=_amount(last, sign)).text


def _number(value: Decimal, digits: int) -> str:
    return plain(trimmed(rounded(value, digits)))


def _amount(number: str, sign: OutletSign) -> str:
    amount = with_unit(number, sign.unit)
    return basis_words(amount, sign.basis) if sign.basis else amount

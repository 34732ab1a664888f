"""How the outcome of a stage was reached from the bottles behind it, with each source."""

from __future__ import annotations

from collections.abc import Iterator

from .behind import Outlet, OutletSign, OutletSpan
from .interpretation import SampleView
from .messages import Message, say
from .speech import basis_words, phrase, plain_name, sentence_start


def explain_outlet(sample: SampleView, stage: str | None) -> Iterator[Message]:
    """Yield each sign of a stage, or of every stage; nothing where no bottle tells of it."""
    for sheet in sample.outlet or ():
        for one in sheet.stages:
            if stage in {None, one.stage}:
                yield from _stage(one)


def _stage(one: Outlet) -> Iterator[Message]:
    name = sentence_start(say(f"treatment.name_{one.stage}").text)
    outcome = say(f"outlet.outcome_{one.outcome}").text
    yield say("outlet.explain_head", name=name, outcome=outcome)
    for sign in one.signs:
        expected = _span(sign.expected, sign, None)
        told = say("outlet.explain_predicted", amount=expected).text if expected else ""
        yield say(
            "outlet.explain_sign",
            name=plain_name(sign.analyte) or sign.analyte,
            inlet=_span(sign.inlet, sign, sign.present_ahead) or say("outlet.not_known").text,
            expected=told,
            found=sign.text,
            state=say(f"outlet.state_{sign.state}").text,
            source=phrase(sign.citation),
        )
    yield from one.why


def _span(span: OutletSpan | None, sign: OutletSign, germs: bool | None) -> str:  # noqa: FBT001 - found, not found, not known
    """Return a range with every digit; "" where nothing is known."""
    if germs is not None:
        return say("outlet.germ_found" if germs else "outlet.germ_not_found").text
    if span is None or (span.low is None and span.high is None):
        return ""
    ends = dict.fromkeys("–" if end is None else f"{end:f}" for end in (span.low, span.high))
    amount = f"{' … '.join(ends)} {sign.unit or ''}".rstrip()
    return basis_words(amount, sign.basis) if sign.basis else amount

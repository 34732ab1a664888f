"""From named doubts to a confidence and the reasons that a person reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from welltold.messages import Message, say
from welltold.reading import Result
from welltold.speech import name_again
from welltold.tables import read_table

SURE_ENOUGH = 0.985
"""A result is used as it is from this confidence on."""
_WORTH_SAYING = 0.99


@cache
def signals() -> Mapping[str, float]:
    """Return the confidence of each signal."""
    return {
        row.text("signal"): float(row.text("confidence"))
        for row in read_table("reading_signals.csv")
    }


def judge(doubts: Mapping[str, Mapping[str, str]]) -> tuple[float, tuple[Message, ...]]:
    """Return the confidence in a result with these doubts, and the reasons to look at it."""
    if not doubts:
        return 1.0, ()
    known = signals()
    confidence = 1.0
    for name in doubts:
        confidence *= known[name]
    confidence = round(confidence, 4)
    if confidence >= SURE_ENOUGH:
        return confidence, ()
    weakest = min(doubts, key=lambda name: known[name])
    reasons = [n for n in doubts if known[n] < _WORTH_SAYING] or [weakest]
    return confidence, tuple(_said(name, doubts[name]) for name in reasons)


def _said(name: str, fields: Mapping[str, str]) -> Message:
    """Return a reason, with the analyte's name in the language spoken."""
    told = {key: name_again(text) if key == "analyte" else text for key, text in fields.items()}
    return say(f"read.{name}", **told)


def lowered(result: Result, name: str, **fields: str) -> Result:
    """Return a result with one more doubt, found when the file was read to its end."""
    confidence = round(result.confidence * signals()[name], 4)
    if confidence >= SURE_ENOUGH:
        return replace(result, confidence=confidence)
    reason = say(f"read.{name}", **fields)
    if reason in result.review:
        return result
    return replace(result, confidence=confidence, review=(*result.review, reason))

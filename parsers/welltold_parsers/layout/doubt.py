"""From named doubts to a confidence and the reasons that a person reads.

Confidence is the logistic function of a base and one weight for each doubt. The weights are fitted
to readings whose truth is known (``samples/proving/fit.py``) and stand in ``reading_signals.csv``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from functools import cache, lru_cache

from welltold.messages import Message, say
from welltold.reading import Result
from welltold.tables import read_table

_SETTINGS = frozenset({"base", "use"})
_LEAST, _MOST = 0.0001, 0.9999
_all = False


@cache
def _table() -> Mapping[str, float]:
    return {
        row.text("signal"): float(row.text("weight")) for row in read_table("reading_signals.csv")
    }


@cache
def asked() -> frozenset[str]:
    """Return the signals that a person is asked about however often such readings are right."""
    rows = read_table("reading_signals.csv")
    return frozenset(row.text("signal") for row in rows if row.text("ask") == "yes")


@cache
def weights() -> Mapping[str, float]:
    """Return the weight of each signal, in log odds: zero or less."""
    return {name: weight for name, weight in _table().items() if name not in _SETTINGS}


def sure_enough() -> float:
    """Return the confidence, of 1, from which a result is used as it is."""
    return _table()["use"]


@contextmanager
def telling_all() -> Iterator[None]:
    """Have every doubt told as a reason, however slight: what the weights are fitted from."""
    global _all  # noqa: PLW0603 - one switch for the time of a fit
    _all = True
    try:
        yield
    finally:
        _all = False


@lru_cache(maxsize=4096)
def share_of(odds: float) -> float:
    """Return the confidence of these log odds, beside the base, as it is published."""
    share = 1 / (1 + math.exp(-(_table()["base"] + odds)))
    return round(min(max(share, _LEAST), _MOST), 4)


def judge(doubts: Mapping[str, Mapping[str, str]]) -> tuple[float, tuple[Message, ...]]:
    """Return the confidence in a result with these doubts, and the reasons to look at it."""
    known = weights()
    confidence = share_of(sum(known[name] for name in doubts))
    if not doubts or not _needs_look(doubts, confidence):
        return confidence, ()
    weakest = min(doubts, key=lambda name: known[name])
    telling = [n for n in doubts if _tells(n)] or [weakest]
    return confidence, tuple(say(f"read.{name}", **doubts[name]) for name in telling)


def _needs_look(doubts: Iterable[str], confidence: float) -> bool:
    return _all or confidence < sure_enough() or not asked().isdisjoint(doubts)


def _tells(name: str) -> bool:
    """Whether a doubt is a reason of its own, not only beside others."""
    return _all or name in asked() or share_of(weights()[name]) < sure_enough()


def lowered(result: Result, name: str, **fields: str) -> Result:
    """Return a result with one more doubt, found when the file was read to its end."""
    share = min(max(result.confidence, _LEAST), _MOST)
    odds = math.log(share / (1 - share)) - _table()["base"]
    confidence = share_of(min(odds, 0.0) + weights()[name])
    if not _needs_look((name,), confidence):
        return replace(result, confidence=confidence)
    reason = say(f"read.{name}", **fields)
    if reason in result.review:
        return result
    return replace(result, confidence=confidence, review=(*result.review, reason))

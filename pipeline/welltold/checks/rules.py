"""What the checks accept (``data/checks.csv``), and how a check is written down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from ..interpretation import Check
from ..messages import Message, say
from ..speech import in_sentence
from ..tables import read_table
from ..verdicts.names import name_of
from ..verdicts.wording import plain

DOUBTS = "check.doubts"
"""The sentence whose field ``analytes`` holds the slugs that a doubt concerns."""

MOST_NAMES = 6
"""A sentence names no more analytes than this; its field ``analytes`` holds all of them."""


@cache
def _limits() -> Mapping[tuple[str, str], Decimal]:
    table = {}
    for row in read_table("checks.csv"):
        value = row.number("value")
        row.choice("verified", frozenset({"yes", "practice", "no"}))
        if value is None or not row.text("source"):
            raise row.wrong("value is empty")
        table[row.text("check"), row.text("name")] = value
    return table


def limit(check: str, name: str) -> Decimal:
    """Return one number that a check works with; KeyError."""
    return _limits()[check.partition(":")[0], name]


def agrees(check: str, value: Decimal | None, unit: str | None, *why: Message) -> Check:
    """Return a check that finds nothing to doubt."""
    return Check(check, "agrees", value, unit, why)


def fits(check: str, value: Decimal | None, unit: str | None, *why: Message) -> Check:
    """Return a check whose two numbers agree, and say so."""
    return agrees(check, value, unit, *why, say("check.agrees"))


def doubt(
    check: str,
    value: Decimal | None,
    unit: str | None,
    *why: Message,
    of: Sequence[str],
    settle: str,
) -> Check:
    """Return a check whose numbers do not fit.

    ``of``: slugs of the results that are in doubt; ``settle``: name of the sentence with the
    cheapest way to settle it. The first sentence of ``why`` states the figure.
    """
    end = say(f"check.settle_{settle}")
    if not of:
        return Check(check, "doubt", value, unit, (*why, end))
    names = ", ".join(name_of(slug, slug) for slug in of[:MOST_NAMES])
    if len(of) > MOST_NAMES:
        names = say("check.doubts_many", names=names, n=len(of) - MOST_NAMES).text
    about = say(DOUBTS, names=names, analytes="|".join(of))
    return Check(check, "doubt", value, unit, (*why, about, end))


def not_possible(check: str, *why: Message) -> Check:
    """Return a check that lacks a number."""
    return Check(check, "not_possible", None, None, why)


def lacking(check: str, *slugs: str) -> Check:
    """Return a check for which some analytes are not on the sheet."""
    names = ", ".join(in_sentence(name_of(slug, slug)) for slug in slugs)
    return not_possible(check, say("check.lacking", names=names))


def rounded(value: Decimal | float, step: str = "0.1") -> Decimal:
    """Return a figure rounded to ``step``; never minus zero."""
    return Decimal(value).quantize(Decimal(step), ROUND_HALF_UP) + 0


def short(value: Decimal | float) -> str:
    """Return a number with up to three digits for a sentence."""
    number = Decimal(value)
    step = Decimal(1).scaleb(min(number.adjusted() - 2, 0)) if number else Decimal(1)
    rounded_off = number.quantize(step, ROUND_HALF_UP).normalize()
    return plain(max(rounded_off, rounded_off.quantize(Decimal(1)), key=_decimals))


def _decimals(number: Decimal) -> int:
    return -int(number.as_tuple().exponent)

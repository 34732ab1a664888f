"""The ion balance: positive against negative charges."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import Message, say
from ..speech import in_sentence, listed
from ..verdicts.names import name_of
from .rules import agrees, doubt, fits, lacking, limit, rounded, short
from .salts import NEEDED, Salts, salts_of
from .sheet import Sheet

NAME = "ion_balance"
POSITIVE = ("calcium", "magnesium", "sodium", "potassium")
NEGATIVE = ("alkalinity", "bicarbonate", "chloride", "sulfate", "nitrate")
HINTS = {
    (False, True): ("cation_low", POSITIVE),
    (False, False): ("anion_high", NEGATIVE),
    (True, True): ("anion_low", NEGATIVE),
    (True, False): ("cation_high", POSITIVE),
}
"""(cations too many, measured conductance above the calculated one): which side is wrong.
aqion hydrochemistry documentation, TDS, EC and charge balance."""


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield the ion balance, when any of its ions is on the sheet."""
    if not sheet.has(*NEEDED, "hardness", "bicarbonate"):
        return
    salts = salts_of(sheet)
    yield lacking(NAME, *salts.missing) if salts.missing else _balance(sheet, salts)


def _balance(sheet: Sheet, salts: Salts) -> Check:
    from ..chemistry import anions, balance_error, cations

    positive = (float(cations(salts.low)), float(cations(salts.high)))
    negative = (float(anions(salts.low)), float(anions(salts.high)))
    ends = (
        float(balance_error(positive[0], negative[1])),
        float(balance_error(positive[1], negative[0])),
    )
    error = nearest(*ends)
    apart = nearest(positive[0] - negative[1], positive[1] - negative[0])
    why = [
        say(
            "check.balance",
            cations=short(positive[1]),
            anions=short(negative[1]),
            percent=short(abs(rounded(error))),
        ),
        *_notes(salts),
    ]
    if negative[1] < limit(NAME, "small_sum"):
        small = limit(NAME, "small_apart")
        why.append(say("check.balance_small", least=small))
        doubtful = abs(apart) > small
    else:
        doubtful = abs(error) > limit(NAME, "doubt_percent")
        if not doubtful and abs(error) > limit(NAME, "agree_percent"):
            why.append(say("check.balance_wide"))
    value = rounded(error)
    if not doubtful:
        wide = why[-1].code == "check.balance_wide"
        return (agrees if wide else fits)(NAME, value, "%", *why)
    hint = _hint(sheet, salts, error)
    side = POSITIVE + NEGATIVE if hint is None else HINTS[hint][1]
    of = [slug for slug in side if sheet.has(slug)]
    if salts.from_hardness and hint in {None, (False, True), (True, False)}:
        of.insert(0, "hardness")
    more = () if hint is None else (say(f"check.hint_{HINTS[hint][0]}"),)
    return doubt(NAME, value, "%", *why, *more, of=of, settle="repeat_ions")


def _notes(salts: Salts) -> Iterator[Message]:
    if salts.from_hardness:
        yield say("check.from_hardness")
    if salts.untested:
        names = [in_sentence(name_of(slug, slug)) for slug in salts.untested]
        yield say("check.taken_as_zero", names=listed(names))


def _hint(sheet: Sheet, salts: Salts, error: float) -> tuple[bool, bool] | None:
    """Return what the conductance says about the side that is wrong; None: nothing."""
    from ..chemistry import conductance

    measured = sheet.number("specific_conductance", "uS/cm")
    calculated = Decimal(float(conductance(salts.high)))
    if measured is None or not calculated:
        return None
    ratio = measured / calculated
    if abs(ratio - 1) < limit(NAME, "hint"):
        return None
    return error > 0, ratio > 1


def nearest(low: float, high: float) -> float:
    """Return the number between two that is nearest to 0."""
    return 0.0 if low <= 0 <= high else min(low, high, key=abs)

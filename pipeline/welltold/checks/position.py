"""Signs that the sample was taken behind a softener."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import say
from ..speech import in_sentence
from ..verdicts.names import name_of
from .rules import agrees, doubt, lacking, limit, not_possible, rounded, short
from .sheet import Sheet

NAME = "behind_equipment"
TAKEN_OUT = ("hardness", "calcium", "magnesium", "iron", "manganese", "sodium", "potassium")
"""What a softener changes."""
SALTS = ("sodium", "potassium")
"""What a softener gives for hardness, by the salt in its tank."""
EXCHANGERS = frozenset({"softener"})


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield whether low hardness with sodium points to a softener, where hardness is known."""
    if not sheet.has("hardness"):
        return
    hardness = sheet.span("hardness", "mg/L", "CaCO3")
    if hardness is None or hardness.high is None:
        yield not_possible(NAME, say("check.no_number"))
        return
    unit, most = {"hardness": f"{short(hardness.high)} mg/L"}, rounded(hardness.high)
    if _known(sheet):
        if hardness.low > limit(NAME, "hardness") and _softened(sheet):
            why = say("check.softener_hard", **unit)
            yield doubt(NAME, most, "mg/L", why, of=("hardness",), settle="raw_sample")
        else:
            yield agrees(NAME, most, "mg/L", say("check.known_treated"))
        return
    if hardness.high >= limit(NAME, "hardness"):
        yield agrees(NAME, most, "mg/L", say("check.hard_enough", **unit))
        return
    yield _soft(sheet, most, unit)


def _soft(sheet: Sheet, hardness: Decimal, unit: dict[str, str]) -> Check:
    for salt in SALTS:
        span = sheet.span(salt, "mg/L")
        if span is not None and span.low >= limit(NAME, salt):
            of = [slug for slug in TAKEN_OUT if sheet.has(slug)]
            name = in_sentence(name_of(salt, salt))
            amount = say("speech.amount_of", amount=f"{short(span.low)} mg/L", name=name).text
            why = say("check.softened", amount=amount, **unit)
            return doubt(NAME, hardness, "mg/L", why, of=of, settle="raw_sample")
    if not sheet.has("sodium"):
        return lacking(NAME, "sodium")
    return agrees(NAME, hardness, "mg/L", say("check.soft_by_nature", **unit))


def _after(sheet: Sheet) -> frozenset[str]:
    facts = sheet.site.samples.get(sheet.sample.id or "")
    own = facts.after if facts else ()
    return frozenset((*own, *sheet.site.equipment.after))


def _known(sheet: Sheet) -> bool:
    return sheet.sample.taken == "treated" or bool(_after(sheet))


def _softened(sheet: Sheet) -> bool:
    return bool(_after(sheet) & EXCHANGERS)

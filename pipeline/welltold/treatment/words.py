"""How analytes, amounts and stages are written in a sentence."""

from __future__ import annotations

from decimal import Decimal

from ..messages import Message, say
from ..speech import basis_words, plain_name
from .water import Amount

_SPAN_DIGITS = 2
_PLAIN_UNITS = {"SU": "", "%": " %"}


def name_of(slug: str, label: str | None = None) -> str:
    """Return the plain name of an analyte; its printed label where the registry has none."""
    if slug == "iron_and_manganese":
        return f"{name_of('iron')} + {name_of('manganese')}"
    if slug == "iron_dissolved":
        return text("treatment.iron_dissolved")
    return plain_name(slug) or label or slug.replace("_", " ")


def names_of(slugs: tuple[str, ...]) -> str:
    """Return the names in one line, separated by commas."""
    return ", ".join(name_of(slug) for slug in slugs)


def stage_name(stage: str) -> str:
    """Return the plain name of a stage."""
    return text(f"treatment.name_{stage}")


def text(code: str, /, **args: object) -> str:
    """Return the text of a message."""
    message: Message = say(code, **args)
    return message.text


def with_unit(value: Decimal, unit: str, basis: str | None = None) -> str:
    """Return a number with its unit and basis, without needless zeros."""
    number = f"{rounded(value).normalize():f}"
    amount = f"{number}{_PLAIN_UNITS.get(unit, f' {unit}')}"
    return basis_words(amount, basis) if basis else amount


def amount_text(amount: Amount, unit: str, basis: str | None = None) -> str:
    """Return an interval as a reader writes it: ``3 mg/L``, ``<0.5 mg/L``, ``1 to 3 mg/L``."""
    low, high = amount.low, amount.high
    if high is None:
        return f">{with_unit(low, unit, basis)}" if low else text("treatment.has_unknown")
    if low == high:
        return with_unit(low, unit, basis)
    low, high = reckoned(low, unit), reckoned(high, unit)
    if low == 0:
        return f"<{with_unit(high, unit, basis)}"
    first, last = f"{rounded(low).normalize():f}", with_unit(high, unit, basis)
    if rounded(low) == rounded(high):
        return last
    return text("speech.amount_span", low=first, high=last)


def reckoned(value: Decimal, unit: str) -> Decimal:
    """Return an end of a reckoned span with two digits, pH with one decimal; never to compare."""
    if not value or len(value.normalize().as_tuple().digits) <= _SPAN_DIGITS:
        return value
    return round(value, 1 if unit == "SU" else _SPAN_DIGITS - 1 - value.adjusted())


def rounded(value: Decimal) -> Decimal:
    """Return a number with at most four digits; for showing, never for comparing.

    More digits come from a conversion, not from a lab.
    """
    if len(value.as_tuple().digits) <= 4:
        return value
    return round(value, max(3 - value.adjusted(), 0))

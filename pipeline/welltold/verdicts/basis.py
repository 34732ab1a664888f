"""Settles how a nitrogen result is counted, from what else the sheet shows.

"As N" or as the whole ion differ by a factor of 4.4 (nitrate) or 3.3 (nitrite). The limit that the
lab prints, the other rows and the method can each show which; where they point both ways, or
nothing points, the question stays open and both readings are judged.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from ..errors import UnitMismatchError
from ..messages import Message, say
from ..reading import Result
from ..speech import basis_words
from ..units import convert, unit
from ..values import parse_value
from .amounts import possible
from .doubt_tables import Evidence, evidence
from .tables import words

NEAR = Decimal("0.05")
"""Common practice, no source: rows that differ by less than this share tell the same amount."""
PARTS = {"nitrate": "nitrite", "nitrite": "nitrate"}


@dataclass(frozen=True, slots=True)
class Settled:
    """A result with its basis, and what showed it."""

    result: Result
    why: tuple[Message, ...] = ()


def settle(results: Sequence[Result]) -> tuple[Settled, ...]:
    """Return the results in order, with a basis where the sheet shows one."""
    return tuple(_settle(result, results) for result in results)


def _settle(result: Result, results: Sequence[Result]) -> Settled:
    if len(words(result.analyte).bases) < 2 or result.value is None or not _is_mass(result):
        return Settled(result)
    if _contradicted(result):
        why = say("doubt.basis_twice", text=basis_words(result.unit or "", result.basis or ""))
        return Settled(_opened(result), (why,))
    named = _named(result)
    if named is not None:
        return _checked(result, named)
    told = tuple(_shown(result, results))
    bases = {basis for basis, _ in told}
    if len(bases) != 1:
        return Settled(result)
    return Settled(replace(result, basis=bases.pop()), (told[0][1],))


def _named(result: Result) -> str | None:
    """Return the basis that the sheet names: beside the result, or in the unit's spelling."""
    settled = result.normalized
    spelled = unit(result.unit) if result.unit else None
    return (
        result.basis or (spelled.basis if spelled else None) or (settled.basis if settled else None)
    )


def _contradicted(result: Result) -> bool:
    """Whether the unit is printed for one way of counting and the line for the other."""
    spelled = unit(result.unit) if result.unit else None
    return None not in {result.basis, spelled.basis if spelled else None} and (
        spelled is not None and spelled.basis != result.basis
    )


def _opened(result: Result) -> Result:
    """Return the result without any basis, so that every way of counting is judged."""
    spelled = unit(result.unit) if result.unit else None
    plain = result.unit if spelled is None or spelled.basis is None else spelled.name
    return replace(result, basis=None, normalized=None, unit=plain)


def _checked(result: Result, named: str) -> Settled:
    """Return the result; open again where the printed limit is for the other way of counting."""
    by_limit = {
        one.basis: (one, limit)
        for one, limit in _limits(result)
        if one.basis in words(result.analyte).bases
    }
    if not by_limit or named in by_limit:
        return Settled(result)
    limit = next(iter(by_limit.values()))[1]
    return Settled(_opened(result), (say("doubt.basis_clash", basis=named, limit=limit),))


def _shown(result: Result, results: Sequence[Result]) -> Iterator[tuple[str, Message]]:
    for one, limit in _limits(result):
        yield one.basis, say(f"doubt.{one.why}", limit=limit, basis=one.basis)
    yield from _rows(result, results)
    method = "".join((result.method or "").lower().split())
    for one in evidence():
        if one.slug == result.analyte and one.by == "method" and one.value in method:
            yield one.basis, say(f"doubt.{one.why}", method=result.method, basis=one.basis)


def _limits(result: Result) -> Iterator[tuple[Evidence, str]]:
    """Yield what the printed limit shows, with the limit as printed."""
    number = _printed_limit(result)
    if number is None:
        return
    for one in evidence():
        if one.slug == result.analyte and one.by == "limit":
            low, high = map(Decimal, one.value.split())
            if low <= number <= high:
                yield one, result.printed_limit or ""


def _printed_limit(result: Result) -> Decimal | None:
    """Return the printed limit in mg/L; None where it is no number, or its unit is not known."""
    parsed = parse_value(result.printed_limit) if result.printed_limit else None
    if parsed is None or parsed.value is None:
        return None
    spelled = unit(parsed.unit_text or result.unit or "")
    if spelled is None:
        return None
    try:
        return convert(parsed.value, "nitrate", spelled.name, "N", "mg/L", "N")
    except UnitMismatchError:
        return None


def _rows(result: Result, results: Sequence[Result]) -> Iterator[tuple[str, Message]]:
    """Yield the one basis in which the result fits other rows that name theirs."""
    yield from _of_parts(result, results)
    for other in results:
        if other is result or other.analyte not in {result.analyte, "nitrate_nitrite"}:
            continue
        if other.state != "value" or _named(other) is None or result.state != "value":
            continue
        fits = [
            basis for basis in words(result.analyte).bases if _fits(result, basis, other, results)
        ]
        if len(fits) == 1:
            text = f"{other.label} {other.text}"
            yield fits[0], say("doubt.basis_rows", basis=fits[0], other=text)


def _of_parts(result: Result, results: Sequence[Result]) -> Iterator[tuple[str, Message]]:
    """Yield the basis in which a total fits nitrate and nitrite, when both name theirs."""
    if result.analyte != "nitrate_nitrite" or result.state != "value":
        return
    parts = [r for r in results if r.analyte in PARTS and r.state == "value" and _named(r)]
    amounts = [_as_n(part) for part in parts]
    if {part.analyte for part in parts} != set(PARTS) or len(parts) != 2 or None in amounts:
        return
    total = sum(amount for amount in amounts if amount is not None)
    fits = [
        basis
        for basis in words(result.analyte).bases
        if abs((_as_n(replace(result, basis=basis)) or Decimal(0)) - total) <= total * NEAR
    ]
    if len(fits) == 1:
        text = ", ".join(f"{part.label} {part.text}" for part in parts)
        yield fits[0], say("doubt.basis_rows", basis=fits[0], other=text)


def _fits(result: Result, basis: str, other: Result, results: Sequence[Result]) -> bool:
    mine, total = _as_n(replace(result, basis=basis)), _as_n(other)
    if mine is None or not total:
        return False
    part = PARTS.get(result.analyte or "") if other.analyte != result.analyte else None
    rest = _rest(part, results)
    return abs(mine + rest - total) <= total * NEAR


def _rest(slug: str | None, results: Sequence[Result]) -> Decimal:
    """Return the other part of a total as N; 0 where it was not found or not tested."""
    rows = [r for r in results if r.analyte == slug and r.state == "value" and _named(r)]
    return (_as_n(rows[0]) or Decimal(0)) if slug and rows else Decimal(0)


def _as_n(result: Result) -> Decimal | None:
    amounts = possible(result, "").amounts
    if not amounts or amounts[0].unit is None:
        return None
    one = amounts[0]
    try:
        return convert(one.low, result.analyte or "", one.unit or "", one.basis, "mg/L", "N")
    except UnitMismatchError:
        return None


def _is_mass(result: Result) -> bool:
    spelled = unit(result.unit) if result.unit else None
    return spelled is not None and spelled.name in {"mg/L", "ug/L", "ng/L", "g/L"}

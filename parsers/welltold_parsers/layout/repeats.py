"""A result that is printed twice, on a summary and in detail, is one result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from welltold.messages import say
from welltold.reading import Result, Sample
from welltold.units import unit


def merge(sample: Sample) -> Sample:
    """Return the sample with results printed twice made one; both places are kept."""
    groups: dict[tuple[object, ...], list[Result]] = {}
    results = _without_said_again(_with_words_joined(sample.results))
    for result in results:
        groups.setdefault(_same_test(result), []).append(result)
    if len(groups) == len(sample.results):
        return sample
    named = bool(sample.id or sample.point or sample.collected)
    merged = [one for group in groups.values() for one in _merge(group, named=named)]
    return replace(sample, results=tuple(merged))


def _with_words_joined(results: tuple[Result, ...]) -> list[Result]:
    """Join what a sentence says of a germ to its count in a table, or doubt both."""
    kept = list(results)
    for said in results:
        if said.present is None or said.analyte is None or not _in_a_sentence(said):
            continue
        at = next((i for i, r in enumerate(kept) if _counts_the_same(r, said)), None)
        if at is None:
            continue
        count = kept[at]
        own = kept.index(said)
        if (count.value != 0 and count.operator != "<") is said.present:
            kept[at] = replace(count, where=(*count.where, *said.where))
            del kept[own]
        else:
            kept[at], kept[own] = _doubted(count, said), _doubted(said, count)
    return kept


def _without_said_again(results: list[Result]) -> list[Result]:
    """Join a number that a remark says again to the result of the table: "Lead at 12.1 ug/l".

    A sentence seldom says what the row does: that the metal is total, or as what it counts.
    """
    kept = list(results)
    for said in results:
        if said.analyte is None or said.value is None or not _in_a_sentence(said):
            continue
        at = next((i for i, r in enumerate(kept) if _says_again(r, said)), None)
        if at is not None:
            kept[at] = replace(kept[at], where=(*kept[at].where, *said.where))
            kept.remove(said)
    return kept


def _says_again(row: Result, said: Result) -> bool:
    return (
        row is not said
        and row.analyte == said.analyte
        and said.fraction in {None, row.fraction}
        and said.basis in {None, row.basis}
        and not _in_a_sentence(row)
        and _same_value(row, said)
    )


def _in_a_sentence(result: Result) -> bool:
    """Whether the name and the answer stand in one piece of text."""
    places = {place.of: (place.page, place.box, place.sheet, place.cell) for place in result.where}
    return places.get("value") is not None and places.get("value") == places.get("label")


def _counts_the_same(result: Result, said: Result) -> bool:
    counted = result.value is not None or result.state == "below"
    return result.analyte == said.analyte and counted and result.present is None


def _same_test(result: Result) -> tuple[object, ...]:
    """Return what two prints of one result share; another basis or fraction is another result."""
    name = result.analyte or result.label.lower()
    return name, result.basis, result.fraction, result.state in {"present", "absent"}


def _merge(group: list[Result], *, named: bool) -> list[Result]:
    kept: list[Result] = []
    places: dict[tuple[str, Decimal | None], list[int]] = {}
    for result in group:
        near = sorted({i for key in _keys(result) for i in places.get(key, ())})
        twin = next((i for i in near if _same_value(kept[i], result)), None)
        if twin is None:
            for key in _keys(result):
                places.setdefault(key, []).append(len(kept))
            kept.append(result)
        else:
            kept[twin] = _joined(kept[twin], result)
    if len(kept) == 1:
        return kept
    return [_differing(one, kept, named=named) for one in kept]


def _keys(result: Result) -> Iterator[tuple[str, Decimal | None]]:
    """Yield what a twin shares: the number as printed, or in the analyte's own unit."""
    yield "printed", result.value
    if result.normalized:
        yield "own", result.normalized.value


def _same_value(a: Result, b: Result) -> bool:
    if (a.state, a.operator) != (b.state, b.operator):
        return False
    if a.normalized and b.normalized:
        return a.normalized.value == b.normalized.value
    return a.value == b.value and (_same_unit(a.unit, b.unit) or a.unit is None or b.unit is None)


def _same_unit(one: str | None, other: str | None) -> bool:
    """Whether two spellings are of one unit, whatever they say of the basis: "mg/L (as N)"."""
    if one == other:
        return True
    found, same = unit(one or ""), unit(other or "")
    return found is not None and same is not None and found.name == same.name


def _joined(first: Result, second: Result) -> Result:
    surer = first if len(first.review) <= len(second.review) else second
    filled = surer if surer.unit else first
    return replace(
        filled,
        method=first.method or second.method,
        reporting_limit=first.reporting_limit
        if first.reporting_limit is not None
        else second.reporting_limit,
        detection_limit=first.detection_limit
        if first.detection_limit is not None
        else second.detection_limit,
        printed_limit=first.printed_limit or second.printed_limit,
        where=(*first.where, *second.where),
    )


def _differing(one: Result, kept: list[Result], *, named: bool) -> Result:
    other = next(k for k in kept if k is not one)
    return one if _told_apart(one, other, named=named) else _doubted(one, other)


def _doubted(one: Result, other: Result) -> Result:
    reason = say("read.twice_different", text=one.text, other=other.text)
    return replace(one, confidence=round(one.confidence * 0.3, 4), review=(*one.review, reason))


def _told_apart(one: Result, other: Result, *, named: bool) -> bool:
    """Whether the sheet itself says that these are two measurements.

    Two methods say so only for a named sample; else the rows may be two samples.
    """
    two_methods = one.method != other.method and None not in {one.method, other.method}
    return one.label != other.label or (named and two_methods)

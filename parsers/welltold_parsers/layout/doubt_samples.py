"""Doubts that only the whole file shows: whether results stand under the right sample.

A sample without a name beside others, one test twice with two values, a number of a sample that
the sheet names and no result has: each says that the bottles were not told apart as on the sheet.
One question holds for all results of the sample that it touches.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from welltold.reading import Result, Sample, Where

from .doubt import lowered

_CLASHES = 2
_CLASHING = 0.2
"""A sample is mixed when so many of its tests, and so large a share, have two values."""
_REPEATS = 3
_REPEATED = 0.5
"""The same for tests printed again, one of them with another value or all in one column."""
_SPREAD = 0.3
"""When mixed samples hold so large a share of the results, the rest was parted no better."""
_FRAGMENT = 2
_WHOLE = 8
"""A sample of so few results beside others of so many is a piece that strayed."""


def doubt_samples(samples: Sequence[Sample], astray: Sequence[str]) -> tuple[Sample, ...]:
    """Return the samples with their doubts; ``astray`` are numbers of samples without results."""
    mixed = {i for i, sample in enumerate(samples) if _mixed(sample)}
    touched = sum(len(samples[i].results) for i in mixed)
    if mixed and touched >= _SPREAD * sum(len(s.results) for s in samples):
        mixed = set(range(len(samples)))
    return tuple(
        _doubted(sample, list(_reasons(sample, samples, astray, mixed=i in mixed)))
        for i, sample in enumerate(samples)
    )


def _reasons(
    sample: Sample, samples: Sequence[Sample], astray: Sequence[str], *, mixed: bool
) -> Iterator[tuple[str, dict[str, str]]]:
    if mixed:
        yield "sample_mixed", {}
    if len(samples) > 1 and not (sample.id or sample.point):
        yield "sample_nameless", {}
    if (number := _astray(samples, astray)) is not None:
        yield "sample_astray", {"text": number}
    if len(sample.results) <= _FRAGMENT and _beside_whole_ones(sample, samples):
        yield "sample_fragment", {}


def _astray(samples: Sequence[Sample], astray: Sequence[str]) -> str | None:
    """Return a number without results; beside one sample only where it looks like that one's."""
    if len(samples) > 1:
        return astray[0] if astray else None
    shapes = {_shape(s.id) for s in samples if s.id}
    return next((n for n in astray if _shape(n) in shapes), None)


def _shape(number: str) -> str:
    return re.sub(r"\d", "0", number)


def _mixed(sample: Sample) -> bool:
    """Whether many tests of one sample have two values that differ."""
    if not any(_prints(r) > 1 or _differs(r) for r in sample.results):
        return False  # each test stands once
    tests = Counter(_test(r) for r in sample.results)
    twice = {_test(r) for r in sample.results if _differs(r)}
    if len(twice) >= max(_CLASHES, _CLASHING * len(tests)):
        return True
    least = max(_REPEATS, _REPEATED * len(tests))
    again = {_test(r) for r in sample.results if _prints(r) > 1}
    column = {_test(r) for r in sample.results if _in_one_column(r)}
    return (bool(twice) and len(again | twice) >= least) or len(column) >= least


def _prints(result: Result) -> int:
    return sum(place.of == "value" for place in result.where)


def _in_one_column(result: Result) -> bool:
    """Whether one column has the same result several times: two bottles with one answer."""
    told = [_column(place) for place in result.where if place.of == "value"]
    return len(told) > len(set(told))


def _column(place: Where) -> tuple[object, ...]:
    if place.box is not None:
        return place.page, round(place.box[2])
    return place.sheet, (place.cell or "").rstrip("0123456789")


def _test(result: Result) -> tuple[str, str | None]:
    return result.analyte or result.label, result.fraction


def _differs(result: Result) -> bool:
    return any(reason.code == "read.twice_different" for reason in result.review)


def _beside_whole_ones(sample: Sample, samples: Sequence[Sample]) -> bool:
    others = [s for s in samples if s is not sample]
    return bool(others) and all(len(s.results) >= _WHOLE for s in others) and len(others) <= 2


def _doubted(sample: Sample, reasons: list[tuple[str, dict[str, str]]]) -> Sample:
    if not reasons:
        return sample
    results = sample.results
    for name, fields in reasons:
        results = tuple(lowered(r, name, **fields) for r in results)
    return replace(sample, results=results)

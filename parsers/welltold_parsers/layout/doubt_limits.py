"""Doubts about a sample that may be a row or a column of limits.

Limits give themselves away without any head: they are known levels, or round numbers, none of them
censored, that are the lowest of the file for nearly every test. Where one such "sample" was made,
the samples beside it may have been parted wrongly too, and "not found" may have lost its limit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from welltold.levels import printed_limits
from welltold.reading import Result, Sample

from .doubt import lowered

_LEAST = 3
_FEW_LEVELS = 2
_KNOWN = 0.7
"""Numbers that are known levels by chance are fewer than this share."""
_LOWEST = 0.9
_ROUND = re.compile(r"[1-9]5?|[123]75|[1-9]25")
"""The digits of a limit, the noughts at both ends apart."""
_FEW = 3
"""Beside so few samples, one that is none throws doubt on all."""

Lows = Mapping[str, Decimal]
"""The lowest number of each test that has several in the file."""


def doubt_limits(samples: Sequence[Sample]) -> tuple[Sample, ...]:
    """Return the samples; one that looks like limits is doubted, and what it touches."""
    lows = _lows(samples)
    odd = {i for i, sample in enumerate(samples) if _limits(sample, lows, len(samples))}
    if not odd:
        return tuple(samples)
    return tuple(_doubted(s, odd=i in odd, few=len(samples) <= _FEW) for i, s in enumerate(samples))


def _doubted(sample: Sample, *, odd: bool, few: bool) -> Sample:
    if odd:
        return replace(
            sample, results=tuple(lowered(r, "sample_of_limits") for r in sample.results)
        )
    return replace(sample, results=tuple(_touched(r, few=few) for r in sample.results))


def _touched(result: Result, *, few: bool) -> Result:
    if result.state == "below" and result.value is None:
        return lowered(result, "limit_not_found")
    return lowered(result, "sample_beside_limits") if few else result


def _lows(samples: Sequence[Sample]) -> Lows:
    """Return the lowest number of each test over all samples, in its own unit."""
    found: dict[str, list[Decimal]] = {}
    for sample in samples:
        for result in sample.results:
            if result.analyte is not None and result.normalized is not None:
                found.setdefault(result.analyte, []).append(result.normalized.value)
    return {slug: min(numbers) for slug, numbers in found.items() if len(numbers) > 1}


def _limits(sample: Sample, lows: Lows, count: int) -> bool:
    plain = [r for r in sample.results if r.state == "value" and r.normalized is not None]
    if any(r.state in {"below", "above"} for r in sample.results):
        return False
    return _levels(plain) or (count > 1 and _lowest(plain, lows))


def _levels(plain: Sequence[Result]) -> bool:
    """Whether the numbers are the known levels of their tests."""
    told = agree = 0
    for result in plain:
        known = printed_limits(result.analyte or "") if result.analyte else frozenset()
        if known and result.normalized is not None and result.value:
            told += 1  # a nought is the level of germs and what every clean well has
            agree += result.normalized.value in known
    all_ = agree == told == sum(1 for r in plain if r.value) >= _FEW_LEVELS
    return all_ or (agree >= _LEAST and agree >= _KNOWN * told)


def _lowest(plain: Sequence[Result], lows: Lows) -> bool:
    """Whether the numbers are round, and the lowest of the file for nearly every test."""
    compared = lowest = round_ = 0
    for result in plain:
        low = lows.get(result.analyte or "")
        if low is None or result.normalized is None:
            continue
        compared += 1
        lowest += result.normalized.value <= low
        round_ += _round(result.value)
    return compared >= _LEAST and min(lowest, round_) >= _LOWEST * compared


def _round(value: Decimal | None) -> bool:
    digits = "".join(map(str, (value or Decimal(0)).as_tuple().digits)).strip("0")
    return _ROUND.fullmatch(digits) is not None

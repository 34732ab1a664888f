"""Doubt about a whole sheet of which much reads badly: what looks plain there may be wrong too.

A person has to look at such a sheet anyway, and a table that was half understood is where a number
most easily gets the wrong name or the wrong sample.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from welltold.reading import Result, Sample

from .doubt import lowered
from .elements import is_rare

_SHARE = 0.2
"""So large a share of unclear results tells something of the rest."""
_LEAST = 3
_TESTS = 3
_UNCLEAR = frozenset(
    f"read.{name}"
    for name in (
        "answers_open",
        "column_calculated",
        "column_rival",
        "column_unknown",
        "column_unsure",
        "label_cut",
        "label_holds",
        "label_unknown",
        "limit_suggests_other_unit",
        "sample_fragment",
        "sample_mixed",
        "sample_nameless",
        "sample_unsure",
        "several_numbers",
        "twice_different",
        "unit_odd",
        "unit_two_ways",
        "unit_unknown",
        "value_far",
    )
)
"""Doubts about how the sheet is laid out, not about what the lab says of its own result."""
_OF_UNITS = frozenset({"read.unit_odd", "read.unit_unknown", "read.value_far"})
_OF_NAMES = frozenset({"read.label_unknown", "read.column_unknown"})
"""Of a seldom element they say that we do not know it, not that the sheet is unclear."""


def doubt_sheet(samples: Sequence[Sample]) -> tuple[Sample, ...]:
    """Return the samples; where much of the sheet is unclear, every result of it is doubted."""
    every = [result for sample in samples for result in sample.results]
    unclear = [result for result in every if _is_unclear(result)]
    if len(unclear) < max(_LEAST, _SHARE * len(every)) or _of_one_test(unclear, every):
        return tuple(samples)
    return tuple(replace(s, results=tuple(map(_doubted, s.results))) for s in samples)


def _of_one_test(unclear: Sequence[Result], every: Sequence[Result]) -> bool:
    """Whether only the unit of one test is in doubt, among several: the others are no worse."""
    codes = {reason.code for result in unclear for reason in result.review} & _UNCLEAR
    one = len({result.label for result in unclear}) == 1
    return codes <= _OF_UNITS and one and len({result.label for result in every}) >= _TESTS


def _is_unclear(result: Result) -> bool:
    codes = {reason.code for reason in result.review} & _UNCLEAR
    return bool(codes - _OF_NAMES if is_rare(result.label) else codes)


def _doubted(result: Result) -> Result:
    return result if _is_unclear(result) else lowered(result, "sheet_unclear")

"""Columns of flags or units that stand before their results: "Flag, Lead, Flag, Iron"."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def stand_before(flags: Sequence[int], results: Sequence[int]) -> bool:
    """Whether columns of flags stand each right before a result, the last result before none."""
    return (
        len(flags) > 1
        and len(results) > 1
        and min(flags) < min(results)
        and max(flags) < max(results)
        and all(at + 1 in results for at in flags)
    )


def owner_of(flag: int, results: Iterable[int], *, before: bool) -> int | None:
    """Return the result that a column of flags belongs to, by its place; None: there is none."""
    if before:
        return min((i for i in results if i > flag), default=None)
    return max((i for i in results if i < flag), default=None)

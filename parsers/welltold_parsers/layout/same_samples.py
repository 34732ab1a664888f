"""Which samples of a sheet are one: named in full here and shortly there."""

from __future__ import annotations

import re
from collections.abc import Mapping

from .drafts import IDENTITY, NUMBERS, Draft

_DAY = 10
"""Letters of a day in ISO 8601; a longer text has the hour as well."""
_MOST = 20
"""More samples of one place on one day are no summary beside its details."""


def one_moment(a: Mapping[str, str], b: Mapping[str, str]) -> bool:
    """Whether two samples may be of one moment; one may tell the day alone."""
    one, other = a.get("collected"), b.get("collected")
    if one is None or other is None or one == other:
        return True
    return _DAY in {len(one), len(other)} and one[:_DAY] == other[:_DAY]


def rejoined(drafts: list[Draft], nameless: list[Draft]) -> list[Draft]:
    """Return the samples; one that got its name from the whole sheet joins the one of that name."""
    waiting, gone = set(nameless), set[Draft]()
    kept = [draft for draft in drafts if draft not in waiting]
    for draft in nameless:
        same = [other for other in kept if _one(other.facts, draft.facts)]
        if len(same) == 1:
            same[0].results[:0] = draft.results
            gone.add(draft)
        else:
            kept.append(draft)
    return [draft for draft in drafts if draft not in gone]


def _one(a: Mapping[str, str], b: Mapping[str, str]) -> bool:
    """Whether two samples have the same number and nothing that parts them."""
    numbered = any(r in a and a[r] == b.get(r) for r in NUMBERS)
    told = (*IDENTITY, "collected", "taken", "depth", "duplicate")
    return numbered and all(a.get(r, b.get(r)) == b.get(r, a.get(r)) for r in told)


def shortened(drafts: list[Draft]) -> list[Draft]:
    """Return the samples; one listed by the end of its number joins the one with the whole.

    A summary prints "01 | Kitchen" for what its own page calls "26-417-01 | Kitchen".
    """
    groups: dict[tuple[str, str, str], list[Draft]] = {}
    for draft in drafts:
        for role in ("point", "client_id"):
            if role in draft.facts:
                day = draft.facts.get("collected", "")[:_DAY]
                groups.setdefault((role, draft.facts[role], day), []).append(draft)
    gone: set[Draft] = set()
    for group in (g for g in groups.values() if 1 < len(g) <= _MOST):
        for draft in (d for d in group if d not in gone):
            whole = [d for d in group if d is not draft and _ends_whole(draft.facts, d.facts)]
            if len(whole) == 1 and whole[0] not in gone:
                whole[0].results[:0] = draft.results
                gone.add(draft)
    return [draft for draft in drafts if draft not in gone]


def _ends_whole(short: Mapping[str, str], whole: Mapping[str, str]) -> bool:
    """Whether a sample's number is the end of another's, and place and day are the same."""
    told = ("point", "client_id", "taken", "depth", "duplicate")
    if any(short.get(r, whole.get(r)) != whole.get(r, short.get(r)) for r in told):
        return False
    if not one_moment(short, whole):
        return False
    if not any(r in short and short[r] == whole.get(r) for r in ("point", "client_id")):
        return False
    numbers = [(short[r], whole[r]) for r in ("lab_id", "sample_id") if r in short and r in whole]
    return bool(numbers) and all(
        b == a or re.search(rf"[-./]0*{re.escape(a.lstrip('0'))}$", b) for a, b in numbers
    )

"""Which result column each other column belongs to, and which serve all of them."""

from __future__ import annotations

from collections.abc import Sequence

from .flags_before import owner_of, stand_before
from .roles import ResultColumn


def share(roles: Sequence[str], results: Sequence[ResultColumn]) -> dict[str, int]:
    """Give each repeated role to the result column before it; return the roles that occur once."""
    places: dict[str, list[int]] = {}
    for index, role in enumerate(roles):
        if role not in {"", "result", "unknown", "label_more", "analyte"}:
            places.setdefault(role, []).append(index)
    shared: dict[str, int] = {}
    if len(results) > 1:
        _own_signs(places.pop("sign", []), results)
    for role, found in places.items():
        if len(found) == 1 or len(results) <= 1:
            shared[role] = _nearest(found, results)
            more_flags(role, [i for i in found if i != shared[role]], shared)
            continue
        before = stand_before(found, [r.index for r in results])
        for index in found:
            at = owner_of(index, [r.index for r in results], before=before)
            owner = next((r for r in results if r.index == at), results[0])
            if owner.own.setdefault(role, index) != index:
                more_flags(role, [index], owner.own)
    return shared


def more_flags(role: str, found: Sequence[int], places: dict[str, int]) -> None:
    """Keep every column of flags: what a validator rejects, the laboratory's own flag may pass."""
    if role == "qualifier":
        for index in found:
            count = sum(name.startswith(role) for name in places)
            places[f"{role}_{count + 1}"] = index


def _own_signs(found: Sequence[int], results: Sequence[ResultColumn]) -> None:
    """Give each column of signs to the result right behind it, else to the one before it."""
    for index in found:
        behind = next((r for r in results if r.index == index + 1), None)
        before = [r for r in results if r.index < index]
        owner = behind or (before[-1] if before else results[0])
        owner.own.setdefault("sign", index)


def _nearest(found: Sequence[int], results: Sequence[ResultColumn]) -> int:
    if len(found) == 1 or not results:
        return found[0]
    return min(found, key=lambda i: abs(i - results[0].index))

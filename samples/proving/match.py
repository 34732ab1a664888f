"""Pairs what is true with what was read: first the samples, then the results, one to one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from . import alike

Told = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Pair:
    """One true result and the one that was read for it."""

    true: Told
    read: Told
    faults: tuple[str, ...]
    """What of it is wrong: analyte, operator, value, unit, basis or sample."""


@dataclass(frozen=True, slots=True)
class Matched:
    """All pairs of a document, and what has no partner."""

    pairs: tuple[Pair, ...]
    lost: tuple[Told, ...]
    extra: tuple[Told, ...]


def presence(result: Told) -> bool | None:
    """Return what a presence test says, in the words of either side."""
    told = result.get("presence", result.get("present"))
    if isinstance(told, str):
        return {"present": True, "absent": False}[told.lower()]
    return None if told is None else bool(told)


def value_fits(true: Told, read: Told) -> bool:
    """Say whether the number is right; a limit that the sheet does not name fits any."""
    if presence(true) is not None:
        return presence(true) == presence(read)
    open_limit = true["operator"] == "<" and not true["value"]
    return open_limit or alike.number(true["value"], read.get("value"))


def _unit_fits(true: Told, read: Told) -> bool:
    if presence(true) is not None:
        return True
    known = [true.get("unit"), *true.get("unit_alt", ())]
    return alike.unit(read.get("unit")) in {alike.unit(one) for one in known}


def analyte_fits(true: Told, read: Told) -> bool:
    """Say whether both name the same analyte; an analyte without slug goes by its label."""
    if true.get("analyte") is None:
        return alike.name(true["label"]) == alike.name(read.get("label"))
    return alike.analyte(true["analyte"]) == alike.analyte(read.get("analyte"))


def faults(true: Told, read: Told, *, sample_fits: bool) -> tuple[str, ...]:
    """Return what of a reading is wrong."""
    same_sign = presence(true) is not None or true["operator"] == read.get("operator", "=")
    true_basis = alike.basis(true.get("basis"))
    checks = {
        "analyte": analyte_fits(true, read),
        "operator": same_sign,
        "value": value_fits(true, read),
        "unit": _unit_fits(true, read),
        "basis": not true_basis or true_basis == alike.basis(read.get("basis")),
        "sample": sample_fits,
    }
    return tuple(fault for fault, holds in checks.items() if not holds)


def says_something(read: Told) -> bool:
    """Say whether a read result gives a value at all (a blank one claims nothing)."""
    return read.get("state") not in {"blank", "unreadable"} or read.get("value") is not None


def _names(sample: Told) -> set[str]:
    told = [sample.get("id"), sample.get("point"), *(sample.get("id_alt") or ())]
    return {alike.name(one) for one in told if one}


def _parts(sample: Told) -> set[str]:
    """Return the names of a sample and what stands between commas: "Ahausen, Mill, wet"."""
    parts = [p for p in str(sample.get("point") or "").split(", ") if any(map(str.isalpha, p))]
    return _names(sample) | {alike.name(part) for part in parts}


def _day(sample: Told) -> str:
    return str(sample.get("collected") or "")[:10]


@dataclass(frozen=True, slots=True)
class _Marks:
    """What a sample is known by."""

    names: frozenset[str]
    day: str
    contents: frozenset[tuple[str, str]]


def _marks(sample: Told) -> _Marks:
    contents = set()
    for result in sample["results"]:
        what = alike.analyte(result.get("analyte")) or alike.name(result.get("label"))
        told = presence(result)
        value = result.get("value") if told is None else told
        contents.add((what, f"{value:.9g}" if isinstance(value, float | int) else ""))
    return _Marks(frozenset(_parts(sample)), _day(sample), frozenset(contents))


def _kinship(true: _Marks, read: _Marks) -> tuple[int, int, int]:
    """Return how much two samples have in common: names, day, results."""
    day = bool(true.day) and true.day == read.day
    return len(true.names & read.names), int(day), len(true.contents & read.contents)


def _greedy(
    true: list[Any], read: list[Any], kinship: Callable[[Any, Any], Any], least: Any
) -> list[tuple[int, int]]:
    """Return pairs of places, the closest first; equals in their order."""
    ranked = []
    for i, one in enumerate(true):
        for j, other in enumerate(read):
            score = kinship(one, other)
            if score > least:
                ranked.append((score, -abs(i - j), -i, -j))
    pairs: dict[int, int] = {}
    taken: set[int] = set()
    for *_, i, j in sorted(ranked, reverse=True):
        if -i not in pairs and -j not in taken:
            pairs[-i] = -j
            taken.add(-j)
    return list(pairs.items())


def pair_samples(true: list[Told], read: list[Told]) -> list[tuple[int, int, bool]]:
    """Return (true, read, whether it is told right) for the samples that belong together."""
    if len(true) == len(read) == 1:
        return [(0, 0, True)]
    marks, others = [_marks(one) for one in true], [_marks(one) for one in read]
    return [
        (i, j, _told_right(marks[i], others[j], marks))
        for i, j in _greedy(marks, others, _kinship, (0, 0, 0))
    ]


def _told_right(true: _Marks, read: _Marks, all_true: list[_Marks]) -> bool:
    """Say whether a sample's names tell it from the others; if not, whether its day does.

    Where the truth tells two by neither, their results must.
    """
    shared = true.names & read.names
    if true.names and not shared:
        return False
    like = [other for other in all_true if shared <= other.names]
    if len(like) == 1 or true.day == read.day:
        return True
    twins = [other for other in like if other.day == true.day]
    return len(twins) == len(like) and 2 * len(true.contents & read.contents) > len(true.contents)


def _closeness(true: Told, read: Told) -> tuple[int, int, int, int]:
    """Return how well a reading fits a true result: analyte, number, text and label, fraction."""
    text = alike.name(true.get("text")) == alike.name(read.get("text")) != ""
    label = alike.name(true["label"]) == alike.name(read.get("label"))
    analyte = analyte_fits(true, read)
    value = value_fits(true, read) and true["operator"] == read.get("operator", "=")
    if not analyte and not (label or (text and value)):
        return (0, 0, 0, 0)
    fraction = true.get("fraction") == read.get("fraction")
    return (int(analyte) + 1, int(value), int(text) + int(label), int(fraction))


def _pairs_within(
    true: list[Told], read: list[Told], *, sample_fits: bool
) -> tuple[list[Pair], list[Told], list[Told]]:
    places = _greedy(true, read, _closeness, (0, 9, 9, 9))
    pairs = [
        Pair(true[i], read[j], faults(true[i], read[j], sample_fits=sample_fits)) for i, j in places
    ]
    used_true, used_read = {i for i, _ in places}, {j for _, j in places}
    lost = [one for i, one in enumerate(true) if i not in used_true]
    extra = [one for j, one in enumerate(read) if j not in used_read]
    return pairs, lost, extra


def _speaking(results: Iterable[Told]) -> list[Told]:
    return [one for one in results if says_something(one)]


def match(truth: Told, reading: Told) -> Matched:
    """Return the pairs of a document and what has no partner on either side."""
    true, read = truth["samples"], reading.get("samples", [])
    pairs: list[Pair] = []
    lost: list[_Left] = []
    extra: list[_Left] = []
    joined = pair_samples(true, read)
    for i, j, fits in joined:
        found, gone, more = _pairs_within(
            true[i]["results"], _speaking(read[j]["results"]), sample_fits=fits
        )
        pairs += found
        lost += [(one, _names(true[i])) for one in gone]
        extra += [(one, _names(read[j])) for one in more]
    for i, sample in enumerate(true):
        if all(i != a for a, _, _ in joined):
            lost += [(one, _names(sample)) for one in sample["results"]]
    for j, sample in enumerate(read):
        if all(j != b for _, b, _ in joined) and not truth.get("part"):
            extra += [(one, _names(sample)) for one in _speaking(sample["results"])]
    strays, lost, extra = _strays(lost, extra)
    return Matched((*pairs, *strays), tuple(o for o, _ in lost), tuple(o for o, _ in extra))


_Left = tuple[Told, set[str]]
"""A result without a partner, and the names of its sample."""


def _strays(lost: list[_Left], extra: list[_Left]) -> tuple[list[Pair], list[_Left], list[_Left]]:
    """Pair what was read into another sample: same analyte and same number.

    Two bottles of one tap may have one number: then the sample is told right all the same.
    """

    def same(true: _Left, read: _Left) -> bool:
        return analyte_fits(true[0], read[0]) and value_fits(true[0], read[0])

    pairs, left = [], list(extra)
    still = []
    for true in lost:
        alike_ones = [one for one in left if same(true, one)]
        read = max(alike_ones, key=lambda one: bool(one[1] & true[1]), default=None)
        if read is None:
            still.append(true)
        else:
            left = [one for one in left if one is not read]
            found = faults(true[0], read[0], sample_fits=bool(true[1] & read[1]))
            pairs.append(Pair(true[0], read[0], found))
    return pairs, still, left

"""Looks a second time at every value that was read from a picture.

Three looks that can fail in different ways: the crop of the value read again by itself, larger and
with other contrast; the pieces of ink counted; and how sure the first reading was of each letter.
Where they differ the result is doubted, and both readings are shown. Printed digits are never
altered here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import takewhile
from statistics import median

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold.analytes import identify
from welltold.messages import Message, say
from welltold.reading import Alternative, Reading, Result, Sample
from welltold.units import unit
from welltold.values import parse_value
from welltold_parsers.geometry import Box, Page, Word

from .beside import Doubt, Place, beside, place_of, unsure
from .column import Printed, out_of_step
from .crops import around, cut, room_round, those_of, words_in
from .glyphs import Marks, expected_points, marks_of, points_doubtful, sign_lost
from .hand import looks_written
from .limit_digits import unlike_limits
from .recognise import Read, read_lines
from .unread_ink import unread_ink

Gray = NDArray[np.uint8]
_ROOM = 0.9
"""Round a value it is looked for marks that were not read, as far as this share of its height."""
_LOW = 0.45
"""The most that is ever given to what may be written by hand."""
_UNSURE = 0.8
"""A letter of a value read with less certainty is doubted."""
_HAND = 0.55
"""Below this the print may be handwriting, or a mark that only looks like print."""
_NONE: Gray = np.zeros((0, 0), np.uint8)
_SAME = str.maketrans({"≤": "<", "≥": ">", "–": "-", "—": "-", "μ": "µ", "·": "."})
_NUMBER = re.compile(r"[<>≤≥~±+-]{0,2}[\d.,]*")
_LOOKS = re.compile(r"[\s'\"`~_|*†‡]")


@dataclass(slots=True)
class Look:
    """One value on a page, and what the looks at it found."""

    page: Page
    box: Box
    words: tuple[Word, ...]
    again: tuple[Read, ...] = ()
    marks: Marks | None = None

    @property
    def text(self) -> str:
        """The value as it was read first."""
        return " ".join(word.text for word in self.words)

    @property
    def written(self) -> bool:
        """Whether the shape of its figures is that of handwriting."""
        return self.marks is not None and looks_written(self.marks, self.number)

    @property
    def number(self) -> str:
        """The words of the value that are a number with its sign."""
        return " ".join(word.text for word in _number(self.words))


@dataclass(slots=True)
class Sheet:
    """What all values of a sheet tell of each one."""

    agreed: frozenset[Place]
    """Where an unsure name or unit was read again, and gave the same."""
    limits: bool
    """Whether results below a limit have that limit."""
    unlike: Mapping[int, Decimal]
    """The limits of results whose decimals are not those of their limit, as all others' are; by
    the identity of the result."""
    step: float | None = None
    """How far apart neighbouring digits stand, in heights of a digit."""


def _number(words: Sequence[Word]) -> list[Word]:
    return list(takewhile(lambda word: _NUMBER.fullmatch(word.text) is not None, words))


def doubted(reading: Reading, pages: Sequence[Page]) -> Reading:
    """Return a reading with doubts at all values from pictures that cannot be trusted."""
    scanned = {page.number: page for page in pages if page.scan is not None}
    if not scanned:
        return reading
    looks = _looks(reading.results, scanned)
    _look_again(list(looks.values()))
    sheet = Sheet(
        _agreed(reading.results, scanned),
        limits=any(r.state == "below" and r.value is not None for r in reading.results),
        unlike={id(one.result): one.limit for one in unlike_limits(reading.results)},
    )
    sheet.step = _usual_step(looks.values())
    shown = [(key, look) for key, look in looks.items() if look.number]
    numbers = [Printed(look.page.number, look.box, look.number) for _, look in shown]
    lone = {shown[at][0] for at in out_of_step(numbers)}
    samples = tuple(
        replace(
            one,
            results=tuple(
                _judged(r, looks.get(id(r)), sheet, lone=id(r) in lone) for r in one.results
            ),
        )
        for one in reading.samples
    )
    unread = (*reading.unread, *unread_ink(reading, pages))
    samples = _names_doubted(_limits_doubted(samples, looks))
    return replace(reading, samples=samples, unread=unread)


def _limits_doubted(samples: Sequence[Sample], looks: Mapping[int, Look]) -> tuple[Sample, ...]:
    """Doubt values that are the limit of their own test: a sign or flag may have been lost."""
    reason = say("scan.at_limit")
    seen = {(look.page.number, look.box) for look in looks.values()}
    return tuple(
        replace(
            one,
            results=tuple(
                _with(r, reason) if _at_limit(r) and not seen.isdisjoint(_places(r)) else r
                for r in one.results
            ),
        )
        for one in samples
    )


def _at_limit(result: Result) -> bool:
    limits = {result.reporting_limit, result.detection_limit} - {None}
    return result.state == "value" and result.operator == "=" and result.value in limits


def _places(result: Result) -> set[tuple[int, Box]]:
    return {(at.page, at.box) for at in result.where if at.page is not None and at.box is not None}


def _names_doubted(samples: Sequence[Sample]) -> tuple[Sample, ...]:
    """Doubt samples whose number has words behind it, where others have a bare number.

    On a picture the words of the next column can come so near that they look like one name.
    """
    bare = [one for one in samples if one.id and " " not in one.id]
    if not bare or len(bare) == len(samples):
        return tuple(samples)
    reason = say("read.sample_unsure")
    return tuple(
        replace(one, results=tuple(_with(r, reason) for r in one.results))
        if one.id and " " in one.id
        else one
        for one in samples
    )


def _with(result: Result, reason: Message) -> Result:
    share = round(result.confidence * 0.8, 4)
    return replace(result, confidence=share, review=(*result.review, reason))


def _looks(results: Iterable[Result], pages: dict[int, Page]) -> dict[int, Look]:
    """Return what is to be looked at, by the identity of the result."""
    looks = {}
    for result in results:
        place = next((w for w in result.where if w.of == "value" and w.box), None)
        page = pages.get(place.page or 0) if place else None
        if place is None or page is None or place.box is None:
            continue
        words = tuple(words_in(page, place.box))
        if words:
            own = tuple(those_of(words, result.text))
            box = place.box if len(own) == len(words) else around(own)
            looks[id(result)] = Look(page, box, own)
    return looks


def _agreed(results: Iterable[Result], pages: dict[int, Page]) -> frozenset[Place]:
    """Read names and units that are unsure once more; return the places where all agree."""
    texts: dict[Place, str] = {}
    for result in results:
        for number in {one.page for one in result.where if one.page in pages}:
            page = pages[number or 0]
            for _, words in unsure(result, page):
                texts[place_of(page, words)] = " ".join(word.text for word in words)
    crops: list[Gray] = []
    for number, box in texts:
        page = pages[number]
        crops += _variants(cut(page.scan, room_round(page, box, 0.12)) if page.scan else _NONE)
    reads = read_lines(crops)
    return frozenset(
        place
        for at, (place, text) in enumerate(texts.items())
        if all(_says_the_same(read.text, text) for read in reads[2 * at : 2 * at + 2])
    )


def _says_the_same(one: str, other: str) -> bool:
    """Whether two readings of a name or unit give the same letters, or name the same thing."""
    if _plain(one) == _plain(other):
        return True
    if unit(one) is not None or unit(other) is not None:
        return unit(one) == unit(other)
    names = identify(one), identify(other)
    return all(name is not None and name.how == "exact" for name in names) and names[0] == names[1]


def _look_again(looks: Sequence[Look]) -> None:
    """Read each value again, in two other pictures of it, and count its ink."""
    crops: list[Gray] = []
    for look in looks:
        wide = room_round(look.page, look.box, 0.12)
        crops += _variants(_cut(look, wide))
    reads = read_lines(crops)
    for at, look in enumerate(looks):
        look.again = tuple(reads[2 * at : 2 * at + 2])
        number = _number(look.words)
        if number:
            box = (number[0].left, look.box[1], number[-1].right, look.box[3])
            look.marks = marks_of(_cut(look, room_round(look.page, box, _ROOM)))


def _cut(look: Look, box: Box) -> Gray:
    return cut(look.page.scan, box) if look.page.scan else _NONE


def _variants(crop: Gray) -> list[Gray]:
    """Return two other pictures of a value: larger and stretched; and nearly black and white."""
    paper = int(np.percentile(crop, 85)) if crop.size else 255
    edge = max(crop.shape[0] // 5, 2) if crop.size else 2
    framed = cv2.copyMakeBorder(
        crop if crop.size else np.full((8, 8), 255, np.uint8),
        *(edge, edge, 2 * edge, 2 * edge),
        borderType=cv2.BORDER_CONSTANT,
        value=float(paper),
    )
    large = cv2.resize(framed, None, fx=2.3, fy=2.0, interpolation=cv2.INTER_CUBIC)
    soft = cv2.GaussianBlur(large, (0, 0), 1.2)
    low, high = (float(x) for x in np.percentile(soft, (1, 90)))
    hard = np.clip(
        (soft.astype(np.float32) - low - 0.15 * (high - low)) * (1.6 * 255 / max(high - low, 1)),
        0,
        255,
    )
    return [np.asarray(large, np.uint8), hard.astype(np.uint8)]


def _usual_step(looks: Iterable[Look]) -> float | None:
    """Return how far apart neighbouring digits stand on these pages, in heights of a digit."""
    steps = []
    for look in looks:
        bare = look.number.replace(" ", "")
        if look.marks and len(bare) == len(look.marks.tall) and bare.isdigit():
            steps += look.marks.steps()
        elif look.marks and look.marks.points_after() == expected_points(look.number):
            points = set(look.marks.points_after())
            steps += [s for at, s in enumerate(look.marks.steps(), 1) if at not in points]
    return median(steps) if len(steps) > 5 else None


def _judged(result: Result, look: Look | None, sheet: Sheet, *, lone: bool) -> Result:
    if look is None or result.state == "blank":
        return result
    others = _others(look)
    doubts = [
        *_doubts(look, others, sheet.step),
        *beside(result, look.page, sheet.agreed, limits=sheet.limits),
    ]
    if lone:
        doubts.append(Doubt(0.9, say("scan.out_of_step")))
    if (limit := sheet.unlike.get(id(result))) is not None:
        doubts.append(Doubt(0.9, say("scan.unlike_limit", text=look.text, limit=limit)))
    if not doubts:
        return result
    sure = min(word.confidence for word in look.words)
    share = min(*(one.share for one in doubts), 1.0)
    written = sure < _HAND or look.written
    confidence = round(min(result.confidence * share, _LOW if written else 1.0), 4)
    reasons = {one.text: one for one in (*result.review, *(one.reason for one in doubts))}
    return replace(
        result,
        confidence=confidence,
        review=tuple(reasons.values()),
        alternatives=(*result.alternatives, *others),
    )


def _doubts(look: Look, others: Sequence[Alternative], usual: float | None) -> Iterator[Doubt]:
    """Yield what speaks against the value."""
    if others:
        yield Doubt(0.7, say("scan.two_readings", text=look.text, other=others[0].text))
    if look.marks and look.number and points_doubtful(look.marks, look.number, usual):
        yield Doubt(0.85, say("scan.point_unsure"))
    sure = min(word.confidence for word in look.words)
    if look.marks and look.number and sign_lost(look.marks, look.number):
        yield Doubt(0.8, say("scan.sign_lost"))
    if look.written:
        yield Doubt(_LOW, say("scan.by_hand"))
    elif sure < _UNSURE:
        yield Doubt(sure, say("scan.unsure" if sure >= _HAND else "scan.by_hand"))
    elif look.page.scan and look.page.scan.coarse:
        yield Doubt(0.93, say("scan.coarse"))
    elif look.page.scan and look.page.scan.soft:
        yield Doubt(0.93, say("scan.soft"))


def _plain(text: str) -> str:
    return _LOOKS.sub("", text.translate(_SAME)).rstrip(".,:;").casefold()


def _others(look: Look) -> tuple[Alternative, ...]:
    """Return the readings that differ from the first."""
    first = _plain(look.text)
    found: dict[str, Alternative] = {}
    for read in look.again:
        text = read.text.strip()
        plain = _plain(text)
        if plain != first and plain not in found:
            parsed = parse_value(text)
            value = parsed.value if parsed else None
            found[plain] = Alternative(text, value, say("scan.read_again").text)
    return tuple(found.values())

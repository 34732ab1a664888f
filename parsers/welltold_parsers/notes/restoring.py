"""Gives a reading back the printed words, and adds what the note says of its numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from welltold.analytes import analyte
from welltold.messages import Message, say
from welltold.reading import Normalized, Reading, Result, Unread, Where
from welltold.units import normalize, unit

from ..layout.basis import by_convention
from ..layout.doubt import share_of, weights
from ..layout.result_doubts import FAR
from ..layout.unit_choice import fits
from .changes import KINDS, Change, Changes
from .note import Note, flag_meanings

_TOLD = 12
"""So many words are named in the warning."""
_NO_UNIT = frozenset({"read.unit_missing", "read.unit_from_limit"})
"""Doubts that a note's usual unit settles."""


def restored(reading: Reading, note: Note, changes: Changes) -> Reading:
    """Return the reading with the printed texts, the note's conventions and its warnings."""
    samples = tuple(
        replace(s, results=tuple(_result(r, note, changes) for r in s.results))
        for s in reading.samples
    )
    return replace(
        reading,
        samples=samples,
        unread=tuple(_unread(line, changes) for line in reading.unread),
        warnings=(*_warnings(note, changes), *reading.warnings),
    )


def _result(result: Result, note: Note, changes: Changes) -> Result:
    value = next((w for w in result.where if w.of == "value"), None)
    label = next((w for w in result.where if w.of == "label"), None)
    result = replace(
        result,
        label=_named(result.label, label, value, changes),
        text=_printed(result.text, value, changes),
        qualifiers=_qualifiers(result, value, note, changes),
        where=tuple(_headed(place, changes) for place in result.where),
    )
    return _on_basis(_in_unit(result, note), note)


def _headed(place: Where, changes: Changes) -> Where:
    """Return the place of a heading with its printed words; any other as it is."""
    return replace(place, text=_printed(place.text, place, changes)) if place.text else place


def _printed(text: str, place: Where | None, changes: Changes) -> str:
    """Return a text with the printed words in the place of the plain ones.

    A text may be made of several cells of its row, of which the place names the first.
    """
    if place is None:
        return text
    for kind in KINDS:
        own = [*changes.at(place, kind)]
        for change in own or (changes.beside(place, kind) if kind != "flag" else ()):
            text = _back(text, change)
    return text


def _named(text: str, label: Where | None, value: Where | None, changes: Changes) -> str:
    """Return a label as printed; one at the head of a column may be made of several cells of it."""
    text = _printed(text, label, changes)
    if label is not None and value is not None:
        for printed, now in changes.between(label, value):
            text = _put_back(text, now, printed)
    return text


def _back(text: str, change: Change) -> str:
    return _put_back(text, change.plain, change.printed)


def _put_back(text: str, plain: str, printed: str) -> str:
    """Put the printed word in the place of the first plain one that is no part of a longer word."""
    if not plain:
        return text
    whole = rf"(?<!\w){re.escape(plain)}(?!\w)"
    return re.sub(whole, lambda _: printed, text, count=1)


def _qualifiers(
    result: Result, place: Where | None, note: Note, changes: Changes
) -> tuple[str, ...]:
    """Return the flags, each printed one before the known one that the note puts for it."""
    if place is None or not note.flags:
        return result.qualifiers
    letters = {flag: flag_meanings().get(m, ("", ""))[0] for flag, m in note.flags.items()}
    known = {*result.qualifiers, ""}
    told: list[str] = []
    for change in changes.beside(place, "flag"):
        told += [f for f in letters if f in change.printed and letters[f] in known]
    return tuple(dict.fromkeys((*told, *result.qualifiers)))


def _in_unit(result: Result, note: Note) -> Result:
    """Return a result for which the sheet has no unit in the note's usual one, if that fits."""
    spelled, slug = note.default_unit, result.analyte
    left = tuple(m for m in result.review if m.code not in _NO_UNIT)
    if spelled is None or slug is None or result.value is None or not fits(slug, spelled):
        return result
    if len(left) == len(result.review):
        return result
    known = analyte(slug)
    basis = result.basis or by_convention(known, unit(spelled))
    found = _normalized(replace(result, unit=spelled, basis=basis))
    high, shape = known.natural_high, found.normalized
    if high and shape is not None and result.state == "value" and shape.value > high * FAR:
        left = (*left, say("read.value_far"))
    return replace(found, review=left, confidence=_confidence(left))


def _confidence(review: Iterable[Message]) -> float:
    known = weights()
    return share_of(sum(known.get(m.code.removeprefix("read."), 0.0) for m in review))


def _on_basis(result: Result, note: Note) -> Result:
    basis = note.basis.get(result.analyte or "")
    if basis is None or result.basis is not None:
        return result
    return _normalized(replace(result, basis=basis))


def _normalized(result: Result) -> Result:
    if result.analyte is None or result.value is None or result.unit is None:
        return result
    found = normalize(result.analyte, result.value, result.unit, result.basis)
    if found is None and analyte(result.analyte).basis is None:
        found = normalize(result.analyte, result.value, result.unit, None)
    shape = Normalized(found.value, found.unit, found.basis) if found else None
    return replace(result, normalized=shape)


def _unread(line: Unread, changes: Changes) -> Unread:
    text = line.text
    for kind in KINDS:
        for change in changes.beside(line.where, kind):
            text = _back(text, change)
    return replace(line, text=text)


def _warnings(note: Note, changes: Changes) -> Iterator[Message]:
    yield say("note.read_with", lab=note.lab, file=Path(note.path).name)
    words = list(changes.words.items())
    if words:
        shown = [f"{printed} = {plain}" for printed, plain in words[:_TOLD] if plain]
        more = ["..."] if len(words) > _TOLD else []
        yield say("note.words", count=len(words), words=", ".join([*shown, *more]))
    if changes.left_out:
        yield say("note.left_out", count=changes.left_out)

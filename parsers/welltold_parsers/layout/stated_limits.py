"""What the words of a sheet say of the number below which a test is "ND", by test.

"ND = lead less than 1.0 ppb"; "All results are lead, ug/L. Reporting limit 1.0 ug/L."
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from .cells import Cell, Line, join
from .headings import cell_of
from .tokens import analyte_in, analytes_within, label_of, value_of

_WORD = re.compile("ND|N.D|n.d|BDL|bdl|BRL|[Ll]imit|LIMIT")
_ND = re.compile(
    r"(?<![\w.])(?:N\.?D\.?|n\.d\.|BDL|bdl|BRL)[\"”']?\s*(?:=|:|-|–|means|indicates)\s*(?P<rest>.+)$"
)
_NOT_FOUND = re.compile(r"^(?:not detected|none detected)[^\d<.;]{0,30}")
_DENIED = re.compile(r"(?i)\b(?:was |were )?(?:not?|none) detected\b")
_BELOW = re.compile(
    r"(?P<name>[A-Za-z][A-Za-z .&]{0,28}?)?\s*"
    r"(?:\b(?:less than|below|under|at|is|was|were)\b|<)\s*(?:the\s+)?"
    r"(?:(?:a|the|our) (?:(?:detection|reporting) )?limit of\s*)?(?P<piece>[\d.].*?)"
    r"(?=[,;]|\.(?:\s|$)|\band\b|$)"
)
_PLAIN = re.compile(r"^(?P<piece>[\d.].*)$")
_LIMIT = re.compile(
    r"(?i)\b(?:reporting|detection|quantitation) limit(?: (?:is|was|of))?\s*[:=]?\s*"
    r"(?P<piece><?\s*[\d.][^,;]{0,24}?)(?=[,;]|\.\s|\.?$)"
)


_SAID = re.compile(
    r"(?i)(?:(?:reporting|detection|quantitation) limit(?: (?:is|was|of))?\s*[:=]?"
    r"|(?:measure|detect|report|see|find|read)(?: it| them)? (?:as little as|as low as|down to))"
    r"\s*(?P<piece><?\s*\.?\d[^,;)]{0,24})"
)
_SENTENCE = re.compile(r"(?<=[\w)%])[.!?]\s+(?=[A-Z])")


class Stated(NamedTuple):
    """A limit with its unit, and the analyte that it is for; None: for all."""

    slug: str | None
    piece: str


class NdLimits:
    """The limits that "ND" stands for, gathered from the lines of a sheet."""

    __slots__ = ("_by_slug",)

    def __init__(self) -> None:
        self._by_slug: dict[str | None, Cell] = {}
        """The limit with its unit by analyte; None: for all."""

    def look(self, line: Line) -> None:
        """Keep what a line says of "ND"."""
        if not any(map(_WORD.search, [c.text for c in line.cells])):
            return
        text = line.text
        for stated in nd_limits(text):
            self._by_slug[stated.slug] = cell_of(join(line.cells), stated.piece)
        only = limit_of_the_only_test(text)
        if only is not None:
            self._by_slug.setdefault(only.slug, cell_of(join(line.cells), only.piece))

    def of(self, label: str) -> Cell | None:
        """Return the limit of the test with this name."""
        if not self._by_slug:
            return None
        match = label_of(label).match
        own = self._by_slug.get(match.slug) if match is not None else None
        return own or self._by_slug.get(None)


def nd_limits(text: str) -> Iterator[Stated]:
    """Yield the limits that a line gives to "ND"."""
    found = _ND.search(text)
    if found is None:
        return
    named = list(_named_limits(found["rest"]))
    yield from named
    rest = _NOT_FOUND.sub("", found["rest"]) if not named else ""
    pieces = [_PLAIN.match(rest)] if _PLAIN.match(rest) else list(_BELOW.finditer(rest))
    for match in pieces:
        if match is None:
            continue
        name = (match.groupdict().get("name") or "").strip(" .&")
        slug = m.slug if name and (m := analyte_in(name)) is not None else None
        piece = _with_unit(match["piece"])
        if piece is not None and (slug is not None or not name):
            yield Stated(slug, piece)


def _named_limits(text: str) -> Iterator[Stated]:
    """Yield the limits of tests named before them: "not detected (arsenic below 1 ppb)"."""
    for match in _BELOW.finditer(_DENIED.sub(" ", text)):
        known = analyte_in((match["name"] or "").strip(" .&"))
        piece = _with_unit(match["piece"])
        if known is not None and piece is not None:
            yield Stated(known.slug, piece)


def limit_of_the_only_test(text: str) -> Stated | None:
    """Return the one limit that a line states which names one analyte and no other."""
    limits = {_with_unit(m["piece"]) for m in _LIMIT.finditer(text)}
    slugs = {match.slug for _, _, match in analytes_within(text)}
    piece = limits.pop() if len(limits) == 1 else None
    return Stated(slugs.pop(), piece) if piece and len(slugs) == 1 else None


def limit_said(text: str) -> str | None:
    """Return the one limit, with its unit, that a sentence gives beside "not detected".

    "Lead was not detected (the laboratory's detection limit is 0.9 ug/L)".
    """
    end = _SENTENCE.search(text)
    sentence = text[: end.start()] if end else text
    if len({match.slug for _, _, match in analytes_within(sentence)}) != 1:
        return None
    pieces = {_with_unit(m["piece"]) for m in _SAID.finditer(sentence)}
    return pieces.pop() if len(pieces) == 1 else None


def only_explains(text: str) -> bool:
    """Whether a line begins with what "ND" means and so holds no result."""
    found = _ND.match(text)
    return found is not None and any(nd_limits(text))


def _with_unit(text: str) -> str | None:
    """Return the number with its unit at the start of a text."""
    words = text.lstrip("< ").split()
    for size in range(min(5, len(words)), 1, -1):
        piece = " ".join(words[:size]).rstrip(".,;)")
        value = value_of(piece)
        if value is not None and value.unit_text:
            return piece
    return None

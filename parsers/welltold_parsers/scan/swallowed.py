"""Gives back what a reader of print swallows: blanks between words, figures that hang low.

"ResultsLimits" is two words, since both are known and the whole is none; "SO," is SO4, and "NO," is
what the name before it says.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import replace

from welltold_parsers.geometry import Word

_NUMBERED = re.compile(r"([A-Za-z]*(?:[Nn]o\.|ID:|[Nn]o:))((?=[^a-z]*\d)[A-Za-z0-9-]{2,})")
_DASHED = re.compile(r"([\u2014\u2013])([A-Za-z].*)")
_PER = re.compile(
    r"([A-Za-z]*[Pp]er)(100.*)|([A-Za-z]{5,}grams)(per.*)|(per)([Ll]it(?:er|re))"
    r"|([A-Z]{3,})([\u2014\u2013].*)"
)
_GLUED = re.compile(r"[A-Za-z]{7,}")
_LEAST = 3
"""Letters of each of two words without a blank."""
_GERM = re.compile(r"(E\.)?co(?:l|ll|il|ii|1i|l1|fi)([:,*]*)")
"""What is left of "coli" when its thin letters run together."""
_CHLORINE = re.compile(r"(\(?)C[I1|!]2(\)?[,:*]*)")
_HUNG = re.compile(r"(\(?)(SO|PO|SiO|HCO|CaCO|NO),((?:-[A-Z])?\)?[*:]*)")
_FIGURES = {"SO": "4", "PO": "4", "SiO": "2", "HCO": "3", "CaCO": "3"}
_OF_CHLORINE = frozenset({"free", "residual", "chlorine", "total", "combined"})
_OF_NAME = {"nitrate": "3", "nitrite": "2"}


def parted(words: Iterable[Word], known: Set[str]) -> Iterator[Word]:
    """Yield words, those in two that a swallowed blank has joined."""
    for word in words:
        halves = _halves(word.text, known)
        if halves is None:
            yield word
            continue
        share = len(halves[0]) / len(word.text)
        middle = round(word.left + share * (word.right - word.left), 2)
        yield replace(word, text=halves[0], right=middle)
        yield from parted([replace(word, text=halves[1], left=middle + 1)], known)


def _halves(text: str, known: Set[str]) -> tuple[str, str] | None:
    for shape in (_NUMBERED, _DASHED, _PER):
        if (found := shape.fullmatch(text)) is not None:
            first, second = (part for part in found.groups() if part is not None)
            return first, second
    key = text.casefold()
    if _GLUED.fullmatch(text) is None or key in known:
        return None
    places = (at for at in range(_LEAST, len(key) - _LEAST + 1))
    found_at = [at for at in places if key[:at] in known and key[at:] in known]
    found_at = [at for at in found_at if text.isupper() or text[at].isupper()]
    return (text[: found_at[0]], text[found_at[0] :]) if len(found_at) == 1 else None


def germ(before: Sequence[str], text: str) -> str | None:
    """Return "coli" where an "E." stands before it and thin letters were lost; None elsewhere."""
    glued = _GERM.fullmatch(text)
    if glued is None or not (glued[1] or (before and before[-1] in {"E.", "E"})):
        return None
    return f"{glued[1] or ''}coli{glued[2]}"


def subscript(before: Sequence[str], text: str) -> str | None:
    """Return a formula with the figure that was read as a comma; None where it is none.

    "CI2" is chlorine, "C12" only behind a word for it: no element has the sign CI.
    """
    if (gas := _CHLORINE.fullmatch(text)) is not None:
        said = any(one.casefold() in _OF_CHLORINE for one in before)
        return f"{gas[1]}Cl2{gas[2]}" if said or "CI" in text else None
    found = _HUNG.fullmatch(text)
    if found is None or (found[1] and not (found[3] or "").count(")")):
        return None
    name = " ".join(before).casefold()
    figure = _FIGURES.get(found[2]) or next((f for n, f in _OF_NAME.items() if n in name), None)
    return f"{found[1]}{found[2]}{figure}{found[3] or ''}" if figure else None

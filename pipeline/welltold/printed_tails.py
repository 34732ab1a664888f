"""What stands behind a printed number: an uncertainty, a unit, flags, a word."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from .printed_numbers import leading_number
from .printed_words import flags_in, marks, word_state
from .reading import State
from .unit_spellings import fold, look_up


@dataclass(frozen=True, slots=True)
class Tail:
    """What stands behind a number."""

    qualifiers: tuple[str, ...] = ()
    uncertainty: Decimal | None = None
    unit_text: str | None = None
    word: State | None = None


_PLUS_MINUS = re.compile(r"\(? ?(?:±|\+ ?/ ?-|\+ ?-) ?")
_MARK = re.compile(r"[*†‡§^!↑↓▲▼✓✔]+|[¹²³⁴⁵⁶⁷⁸⁹⁰ᵃᵇᶜ]+|[(\[] ?[1-9a-c*] ?[)\]]")


def read_tail(rest: str, *, comma: bool, bare_integer: bool) -> Tail | None:
    """Read what stands behind a number; None when any of it is not understood."""
    if bare_integer and rest[:1] in set("⁰¹²³⁴⁵⁶⁷⁸⁹") - {"¹"}:
        return None  # "10³" may be a power or a footnote, "25²" an area
    tail: Tail | None = Tail()
    while tail is not None and (rest := rest.strip()):
        tail, rest = _step(tail, rest, comma=comma)
    return tail


def _step(tail: Tail, rest: str, *, comma: bool) -> tuple[Tail | None, str]:
    """Take one piece off the front of what stands behind a number."""
    if plus_minus := _PLUS_MINUS.match(rest):
        number = leading_number(rest[plus_minus.end() :], decimal_comma=comma)
        if number is None or number.value < 0 or tail.uncertainty is not None:
            return None, rest
        behind = number.rest.lstrip()
        closed = behind[1:] if "(" in plus_minus.group() and behind[:1] == ")" else number.rest
        return replace(tail, uncertainty=number.value), closed
    if mark := _MARK.match(rest):
        found = marks(mark.group().strip("()[] "))
        return replace(tail, qualifiers=tail.qualifiers + found), rest[mark.end() :]
    state = word_state(rest)
    if state in {"below", "absent", "present"} and tail.word is None and rest not in {"U", "u"}:
        return replace(tail, word=state), ""
    return _unit_or_flags(tail, rest)


_ENDS = re.compile(r"[ (\[*†‡§¹²³⁴⁵⁶⁷⁸⁹]")


def _unit_or_flags(tail: Tail, rest: str) -> tuple[Tail | None, str]:
    """Take the longest unit, or else flags, off the front."""
    ends = [len(rest), *(match.start() for match in reversed(list(_ENDS.finditer(rest))))]
    for end in ends:
        piece, behind = rest[:end].strip(), rest[end:]
        if piece and tail.unit_text is None and is_unit(piece):
            printed = piece.strip("()[] ") if piece[0] in "([" else piece
            return replace(tail, unit_text=printed), behind
        flags = flags_in(piece) if piece else None
        if flags is not None:
            return replace(tail, qualifiers=tail.qualifiers + flags), behind
    return None, rest


_FLAG_OR_UNIT = frozenset({"HU", "cu"})
"""Hazen units, or the flags H and U; colour units, or cubic something: not decided here."""
_BARE_BASIS = re.compile(r"/\w+[ -][A-Z]$")


def is_unit(piece: str) -> bool:
    """Whether a piece of a result cell is surely a unit; a lone letter behind one is a flag."""
    found = look_up(piece)
    folded = fold(piece)
    if found is None or folded in _FLAG_OR_UNIT or _BARE_BASIS.search(folded):
        return False
    if piece[-1] in "*†‡§¹²³⁴⁵⁶⁷⁸⁹":
        return False  # a footnote mark, which is kept by itself
    return found.after in {"", "mark"} or found.unit.name in {"SU", "CU"}

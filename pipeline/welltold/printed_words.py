"""Words that stand where a number would, and flags that stand behind one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import cast

from .reading import State
from .tables import read_table

STATES = frozenset({"below", "trace", "above", "too_many", "absent", "present", "blank"})
_PER_BOTTLE = re.compile(
    r"\s*[(/,]?\s*(?:in|per|/|en)?\s*(?:a )?100\s*(?:m[lL]|ML|milliliters)\.?\)?"
    r"(?: (?:of )?(?:sample|water))?$",
    re.IGNORECASE,
)
_MARKS = re.compile(r"(?:\s*[*†‡§¹²³⁴⁵⁶⁷⁸⁹])+$")
_BLANK = re.compile(r"[-–—_‒―\s.*…·]*")
_LOST = re.compile(r"#{2,}")


@dataclass(frozen=True, slots=True)
class _Word:
    state: State
    letters: bool
    exact: str | None


@cache
def _words() -> Mapping[str, _Word]:
    found: dict[str, _Word] = {}
    allowed = STATES | {"unreadable"}
    for row in read_table("result_words.csv"):
        word = row.text("word")
        key = _key(word)
        entry = _Word(
            cast("State", row.choice("state", allowed)),
            row.cells["use"] == "letters",
            _plain(word) if row.cells["case"] == "exact" else None,
        )
        if key in found and found[key] != entry and found[key].exact is None:
            if found[key].state != entry.state:
                raise row.wrong(f"{word!r} already says {found[key].state}")
            continue
        found[key] = entry
    return found


def _plain(text: str) -> str:
    bare = text.strip(" ()[],;:").replace(".", "")
    return bare.replace("< ", "<").replace("> ", ">")


def _key(text: str) -> str:
    return " ".join(_plain(text).casefold().split())


def word_state(text: str, *, letters: bool = False) -> State | None:
    """Return what a tidied text of words says, or None when it is no result.

    ``letters``: the column is known to hold presence/absence answers, so "A" and "P" count.
    """
    if _BLANK.fullmatch(text):
        return "blank"
    if _LOST.fullmatch(text):
        return "unreadable"
    if len(text) > 60:
        return None
    for candidate in (text, _PER_BOTTLE.sub("", text)):
        found = _words().get(_key(candidate))
        if found and (letters or not found.letters):
            return found.state if found.exact in {None, _plain(candidate)} else None
    return None


def without_marks(text: str) -> tuple[str, tuple[str, ...]]:
    """Cut footnote marks off a text's end; return the text and the marks."""
    cut = _MARKS.search(text)
    if cut is None:
        return text, ()
    return text[: cut.start()], marks(cut.group())


def marks(text: str) -> tuple[str, ...]:
    """Return footnote marks one by one, raised figures as plain ones; stars stay together."""
    return tuple(m.translate(_LOWERED) for m in re.findall(r"\*+|[^\s*]", text))


_LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹ᵃᵇᶜ", "0123456789abc")


@cache
def _flags() -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """Return the known flags, those that may be glued together, and those that mean "below"."""
    rows = list(read_table("qualifiers.csv"))
    return (
        frozenset(row.text("flag") for row in rows),
        frozenset(row.text("flag") for row in rows if row.cells["glue"] == "yes"),
        frozenset(row.text("flag") for row in rows if row.cells["effect"] == "below"),
    )


def flags_in(text: str) -> tuple[str, ...] | None:
    """Return the flags that a text consists of ("J", "JB", "H/U", "(J)"), or None."""
    found: list[str] = []
    for printed in re.split(r"[\s,;/()\[\]]+", text.strip(" ,;/()[]")):
        flags = _flags_of(printed)
        if flags is None:
            return None
        found.extend(flags)
    return tuple(found)


_FLAG_OR_UNIT = frozenset({"HU"})
"""Two flags, or Hazen units: refused."""


def _flags_of(printed: str) -> tuple[str, ...] | None:
    known, glued, _ = _flags()
    if printed in {"u", "j"}:
        return (printed.upper(),)
    if printed in known:
        return (printed,)
    letters = set(printed)
    if len(printed) == len(letters) == 2 and letters <= glued and letters & {"U", "J"}:
        return None if printed in _FLAG_OR_UNIT else tuple(printed)
    return None


def means_below(flags: tuple[str, ...]) -> bool:
    """Whether a flag says that the printed number is a limit."""
    return not _flags()[2].isdisjoint(flags)

"""Units that a legend gives to tests by name: "Cl2 in mg/L, Temp in deg C"."""

from __future__ import annotations

from collections.abc import Iterator

from .cells import Line
from .tokens import analyte_in, unit_of

_WORDS = 3
"""A name in a legend, or its unit, has no more words."""


def units_told(line: Line) -> Iterator[tuple[str, str]]:
    """Yield each name, in small letters, with its unit as printed."""
    words = line.text.split()
    for at, word in enumerate(words):
        if word == "in" and 0 < at < len(words) - 1:
            name, spelled = _name(words[:at]), _unit(words[at + 1 :])
            if name and spelled:
                yield name.lower(), spelled


def _name(words: list[str]) -> str | None:
    for size in range(min(_WORDS, len(words)), 0, -1):
        name = " ".join(words[-size:]).lstrip("([")
        if len(name) > 1 and name[:1].isupper() and analyte_in(name):
            return name
    return None


def _unit(words: list[str]) -> str | None:
    # The next test of the legend begins behind a comma: "Cl2 in mg/L, Iron in ug/L".
    ends = (at for at, word in enumerate(words, start=1) if word.endswith((",", ";")))
    for size in range(min(_WORDS, next(ends, _WORDS), len(words)), 0, -1):
        spelled = " ".join(words[:size]).rstrip(",.;)")
        if unit_of(spelled) is not None:
            return spelled
    return None

"""How water was taken: after standing in the pipe or running, before treatment or behind it."""

from __future__ import annotations

import re
from collections.abc import Mapping

from welltold.reading import Taken

_UNIT = (
    r"(?:[\w-]+ ){0,2}(?:softener|filter|treatment|neutralizer|aerator|aeration(?: unit)?"
    r"|reverse osmosis|ro(?: unit| faucet| tap)?)"
)
"""Equipment behind a word or two of its kind: "iron filter", "aeration unit"."""
_TAKEN: tuple[tuple[Taken, re.Pattern[str]], ...] = (
    (
        "first_draw",
        re.compile(
            r"\b(?:1st|first)[- ]?(?:draw|drawn|flush)\b|\bstagnant\b"
            r"|\bprimera? (?:descarga|extracción)\b"
        ),
    ),
    (
        "flushed",
        re.compile(
            r"\b(?:flush|flushed|purged|after flushing|2nd draw|second draw|fully flushed)\b"
        ),
    ),
    (
        "treated",
        re.compile(
            rf"\b(?:treated|softened|filtered tap|after (?:the )?{_UNIT}"
            r"|post[- ]treatment|finished|tratada)\b"
        ),
    ),
    (
        "raw",
        re.compile(
            rf"\b(?:raw|untreated|before (?:the )?{_UNIT}"
            r"|pre[- ]treatment|cruda)\b"
        ),
    ),
)


def draw_of(text: str) -> str | None:
    """Return the words that say whether water stood in the pipe or was let run, or None."""
    found = next((m for _, pattern in _TAKEN[:2] if (m := pattern.search(text))), None)
    return found[0] if found else None


def how_taken(facts: Mapping[str, str]) -> Taken | None:
    """Return how the facts of a sample say that it was taken."""
    for role in ("taken", "sample_id", "client_id", "point", "heading"):
        text = facts.get(role, "").lower()
        for taken, pattern in _TAKEN:
            if text and pattern.search(text):
                return taken
    return None

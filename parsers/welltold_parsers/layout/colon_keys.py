"""Known keys before a colon, with what stands behind: "Lab ID: 123"."""

from __future__ import annotations

import re
from functools import lru_cache

from .facts import KEYS
from .words import head_of

_COLON = re.compile(r"(?<!\d)\s*[:=](?!/)|(?<=\d)\s*:(?=\s)")
_LONGEST_KEY = 6


@lru_cache(maxsize=4096)
def keyed_values(text: str) -> tuple[tuple[str, str, int, str], ...]:
    """Return (role, key, where the key starts, value) for each known key before a colon."""
    if (":" not in text and "=" not in text) or text.count("=") > 1:
        return ()  # "ND = not detected. DL = detection limit" explains, it names no sample
    keys: list[tuple[str, str, int, int]] = []
    floor = 0
    for match in _COLON.finditer(text):
        key = _key_before(text, floor, match.start(), keys[-1][0] if keys else None)
        if key:
            keys.append((*key, match.end()))
            floor = match.end()
    pairs = []
    for number, (role, key_text, start, end) in enumerate(keys):
        stop = keys[number + 1][2] if number + 1 < len(keys) else len(text)
        pairs.append((role, key_text, start, text[end:stop].strip(" ,;|")))
    return tuple(pairs)


def _key_before(text: str, floor: int, end: int, last: str | None) -> tuple[str, str, int] | None:
    """Return the longest known key that ends here: its role, text and start.

    ``last`` is the role of the key before: "Location: Kitchen tap Sampled: 5/6" names one tap.
    """
    starts = [m.start() for m in re.finditer(r"\S+", text[floor:end])][-_LONGEST_KEY:]
    for start in starts:
        piece = text[floor + start : end]
        head = head_of(piece)
        if head and head.score >= 0.98 and head.role in KEYS and head.role != last:
            return head.role, piece, floor + start
    if starts and not floor and len(starts) <= 4:
        head = head_of(text[:end])
        if head and head.role in KEYS and head.score > 0.6:
            return head.role, text[:end], 0
        return "other", text[:end], 0
    return None

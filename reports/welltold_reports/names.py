"""File names made from sample ids: safe on every system, and unique."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from welltold.interpretation import SampleView

LONGEST = 40
_UNSAFE = re.compile(r"[^A-Za-z0-9]+")


def stems(name: str, samples: Sequence[SampleView]) -> tuple[str, ...]:
    """Return how the files of each sample begin: NAME, or NAME.ID where there are several.

    Two ids that come to the same name, also on a disk that does not tell capitals from small
    letters, get a number behind.
    """
    if len(samples) < 2:
        return (name,)
    taken: set[str] = set()
    chosen = []
    for number, sample in enumerate(samples, start=1):
        wanted = file_part(sample.id or sample.point or "") or f"sample-{number}"
        unique, again = wanted, 2
        while unique.lower() in taken:
            unique, again = f"{wanted}-{again}", again + 1
        taken.add(unique.lower())
        chosen.append(f"{name}.{unique}")
    return tuple(chosen)


def file_part(text: str) -> str:
    """Return the letters and figures of a text, everything else as single hyphens."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return _UNSAFE.sub("-", plain).strip("-")[:LONGEST].rstrip("-")

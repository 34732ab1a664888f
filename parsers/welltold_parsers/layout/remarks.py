"""What a sheet says in passing of how the samples were kept: too long, too warm, without acid.

Such a remark holds for some or all results; which of them only a person can tell. It is given as it
is printed. The meaning of a flag ("H = holding time exceeded") is no remark.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from .cells import Line

_HELD = re.compile(
    r"(?i)\bhold(?:ing)?[- ]?times?\b.{0,60}?"
    r"\b(?:exceed\w*|not met|past|outside|beyond|expired|missed)\b"
    r"|\b(?:exceed\w*|past|outside|beyond|after)\b.{0,40}?\bhold(?:ing)?[- ]?times?\b"
    r"|\b(?:sample|too) (?:was )?too old\b"
)
_KEPT = re.compile(
    r"(?i)\b(?:unpreserved|(?:not|improperly|never) preserved|not acidified"
    r"|not (?:on ice|iced|cooled)"
    r"|received (?:warm|broken|frozen|leaking|unpreserved)|broken (?:seal|bottle|container)"
    r"|(?:has|had|with|contained) headspace|air bubbles?)\b"
)
_MEANING = re.compile(r"^\W*[A-Za-z0-9*]{1,4}\s*(?:=|:|-|–|—|\)|\s{2,})")
_NOT_SAID = re.compile(
    r"(?i)\b(?:if|unless|when|may|should|must|were met|no (?:hold|sample|bubble|head)|none|without"
    r"|not (?:exceeded|past)|indicates?|means|denotes|within)\b"
)
_SHORTEST, _LONGEST, _MOST = 12, 200, 5


def remarks_in(lines: Iterable[Line]) -> list[str]:
    """Return the remarks on how samples were kept, each once, as printed."""
    found: dict[str, None] = {}
    for line in lines:
        for cell in line.cells:
            if _SHORTEST <= len(cell.text) <= _LONGEST and _is_remark(cell.text):
                found.setdefault(" ".join(cell.text.split()))
    return list(found)[:_MOST]


def _is_remark(text: str) -> bool:
    held = "old" in text.lower() and _HELD.search(text) is not None
    if not held and _KEPT.search(text) is None:
        return False
    return _MEANING.match(text) is None and _NOT_SAID.search(text) is None

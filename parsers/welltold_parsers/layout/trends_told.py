"""What a laboratory says of the way a result is going: "Last year it was 4.8, so it is rising".

It is the laboratory's own word, and is handed on as it stands; no verdict rests on it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from .cells import Line

_GOING = re.compile(
    r"(?i)\b(?:rising|climbing|increasing|falling|decreasing|declining|dropping|going (?:up|down)"
    r"|trending (?:up|down)\w*|(?:up|down) from"
    r"|(?:higher|lower) than (?:in|your|the) (?:last|20\d\d)"
    r"|risen|gone (?:up|down))\b"
)
_THEN = re.compile(
    r"(?i)\b(?:last|previous|prior|earlier|since|ago|(?:19|20)\d\d|close to|above)\b"
)
_NOT_SAID = re.compile(r"(?i)\b(?:if|unless|when|whenever|should|where|usually|often|can|could)\b")
_ENDS = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")
_LONGEST, _MOST = 160, 3


def trends_in(lines: Iterable[Line]) -> list[str]:
    """Return the sentences that tell how a result has changed, each once, as printed."""
    texts = [line.cells[0].text for line in lines if line.cells]
    if not any(map(_GOING.search, texts)):
        return []
    sentences = (" ".join(one.split()) for one in _ENDS.split(" ".join(texts)))
    return list(dict.fromkeys(filter(_is_told, sentences)))[:_MOST]


def _is_told(sentence: str) -> bool:
    if len(sentence) > _LONGEST or not sentence.endswith((".", "!")):
        return False
    told = _GOING.search(sentence) and _THEN.search(sentence)
    return bool(told) and any(map(str.isdigit, sentence)) and not _NOT_SAID.search(sentence)

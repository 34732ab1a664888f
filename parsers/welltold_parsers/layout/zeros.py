"""What "0" stands for where a head or a note says so: "Lead (0 < MDL)", "0 = not detected"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from .cells import Line
from .hints import Parts

_BELOW = (
    r"0(?:\.0+)?\s*(?:(?:=|:|means|is|indicates|stands for)\s*)?"
    r"(?:(?:<|below|less than|under)\s*(?:the |our )?"
    r"(?:m?dl|m?rl|lod|loq|pql|(?:method )?(?:detection|reporting)(?: limit| level)?)"
    r"|(?:=|:|means|is|indicates|stands for)\s*(?:not detected|none detected|non-?detect|nd|bdl))\b"
)
_IN_HEAD = re.compile(rf"(?i)\s*[(\[,;]?\s*(?<![\d.]){_BELOW}\s*[)\]]?")
_NOTE = re.compile(rf"(?i)(?:^|[\s(\[;.,\"“'])(?<![\d.]){_BELOW}")
_WORDS = 3
"""A head has a name, and one with more cells beside it heads a table."""
_LONGEST = 60


class Zeros:
    """Where a sheet says that "0" is below a limit."""

    __slots__ = ("_all", "_heads")

    def __init__(self) -> None:
        self._all = False
        self._heads: set[str] = set()
        """Heads over such zeros, as they are left without that remark."""

    def look(self, parts: Parts) -> None:
        """Keep what heads and notes say, and take the remark out of the heads."""
        for line in (line for lines in parts for line in lines):
            if not any("0" in c.text for c in line.cells):
                continue
            for cell in line.cells:
                bare = _IN_HEAD.sub("", cell.text).strip()
                if bare == cell.text.strip():
                    continue
                if bare and len(line.cells) >= _WORDS and len(cell.text) < _LONGEST:
                    cell.text = bare
                    self._heads.add(bare)
                elif _says_so(line):
                    self._all = True

    def below(self, heads: Iterable[str]) -> bool:
        """Whether 0 under these heads is below a limit."""
        return self._all or any(known in head for head in heads for known in self._heads)


def _says_so(line: Line) -> bool:
    return _NOTE.search(" ".join(line.text.split())) is not None

"""A user's own levels: a TOML file for a county or a lab, read strictly."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from .errors import LevelsFileError
from .level_own import own_level
from .level_packs import Pack, Stamp, known_packs
from .level_rows import FEDERAL, Level
from .level_section import Section, lines_of, near
from .own_text import own_text

PACK_KEYS = ("name", "whose", "edition", "covers")
SECTIONS = "[pack], [[level]]"


@dataclass(frozen=True, slots=True)
class LevelFile:
    """What one user's file holds."""

    pack: Pack
    levels: tuple[Level, ...]


@cache
def read_level_file(stamp: Stamp) -> LevelFile:
    """Return the pack in a file; FileMissingError, LevelsFileError with the place."""
    path = stamp[0]
    text = own_text(path, LevelsFileError(path, "the file", "is not UTF-8 text", SECTIONS))
    try:
        raw = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise LevelsFileError(path, "TOML", str(error), SECTIONS) from None
    return _Reader(path, text).file(raw)


@dataclass(frozen=True, slots=True)
class _Reader:
    """Turns one parsed file into a pack; knows the file's lines for the complaints."""

    path: str
    text: str

    def file(self, raw: Mapping[str, object]) -> LevelFile:
        for key in raw:
            if key not in {"pack", "level"}:
                problem = f"{key} is not a known name{near(key, ('pack', 'level'))}"
                raise LevelsFileError(self.path, self._at(key), problem, SECTIONS)
        head, rows = raw.get("pack"), raw.get("level", [])
        if not isinstance(head, Mapping):
            raise LevelsFileError(self.path, "the file", "has no [pack]", SECTIONS)
        if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
            problem = "is not a list of levels"
            raise LevelsFileError(self.path, "level", problem, "[[level]] for each level")
        if not rows:
            raise LevelsFileError(self.path, "the file", "has no level", "[[level]] for each level")
        name, pack = self._pack(Section(self.path, "pack", lines_of(self.text, "[pack]", 0), head))
        sections = [
            Section(self.path, f"level {i + 1}", lines_of(self.text, "[[level]]", i), row)
            for i, row in enumerate(rows)
        ]
        return LevelFile(pack, tuple(own_level(section, name, pack) for section in sections))

    def _pack(self, head: Section) -> tuple[str, Pack]:
        head.only(PACK_KEYS)
        name = head.text("name", "the name to print, such as Tamarack County")
        whose = head.text("whose", "who published the levels")
        edition = head.day("edition")
        if edition is None:
            raise head.wrong(
                "edition", "is missing", "the date of the text you read, such as 2026-03-01"
            )
        covers = head.text("covers", "what the file covers") if "covers" in head.values else name
        since = known_packs()[FEDERAL].since
        return name, Pack(self.path, whose, edition.isoformat(), covers, since)

    def _at(self, key: str) -> str:
        lines = enumerate(self.text.splitlines(), start=1)
        pattern = rf"\s*(\[*\s*)?{re.escape(key)}\b"
        return next((f"line {at}" for at, line in lines if re.match(pattern, line)), "the file")

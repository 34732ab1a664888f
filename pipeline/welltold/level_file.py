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
from .level_section import Section, lines_of
from .own_text import near, own_text, told

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
    text = own_text(path, LevelsFileError(path, told("the_file"), told("not_text"), SECTIONS))
    try:
        raw = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise LevelsFileError(path, "TOML", told("toml", problem=error), SECTIONS) from None
    return _Reader(path, text).file(raw)


@dataclass(frozen=True, slots=True)
class _Reader:
    """Turns one parsed file into a pack; knows the file's lines for the complaints."""

    path: str
    text: str

    def file(self, raw: Mapping[str, object]) -> LevelFile:
        for key in raw:
            if key not in {"pack", "level"}:
                problem = told("unknown_key", key=key, near=near(key, ("pack", "level")))
                raise LevelsFileError(self.path, self._at(key), problem, SECTIONS)
        head, rows = raw.get("pack"), raw.get("level", [])
        if not isinstance(head, Mapping):
            raise LevelsFileError(self.path, told("the_file"), told("no_pack"), SECTIONS)
        if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
            problem = told("not_levels")
            raise LevelsFileError(self.path, "level", problem, told("each_level"))
        if not rows:
            problem = told("no_level")
            raise LevelsFileError(self.path, told("the_file"), problem, told("each_level"))
        name, pack = self._pack(Section(self.path, "pack", lines_of(self.text, "[pack]", 0), head))
        sections = [
            Section(self.path, f"level {i + 1}", lines_of(self.text, "[[level]]", i), row)
            for i, row in enumerate(rows)
        ]
        return LevelFile(pack, tuple(own_level(section, name, pack) for section in sections))

    def _pack(self, head: Section) -> tuple[str, Pack]:
        head.only(PACK_KEYS)
        name = head.text("name", told("want_name"))
        whose = head.text("whose", told("want_whose"))
        edition = head.day("edition")
        if edition is None:
            raise head.wrong("edition", told("missing"), told("want_edition"))
        covers = head.text("covers", told("want_covers")) if "covers" in head.values else name
        since = known_packs()[FEDERAL].since
        return name, Pack(self.path, whose, edition.isoformat(), covers, since)

    def _at(self, key: str) -> str:
        lines = enumerate(self.text.splitlines(), start=1)
        pattern = rf"\s*(\[*\s*)?{re.escape(key)}\b"
        found = (told("line", line=at) for at, line in lines if re.match(pattern, line))
        return next(found, told("the_file"))

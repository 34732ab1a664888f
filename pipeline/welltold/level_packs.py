"""The packs of levels: which there are, whose they are, and every row of one pack.

A pack is a table of this project, or a TOML file of the user's own (``level_file``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from types import MappingProxyType

from .errors import FileMissingError, UnknownLevelsError
from .level_rows import FEDERAL, Level, level_of_row
from .tables import read_table

Stamp = tuple[str, int, int]


@dataclass(frozen=True, slots=True)
class Pack:
    """One authority's levels and the first day that they serve."""

    name: str
    """As it is asked for: a known name, or the path of a user's own file."""
    whose: str
    edition: str
    covers: str
    since: date
    table: str | None = None
    """The table in ``data/``; None for a user's own file."""


@cache
def known_packs() -> Mapping[str, Pack]:
    """Return the packs that come with welltold by name, the federal one first."""
    return MappingProxyType(
        {
            row.text("name"): Pack(
                row.text("name"),
                row.text("whose"),
                row.text("edition"),
                row.text("covers"),
                date.fromisoformat(row.text("since")),
                row.text("table"),
            )
            for row in read_table("level_packs.csv")
        }
    )


def find_pack(name: str) -> Pack:
    """Return the pack of that name or file.

    UnknownLevelsError; FileMissingError and LevelsFileError for a file.
    """
    if is_file(name):
        from .level_file import read_level_file

        return read_level_file(stamp(name)).pack
    if name not in known_packs():
        raise UnknownLevelsError(name + _nearest(name), known_words())
    return known_packs()[name]


def all_rows(name: str) -> tuple[Level, ...]:
    """Return every row of one pack, whatever its dates; DataFileError names a wrong row."""
    if is_file(name):
        from .level_file import read_level_file

        return read_level_file(stamp(name)).levels
    return _table_rows(find_pack(name).name)


def with_federal(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the packs asked for, each once, behind the federal one, which is always shown."""
    return tuple(dict.fromkeys((FEDERAL, *names)))


def is_file(name: str) -> bool:
    """Whether a pack is asked for by the path of a user's own file."""
    return name.endswith(".toml") or "/" in name or "\\" in name


def known_words() -> str:
    """Return what can be asked for, for a complaint."""
    return f"{', '.join(known_packs())}; or a file of your own that ends in .toml"


def stamp(name: str) -> Stamp:
    """Return a pack's name; of a file also time and size, so that a changed one is read again.

    Raises FileMissingError.
    """
    if not is_file(name):
        return name, 0, 0
    try:
        stat = Path(name).stat()
    except OSError as error:
        raise FileMissingError(name, error.strerror or "unreadable") from None
    return name, stat.st_mtime_ns, stat.st_size


@cache
def _table_rows(name: str) -> tuple[Level, ...]:
    return tuple(level_of_row(row, name) for row in read_table(known_packs()[name].table or ""))


def _nearest(name: str) -> str:
    near = get_close_matches(name.lower().replace(" ", "_"), list(known_packs()), n=1)
    return f' (did you mean "{near[0]}"?)' if near else ""

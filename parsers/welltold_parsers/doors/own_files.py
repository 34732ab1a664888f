"""welltold's own files of settings, which are no lab sheets however much they look like text."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from types import MappingProxyType

from welltold.own_text import told

_LONGEST = 200_000
"""Bytes; a file of settings is a few pages long."""
_TABLES: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "is_site": frozenset({"home", "well", "tap", "equipment", "samples", "wishes"}),
        "is_levels": frozenset({"pack", "level"}),
        "is_note": frozenset({"lab", "sheet", "headings", "ignore"}),
    }
)
"""The sentence on what a file is, and the tables that no other file of ours begins."""
_UNUSED = (b"# welltold site file", b"# A letterhead:", b"# A lab note:", b"# Levels of your own")
"""How the templates begin; one that nobody filled in holds nothing else."""


def own_file(data: bytes) -> str | None:
    """Say which of welltold's own files this is, and where it belongs; None for any other."""
    if len(data) > _LONGEST:
        return None
    try:
        raw = tomllib.loads(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError):
        return None
    names = {name for name, value in raw.items() if isinstance(value, (dict, list))}
    for what, tables in _TABLES.items():
        if names & tables:
            return told(what)
    begins = data.removeprefix(b"\xef\xbb\xbf").lstrip()
    return told("is_settings") if begins.startswith(_UNUSED) else None

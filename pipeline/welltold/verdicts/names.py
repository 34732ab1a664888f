"""Plain names of analytes."""

from __future__ import annotations

from ..analytes import registry


def name_of(slug: str | None, label: str) -> str:
    """Return the registry's plain name; the printed label for what is not in the registry."""
    known = registry().get(slug or "")
    return known.name if known else label


def group_of(slug: str | None) -> str:
    """Return the registry's group; "" for what is not in the registry."""
    known = registry().get(slug or "")
    return known.group if known else ""

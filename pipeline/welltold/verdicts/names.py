"""Plain names of analytes."""

from __future__ import annotations

from ..analytes import registry
from ..speech import plain_name


def name_of(slug: str | None, label: str) -> str:
    """Return the plain name in the language spoken; the label for what is not in the registry."""
    return plain_name(slug) or label


def group_of(slug: str | None) -> str:
    """Return the registry's group; "" for what is not in the registry."""
    known = registry().get(slug or "")
    return known.group if known else ""

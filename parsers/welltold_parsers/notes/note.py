"""What one lab note says, and the words that it may say it in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from welltold.tables import read_table

UNKNOWN = "unknown"
"""What a template writes where nothing was found out; such a line says nothing."""
IGNORE = "ignore"
NO_MEANING = "none"
"""A flag that changes nothing."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the sheet to leave out, from one line up to another."""

    first: str
    last: str | None
    """How the first line behind the part begins; None: up to the end of the page or sheet."""


@dataclass(frozen=True, slots=True)
class Note:
    """How the sheets of one lab are to be read. Texts are kept as the note has them."""

    path: str
    lab: str
    phrases: tuple[str, ...]
    """All of these stand on the lab's sheets."""
    without: tuple[str, ...] = ()
    """None of these does."""
    day_first: bool | None = None
    decimal_comma: bool | None = None
    default_unit: str | None = None
    basis: Mapping[str, str] = field(default_factory=dict)
    """By analyte: what its number counts where the sheet does not say."""
    headings: Mapping[str, str] = field(default_factory=dict)
    """Heading to role."""
    units: Mapping[str, str] = field(default_factory=dict)
    """The lab's spelling to a known one."""
    labels: Mapping[str, str] = field(default_factory=dict)
    """The lab's name of a test to a plain one, or to IGNORE."""
    flags: Mapping[str, str] = field(default_factory=dict)
    """Flag to meaning."""
    ignored_lines: tuple[str, ...] = ()
    """How lines begin that are left out."""
    ignored_parts: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class Role:
    """One role that a heading can have."""

    heading: str
    """The plain heading that stands for it."""
    fact: bool
    """Whether the heading may stand before one value."""
    means: str


@cache
def roles() -> Mapping[str, Role]:
    """Return the roles that a note may give to a heading."""
    return {
        row.text("role"): Role(row.text("heading"), row.text("holds") == "fact", row.text("means"))
        for row in read_table("note_roles.csv")
    }


@cache
def flag_meanings() -> Mapping[str, tuple[str, str]]:
    """Return by meaning the known flag that stands for it, and the meaning in words."""
    return {
        row.text("meaning"): (row.text("flag"), row.text("means"))
        for row in read_table("note_flags.csv")
    }


def plain(text: str) -> str:
    """Return a text as notes compare it: small letters, single blanks."""
    return " ".join(text.casefold().split())

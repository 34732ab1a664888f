"""Levels and packs as tables on the terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich import box
from rich.table import Table
from rich.text import Text

from ..levels import Level, Pack
from .tables import wide_console


def print_levels(levels: Iterable[tuple[str, Level]]) -> None:
    """Print levels with the name of their analyte, one line each."""
    table = Table(box=box.SIMPLE_HEAD)
    for heading in ("Analyte", "Whose", "Kind", "Level", "Unit", "Basis", "Status", "Citation"):
        table.add_column(heading, overflow="fold")
    for name, level in levels:
        cells = (
            name,
            level.programme,
            level.kind.replace("_", " "),
            _span(level),
            level.unit,
            level.basis or "",
            _status(level),
            level.citation,
        )
        table.add_row(*map(Text, cells))
    wide_console().print(table)


def print_packs(packs: Iterable[Pack]) -> None:
    """Print the packs that can be chosen, with whose they are and of which date."""
    table = Table(box=box.SIMPLE_HEAD)
    for heading in ("Pack", "Whose levels", "Edition", "What it covers"):
        table.add_column(heading, overflow="fold")
    for pack in packs:
        table.add_row(*map(Text, (pack.name, pack.whose, pack.edition, pack.covers)))
    wide_console().print(table)


def _span(level: Level) -> str:
    if level.op == "absent":
        return "none found"
    if level.value is None:
        return "no number"
    return f"{level.low} to {level.value:f}" if level.low is not None else f"{level.value:f}"


def _status(level: Level) -> str:
    words = level.status.replace("_", " ")
    if level.until is not None:
        words += f" until {level.until}"
    return words if level.verified else f"{words}; from memory, decides nothing"

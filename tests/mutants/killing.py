"""Puts one changed row in place of the real one, and asks the tests whether they notice."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

from welltold import tables as tables_room
from welltold.analytes import registry

from .changes import Change, Table, changes
from .suite import Test, passes

ROOMS = ("verdicts", "checks", "levels", "level_packs", "level_rows", "thresholds")
"""What has read the tables and remembers them."""
MOST, SOME = 400, 120
"""How many other tests are asked about a row that names no analyte, and about every other row."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One change, and the test that noticed it; "" where none did."""

    table: str
    change: Change
    by: str

    def __str__(self) -> str:
        first = next(iter(self.change.row.cells.values()))
        return f"{self.table}:{self.change.row.line} {first}: {self.change.what}"


def outcomes(table: Table, suite: Sequence[Test]) -> Iterator[Outcome]:
    """Yield what became of every change of a table."""
    for change in changes(table):
        with _in_place(table.name, change):
            yield Outcome(table.name, change, _noticed(change, suite))


def _noticed(change: Change, suite: Sequence[Test]) -> str:
    try:
        asked = _concerned(change, suite)
        return next((one.name for one in asked if not passes(one)), "")
    finally:
        _forget()


def _concerned(change: Change, suite: Sequence[Test]) -> list[Test]:
    """Return the tests that speak of an analyte of the row, and some of all others."""
    slugs = _slugs(change.row.cells)
    named = [one for one in suite if one.always or any(slug in one.words for slug in slugs)]
    known = {one.name for one in named}
    others = [one for one in suite if one.name not in known]
    count = MOST if "*" in slugs or not named else SOME
    return [*named, *others[:: max(1, len(others) // count)]]


def _slugs(cells: dict[str, str]) -> set[str]:
    """Return the analytes, groups' members and other names that stand in a row."""
    told = " ".join(value for key, value in cells.items() if key not in {"source", "citation"})
    found = {
        word for word in told.replace("|", " ").replace(":", " ").split() if word in registry()
    }
    for slug, one in registry().items():
        if f"group:{one.group}" in told and one.health:
            found.add(slug)
    for key in ("flag", "stage", "rule", "doubt", "hold", "check", "cause"):
        if cells.get(key):
            found.add(cells[key])
    return found | ({"*"} if "*" in told.split() or "|*" in told else set())


@contextmanager
def _in_place(name: str, change: Change) -> Iterator[None]:
    real = files("welltold")
    lines = (real / "data" / name).read_text("utf-8").splitlines()
    lines[change.row.line - 1 : change.row.line] = [change.line or "#"]
    before = tables_room.files
    tables_room.files = lambda _: _Folder(real, name, "\n".join(lines))  # type: ignore[assignment]  # one table changed
    _forget()
    try:
        yield
    finally:
        tables_room.files = before
        _forget()


@dataclass(frozen=True, slots=True)
class _Folder:
    """The package's files, with another text in place of one table."""

    real: Any
    name: str
    text: str

    def __truediv__(self, part: str) -> _Folder:
        return _Folder(self.real / part, self.name, self.text)

    def read_text(self, encoding: str) -> str:
        return self.text if self.real.name == self.name else self.real.read_text(encoding)


def _forget() -> None:
    """Forget what the rooms remember of their tables."""
    for name, module in list(sys.modules.items()):
        if name.startswith("welltold.") and name.split(".")[1] in ROOMS:
            for one in vars(module).values():
                if hasattr(one, "cache_clear"):
                    one.cache_clear()

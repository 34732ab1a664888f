"""Small changes of one row of a table, each of which some test should notice."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from welltold.tables import Row, read_table

Cells = dict[str, str]


@dataclass(frozen=True, slots=True)
class Change:
    """One changed row; ``line`` None: the row is gone."""

    row: Row
    what: str
    line: str | None


@dataclass(frozen=True, slots=True)
class Table:
    """A table, the columns that decide something, and the rows that do."""

    name: str
    numbers: tuple[str, ...] = ()
    lists: tuple[str, ...] = ()
    """Columns with parts separated by |, each of which matters."""
    flips: tuple[tuple[str, str, str], ...] = ()
    """Column, word, and the word in its place; both ways."""
    clauses: bool = False
    decides: Callable[[Cells], bool] = lambda _: True


ROLES = (("role", "health", "nuisance"), ("role", "watch", "none"), ("role", "nuisance", "none"),
         ("role", "person", "none"))  # fmt: skip
LEVELS = Table(
    "levels_us_federal.csv",
    ("low", "value"),
    flips=(("op", "max", "min"), ("op", "absent", "none"), ("acute", "yes", "no"), *ROLES),
    decides=lambda cells: cells["role"] != "none",
)
TABLES = (
    LEVELS,
    Table("sample_rules.csv", lists=("persons", "steps", "about"), clauses=True,
          flips=(("urgency", "now", "soon"), ("verdict", "watch", ""))),
    Table("sums.csv", ("divide_by",), ("covers",),
          (("missing", "skip", "cant_tell"), ("found", "1", "2"))),
    Table("checks.csv", ("value",)),
    Table("hold_times.csv", ("hours", "kept_hours"), ("slugs",)),
    Table("waiting_limits.csv", ("hours",), ("of", "steps"), (("urgency", "soon", "now"),)),
    Table("flag_effects.csv", ("sure",), ("of", "steps"),
          (("hides", "low", "all"), ("urgency", "soon", "now"))),
    Table("sampling_doubts.csv", lists=("of", "steps"), flips=(("urgency", "soon", "now"),)),
    Table("equipment_hides.csv", lists=("hides",)),
    Table("possible_values.csv", ("least", "most")),
    Table("test_precision.csv", ("percent", "from")),
    Table("basis_evidence.csv", flips=(("basis", "N", "NO3"),)),
    Table("first_steps.csv", lists=("steps",)),
    Table("core_tests.csv", lists=("met_by",), clauses=True),
    Table("analyte_words.csv", ("least", "most"), ("bases", "persons")),
    Table("causes.csv", clauses=True),
)  # fmt: skip


def changes(table: Table) -> Iterator[Change]:
    """Yield the changes of every row that decides something."""
    for row in read_table(table.name):
        if table.decides(row.cells):
            yield Change(row, "row gone", None)
            yield from (Change(row, what, _line(cells)) for what, cells in _changed(table, row))


def _changed(table: Table, row: Row) -> Iterator[tuple[str, Cells]]:
    cells = row.cells
    for column in table.numbers:
        # the lower end of a zone is shown and not compared
        if column != "low" or cells["op"] == "range":
            yield from _factors(column, cells)
    for column, one, other in table.flips:
        for word, instead in ((one, other), (other, one)):
            if word and cells[column] == word:
                yield f"{column} {word} -> {instead}", cells | {column: instead}
    for column in table.lists:
        parts = cells[column].split("|")
        for part in parts if len(parts) > 1 else ():
            left = "|".join(one for one in parts if one != part)
            yield f"{column} without {part}", cells | {column: left}
    if table.clauses:
        yield from _clauses(cells)


def _factors(column: str, cells: Cells) -> Iterator[tuple[str, Cells]]:
    """Yield a number a factor of ten too large, and too small."""
    for factor in ("10", "0.1") if cells[column] else ():
        value = Decimal(cells[column]) * Decimal(factor)
        if value != Decimal(cells[column]):
            yield f"{column} x {factor}", cells | {column: f"{value:f}"}


def _clauses(cells: Cells) -> Iterator[tuple[str, Cells]]:
    """Yield the conditions of a rule with one taken away, turned round, or its number changed."""
    parts = [part.strip() for part in cells["when"].split("&") if part.strip()]
    for i, part in enumerate(parts):
        left = parts[:i] + parts[i + 1 :]
        yield f"without {part}", cells | {"when": " & ".join(left)}
        turned = part[1:] if part.startswith("!") else f"!{part}"
        yield f"{part} turned", cells | {"when": " & ".join((*parts[:i], turned, *parts[i + 1 :]))}
        for sign in "<>":
            slug, found, number = part.partition(sign)
            if found:
                more = f"{slug}{sign}{Decimal(number) * 10:f}"
                yield (
                    f"{part} -> {more}",
                    cells | {"when": " & ".join((*parts[:i], more, *parts[i + 1 :]))},
                )


def _line(cells: Cells) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells.values())
    return out.getvalue()

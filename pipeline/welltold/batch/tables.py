"""The tables of a batch: the summary as CSV and XLSX, and the list of files set aside."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ..errors import OutputError
from ..messages import Language, say
from ..respelled import guarded
from ..summary import COLUMNS
from .run import Outcome, SetAside

SET_ASIDE_COLUMNS = ("file", "reason", "next_step", "exit_code")
EPOCH = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)
"""Written into every workbook as its date of creation: the same input gives the same bytes."""


def write_summary(folder: Path, outcome: Outcome) -> None:
    """Write ``summary.csv`` and ``summary.xlsx``: one row a sample, those to call today first."""
    rows = [[row[column] for column in COLUMNS] for row in outcome.rows]
    _write_csv(folder / "summary.csv", COLUMNS, rows)
    _write_workbook(folder / "summary.xlsx", rows, _totals(outcome))


def write_set_aside(folder: Path, files: Sequence[SetAside]) -> None:
    """Write ``set-aside.csv``: every file that could not be reported on, and what to do."""
    rows = [[str(value) for value in asdict(file).values()] for file in files]
    _write_csv(folder / "set-aside.csv", SET_ASIDE_COLUMNS, rows)


def write_urgent(folder: Path, outcome: Outcome, language: Language) -> None:
    """Write ``urgent.html``: whom to call today, what is for the next weeks, what needs a look.

    Raises OutputError.
    """
    from welltold_reports.html import urgent_html
    from welltold_reports.urgent import build_urgent

    page = urgent_html(build_urgent(outcome.rows, _counts(outcome), language))
    try:
        (folder / "urgent.html").write_text(page, "utf-8")
    except OSError as error:
        raise OutputError(str(folder), error.strerror or "cannot be written") from error


def _counts(outcome: Outcome) -> dict[str, int]:
    """Return the totals of a batch, which add up to the files given."""
    return {
        "files": outcome.files,
        "reported": outcome.reported,
        "set_aside": len(outcome.set_aside),
        "left": outcome.left,
        "samples": len(outcome.rows),
        "urgent": sum(row["phone_first"] == "yes" for row in outcome.rows),
        "held": sum(row["outcome"] != "made" for row in outcome.rows),
    }


def _totals(outcome: Outcome) -> list[tuple[str, int]]:
    return [(_said(f"total_{name}"), count) for name, count in _counts(outcome).items()]


def _said(name: str) -> str:
    return say(f"batch.{name}").text


def _write_csv(path: Path, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    try:
        with path.open("w", encoding="utf-8", newline="") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(columns)
            writer.writerows([guarded(cell) for cell in row] for row in rows)
    except OSError as error:
        raise OutputError(str(path), error.strerror or "cannot be written") from error


def _write_workbook(
    path: Path, rows: Sequence[Sequence[str]], totals: Sequence[tuple[str, int]]
) -> None:
    import xlsxwriter

    options = {"strings_to_formulas": False, "strings_to_urls": False}
    book: Any = xlsxwriter.Workbook(str(path), options)
    book.set_properties({"title": _said("book"), "created": EPOCH})
    bold = book.add_format({"bold": True})
    sheet = book.add_worksheet(_said("sheet_samples"))
    sheet.write_row(0, 0, COLUMNS, bold)
    sheet.freeze_panes(1, 0)
    for number, row in enumerate(rows, start=1):
        sheet.write_row(number, 0, row)
    sheet.autofilter(0, 0, max(len(rows), 1), len(COLUMNS) - 1)
    sheet.set_column(0, len(COLUMNS) - 1, 18)
    counts = book.add_worksheet(_said("sheet_totals"))
    for number, (name, count) in enumerate(totals):
        counts.write(number, 0, name, bold)
        counts.write(number, 1, count)
    counts.set_column(0, 0, 26)
    try:
        book.close()
    except OSError as error:
        raise OutputError(str(path), error.strerror or "cannot be written") from error

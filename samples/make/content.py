"""The written-down content of the invented sheets, and the reading that each must give.

A content file is TOML: what the sheet is (``producer``, ``layout``, ``purpose``), its samples, and
the numbers on it that are no results (``trap``). A sample's ``rows`` are lines of cells between
bars; the first line names the columns. ``means`` says in one form what the printed text means
(``= 1.2``, ``< 0.5``, ``> 2419.6``, ``present``, ``absent`` ...); it is left empty where the text
is a plain number or a number behind ``<`` or ``>``.
"""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
SHEETS = HERE.parent / "sheets"
EXPECTED = HERE.parent / "expected"

_OPERATORS = {"=": "value", "<": "below", ">": "above"}
_PLAIN = re.compile(r"([<>]?)\s*(\d[\d,]*\.?\d*|\.\d+)")
_WORDS = ("present", "absent", "trace", "too_many", "blank")

Row = dict[str, str]


@dataclass(slots=True)
class Bottle:
    """One sample of a sheet."""

    given: dict[str, Any]
    rows: list[Row]

    def __getitem__(self, name: str) -> Any:
        return self.given.get(name)


@dataclass(slots=True)
class Sheet:
    """One invented sheet: what it says of itself, its samples, its traps."""

    name: str
    given: dict[str, Any]
    samples: list[Bottle]
    places: dict[tuple[int, int], dict[str, Any]] = field(default_factory=dict)

    def __getitem__(self, name: str) -> Any:
        return self.given.get(name)

    @property
    def path(self) -> Path:
        """Where the sheet's file stands."""
        return SHEETS / str(self.given["file"])

    def put(self, sample: int, row: int, **place: Any) -> None:
        """Note where a result was printed."""
        self.places[sample, row] = place


def rows_of(text: str) -> list[Row]:
    """Return the rows of a block of lines with cells between bars."""
    lines = [line for line in text.splitlines() if line.strip()]
    names = [cell.strip() for cell in lines[0].split("|")]
    rows = []
    for line in lines[1:]:
        cells = [cell.strip() for cell in line.split("|")]
        if len(cells) > len(names):
            raise ValueError(f"more cells than columns: {line}")
        cells += [""] * (len(names) - len(cells))
        rows.append(dict(zip(names, cells, strict=True)))
    return rows


def load(name: str) -> Sheet:
    """Return one content file as a sheet."""
    given = tomllib.loads((HERE / "content" / f"{name}.toml").read_text(encoding="utf-8"))
    samples = [Bottle(sample, rows_of(sample.pop("rows"))) for sample in given.get("sample", [])]
    return Sheet(name, given, samples)


def names() -> list[str]:
    """Return the names of all content files."""
    return sorted(path.stem for path in (HERE / "content").glob("*.toml"))


def _meaning(row: Row) -> tuple[str, str, Decimal | None, bool | None]:
    means = row.get("means") or row["text"]
    if means in _WORDS:
        present = {"present": True, "absent": False}.get(means)
        return means, "=", None, present
    match = _PLAIN.fullmatch(means.removeprefix("= "))
    if match is None:
        raise ValueError(f"say what it means: {row}")
    operator = match[1] or "="
    return _OPERATORS[operator], operator, Decimal(match[2].replace(",", "")), None


def _number(text: str) -> float | int:
    number = Decimal(text.replace(",", ""))
    return int(number) if number == number.to_integral_value() else float(number)


def _result(row: Row, place: dict[str, Any]) -> dict[str, Any]:
    state, operator, value, present = _meaning(row)
    if row.get("page"):
        place = {"page": int(row["page"])} | place
    if row.get("row"):
        place = place | {"row": int(row["row"])}
    return {
        "analyte": row["analyte"] or None,
        "label": row["label"],
        "text": row["text"],
        "state": state,
        "operator": operator,
        "value": None if value is None else _number(str(value)),
        "present": present,
        "unit": row.get("unit") or None,
        "basis": row.get("basis") or None,
        "fraction": row.get("fraction") or None,
        "qualifiers": row["qual"].split() if row.get("qual") else [],
        "reporting_limit": _number(row["rl"]) if row.get("rl") else None,
        "place": place,
    }


def expected(sheet: Sheet) -> dict[str, Any]:
    """Return the reading that a sheet must give, as JSON objects."""
    paged = sheet.path.suffix == ".pdf"
    samples = []
    for i, sample in enumerate(sheet.samples):
        told = {key: sample[key] for key in ("id", "point", "collected", "taken")}
        default = {"page": 1} if paged else {}
        results = [
            _result(row, sheet.places.get((i, j), {} if row.get("page") else default))
            for j, row in enumerate(sample.rows)
        ]
        samples.append(told | {"results": results})
    return {
        "file": sheet["file"],
        "lab": {"name": sheet["lab"], "report_id": sheet["report"]},
        "outcome": sheet["outcome"] or "read",
        "samples": samples,
        "traps": sheet["trap"] or [],
    }


def write_expected(sheet: Sheet) -> None:
    """Write the expected reading beside the others."""
    text = json.dumps(expected(sheet), indent=1, ensure_ascii=False)
    (EXPECTED / f"{sheet.name}.json").write_text(text + "\n", encoding="utf-8")

"""Earlier sheets of the same well as rows of the workbook."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from welltold.interpretation import Interpretation
from welltold.past import Earlier
from welltold.speech import phrase

from .numbers import unit_words
from .wording import analyte_name, texts

Cell = str | Decimal | None
HISTORY_HEADS = (
    "sample", "sheet", "collected", "analyte", "result", "unit", "number", "normalized unit",
    "basis", "compared", "why",
)  # fmt: skip


def history_rows(view: Interpretation) -> Iterator[tuple[Cell, ...]]:
    """Yield a row for each earlier result, and for a sheet that is not used one with why."""
    for sample in view.samples:
        if sample.earlier is not None:
            yield from ((sample.id, *row) for row in _rows(sample.earlier))


def _rows(earlier: Earlier) -> Iterator[tuple[Cell, ...]]:
    for sheet in earlier.sheets:
        if not sheet.matched:
            yield sheet.file, sheet.collected, *(None,) * 7, " ".join(texts(sheet.why))
    for history in earlier.analytes:
        name, unit = analyte_name(history.analyte), unit_words(history.unit)
        for one in history.results:
            file = earlier.sheets[one.sheet - 1].file
            compared = phrase("yes" if one.comparable else "no")
            printed = (one.text, one.printed_unit, one.value, unit, history.basis)
            yield file, one.collected, name, *printed, compared, " ".join(texts(one.why))

"""Earlier sheets of the same well as rows of the workbook."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from welltold.interpretation import Interpretation
from welltold.messages import say
from welltold.past import Earlier, EarlierLeft
from welltold.speech import phrase

from .homeowner.history_left import after_result
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
    yield from (_left(one, earlier) for one in earlier.left if not one.tested)


def _left(one: EarlierLeft, earlier: Earlier) -> tuple[Cell, ...]:
    """Return the row of what was raised then and is not tested now."""
    file, name = earlier.sheets[one.sheet - 1].file, analyte_name(one.analyte, one.label)
    printed = (one.text, one.printed_unit, one.value, unit_words(one.unit), one.basis)
    why = " ".join((say("earlier.left_untested").text, *after_result(one)))
    return file, one.collected, name, *printed, phrase("no"), why

"""Later bottles from behind the equipment as rows of the workbook."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from welltold.behind import Outlet, OutletSheet, OutletSpan
from welltold.interpretation import Interpretation
from welltold.messages import say
from welltold.speech import phrase

from .homeowner.outlets import state_words
from .numbers import unit_words
from .wording import analyte_name, stage_name, texts

Cell = str | Decimal | None


def outlet_rows(view: Interpretation) -> Iterator[tuple[Cell, ...]]:
    """Yield one row for each sign of each stage; a stage or a bottle without one gets a row too."""
    for sample in view.samples:
        for sheet in sample.outlet or ():
            head = (sample.id, sheet.file)
            if not sheet.stages:
                yield *head, *(None,) * 11, " ".join(texts(sheet.why)), None, None
            for stage in sheet.stages:
                yield from ((*head, *row) for row in _rows(sheet, stage))


def _rows(sheet: OutletSheet, stage: Outlet) -> Iterator[tuple[Cell, ...]]:
    name, outcome = stage_name(stage.stage), say(f"outlet.outcome_{stage.outcome}").text
    why, look = " ".join(texts((*stage.why, *sheet.health))), " ".join(texts(stage.look))
    for sign in stage.signs:
        unit = unit_words(sign.unit)
        amounts = (*_ends(sign.inlet), *_ends(sign.expected), sign.text)
        says, source = state_words(sign), phrase(sign.citation)
        analyte = analyte_name(sign.analyte)
        yield name, outcome, analyte, unit, sign.basis, *amounts, says, why, look, source
    if not stage.signs:
        yield name, outcome, *(None,) * 9, why, look, None


def _ends(span: OutletSpan | None) -> tuple[Decimal | None, Decimal | None]:
    return (None, None) if span is None else (span.low, span.high)

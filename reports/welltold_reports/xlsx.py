"""The report as a workbook: results, findings, sources, and what was unread or in doubt."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

import xlsxwriter

from welltold.doubts import doubts_of, told_of
from welltold.interpretation import Interpretation
from welltold.messages import speaking
from welltold.speech import phrase

from .history_rows import HISTORY_HEADS, history_rows
from .homeowner.cards import verdict_words
from .homeowner.picture import persons_words
from .homeowner.printed import Item, as_printed, items_of, kind_words, place_words
from .numbers import unit_words
from .outlet_rows import outlet_rows
from .wording import analyte_names, stage_name, texts, word

CREATED = datetime(2000, 1, 1)  # noqa: DTZ001 a fixed date in the file, so that bytes repeat
LONGEST_CELL = 32767
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
Cell = str | int | float | Decimal | bool | None
RESULT_HEADS = (
    "sample", "collected", "label", "analyte", "result", "unit", "number", "normalized",
    "normalized unit", "basis", "reporting limit", "method", "use", "confidence", "place",
    "corrected to", "corrected by", "corrected on",
)  # fmt: skip
FINDING_HEADS = (
    "sample", "analyte", "label", "result", "verdict", "urgency", "value", "unit", "basis",
    "persons", "why", "what to do", "confidence", "place",
)  # fmt: skip
SOURCE_HEADS = ("analyte", "level", "low", "value", "unit", "basis", "status", "source")
STAGE_HEADS = (
    "sample", "choice", "stage", "place", "for", "because", "asks", "has", "holds", "source",
    "cautions",
)  # fmt: skip
SIZE_HEADS = ("sample", "choice", "stage", "figure", "number", "unit", "arithmetic", "source")
_HOLDS = {True: "yes", False: "no", None: "not known"}
OUTLET_HEADS = (
    "sample", "sheet", "stage", "outcome", "analyte", "unit", "basis", "ahead", "ahead, up to",
    "predicted", "predicted, up to", "found", "says", "why", "next look",
    "source",
)  # fmt: skip
DOUBT_HEADS = ("sample", "what", "text", "place", "reason")


def workbook(view: Interpretation) -> bytes:
    """Return the workbook; text that begins with "=" stays text."""
    with speaking(view.language):
        return _workbook(view)


def _workbook(view: Interpretation) -> bytes:
    buffer = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(buffer, options)
    book.set_properties({"title": word("title"), "created": CREATED})
    samples = [
        (sample.id, items_of(sample, _printed(view, index)))
        for index, sample in enumerate(view.samples)
    ]
    findings = (_finding(sid, item, items) for sid, items in samples for item in items)
    _sheet(book, "sheet_results", RESULT_HEADS, _results(view))
    _sheet(book, "sheet_findings", FINDING_HEADS, findings)
    _sheet(book, "sheet_sources", SOURCE_HEADS, _sources(i for _, items in samples for i in items))
    _sheet(book, "sheet_stages", STAGE_HEADS, _stages(view))
    _sheet(book, "sheet_sizes", SIZE_HEADS, _sizes(view))
    if any(sample.earlier for sample in view.samples):
        _sheet(book, "sheet_earlier", HISTORY_HEADS, history_rows(view))
    if any(sample.outlet for sample in view.samples):
        _sheet(book, "sheet_outlet", OUTLET_HEADS, outlet_rows(view))
    _sheet(book, "sheet_doubts", DOUBT_HEADS, _doubts(view))
    book.close()
    return buffer.getvalue()


def _printed(view: Interpretation, index: int) -> Any:
    samples = view.reading.samples
    return samples[index] if index < len(samples) else None


def _sheet(book: Any, name: str, heads: tuple[str, ...], rows: Iterable[Iterable[Cell]]) -> None:
    sheet = book.add_worksheet(word(name))
    bold = book.add_format({"bold": True, "bottom": 1})
    wrap = book.add_format({"text_wrap": True, "valign": "top"})
    sheet.freeze_panes(1, 0)
    for column, head in enumerate(heads):
        sheet.write_string(0, column, phrase(head), bold)
    widths = [len(phrase(head)) for head in heads]
    last = 0
    for last, row in enumerate(rows, start=1):
        for column, cell in enumerate(row):
            widths[column] = max(widths[column], _write(sheet, last, column, cell, wrap))
    for column, width in enumerate(widths):
        sheet.set_column(column, column, min(width + 2, 60))
    sheet.autofilter(0, 0, max(last, 1), len(heads) - 1)


def _write(sheet: Any, row: int, column: int, cell: Cell, form: Any) -> int:
    """Write one cell and return how wide its text is."""
    if cell is None:
        return 0
    if isinstance(cell, Decimal | float | int):
        sheet.write_number(row, column, float(cell), form)
        return 10
    text = _CONTROL.sub("", cell)[:LONGEST_CELL]
    sheet.write_string(row, column, text, form)
    return len(text)


def _results(view: Interpretation) -> Iterable[tuple[Cell, ...]]:
    for sample in view.reading.samples:
        for one in sample.results:
            normal, made = one.normalized, one.correction
            yield (
                sample.id, sample.collected, one.label, one.analyte, one.text, one.unit, one.value,
                normal.value if normal else None, normal.unit if normal else None,
                normal.basis if normal else one.basis, one.reporting_limit, one.method,
                phrase(one.use), one.confidence, place_words(one.where),
                made.text if made else None, made.by if made else None, made.at if made else None,
            )  # fmt: skip


def _finding(sample_id: str | None, item: Item, beside: Sequence[Item]) -> tuple[Cell, ...]:
    one = item.finding
    stated = item.result.stated if item.result else one.text
    return (
        sample_id, item.name, one.label, stated, verdict_words(item, beside),
        phrase(one.urgency or "") or None, one.value, unit_words(one.unit), one.basis,
        persons_words(one.persons), " ".join(texts(one.why)),
        " ".join(texts(one.do)), one.confidence, place_words(one.where) if one.where else None,
    )  # fmt: skip


def _sources(items: Iterable[Item]) -> Iterable[tuple[Cell, ...]]:
    rows = {
        (item.name, level): None
        for item in items
        for level in (*item.finding.levels, *item.finding.also)
        if level.value is not None
    }
    for name, level in rows:
        yield (
            name, f"{kind_words(level)} ({phrase(level.programme)})", level.low, level.value,
            unit_words(level.unit), level.basis, phrase(level.status),
            phrase(level.citation),
        )  # fmt: skip


def _stages(view: Interpretation) -> Iterable[tuple[Cell, ...]]:
    """Yield one row for each condition of each stage; a stage without one gets a row too."""
    for sample in view.samples:
        for choice, train in enumerate(sample.trains, start=1):
            for stage in train.stages:
                head = (
                    sample.id,
                    choice,
                    stage_name(stage.stage),
                    phrase(stage.place),
                )
                why = (analyte_names(stage.for_), " ".join(texts(stage.because)))
                cautions = " ".join(texts(stage.cautions))
                for one in stage.conditions:
                    yield (
                        *head,
                        *why,
                        one.asks,
                        one.has,
                        phrase(_HOLDS[one.holds]),
                        phrase(one.citation),
                        cautions,
                    )
                if not stage.conditions:
                    yield *head, *why, None, None, None, None, cautions


def _sizes(view: Interpretation) -> Iterable[tuple[Cell, ...]]:
    """Yield one row for each figure of each stage, with its formula and where that comes from."""
    for sample in view.samples:
        for choice, train in enumerate(sample.trains, start=1):
            for stage in train.stages:
                head = (sample.id, choice, stage_name(stage.stage))
                for one in stage.worked or ():
                    source = phrase(one.citation)
                    yield (*head, one.of, one.value, one.unit, one.how.text, source)


def _doubts(view: Interpretation) -> Iterable[tuple[Cell, ...]]:
    of = [(sample, one) for sample in view.reading.samples for one in sample.results]
    for doubt in doubts_of(view.reading):
        sample, one = of[doubt.results[0] - 1]
        alone = doubt.of == "result"
        text = f"{one.label} {as_printed(one)}" if alone else told_of(doubt)
        head = (sample.id if doubt.of in {"result", "sample"} else None, word("doubt_result"))
        for reason in texts(doubt.reasons):
            yield *head, text, place_words(doubt.where[:1]), reason
    for line in view.reading.unread:
        place = place_words([line.where])
        yield None, word("doubt_unread"), line.text, place, line.reason.text
    for warning in view.reading.warnings:
        yield None, word("doubt_warning"), None, None, warning.text

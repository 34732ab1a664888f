"""The table that a person filled in (``welltold template reading``).

Its columns are fixed, so nothing is inferred. Whoever types a hundred fields makes about one slip:
what concerns health is therefore typed twice, and a result typed once or differently is in doubt.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import cast

from welltold.analytes import Match, analyte, identify
from welltold.errors import ReadingFileError
from welltold.messages import Message, say
from welltold.reading import Fraction, Reading, Result, Sample, Source, Taken, Unread, Where
from welltold.units import normalize, unit
from welltold.values import ParsedValue, parse_value

from .geometry import Document, SheetCell

COLUMNS = (
    "sample",
    "point",
    "collected",
    "taken",
    "analyte",
    "result",
    "result_again",
    "unit",
    "basis",
    "method",
    "reporting_limit",
)
TAKEN: dict[str, Taken | None] = {
    "": None,
    "first_draw": "first_draw",
    "flushed": "flushed",
    "raw": "raw",
    "treated": "treated",
}
CONFIDENCE_TYPED = 0.99
"""About one field in a hundred is typed wrong: common practice, no source."""
CONFIDENCE_DOUBTED = 0.6
"""Common practice, no source: typed once, or in two ways."""

Line = dict[str, SheetCell]


def claims(document: Document) -> bool:
    """Say whether this document is a typed table: its head names exactly our columns."""
    return _head(document) is not None


def extract(document: Document) -> Reading:
    """Return the reading of a typed table; ReadingFileError on a value outside its column."""
    lines = _lines(document)
    samples: list[Sample] = []
    unread: list[Unread] = []
    for _, group in groupby(lines, key=lambda line: (_text(line, "sample"), _text(line, "point"))):
        members = list(group)
        results = []
        for line in members:
            found = _result(line)
            if isinstance(found, Unread):
                unread.append(found)
            else:
                results.append(found)
        samples.append(_sample(document, members[0], tuple(results)))
    return Reading(
        source=Source(document.file, document.sha256, "typed", 1),
        samples=tuple(samples),
        unread=tuple(unread),
        warnings=(*document.warnings, say("typed.by_hand")),
    )


def _head(document: Document) -> int | None:
    """Return the row of the column names, or None."""
    if len(document.sheets) != 1:
        return None
    for row in document.sheets[0].rows[:20]:
        if tuple(cell.text.strip().lower() for cell in row) == COLUMNS:
            return row[0].row
    return None


def _lines(document: Document) -> list[Line]:
    head = _head(document)
    rows = document.sheets[0].rows
    return [
        {COLUMNS[cell.column - 1]: cell for cell in row if cell.column <= len(COLUMNS)}
        for row in rows
        if head is not None and row[0].row > head and not row[0].text.startswith("#")
    ]


def _text(line: Line, column: str) -> str:
    return line[column].text.strip() if column in line else ""


def _where(line: Line) -> tuple[Where, ...]:
    named = (("result", "value"), ("analyte", "label"), ("unit", "unit"))
    return tuple(
        Where(of=of, sheet="", cell=_address(line[column]))  # type: ignore[arg-type]  # from named
        for column, of in named
        if column in line
    )


def _address(cell: SheetCell) -> str:
    return f"{chr(ord('A') + cell.column - 1)}{cell.row}"


def _sample(document: Document, line: Line, results: tuple[Result, ...]) -> Sample:
    taken = _text(line, "taken").lower()
    if taken not in TAKEN:
        place = _address(line["taken"])
        raise ReadingFileError(document.file, place, f"{taken!r} is not one of {', '.join(TAKEN)}")
    return Sample(
        id=_text(line, "sample") or None,
        point=_text(line, "point") or None,
        collected=_text(line, "collected") or None,
        taken=TAKEN[taken],
        results=results,
    )


def _result(line: Line) -> Result | Unread:
    text, label = _text(line, "result"), _text(line, "analyte")
    where = _where(line)
    parsed = parse_value(text) if text else None
    if parsed is None or not label:
        shown = " ".join(cell.text for cell in line.values())
        return Unread(shown, where[0], say("typed.not_a_result", text=text or "(empty)"))
    match = identify(label)
    unit_text = _text(line, "unit") or parsed.unit_text
    basis = _text(line, "basis").removeprefix("as ") or (match.basis if match else None)
    review = _review(line, parsed, match, unit_text)
    limit = parse_value(_text(line, "reporting_limit"))
    result = Result(
        analyte=match.slug if match else None,
        label=label,
        text=text,
        state=parsed.state,
        operator=parsed.operator,
        value=parsed.value,
        present=parsed.present,
        unit=unit_text or None,
        basis=basis or None,
        fraction=cast("Fraction | None", match.fraction) if match else None,
        qualifiers=parsed.qualifiers,
        method=_text(line, "method") or None,
        reporting_limit=limit.value if limit else None,
        decimals=parsed.decimals,
        confidence=CONFIDENCE_DOUBTED if review else CONFIDENCE_TYPED,
        review=review,
        where=where,
    )
    if match is None or parsed.value is None or unit_text is None:
        return result
    return replace(result, normalized=normalize(match.slug, parsed.value, unit_text, basis or None))


def _review(
    line: Line, parsed: ParsedValue, match: Match | None, unit_text: str | None
) -> tuple[Message, ...]:
    """Return why a person should look at this line again."""
    label, again = _text(line, "analyte"), _text(line, "result_again")
    reasons: list[Message] = []
    if match is None:
        reasons.append(say("typed.name_unknown", label=label))
    elif match.how == "fuzzy":
        reasons.append(say("typed.name_near", label=label, analyte=analyte(match.slug).name))
    if again and parse_value(again) != parsed and again != _text(line, "result"):
        reasons.append(say("typed.twice_differs", first=_text(line, "result"), second=again))
    elif not again and match and analyte(match.slug).health:
        reasons.append(say("typed.twice_missing"))
    if unit_text and unit(unit_text) is None:
        reasons.append(say("typed.unit_unknown", unit=unit_text))
    elif not unit_text and parsed.value is not None and (not match or match.slug != "ph"):
        reasons.append(say("typed.unit_missing"))
    return tuple(reasons)

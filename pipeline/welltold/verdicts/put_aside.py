"""What a result would mean as it is printed, where a person put another in its place.

The entry counts: whoever holds the sheet reads it best. But a printed number over a level for
health does not vanish without a word.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..messages import Message, say
from ..reading import Result
from ..values import ParsedValue, parse_value
from .judging import Answer, Context, answer


def put_aside(result: Result, name: str, told: Answer, context: Context) -> Iterator[Message]:
    """Yield a word where the printed result is over a level for health, and the entry is not."""
    made = result.correction
    if made is None or told.judged.verdict == "health_concern":
        return
    printed = as_printed(result)
    if printed is None or answer(printed, name, context).judged.verdict != "health_concern":
        return
    shown = f"{printed.text} {printed.unit or ''}".strip()
    yield say("verdict.put_aside", printed=shown, text=made.text, by=made.by)


def as_printed(result: Result) -> Result | None:
    """Return a corrected result as it was before; None where it could not be read."""
    parsed = _parsed(result.text)
    if parsed is None or result.correction is None:
        return None
    unit = result.correction.printed_unit
    return replace(
        result,
        state=parsed.state,
        operator=parsed.operator,
        value=parsed.value,
        present=parsed.present,
        unit=result.unit if unit is None else unit or None,
        normalized=None,
        alternatives=(),
        correction=None,
    )


def _parsed(text: str) -> ParsedValue | None:
    """Return the printed text as it was most likely read."""
    return parse_value(text) or parse_value(text, decimal_comma=True)

"""What a lab says of the way a result is going is handed on, and nothing else is taken for it."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf

from welltold_parsers.layout import read_document

SAID = "Last year your nitrate was 4.8, so it is rising."


def told_of(*lines: str) -> list[str]:
    """Return what the reading of a letter hands on."""
    body = [(80.0 + 13 * at, {40.0: text}) for at, text in enumerate(lines)]
    first = (40.0, {40.0: "Iron was 0.52 mg/L."})
    reading = read_document(pdf(page(first, *body)))
    return [m.args["text"] for m in reading.warnings if m.code == "read.trend"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (f"We found nitrate at 6.3 mg/L. {SAID} The iron was 0.52 mg/L.", [SAID]),
        ("Arsenic has gone up since 2021, from 4 to 8 ug/L.", None),
        ("If nitrate is rising since the last test of 2020, call us.", []),
        ("Nitrate levels can be increasing where fields were tilled in 2019.", []),
        ("The pressure is dropping.", []),
        ("Nitrate 6.3 mg/L 10", []),
    ],
)
def test_only_what_compares_two_times_is_told(text: str, told: list[str] | None) -> None:
    assert told_of(text) == ([text] if told is None else told)


def test_a_sentence_over_two_lines_is_told_whole() -> None:
    assert told_of("Last year your nitrate was 4.8,", "so it is rising.") == [SAID]

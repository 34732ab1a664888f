"""Reads a printed result that is one, for the tests of its grammar."""

from __future__ import annotations

from welltold.values import ParsedValue, parse_value


def read(text: str, **options: bool) -> ParsedValue:
    found = parse_value(text, **options)
    assert found is not None, text
    assert found.text == text
    return found

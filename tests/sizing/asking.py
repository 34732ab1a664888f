"""What a sizing asks of the person on site."""

from __future__ import annotations

from welltold.interpretation import Condition


def open_about(conditions: tuple[Condition, ...], words: str) -> Condition:
    found = [one for one in conditions if words in one.asks]
    assert len(found) == 1, [one.asks for one in conditions]
    return found[0]

"""What would tell what this sheet leaves open, for page 1 of a sheet without a health concern."""

from __future__ import annotations

from collections.abc import Container, Iterator

from welltold.speech import sentence_start

from .picture import Picture, low_but_for_the_draw, short_names
from .printed import Item


def open_steps(picture: Picture, said: Container[str]) -> Iterator[tuple[str, str]]:
    """Yield for which results a step is, by name, and the step; one step for all that share it.

    ``said``: codes of steps that page 1 tells elsewhere. What is only open in the first water of
    the day is told in the first sentences, and waits for the next sample.
    """
    if picture.urgent:
        return
    together: dict[str, list[Item]] = {}
    for item in picture.open_:
        for one in () if low_but_for_the_draw(item) else item.finding.do:
            if one.code not in said:
                together.setdefault(one.text, []).append(item)
    for text, items in together.items():
        yield sentence_start(short_names(items)), text

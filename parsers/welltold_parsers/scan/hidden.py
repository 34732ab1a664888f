"""Doubts what was taken from text hidden behind a picture, where the picture was not read.

Needs nothing of the extra: without it, that text is all there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from welltold.messages import say
from welltold.reading import Reading, Result
from welltold_parsers.geometry import Page


def hidden_doubted(reading: Reading, pages: Sequence[Page]) -> Reading:
    """Doubt every result that was taken from text hidden behind a picture which nobody read."""
    hidden = {page.number for page in pages if is_hidden(page)}
    if not hidden:
        return reading

    def judged(result: Result) -> Result:
        if not any(place.page in hidden for place in result.where):
            return result
        review = (*result.review, say("scan.hidden_layer"))
        return replace(result, confidence=round(result.confidence * 0.8, 4), review=review)

    samples = (replace(s, results=tuple(map(judged, s.results))) for s in reading.samples)
    return replace(reading, samples=tuple(samples))


def is_hidden(page: Page) -> bool:
    """Whether most words of a page are hidden text behind its picture."""
    return page.scan is None and 2 * sum(w.confidence < 1 for w in page.words) > len(page.words) > 0

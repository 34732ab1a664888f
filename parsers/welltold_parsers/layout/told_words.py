"""Where a paragraph says something: the words that say it, not the whole line they stand on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from welltold.reading import Result, Sample, Where

from .cells import Cell, Line, join, of_words, where

Span = tuple[int, int]


class Paragraph:
    """Lines that are read as one text, and where in it each of them begins."""

    __slots__ = ("lines", "starts", "text")

    def __init__(self, lines: Sequence[Line]) -> None:
        self.lines = lines
        self.starts: list[int] = []
        self.text = ""
        for line in lines:
            self.starts.append(len(self.text))
            self.text += " ".join(line.text.split()) + " "

    def line_at(self, at: int) -> Cell:
        """Return the whole line on which this place of the text stands."""
        return join(self.lines[self._number(at)].cells)

    def cell_at(self, at: int, told: str, clause: str) -> Cell:
        """Return the words at this place that say ``told``.

        Where other words say it ("No bacteria were found"), those of the clause on that line.
        """
        if at >= 0 and told and self.text.startswith(told, at):
            return self._words((at, at + len(told)), self._line_of(at, told))
        begins = self.text.find(clause, max(at - len(clause), 0))
        if 0 <= begins <= at < begins + len(clause):
            return self._words((begins, begins + len(clause)), self._number(at))
        return self.line_at(at)

    def _number(self, at: int) -> int:
        return max(i for i, start in enumerate(self.starts) if start <= max(at, 0))

    def _line_of(self, at: int, told: str) -> int:
        """Return the line that has the first digit of what is told, else its beginning."""
        digit = next((n for n, c in enumerate(told) if c.isdigit()), 0)
        return self._number(at + digit)

    def _words(self, span: Span, number: int) -> Cell:
        """Return the words of one line that lie in this stretch of the text."""
        whole = join(self.lines[number].cells)
        at, inside = self.starts[number], []
        for word in whole.words:
            if not self.text.startswith(word.text, at):
                return whole  # the words are not those of the text, so that nothing can be counted
            if at < span[1] and at + len(word.text) > span[0]:
                inside.append(word)
            at += len(word.text) + 1
        return of_words(tuple(inside), whole.line) if inside else whole


class Exact:
    """The exact places of what sentences tell, put in at the end.

    Until then name and answer of a sentence have one place, their line, by which sentences that say
    a row of a table again are known.
    """

    __slots__ = ("_places",)

    def __init__(self) -> None:
        self._places: dict[tuple[str, str, Where], tuple[Where, Where]] = {}

    def keep(
        self, name: str, told: str, lines: tuple[Cell, Cell], words: tuple[Cell, Cell]
    ) -> None:
        """Keep where on their lines the words stand that name the test and give the answer."""
        found = where("label", words[0]), where("value", words[1])
        self._places.setdefault((name, told, where("value", lines[1])), found)

    def put(self, sample: Sample) -> Sample:
        """Return the sample with the exact places of the results that sentences tell."""
        if not self._places:
            return sample
        return replace(sample, results=tuple(map(self._exact, sample.results)))

    def _exact(self, result: Result) -> Result:
        value = next((place for place in result.where if place.of == "value"), None)
        found = self._places.get((result.label, result.text, value)) if value else None
        if found is None or value is None:
            return result
        label, told = found
        first = {"label": label, "value": told}
        places = tuple(first.pop(place.of, place) for place in result.where)
        return replace(result, where=places)

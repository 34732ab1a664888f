"""Plain text with columns made of blanks, as pages of equally wide characters."""

from __future__ import annotations

import re

from welltold.errors import TooLargeError
from welltold.messages import say
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Page, Word
from welltold_parsers.limits import Limits

WIDTH = 6.0
"""Points of one character, so that left // WIDTH is the column counted from 0."""
HEIGHT = 12.0
"""Points of one line, so that top // HEIGHT is the line counted from 0."""
_TAB = 8
_BREAK = re.compile(r"\r\n|\r|\n")
_WORD = re.compile(r"\S+")


def read(source: Source, limits: Limits) -> Opened:
    """Return one page per form feed; a word's box gives its line and column."""
    decoded = source.decoded
    texts = decoded.text.rstrip("\f\r\n\x1a ").split("\f")
    if len(texts) > limits.pages:
        raise TooLargeError(source.name, "pages", len(texts), limits.pages)
    pages = tuple(_page(text, number) for number, text in enumerate(texts, start=1))
    for page in pages:
        if len(page.words) > limits.words:
            raise TooLargeError(source.name, "words on a page", len(page.words), limits.words)
    guess = (say("door.encoding_guessed", encoding=decoded.encoding),) if decoded.guessed else ()
    return Opened(pages=pages, warnings=guess)


def _page(text: str, number: int) -> Page:
    words: list[Word] = []
    widest = 1
    lines = [line.expandtabs(_TAB) for line in _BREAK.split(text)]
    for index, line in enumerate(lines):
        top = index * HEIGHT
        widest = max(widest, len(line))
        words.extend(
            Word(found[0], found.start() * WIDTH, top, found.end() * WIDTH, top + HEIGHT)
            for found in _WORD.finditer(line)
        )
    return Page(number, widest * WIDTH, len(lines) * HEIGHT, tuple(words), plain_text=True)

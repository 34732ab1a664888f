"""Brings analyte names, as labs print them, to one form, and takes them apart.

``normalise`` gives the form in which names are compared. ``readings_of`` peels off what is not
part of the name (fraction, basis, method, footnotes, list numbers) and yields the possible cores,
least peeled first. Nothing here knows which analytes exist; that is ``analytes``.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from .tables import read_table

KINDS = frozenset({"fraction", "basis", "noise"})
Phrase = tuple[str, str | None]
"""Kind, and the fraction or basis that it states."""

_NOT_NAME = re.compile(r"[^a-z0-9]+")
_NOT_WORD = re.compile(r"[^A-Za-z0-9]+")
_GREEK = str.maketrans({"α": " alpha ", "β": " beta ", "γ": " gamma ", "δ": " delta "})
# Patterns for labels that are not listed as they stand; `re` compiles and keeps them at first use.
_PLUSES = r"(?<=[A-Za-z])\+{2,3}"
_LOWERED = r"\b((?:Ca|H)?CO|NO|SO|PO|SiO|NH) ([2-4])(?!\d)"
"""A formula whose lowered figure is printed apart: "NO 3"."""
_CAS = r"(?i)(?<![\w.])(?:CAS\s*(?:No\.?|#|:)?\s*)?(\d{2,7}-\d{2}-\d)(?![\w-])"
_NUMBERING = r"^\s*\(?\d{1,3}[.):]\s*(?=[A-Za-z])"
_FOOTNOTE = r"\s*(?:[(\[]\s*(?:\d{1,2}|[*†‡]+)\s*[)\]]|[¹²³⁰⁴-⁹]{1,2}|(?<=[a-z]{4})\*+\d)\s*$"
_METHOD = (
    r"(?i)[(\[,;]?\s*\b(?:by\s+)?(?:US)?(?:EPA|SM|ASTM|Standard Methods?|Method|HACH)\b[\s:#-]*"
    r"\d{3,4}[\w.\s-]*[)\]]?"
)


@dataclass(frozen=True, slots=True)
class Core:
    """One way to read a label: the name's words, and what stood around them."""

    words: tuple[str, ...]
    """As printed, in order; never empty."""
    fraction: str | None = None
    basis: str | None = None

    @property
    def name(self) -> str:
        """Return the words in the form of ``normalise``."""
        return " ".join(self.words).lower()


def fold(text: str) -> str:
    """Return the text in plain letters: accents off, sub- and superscripts as digits, Greek named.

    A doubled charge becomes its number ("Fe++" as "Fe2+"), for else ferrous would read as iron, and
    "+/-" a word, for the uncertainty of radium is not radium.
    """
    if "%" in text or "+" in text or "±" in text:
        text = text.replace("%", " percent ").replace("+/-", " ± ").replace("±", " uncertainty ")
        text = re.sub(_PLUSES, lambda m: f"{len(m[0])} ", text)
    if "O " in text or "NH " in text:
        text = re.sub(_LOWERED, r"\1\2", text)
    if text.isascii():
        return text
    flat = unicodedata.normalize("NFKD", text.translate(_GREEK))
    return "".join(c for c in flat if not unicodedata.combining(c))


def normalise(label: str) -> str:
    """Return the form in which names are compared: lower-case words and digits, single spaces."""
    return _NOT_NAME.sub(" ", fold(label).lower()).strip()


def cas_is_valid(cas: str) -> bool:
    """Tell whether this is a CAS number whose check digit is right (CAS: sum of digit x place)."""
    if not re.fullmatch(r"[1-9]\d{1,6}-\d{2}-\d", cas):
        return False
    *digits, check = (int(c) for c in cas if c.isdigit())
    return sum(place * digit for place, digit in enumerate(reversed(digits), start=1)) % 10 == check


def split_cas(label: str) -> tuple[str, str | None]:
    """Take a CAS number out of a label; (label without it, number or None)."""
    found = re.search(_CAS, label)
    if not found or not cas_is_valid(found[1]):
        return label, None
    return f"{label[: found.start()]} {label[found.end() :]}", found[1]


@cache
def _phrases() -> tuple[dict[tuple[str, ...], Phrase], int]:
    """Return the words that surround names, and the length of the longest phrase."""
    table: dict[tuple[str, ...], Phrase] = {}
    for row in read_table("label_words.csv"):
        key = tuple(normalise(row.text("words")).split())
        if key in table:
            raise row.wrong(f"{row.text('words')!r} is listed twice")
        table[key] = (row.choice("kind", KINDS), row.optional("value"))
    return table, max(len(key) for key in table)


def _cut(core: Core, kind: str) -> Iterator[Core]:
    """Yield the core with one phrase of that kind taken out, for each place where one stands."""
    table, longest = _phrases()
    low = tuple(word.lower() for word in core.words)
    for start in range(len(low)):
        for size in range(min(longest, len(low) - start), 0, -1):
            found, value = table.get(low[start : start + size], ("", None))
            if found != kind or size == len(low):
                continue
            if value and len(low[start]) == 1 and start + size != len(low):
                continue  # "T", "D", "N", "P" mean something only behind the name
            words = core.words[:start] + core.words[start + size :]
            yield _with(words, core, (kind, value))
            break


def _with(words: tuple[str, ...], core: Core, phrase: Phrase) -> Core:
    kind, value = phrase
    if kind == "basis":
        # two bases in one label: no analyte has such a basis, so nothing will match
        both = value if core.basis in {None, value} else f"{core.basis} {value}"
        return Core(words, core.fraction, both)
    if kind == "fraction":
        # "total dissolved iron" is the whole of what passed the filter
        fraction = "dissolved" if core.fraction == "dissolved" else value
        return Core(words, fraction, core.basis)
    return Core(words, core.fraction, core.basis)


def _steps(core: Core, kind: str) -> Iterator[Core]:
    """Yield what is left as one phrase after the other of that kind is taken out."""
    while (shorter := next(_cut(core, kind), None)) is not None:
        yield shorter
        core = shorter


def _word_groups(core: Core) -> Iterator[list[Core]]:
    yield [core]
    bare = core
    for kind in ("basis", "noise"):
        yield from ([step] for step in _steps(core, kind))
    for kind in ("noise", "basis", "noise"):
        for step in _steps(bare, kind):
            bare = step
            yield [bare]
    yield list(_cut(bare, "fraction"))
    yield from ([step] for step in _steps(bare, "fraction"))


def readings_of(label: str) -> Iterator[tuple[Core, ...]]:
    """Yield groups of equally likely cores of a label, the least peeled first.

    A group with several cores comes from words that may or may not belong to the name ("total",
    "dissolved"); when such cores name different analytes, the label is ambiguous.
    """
    seen: set[Core] = set()
    stripped = re.sub(_NUMBERING, "", label)
    for text in dict.fromkeys(
        (
            stripped,
            re.sub(_FOOTNOTE, "", stripped),
            re.sub(_METHOD, " ", re.sub(_FOOTNOTE, "", stripped)),
        )
    ):
        for form in dict.fromkeys((text, inverted(text))):
            words = tuple(_NOT_WORD.sub(" ", fold(form)).split())
            if not words:
                continue
            for group in _word_groups(Core(words)):
                fresh = tuple(core for core in dict.fromkeys(group) if core not in seen)
                seen.update(fresh)
                if fresh:
                    yield fresh


def inverted(label: str) -> str:
    """Turn a catalogue name round: "Dichloroethane, 1,1-" to "1,1- Dichloroethane"."""
    head, comma, tail = label.partition(", ")
    return f"{tail} {head}" if comma else label


def parts_of(label: str) -> tuple[str, ...]:
    """Return the pieces of a label that says one thing twice: "Iron (Fe)", "Fe - Iron"."""
    pieces = re.split(r"[()\[\]/=;:]|\s-\s|,\s", label)
    return tuple(piece.strip() for piece in pieces if normalise(piece))

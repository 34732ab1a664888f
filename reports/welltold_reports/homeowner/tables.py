"""The tables of the report: quiet results, not tested, retest, words, sources, appendix."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

from welltold.doubts import doubts_of, told_of
from welltold.interpretation import LevelUsed, SampleView
from welltold.messages import catalogue
from welltold.reading import Reading, Result
from welltold.speech import basis_words, phrase

from ..numbers import with_unit
from ..wording import analyte_name, date_words, in_sentence, listed, texts, word
from .cards import unknown_tests
from .model import Entry, Table
from .printed import Item, as_printed, as_stated, kind_words, level_words, place_words

_SUMS = {"nitrate_nitrite": "nitrate"}
"""A total that is tested with its main part."""
_HOW = "verdict.how_"
"""What begins the codes of sentences on how a bottle is filled."""


def _table(caption: str, heads: Sequence[str], rows: Iterable[tuple[str, ...]]) -> Table | None:
    """Return a table with its heads from the catalogue; None when it would be empty."""
    filled = tuple(rows)
    if not filled:
        return None
    return Table(word(caption), tuple(word(head) for head in heads), filled)


def quiet_table(items: Sequence[Item]) -> Table | None:
    """Return the results with no concern found."""
    rows = (
        (item.name, item.printed, yardstick_cell(item))
        for item in items
        if item.finding.verdict == "no_concern_found"
    )
    return _table(
        "quiet_caption", ("quiet_head_name", "quiet_head_value", "quiet_head_level"), rows
    )


def unknown_table(items: Sequence[Item]) -> Table | None:
    """Return the tests that nobody knows, where they are too many for cards."""
    rows = (
        (item.finding.label, item.printed, place_words(item.finding.where, brief=True))
        for item in unknown_tests(items)
    )
    heads = tuple(f"appendix_head_{head}" for head in ("label", "value", "place"))
    return _table("unknown_caption", heads, rows)


def quiet_names(items: Sequence[Item]) -> tuple[str, ...]:
    """Return which results show no concern, in sentences; their numbers stand in the appendix."""
    quiet = [item for item in items if item.finding.verdict == "no_concern_found"]
    if not quiet:
        return ()
    names = list(dict.fromkeys(item.name for item in quiet))
    named = listed([names[0], *map(in_sentence, names[1:])])
    return (word("quiet_names", names=named), word("quiet_where"))


def untested_table(items: Sequence[Item]) -> Table | None:
    """Return the tests that the sheet lacks, with why they matter; one row for the same reason.

    How each bottle is filled and how long it keeps stands on the cards for the next sample.
    """
    together: dict[str, list[str]] = {}
    for item in items:
        if item.finding.verdict == "not_tested":
            whys = (one for one in item.finding.why if not one.code.startswith(_HOW))
            together.setdefault(" ".join(texts(whys)), []).append(item.name)
    rows = (
        (listed([names[0], *map(in_sentence, names[1:])]), why) for why, names in together.items()
    )
    return _table("untested_caption", ("untested_head_what", "untested_head_why"), rows)


def retest_table(sample: SampleView) -> Table | None:
    """Return what to test again, when, and why."""
    together: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for one in sample.retest:
        key = (date_words(one.when), texts(one.why))
        together.setdefault(key, []).append(one.analyte)
    same: dict[str, list[tuple[str, tuple[str, ...]]]] = {}
    for key, slugs in together.items():
        same.setdefault(_retested(slugs), []).append(key)
    rows = ((what, *_in_turn(keys)) for what, keys in same.items())
    heads = ("retest_head_what", "retest_head_when", "retest_head_why")
    return _table("retest_caption", heads, rows)


def _retested(slugs: Sequence[str]) -> str:
    """Return what to test again as a list in words, no sum beside its main part."""
    names = [analyte_name(slug) for slug in slugs if _SUMS.get(slug) not in slugs]
    return listed([names[0], *map(in_sentence, names[1:])])


def _in_turn(keys: Sequence[tuple[str, tuple[str, ...]]]) -> tuple[str, str]:
    """Return the dates of one test in one cell, and their reasons, each once."""
    whys = dict.fromkeys(why for _, reasons in keys for why in reasons)
    return word("retest_then").join(when for when, _ in keys), " ".join(whys)


def source_entries(items: Sequence[Item]) -> tuple[Entry, ...]:
    """Return every level that counts for an analyte, once, with its status and source."""
    entries: dict[str, dict[tuple[str, str], dict[str, None]]] = {}
    for item in items:
        for level in _told_levels(item):
            if level.value is not None:
                shared = entries.setdefault(item.name, {}).setdefault(_source(level), {})
                shared[_source_level(item, level)] = None
    return tuple(
        Entry(name, tuple(_source_line(tuple(levels), *of) for of, levels in sources.items()))
        for name, sources in entries.items()
    )


def _told_levels(item: Item) -> tuple[LevelUsed, ...]:
    """Return the levels whose source a reader asks for: of a quiet result not what only aims."""
    finding = item.finding
    if finding.verdict != "no_concern_found":
        return (*finding.levels, *finding.also)
    compared = tuple(level for level in finding.levels if level.kind != "goal")
    return compared or finding.levels


def _source(level: LevelUsed) -> tuple[str, str]:
    """Return where a level is published and its status; "" where its kind says that already."""
    told = level.status in {"in_force", level.kind}
    return phrase(level.citation), "" if told else _status(level)


def _source_line(levels: Sequence[str], citation: str, status: str) -> str:
    """Return the levels of one analyte that have the same source and status, in one line."""
    shown = "; ".join(levels)
    if not status:
        return word("source_line", level=shown, citation=citation)
    return word("source_line_status", level=shown, status=status, citation=citation)


def appendix_table(items: Sequence[Item]) -> Table | None:
    """Return every result as the lab printed it, with where it stands."""
    rows = (_appendix_row(item) for item in items if item.finding.verdict != "not_tested")
    heads = ("label", "value", "level", "verdict", "place")
    return _table("appendix_caption", [f"appendix_head_{head}" for head in heads], rows)


def word_table(pages: str) -> Table | None:
    """Return the words that stand on the pages, explained."""
    entries = catalogue("report")
    rows = (
        (entries[name], entries[f"means_{name.removeprefix('word_')}"])
        for name in entries
        if name.startswith("word_") and _stands(entries[name], pages)
    )
    return _table("words_caption", ("words_head_word", "words_head_means"), rows)


def _stands(term: str, pages: str) -> bool:
    """Whether a word stands on the pages, alone or in the plural; "as N" is not "was not"."""
    exact = any(char.isupper() for char in term[1:]) or "/" in term
    flags = re.NOFLAG if exact else re.IGNORECASE
    return bool(re.search(rf"(?<!\w){re.escape(term)}(s|es)?(?!\w)", pages, flags))


def short_verdict(item: Item) -> str:
    """Return the verdict in few words, for a column; its full words stand on the card."""
    return word(f"short_{item.finding.verdict}")


def shared_doubts(reading: Reading, items: Sequence[Item]) -> tuple[str, ...]:
    """Return the doubts that one look settles for many lines of this sample, each told once."""
    own = [item.result for item in items if item.result and item.result.review]
    results = reading.results
    return tuple(
        word("doubt_shared", what=told_of(doubt), why=" ".join(texts(doubt.reasons)))
        for doubt in doubts_of(reading)
        if doubt.of != "result" and any(results[number - 1] in own for number in doubt.results)
    )


def unread_lines(reading: Reading) -> tuple[str, ...]:
    """Return the lines that could not be read, with place and reason."""
    return tuple(
        word("unread_where", place=place_words([line.where]), text=line.text)
        + f" {line.reason.text}"
        for line in reading.unread
    )


def yardstick_cell(item: Item) -> str:
    """Return the one level to compare a result with, in the unit of the result beside it."""
    level = item.yardstick
    if level is None:
        return word("no_level")
    return level_words(item, level, item.in_printed_unit(level), brief=True)


def _status(level: LevelUsed) -> str:
    return phrase(level.status).replace("_", " ").lower()


def _source_level(item: Item, level: LevelUsed) -> str:
    """Return a level in its own unit, as its source prints it."""
    who = kind_words(level)
    if not level.value:
        return word("level_none_found" if item.is_germ else "level_line", who=who, value=0)
    value = with_unit(level.value, level.unit)
    value = basis_words(value, level.basis) if level.basis else value
    if level.low is not None:
        return word("level_range", who=who, low=with_unit(Decimal(level.low), None), high=value)
    return word("level_line", who=who, value=value)


def _as_in_the_appendix(result: Result) -> str:
    """Return a result as printed; for a corrected one also what was put in its place."""
    if result.correction is None:
        return as_printed(result)
    return word("value_corrected", value=as_stated(result), printed=result.text)


def _appendix_row(item: Item) -> tuple[str, ...]:
    finding = item.finding
    printed = _as_in_the_appendix(item.result) if item.result else item.amount or word("value_none")
    known = item.result and finding.where
    place = place_words(finding.where, brief=True) if known else item.source_words
    return (finding.label, printed, yardstick_cell(item), short_verdict(item), place)

"""What earlier sheets raised and this one cannot follow, as a short list."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from welltold.messages import say
from welltold.past import Earlier, EarlierLeft
from welltold.speech import basis_words, date_words

from ..numbers import rounded, trimmed, unit_words, with_unit
from ..wording import analyte_name, texts, word

MOST_OPEN = 6
"""Of what was only open then; health concerns are all told."""
DIGITS = 3
"""Of a number that we worked out ourselves."""


def left_lines(earlier: Earlier, shown: Collection[str | None]) -> tuple[str, ...]:
    """Return a line for each; not for ``shown``, which has a table with its reasons."""
    told = _told(earlier, shown)
    health = [one for one in told if one.verdict == "health_concern"]
    open_ = [one for one in told if one.verdict != "health_concern"]
    more = len(open_) - MOST_OPEN
    lines = dict.fromkeys(_line(one, earlier) for one in (*health, *open_[:MOST_OPEN]))
    return (*lines, *((say("earlier.left_more", n=more).text,) if more > 0 else ()))


def _line(one: EarlierLeft, earlier: Earlier) -> str:
    return " ".join(_sentences(one, earlier))


def _sentences(one: EarlierLeft, earlier: Earlier) -> Iterator[str]:
    day = date_words(one.collected) if one.collected else say("earlier.day_unknown").text
    yield say(
        "earlier.left",
        name=analyte_name(one.analyte, one.label),
        result=_result(one),
        day=day,
        file=earlier.sheets[one.sheet - 1].file,
    ).text
    if one.tested:
        yield say("earlier.left_tested").text
    yield from after_result(one)


def after_result(one: EarlierLeft) -> tuple[str, ...]:
    """Return what is said behind a result: what it meant then, why it is open, what to do."""
    meant = say("earlier.left_verdict", verdict=word(f"short_{one.verdict}")).text
    return meant, *texts(one.why), say("earlier.left_again").text


def left_heading(earlier: Earlier, shown: Collection[str | None]) -> str:
    """Return the heading: whether some of it is tested now, only in a way of no use beside it."""
    tested = any(one.tested for one in _told(earlier, shown))
    return say("earlier.head_left_open" if tested else "earlier.head_left").text


def _told(earlier: Earlier, shown: Collection[str | None]) -> list[EarlierLeft]:
    return [one for one in earlier.left if not (one.tested and one.analyte in shown)]


def _result(one: EarlierLeft) -> str:
    """Return the result as its lab printed it; rounded and marked where it was worked out."""
    if one.text:
        unit = unit_words(one.printed_unit)
        known = not unit or (one.printed_unit or "") in one.text or one.present is not None
        return one.text if known else f"{one.text} {unit}"
    if one.present is not None:
        return say("earlier.found" if one.present else "earlier.not_found").text
    if one.value is None:
        return word("value_none")
    amount = with_unit(trimmed(rounded(one.value, DIGITS)), one.unit)
    return word("value_combined", value=basis_words(amount, one.basis) if one.basis else amount)

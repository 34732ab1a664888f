"""One card for each finding that matters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from welltold.boil import LETS_BOIL, BoilAdvice, may_say
from welltold.interpretation import Finding, Verdict
from welltold.messages import Message

from ..wording import has_word, in_sentence, texts, word
from .hazards import hazard_of
from .lines import number_line
from .model import Card, CardGroup
from .picture import NAMED_BY, not_for_babies, persons_words
from .printed import Item, as_printed, correction_words, level_words, place_words

MOST_UNKNOWN = 6
"""With more tests that nobody knows they share one table, and have no cards of their own."""
CARDED: tuple[Verdict, ...] = ("health_concern", "watch", "cant_tell", "nuisance_only")
_WATCH = {"below": "", "at": "_at", "above": "_above", "open": "_other"}
_NEAR = frozenset({"verdict.near", "doubt.lab_range", "doubt.test_range"})
FROM_PIPES = frozenset({"lead", "copper"})
_GOAL = "verdict.over_goal"
_OF_PARTS = "verdict.total_parts"


def card_groups(items: Sequence[Item], advice: BoilAdvice) -> tuple[CardGroup, ...]:
    """Return the cards by verdict, the gravest first; urgent ones first within a group."""
    groups = []
    listed = unknown_tests(items)
    for verdict in CARDED:
        chosen = [i for i in items if i.finding.verdict == verdict and i not in listed]
        chosen.sort(key=lambda item: {"now": 0, "soon": 1, None: 2}[item.finding.urgency])
        if chosen:
            cards = [_card(item, advice, chosen, items) for item in chosen]
            groups.append(CardGroup(word(f"head_{verdict}"), _once(cards)))
    return tuple(groups)


def unknown_tests(items: Sequence[Item]) -> tuple[Item, ...]:
    """Return the tests that nobody knows, where they are too many for cards."""
    unknown = tuple(
        item
        for item in items
        if item.finding.verdict == "cant_tell"
        and item.finding.analyte is None
        and not item.finding.urgency
        and item.result is not None
    )
    return unknown if len(unknown) > MOST_UNKNOWN else ()


def _once(cards: list[Card]) -> tuple[Card, ...]:
    """Return the cards with the same steps written out only once."""
    first: dict[tuple[str, ...], str] = {}
    out = []
    for card in cards:
        named = first.setdefault(card.do, card.name) if card.do else card.name
        again = (word("card_do_same", name=in_sentence(named)),)
        out.append(card if named == card.name else replace(card, do=again))
    return tuple(out)


def verdict_words(item: Item, beside: Sequence[Item] = ()) -> str:
    """Return the verdict in words, with its urgency; a step for today is told as that.

    ``beside``: the other findings of the sample; acid water is no mere nuisance where metals are.
    """
    finding = item.finding
    if finding.verdict == "watch":
        return _watch_words(item)
    if finding.verdict == "nuisance_only" and not_for_babies(item):
        return word("verdict_nuisance_most")
    if finding.verdict == "nuisance_only" and _acid(item) and any(map(_from_pipes, beside)):
        return word("verdict_nuisance_acid")
    if finding.verdict == "health_concern" and not finding.for_today and _other_water(item):
        boil = any(one.code in LETS_BOIL for one in finding.do)
        return word("verdict_health_concern_boil" if boil else "verdict_health_concern_water")
    name = f"verdict_{finding.verdict}_{'now' if finding.for_today else finding.urgency}"
    soon = finding.urgency is not None and has_word(name)
    return word(name if soon else f"verdict_{finding.verdict}")


def _other_water(item: Item) -> bool:
    """Whether page 1 says for today to use other water, while the cause can wait some weeks."""
    uses = hazard_of(item.finding.analyte).uses
    return bool({uses["drink"], uses["baby"]} & {"bottled", "germs"})


def _acid(item: Item) -> bool:
    """Whether it is a pH below the range in which pipes last."""
    level, value = item.main_level, item.finding.value
    low = level.low if level and item.finding.analyte == "ph" else None
    return low is not None and value is not None and value < low


def _from_pipes(item: Item) -> bool:
    """Whether it is a metal that acid water takes from pipes, in an amount that counts."""
    return item.finding.analyte in FROM_PIPES and item.finding.verdict in {
        "health_concern",
        "watch",
    }


def _watch_words(item: Item) -> str:
    """Return why a result is watched; the verdict's own reasons say what it is close to."""
    side, why = _WATCH[item.against_yardstick], {one.code for one in item.finding.why}
    if not side and _GOAL in why:
        side = "_goal"
    elif not side and why & _NEAR:
        side = "_near"
    return word(f"verdict_watch{side}")


def how_sure(item: Item) -> tuple[str, ...]:
    """Return how the value was read; quote the sheet when a person should look."""
    if item.result is None:
        return (item.source_words,)
    place = place_words(item.result.where)
    lines = [word("sure_read", place=place)]
    if item.result.review:
        text = f"{item.result.label} {as_printed(item.result)}"
        lines = [word("sure_look", text=text), word("sure_look_where", place=place)]
        lines += texts(item.result.review)
    if item.result.correction:
        lines.append(correction_words(item.result))
    return tuple(lines)


def _card(item: Item, advice: BoilAdvice, of: Sequence[Item], beside: Sequence[Item]) -> Card:
    """Return the card of one finding; of a sum beside its main part only what it is a sum of.

    ``of``: the findings of the same verdict; ``beside``: all of the sample.
    """
    finding = item.finding
    slugs = {one.finding.analyte for one in of}
    a_sum = item.result is None and NAMED_BY.get(finding.analyte or "", "-") in slugs
    part = finding.fraction == "dissolved" and any(_whole(one, finding) for one in of)
    line = None if a_sum or part else number_line(item)
    why = [one for one in finding.why if not a_sum or one.code == _OF_PARTS] or finding.why
    levels = tuple(dict.fromkeys(level_words(item, lv) for lv in finding.levels))
    return Card(
        verdict=finding.verdict,
        shape=word(f"shape_{finding.verdict}"),
        verdict_words=verdict_words(item, beside),
        name=item.heading,
        value=item.value_text,
        levels=() if line or a_sum or part else levels,
        line=line,
        what=(word("card_part"),) if part else texts(why),
        who="" if part else _who(finding),
        do=_allowed(finding.do, advice),
        sure=how_sure(item),
    )


def _whole(item: Item, part: Finding) -> bool:
    """Whether an item is the whole amount of what another one is the dissolved part of."""
    return item.finding.analyte == part.analyte and item.finding.fraction != "dissolved"


def _allowed(messages: tuple[Message, ...], advice: BoilAdvice) -> tuple[str, ...]:
    """Return the sentences without one that would let somebody boil against the boil rule."""
    return texts(message for message in messages if may_say(message.code, advice))


def _who(finding: Finding) -> str:
    persons = persons_words(finding.persons)
    name = "who_everyone" if "everyone" in finding.persons else "who_matters"
    return word(name, persons=persons) if persons else ""

"""Builds the page of cards: one for each bottle, and one on shock chlorination where it is due."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields

from welltold.interpretation import Interpretation, SampleView
from welltold.messages import Language, say, speaking
from welltold.sampling import SampleCard, ShockCard, sample_cards, shock_card
from welltold.sampling.cards import Asked
from welltold.speech import phrase

from ..homeowner.build import about, sample_line
from ..visible import only_visible
from ..wording import analyte_name, in_sentence, listed, texts

BLANKS = ("day", "hour", "tap", "ahead")


@dataclass(frozen=True, slots=True)
class Heads:
    """The headings that every card has."""

    tests: str
    do: str
    ship: str
    write: str
    shock: str
    sources: str


@dataclass(frozen=True, slots=True)
class CardBlock:
    """One card, ready for a page format."""

    number: str
    """"Card 2 of 5"."""
    heading: str
    tests: tuple[str, ...]
    do: tuple[str, ...]
    ship: tuple[str, ...]
    write: tuple[str, ...]
    blanks: tuple[str, ...]
    """What is filled in by hand; empty where no bottle is sent."""


@dataclass(frozen=True, slots=True)
class ShockBlock:
    """The card on shock chlorination."""

    heading: str
    first: tuple[str, ...]
    measure: str
    """What is said before the list of what to measure; "" where the amounts are told."""
    measures: tuple[str, ...]
    measure_note: str
    """Where those numbers can be found."""
    water: tuple[str, ...]
    amounts_head: str
    amounts: tuple[str, ...]
    amounts_notes: tuple[str, ...]
    do: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardsPage:
    """Everything on the page."""

    language: Language
    title: str
    sample: str
    intro: tuple[str, ...]
    heads: Heads
    cards: tuple[CardBlock, ...]
    shock: ShockBlock | None
    sources: tuple[str, ...]
    about: tuple[str, ...]


def build_cards(view: Interpretation, index: int) -> CardsPage:
    """Return the cards of the sample at ``index``; pure, the same for the same input."""
    with speaking(view.language):
        return only_visible(_page(view, view.samples[index]))


def _page(view: Interpretation, sample: SampleView) -> CardsPage:
    cards, shock = sample_cards(sample, view.site), shock_card(sample, view.site)
    cited = [one for card in cards for one in card.citations]
    cited += shock.citations if shock else ()
    sources = (phrase(part.strip()) for one in cited for part in one.split(";"))
    return CardsPage(
        language=view.language,
        title=_said("title"),
        sample=sample_line(sample),
        intro=(_said("intro"), _said("follow")) if cards else (_said("none"),),
        heads=Heads(*(_said(f"head_{field.name}") for field in fields(Heads))),
        cards=tuple(_block(card, at, len(cards)) for at, card in enumerate(cards, start=1)),
        shock=_shock(shock) if shock else None,
        sources=tuple(dict.fromkeys(sources)),
        about=about(view),
    )


def _said(code: str, /, **args: object) -> str:
    return say(f"sampling.{code}", **args).text


def _block(card: SampleCard, number: int, all_: int) -> CardBlock:
    return CardBlock(
        number=_said("cut", n=number, all=all_),
        heading=_said("head", n=number, name=card.name),
        tests=tuple(_by_date(card.tests)),
        do=texts(card.do),
        ship=texts(card.ship),
        write=texts(card.write),
        blanks=tuple(_said(f"blank_{name}") for name in BLANKS) if card.write else (),
    )


def _by_date(tests: Sequence[Asked]) -> Iterable[str]:
    """Yield "Iron and manganese: every year", one line for the tests of the same dates."""
    together: dict[tuple[str, ...], list[str]] = {}
    for one in tests:
        together.setdefault(one.when, []).append(analyte_name(one.analyte))
    for when, names in together.items():
        listed_ = listed([names[0], *map(in_sentence, names[1:])])
        yield _said("test_when", name=listed_, when="; ".join(when))


def _shock(card: ShockCard) -> ShockBlock:
    measure, amounts = texts(card.measure), texts(card.amounts)
    strengths = len(amounts) - 3 if amounts else 0
    return ShockBlock(
        heading=_said("shock_head"),
        first=texts(card.first),
        measure=measure[0] if measure else "",
        measures=measure[1:-1],
        measure_note=measure[-1] if len(measure) > 1 else "",
        water=texts(card.water),
        amounts_head=amounts[0] if amounts else "",
        amounts=amounts[1 : 1 + strengths],
        amounts_notes=amounts[1 + strengths :],
        do=texts(card.do),
    )

"""The homeowner's report as headings, sentences and rows, ready for any page format.

Everything here is text for a reader. The verdicts behind it were made by `welltold.verdicts`.
"""

from __future__ import annotations

from dataclasses import dataclass

from welltold.messages import Language

from ..change_bars import ChangeBars
from ..history_chart import HistoryChart
from ..number_line import NumberLine
from ..sender import Sender
from ..train_picture import TrainPicture


@dataclass(frozen=True, slots=True)
class Panel:
    """The one signal panel of page 1."""

    signal: str
    """WARNING, CAUTION, NOTICE or DANGER."""
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UseRow:
    """One use of the water and the answer to "can we?"."""

    use: str
    answer: str
    why: str


@dataclass(frozen=True, slots=True)
class StepLine:
    """One thing to do, and when."""

    when: str
    text: str


@dataclass(frozen=True, slots=True)
class Count:
    """How many results got one verdict, in words."""

    verdict: str
    shape: str
    text: str


@dataclass(frozen=True, slots=True)
class FirstPage:
    """The decision page."""

    main: tuple[str, ...]
    panel: Panel | None
    uses: tuple[UseRow, ...]
    steps: tuple[StepLine, ...]
    calls: tuple[str, ...]
    counts: tuple[Count, ...]
    untested: str
    sure: tuple[str, ...]
    taken: str = ""
    """How the water was taken, where that is known; it belongs to the sample's own line."""


@dataclass(frozen=True, slots=True)
class Card:
    """One finding that matters."""

    verdict: str
    shape: str
    """What the sign beside the words looks like, for those who cannot see it."""
    verdict_words: str
    name: str
    value: str
    levels: tuple[str, ...]
    line: NumberLine | None
    what: tuple[str, ...]
    who: str
    do: tuple[str, ...]
    sure: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CardGroup:
    """The cards of one verdict."""

    heading: str
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class StageBlock:
    """One stage to consider."""

    name: str
    purpose: str
    because: tuple[str, ...]
    open_: str
    """How much has to be found out before this stage is ordered; "" when nothing."""
    against: tuple[str, ...]
    """What this stage asks for and the water does not have."""
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrainBlock:
    """Stages in the order in which the water meets them."""

    heading: str
    names: str
    """The stages in one line; all that is said of a later choice."""
    stages: tuple[StageBlock, ...]
    """The stages in full, for the first choice."""
    left: str
    for_: tuple[str, ...]
    against: tuple[str, ...]
    picture: TrainPicture | None = None
    bars: ChangeBars | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption and column heads; every row has as many cells as there are heads."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A name with what there is to say about it."""

    name: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HistoryBlock:
    """The earlier results of one analyte."""

    name: str
    chart: HistoryChart | None
    note: str
    """That the picture leaves older results out; "" where it shows all."""
    table: Table


@dataclass(frozen=True, slots=True)
class HistoryPart:
    """What earlier sheets of the same well say."""

    heading: str
    caution: str
    sheets: tuple[str, ...]
    """Each earlier sheet, with why it is used or not; told before any number of them."""
    blocks: tuple[HistoryBlock, ...]
    left_heading: str = ""
    left: tuple[str, ...] = ()
    """What was raised then and cannot be followed here."""


@dataclass(frozen=True, slots=True)
class OutletStage:
    """One stage beside what was predicted behind it."""

    heading: str
    """The stage and the outcome, "Water softener: wrongly set"."""
    sentences: tuple[str, ...]
    table: Table | None
    look: str
    """The cheapest next look; "" for a stage at work."""


@dataclass(frozen=True, slots=True)
class OutletBlock:
    """One sheet with bottles from behind the equipment."""

    heading: str
    sentences: tuple[str, ...]
    """Which bottles are compared with what, or why none is."""
    stages: tuple[OutletStage, ...]
    health: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OutletPart:
    """What later bottles say of the water behind the equipment."""

    heading: str
    caution: tuple[str, ...]
    blocks: tuple[OutletBlock, ...]


@dataclass(frozen=True, slots=True)
class HomeownerReport:
    """The whole report of one sample."""

    language: Language
    title: str
    sample: str
    """Which sample, where and when, in one line."""
    first: FirstPage
    groups: tuple[CardGroup, ...]
    quiet: Table | None
    """The results with no concern found; for plain text, which has no table of every result."""
    quiet_names: tuple[str, ...]
    """The same by name, for the pages."""
    stages: tuple[str, ...]
    """What is said before the trains; all there is to say when nothing is needed."""
    trains: tuple[TrainBlock, ...]
    steps: tuple[str, ...]
    refused: tuple[Entry, ...]
    untested: Table | None
    retest: Table | None
    retest_always: tuple[str, ...]
    words: Table | None
    sources: tuple[Entry, ...]
    """Every level that an analyte was compared with, in one line with its citation."""
    sources_note: str
    appendix: Table | None
    notes: tuple[str, ...]
    """What the reader and the checks noticed about the sheet as a whole."""
    unread: tuple[str, ...]
    about: tuple[str, ...]
    unknown: Table | None = None
    """Tests that nobody knows, where they are too many for cards."""
    history: HistoryPart | None = None
    """Only where earlier sheets were given."""
    outlet: OutletPart | None = None
    """Only where there are bottles from behind the equipment."""
    sender: Sender | None = None
    """Who hands the report over; no part of what was found."""

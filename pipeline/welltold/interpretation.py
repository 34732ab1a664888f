"""The interpretation: what a reading means, as published in ``welltold.report/1``.

Everything a report renders is here; a renderer decides nothing. A field that is None and marked
``omit`` is not built or not asked for, and is left out of the JSON; every other None is printed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from .behind import OutletSheet
from .messages import LANGUAGE, Language, Message
from .past import Earlier
from .reading import Fraction, Operator, Reading, Taken, Where

SCHEMA = "welltold.report/1"

Verdict = Literal[
    "health_concern", "watch", "nuisance_only", "no_concern_found", "cant_tell", "not_tested"
]
Urgency = Literal["now", "soon"]
Person = Literal[
    "everyone",
    "infant",
    "pregnant",
    "nursing",
    "child",
    "elderly",
    "low_sodium_diet",
    "weak_immunity",
    "kidney_disease",
    "home_dialysis",
]
LevelKind = Literal[
    "primary_limit", "action_level", "treatment_technique", "secondary", "advisory", "goal"
]


def omit(default: Any = None) -> Any:
    """Return a field that is left out of the JSON while it is None."""
    return field(default=default, metadata={"omit": True})


@dataclass(frozen=True, slots=True)
class LevelUsed:
    """One published level that a result was compared with."""

    programme: str
    kind: LevelKind
    value: Decimal | None
    """The level, or the upper end of a range; None where the rule gives no number."""
    unit: str
    basis: str | None
    status: str
    citation: str
    low: Decimal | None = omit()
    """Lower end of a range (pH)."""


CALL_TODAY = "verdict.do_call_health_today"
"""The step to call the health department today, whatever the level was made for."""


@dataclass(frozen=True, slots=True)
class Finding:
    """The verdict on one analyte of one sample."""

    analyte: str | None
    """Slug, or None for a label that is not known."""
    label: str
    """As printed; the registry's plain name for calculated and not-tested findings."""
    text: str
    """The result as printed, "" for a calculated or not-tested one."""
    verdict: Verdict
    fraction: Fraction | None = None
    operator: Operator | None = None
    value: Decimal | None = None
    """In ``unit`` and ``basis``: the level's own when there is a level, else normalised."""
    low: Decimal | None = None
    """The interval that is possible, from ``low`` to ``high``, both in ``unit``."""
    high: Decimal | None = None
    unit: str | None = None
    basis: str | None = None
    present: bool | None = None
    urgency: Urgency | None = None
    persons: tuple[Person, ...] = ()
    levels: tuple[LevelUsed, ...] = ()
    why: tuple[Message, ...] = ()
    do: tuple[Message, ...] = ()
    confidence: float = 1.0
    where: tuple[Where, ...] = ()
    also: tuple[LevelUsed, ...] = ()
    """Levels for babies that the sentences tell, and that decide no verdict."""

    @property
    def for_today(self) -> bool:
        """Whether somebody has to act today: by its urgency, or since a step says so."""
        return self.urgency == "now" or any(step.code == CALL_TODAY for step in self.do)


@dataclass(frozen=True, slots=True)
class Check:
    """Whether the sheet agrees with itself."""

    check: str
    outcome: Literal["agrees", "doubt", "not_possible"]
    value: Decimal | None
    unit: str | None
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Index:
    """A number worked out from several results; it explains and never decides."""

    index: str
    value: Decimal | None
    """None: not possible, or outside of the range of the formula; ``why`` says which."""
    unit: str
    """``ratio`` for a number without a unit."""
    citation: str
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Goal:
    """The value a treatment has to reach."""

    value: Decimal | None
    unit: str
    basis: str | None


@dataclass(frozen=True, slots=True)
class Need:
    """Something that treatment, or another step, could improve."""

    analytes: tuple[str, ...]
    for_: Literal["health", "nuisance", "equipment"]
    goal: Goal | None
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Condition:
    """Something that must hold in the water that reaches a stage."""

    asks: str
    has: str
    holds: bool | None
    """None: not known; what to measure is said in ``asks``."""
    citation: str


@dataclass(frozen=True, slots=True)
class Worked:
    """One figure of a size, a setting or a year's use, with the arithmetic behind it."""

    of: str
    """Where the figure stands: ``size.tank_in``, ``settings.hardness_gpg``."""
    value: Decimal | str | bool
    unit: str
    """"" for a figure without a unit."""
    how: Message
    """The formula with the numbers put in."""
    citation: str


@dataclass(frozen=True, slots=True)
class Stage:
    """One treatment stage to consider."""

    stage: str
    place: Literal["whole_house", "point_of_use"]
    for_: tuple[str, ...]
    """Slugs of the analytes that it is there for."""
    because: tuple[Message, ...]
    conditions: tuple[Condition, ...] = ()
    size: Mapping[str, Any] | None = omit()
    """Quantities with the unit in their names, ``tank_in``; exact, or "" where nothing fits."""
    settings: Mapping[str, Any] | None = omit()
    """What is dialled in at start-up, named as in ``size``."""
    use_per_year: Mapping[str, Any] | None = omit()
    """Water, salt, media and chemicals used in a year, named as in ``size``."""
    worked: tuple[Worked, ...] | None = omit()
    """One for each figure of the three above."""
    cautions: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Quantity:
    """How much of something there is, or is expected; ``high`` None: no upper end is known."""

    value: Decimal | None
    low: Decimal | None
    high: Decimal | None
    unit: str
    basis: str | None
    assumed: bool | None = omit()
    """True: put in so that the charges add up; nobody measured it."""


@dataclass(frozen=True, slots=True)
class WaterAfter:
    """The water that leaves one stage, or the well."""

    after: str
    """``well``, or the name of the stage."""
    values: Mapping[str, Quantity]
    """By slug. What no source allows to predict is not there."""


@dataclass(frozen=True, slots=True)
class Flow:
    """What the pump gives and what the train's largest single backwash asks of it."""

    pump_gpm: Decimal | None
    """As measured, not rounded."""
    backwash_gpm: Decimal | None
    """None: no stage of the train backwashes, or none could be sized."""
    fits: bool | None


NightRemedy = Literal["none", "stagger", "nights", "twins", "storage", "specialist"]


@dataclass(frozen=True, slots=True)
class NightStep:
    """From this minute on, until the next step."""

    minute: int
    """After midnight."""
    needed_gpm: Decimal
    gets_gpm: Decimal
    """What well, pump and tank give of it."""
    well_gal: Decimal | None
    """Water above the pump when the minute begins; None where yield or casing was not told."""


@dataclass(frozen=True, slots=True)
class NightStart:
    """When one stage's valve is set to wash."""

    stage: str
    night: int
    """1 for the first; more than one where the washes have nights of their own."""
    minute: int
    """After midnight; ``minutes`` is how long it takes."""
    minutes: int


@dataclass(frozen=True, slots=True)
class Night:
    """The worst night by the clock: every bed washed in it, a toilet flushed meanwhile."""

    minutes: int
    """How long the night is that was reckoned."""
    shortfall: int | None
    """The first minute after midnight in which a backwash gets less than its bed's rate."""
    shortfall_stage: str | None
    series: tuple[NightStep, ...]
    """With every valve at the clock of the factory."""
    remedy: NightRemedy
    timetable: tuple[NightStart, ...]
    """Under the remedy."""
    shortfall_after: int | None
    after: tuple[NightStep, ...]
    """The worst night under the remedy."""
    why: tuple[Message, ...] = ()
    """What falls short and what mends it."""
    cautions: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Train:
    """Stages in the order in which the water meets them."""

    stages: tuple[Stage, ...]
    water: tuple[WaterAfter, ...] | None = omit()
    """The well first, then one for each stage, in that order."""
    flow: Flow | None = omit()
    night: Night | None = omit()
    """Of the first train only, and only where the pump was timed and a stage backwashes."""
    share: Decimal | None = omit()
    """Share of the draws of what is uncertain in which this same train comes out first."""
    left: tuple[str, ...] = ()
    """Slugs of the findings that the train does not treat."""
    for_: tuple[Message, ...] = ()
    against: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Cause:
    """A likely cause of what is seen, smelled or tasted at the tap."""

    cause: str
    """Stable name, ``dissolved_iron``; the names stand in ``data/causes.csv``."""
    name: Message
    """The cause in a reader's words."""
    for_: tuple[Message, ...]
    """What speaks for it; never empty."""
    against: tuple[Message, ...]
    next_test: Message
    """The next cheap test that would tell."""


@dataclass(frozen=True, slots=True)
class Refused:
    """A stage that was considered and is not proposed."""

    stage: str
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do that is not equipment."""

    step: str
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Retest:
    """What to test again, and when."""

    analyte: str
    when: str
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Existing:
    """What to do with a piece of equipment that is in the house already."""

    stage: str
    do: Literal["keep", "reset", "replace", "cant_tell"]
    settings: Mapping[str, Any]
    """The new settings, named as in ``Stage.size``; empty where nothing is to be set."""
    why: tuple[Message, ...]
    worked: tuple[Worked, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasureFirst:
    """A cheap test worth making before any money is spent."""

    test: str
    """Stable name, ``field_ph``."""
    changes: Decimal
    """Share of the draws in which its outcome would change the first train."""
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class SampleView:
    """Everything said about one sample."""

    id: str | None
    point: str | None
    collected: str | None
    taken: Taken | None
    findings: tuple[Finding, ...] = ()
    checks: tuple[Check, ...] | None = omit()
    indices: tuple[Index, ...] | None = omit()
    needs: tuple[Need, ...] = ()
    trains: tuple[Train, ...] = ()
    """In order of preference; empty when nothing is needed."""
    causes: tuple[Cause, ...] | None = omit()
    """In order of what matters most; empty where nothing was seen or smelled."""
    existing: tuple[Existing, ...] | None = omit()
    measure_first: tuple[MeasureFirst, ...] | None = omit()
    """The test that would change most comes first."""
    outlet: tuple[OutletSheet, ...] | None = omit()
    """Later bottles behind equipment; only where there are such."""
    refused: tuple[Refused, ...] = ()
    steps: tuple[Step, ...] = ()
    retest: tuple[Retest, ...] = ()
    earlier: Earlier | None = omit()
    """Only where earlier sheets were given."""


@dataclass(frozen=True, slots=True)
class Interpretation:
    """What one reading means, as of a date, against named level packs."""

    reading: Reading
    as_of: str
    """ISO 8601 date."""
    levels_packs: tuple[str, ...]
    site: Mapping[str, Any] = field(default_factory=dict)
    """The site file as it was understood, in the site file's own names."""
    samples: tuple[SampleView, ...] = ()
    language: Language = LANGUAGE
    """In which every sentence of it is told."""
    shelf_left_out: int = 0
    """Rows of the dealer's shelf that could not be used; for the work sheet alone."""

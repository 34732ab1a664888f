"""The verdict on one analyte, from all readings of its result and all of its levels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..errors import UnitMismatchError
from ..interpretation import Urgency
from ..levels import Level, Levels
from ..messages import Message, say
from ..reading import Result
from .amounts import ACTIVITIES, Amount, below_background, germ_amounts, in_unit, possible
from .compare import Compared, Judged, is_goal, judge, outcome, together
from .doubting import Doubted, doubted
from .scene import Scene
from .tables import totals_with

FOUND_MATTERS = frozenset({"voc", "soc", "dbp", "pfas", "radionuclide"})
"""Groups of which something found, without a level to compare it with, is never "no concern"."""
COMPARED = frozenset({"health", "watch", "nuisance", "person"})


@dataclass(frozen=True, slots=True)
class Context:
    """What the whole sample is judged with."""

    levels: Levels
    persons: frozenset[str]
    """People known to live there, as the site file names them."""
    settled: frozenset[str] = frozenset()
    """Parts of a total in the same sample in which no concern was found."""
    unsettled: frozenset[str] = frozenset()
    """Parts of a total in the same sample that is over its level, or cannot be told."""
    scene: Scene | None = None
    """Everything beside the results; None: nothing is known of it."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The verdict on one analyte, with every reading that led to it."""

    judged: Judged
    ways: tuple[tuple[Amount, Judged], ...] = ()
    """Each possible amount, in the deciding level's unit where there is one."""
    problem: Message | None = None
    """Why the result could not be compared at all."""
    notes: tuple[Message, ...] = ()
    """What was done to the number before it was compared."""
    part_of: str | None = None
    """Slug of a total that counts the analyte and has a level to compare it with."""
    doubt: Doubted | None = None
    """What makes it less sure; the verdict in ``judged`` is the one after the doubt."""


def is_germ(levels: Sequence[Level]) -> bool:
    """Whether the levels ask only if something was found."""
    asked = [level for level in levels if level.role in COMPARED]
    return bool(asked) and all(level.op == "absent" for level in asked)


def answer(result: Result, name: str, context: Context) -> Answer:
    """Return the verdict on one printed result."""
    levels = context.levels.of(result.analyte)
    if result.state != "unreadable" and is_germ(levels):
        return _germs(result, name, context)
    read = possible(result, name)
    if read.problem is not None:
        return _unanswered(result, read.problem, context)
    if result.state == "present" and levels:
        return _only_present(result, name, read.amounts, context)
    try:
        told = answer_amounts(result.analyte or "", read.amounts, context)
    except UnitMismatchError:
        return _unanswered(result, _wrong_unit(result, name, levels), context)
    return replace(told, notes=tuple(_counted(result, read.amounts)))


def _germs(result: Result, name: str, context: Context) -> Answer:
    if result.value is not None and result.value < 0:
        return _unanswered(result, say("verdict.below_zero", name=name, text=result.text), context)
    return answer_amounts(result.analyte or "", germ_amounts(result), context)


def _counted(result: Result, amounts: Sequence[Amount]) -> Iterator[Message]:
    """Yield what was done to a number that counts radiation."""
    if below_background(result):
        yield say("verdict.below_background", text=result.text)
    elif result.analyte == "uranium" and any(one.unit in ACTIVITIES for one in amounts):
        yield say("verdict.uranium_mass")


def with_doubt(result: Result, told: Answer, scene: Scene | None) -> Answer:
    """Return the answer with what the sample and the lab's marks leave open."""
    doubt = doubted(result, told.judged, scene)
    return replace(told, judged=doubt.judged, doubt=doubt)


def _unanswered(result: Result, problem: Message, context: Context) -> Answer:
    """Return the answer for a result that cannot be compared.

    Where the effect could follow within days, doubt must not remove the step for today: a number
    whose unit is in doubt counts in the level's own unit, and without a number all is possible.
    """
    levels = context.levels.of(result.analyte)
    acute = next((level for level in levels if level.role == "health" and level.acute), None)
    urgency: Urgency | None = None
    if acute is not None and _could_be_urgent(result, acute, context):
        urgency = "now"
    elif result.unit is None and _over_in_every_unit(result, context):
        urgency = "soon"
    return Answer(Judged("cant_tell", urgency, None), problem=problem)


def _over_in_every_unit(result: Result, context: Context) -> bool:
    """Whether a number without a unit is over the level in each unit that a lab would use."""
    verdicts = set()
    for unit in ("mg/L", "ug/L"):
        guess = possible(replace(result, unit=unit, normalized=None), result.label)
        try:
            told = answer_amounts(result.analyte or "", guess.amounts, context)
        except (UnitMismatchError, ValueError):
            return False
        verdicts.add(told.judged.verdict)
    return verdicts == {"health_concern"}


def _could_be_urgent(result: Result, acute: Level, context: Context) -> bool:
    if result.state == "unreadable" or (result.value is not None and result.value < 0):
        return True
    as_level = replace(result, unit=acute.unit, basis=acute.basis, normalized=None)
    guess = possible(as_level, result.label)
    judged = answer_amounts(acute.slug, guess.amounts, context).judged if guess.amounts else None
    return judged is not None and judged.urgency == "now"


def answer_amounts(slug: str, amounts: Sequence[Amount], context: Context) -> Answer:
    """Return the verdict on some possible amounts; UnitMismatchError."""
    levels = [lv for lv in context.levels.of(slug) if lv.role in COMPARED or is_goal(lv)]
    ways = tuple((amount, _judged(slug, amount, levels, context)) for amount in amounts)
    counted = (total.slug for total in totals_with(slug) if compared(total.slug, context.levels))
    return Answer(together([judged for _, judged in ways]), ways, part_of=next(counted, None))


def compared(slug: str, levels: Levels) -> bool:
    """Whether an analyte has a level that a result is compared with."""
    return any(level.role in COMPARED for level in levels.of(slug))


def _only_present(result: Result, name: str, amounts: Sequence[Amount], context: Context) -> Answer:
    """Judge a chemical that is marked as present, without a number."""
    found = answer_amounts(result.analyte or "", amounts, context)
    if found.judged.verdict != "cant_tell":
        return found
    return replace(found, problem=say("verdict.presence_only", name=name))


def _judged(slug: str, amount: Amount, levels: Sequence[Level], context: Context) -> Judged:
    compared = []
    for level in levels:
        own = amount if level.op == "absent" else in_unit(amount, slug, level)
        compared.append(Compared(level, own, outcome(own, level)))
    judged = judge(compared, context.persons)
    alone = not any(level.role in COMPARED for level in levels) and judged.verdict != "watch"
    if alone and amount.found and slug not in context.settled:
        return _found_without_level(slug, context)
    return judged


def _found_without_level(slug: str, context: Context) -> Judged:
    """Judge something that was found and has no level."""
    from ..analytes import registry

    own = registry().get(slug)
    disease = own is not None and own.group == "microbial" and own.health
    if disease and not context.levels.of(slug):  # a plate count has a level, for upkeep only
        return Judged("cant_tell", "soon", None)
    if slug in context.unsettled or (own is not None and own.group in FOUND_MATTERS):
        return Judged("cant_tell", None, None)
    return Judged("no_concern_found", None, None)


def _as(unit: str, basis: str | None) -> str:
    """Return a unit with its way of counting: without it "mg/L" and "mg/L" look the same."""
    told = f"as {basis}"
    return f"{unit} {told}" if basis and not unit.endswith(told) else unit


def _wrong_unit(result: Result, name: str, levels: Sequence[Level]) -> Message:
    unit = result.unit or ""
    first = next((level for level in levels if level.role in COMPARED), None)
    if first is None:
        return say("verdict.strange_unit", name=name, unit=unit)
    return say(
        "verdict.wrong_unit",
        name=name,
        unit=_as(unit, result.basis),
        level_unit=_as(first.unit, first.basis),
    )

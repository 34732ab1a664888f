"""What to do first, for each finding."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from ..boil import BoilAdvice
from ..interpretation import Person
from ..messages import Message
from ..reading import Result
from .compare import Compared, Judged
from .doubting import Doubted
from .judging import Answer
from .reasons import open_basis
from .tables import On, step, steps, words
from .wording import level_text

HIGH_FT = Decimal(6500)
"""Above this height water boils cooler, so it takes 3 minutes (CDC)."""
GERMS = "germs"
"""Stands in the table of steps for what the boil rule allows."""
CAREFUL = "health"
"""Stands in a table of doubts for the steps of an analyte over its level for health."""
BOTH = frozenset({"verdict.do_lead_two_samples", "verdict.do_copper_two_samples"})
NEW_SAMPLE = "verdict.do_new_germ_sample"
"""The second sample for germs, which is taken before any chlorine goes in."""
Step = Message | None
"""One step; None stands for what the boil rule will allow, once the whole sample is judged."""


def first_steps(result: Result, answer: Answer) -> tuple[Step, ...]:
    """Return the steps for one result."""
    slug = result.analyte
    judged = answer.doubt.before if answer.doubt else answer.judged
    told: list[Step] = []
    if judged.verdict == "health_concern":
        told.extend(_table(slug, "health"))
    elif judged.verdict == answer.judged.verdict == "watch":
        told.extend(_table(slug, "watch"))
    elif judged.verdict == "cant_tell":
        told.extend(_table(slug, "health") if judged.urgency is not None else ())
        told.extend(_clearing(result, answer))
    elif judged.verdict == "nuisance_only":
        told.extend(_table(slug, "nuisance"))
    if judged.people and judged.verdict in {"nuisance_only", "no_concern_found"}:
        told.extend(_table(slug, "watch"))
    if answer.doubt is not None:
        told.extend(of_doubt(slug, answer.doubt, told))
    return tuple(step for i, step in enumerate(told) if step not in told[:i])


def of_doubt(slug: str | None, doubt: Doubted, told: Sequence[Step]) -> Iterator[Step]:
    """Yield the steps of a doubt; the careful ones only where it leaves a health matter open."""
    for name in doubt.steps:
        if name != CAREFUL:
            yield from () if _asked(name, told) else _named((name,))
        elif doubt.judged.verdict == "cant_tell" and doubt.judged.health_beside:
            yield from _table(slug, "health")


def _asked(name: str, told: Sequence[Step]) -> bool:
    """Whether a step asks for the pair of samples that another step asks for already."""
    return name == "pipes_first_draw" and any(entry.code in BOTH for entry in told if entry)


def allowed(
    told: tuple[Step, ...], advice: BoilAdvice, elevation_ft: Decimal | None = None
) -> tuple[Message, ...]:
    """Return the steps with the germ steps that the boil rule allows at this height."""
    germs = tuple(step(name) for name in _germ_steps(advice, elevation_ft))
    found = [one for entry in told for one in (germs if entry is None else (entry,))]
    return tuple(one for i, one in enumerate(found) if one not in found[:i])


def after_shock(told: tuple[Step, ...]) -> tuple[Step, ...]:
    """Return the steps of a sample from a well that was disinfected a few days ago.

    It is too late for a sample before the chlorine; the next one waits until none is left.
    """
    later = step("sample_after_shock")
    moved = [later if one and one.code == NEW_SAMPLE else one for one in told]
    return tuple(one for i, one in enumerate(moved) if one not in moved[:i])


def _germ_steps(advice: BoilAdvice, elevation_ft: Decimal | None) -> Iterator[str]:
    """Yield the names of the steps about germs, each as the boil rule has it."""
    if advice in {"silent", "never"}:
        yield "germs_bottled"
        if advice == "never":
            yield "germs_never_boil"
        return
    if advice != "boil":
        yield f"germs_{advice}"
    who = "boil" if advice == "boil" else "others_boil"
    high = elevation_ft is not None and elevation_ft > HIGH_FT
    yield f"germs_{who}_3" if high else f"germs_{who}"
    if elevation_ft is None:
        yield "germs_boil_high"


def persons(slug: str | None, answer: Answer) -> tuple[Person, ...]:
    """Return who is most concerned by a result."""
    told = (answer.judged, answer.doubt.before) if answer.doubt else (answer.judged,)
    named = (person for judged in told for person in _persons(slug, judged))
    return tuple(dict.fromkeys(named))


def _persons(slug: str | None, judged: Judged) -> tuple[Person, ...]:
    made_for = [person for one in judged.people for person in one.level.persons]
    named: tuple[Person, ...] = ()
    if judged.verdict in {"health_concern", "watch"} or judged.urgency is not None:
        own = judged.decided.level.persons if judged.decided is not None else ()
        named = own or words(slug).persons or ("everyone",)
    return tuple(dict.fromkeys((*named, *made_for)))


def _table(slug: str | None, on: On) -> Iterator[Step]:
    yield from _named(steps(slug, on))


def _named(codes: Iterable[str]) -> Iterator[Step]:
    for code in codes:
        yield None if code == GERMS else step(code)


def _clearing(result: Result, answer: Answer) -> Iterator[Step]:
    """Yield the one step that would tell."""
    if answer.problem is not None:
        yield _problem_step(answer.problem)
        return
    other = open_basis(answer)
    if other is not None:
        yield step("ask_lab_basis", other=other)
        return
    if len(answer.ways) > 1:
        yield step("check_sheet")
        return
    if answer.judged.told is None:
        if answer.part_of is None:
            yield step("ask_health")
        return
    yield from _limit_step(result, answer.judged.told)


def _problem_step(problem: Message) -> Message:
    if problem.code in {"verdict.no_unit", "verdict.strange_unit"}:
        return step("ask_lab_unit")
    if problem.code == "verdict.wrong_unit":
        return step("ask_lab_in_unit", unit=problem.args["level_unit"])
    if problem.code == "verdict.presence_only":
        return step("ask_lab_number_found")
    return step("check_sheet")


def _limit_step(result: Result, told: Compared) -> Iterator[Step]:
    nothing_found = told.amount.found is False and told.level.value is not None
    if nothing_found and told.level.op == "range":
        yield step("ask_lab_number_found")
    elif nothing_found and told.amount.high is None:
        yield step("ask_lab_number")
    elif nothing_found:
        yield step("ask_lab_limit", level=level_text(told.level))
    else:
        yield from _table(result.analyte, "doubt")

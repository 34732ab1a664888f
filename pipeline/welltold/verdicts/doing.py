"""What to do first, for each finding."""

from __future__ import annotations

from collections.abc import Iterator

from ..boil import BoilAdvice
from ..interpretation import Person
from ..messages import Message, say
from ..reading import Result
from .compare import Compared
from .judging import Answer
from .reasons import open_basis
from .tables import On, steps, total_with, words
from .wording import level_text

GERMS = "germs"
"""Stands in the table of steps for what the boil rule allows."""
Step = Message | None
"""One step; None stands for what the boil rule will allow, once the whole sample is judged."""


def first_steps(result: Result, answer: Answer) -> tuple[Step, ...]:
    """Return the steps for one result."""
    slug, judged = result.analyte, answer.judged
    told: list[Step] = []
    if judged.verdict == "health_concern":
        told.extend(_table(slug, "health"))
    elif judged.verdict == "watch":
        told.extend(_table(slug, "watch"))
    elif judged.verdict == "cant_tell":
        told.extend(_table(slug, "health") if judged.urgency is not None else ())
        told.extend(_clearing(result, answer))
    elif judged.verdict == "nuisance_only":
        told.extend(_table(slug, "nuisance"))
    elif judged.people:
        told.extend(_table(slug, "watch"))
    return tuple(step for i, step in enumerate(told) if step not in told[:i])


def allowed(told: tuple[Step, ...], advice: BoilAdvice) -> tuple[Message, ...]:
    """Return the steps with the germ step that the boil rule allows."""
    germs = (
        (say("verdict.do_germs_boil"), say("verdict.do_germs_boil_high"))
        if advice == "boil"
        else (say("verdict.do_germs_bottled"),)
    )
    return tuple(step for one in told for step in (germs if one is None else (one,)))


def persons(slug: str | None, answer: Answer) -> tuple[Person, ...]:
    """Return who is most concerned by a result."""
    judged = answer.judged
    made_for = [person for one in judged.people for person in one.level.persons]
    named: tuple[Person, ...] = ()
    if judged.verdict in {"health_concern", "watch"} or judged.urgency is not None:
        named = words(slug).persons or ("everyone",)
    elif judged.verdict == "nuisance_only":
        named = words(slug).nuisance_persons
    return tuple(dict.fromkeys((*named, *made_for)))


def _table(slug: str | None, on: On) -> Iterator[Step]:
    for code in steps(slug, on):
        yield None if code == GERMS else say(f"verdict.do_{code}")


def _clearing(result: Result, answer: Answer) -> Iterator[Step]:
    """Yield the one step that would tell."""
    if answer.problem is not None:
        yield _problem_step(answer.problem)
        return
    other = open_basis(answer)
    if other is not None:
        yield say("verdict.do_ask_lab_basis", other=other)
        return
    if len(answer.ways) > 1:
        yield say("verdict.do_check_sheet")
        return
    if answer.judged.told is None:
        if total_with(result.analyte) is None:
            yield say("verdict.do_ask_health")
        return
    yield from _limit_step(result, answer.judged.told)


def _problem_step(problem: Message) -> Message:
    if problem.code in {"verdict.no_unit", "verdict.strange_unit"}:
        return say("verdict.do_ask_lab_unit")
    if problem.code == "verdict.wrong_unit":
        return say("verdict.do_ask_lab_in_unit", unit=problem.args["level_unit"])
    if problem.code == "verdict.presence_only":
        return say("verdict.do_ask_lab_number_found")
    return say("verdict.do_check_sheet")


def _limit_step(result: Result, told: Compared) -> Iterator[Step]:
    nothing_found = told.amount.found is False and told.level.value is not None
    if nothing_found and told.amount.high is None:
        yield say("verdict.do_ask_lab_number")
    elif nothing_found:
        yield say("verdict.do_ask_lab_limit", level=level_text(told.level))
    else:
        yield from _table(result.analyte, "doubt")

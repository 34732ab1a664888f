"""Why: the sentences that lead from a printed result to its verdict."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..levels import Level
from ..messages import Message, say
from ..reading import Result
from ..speech import either, phrase
from ..thresholds import sure
from .compare import Compared, Judged, is_goal
from .judging import Answer
from .names import name_of
from .nearness import near_words
from .wording import compared_words, level_text, reading_text, who

MEANS = {
    "e_coli": "e_coli_means",
    "fecal_coliform": "e_coli_means",
    "enterococci": "e_coli_means",
    "coliphage": "e_coli_means",
    "total_coliform": "coliform_means",
}
ABOUT = {
    "hardness": "hardness_class",
    "iron": "iron_nuisance",
    "turbidity": "turbidity_rule",
    "methane": "gas_danger",
}
"""One more sentence on an analyte that is over the level told."""


def reasons(result: Result, name: str, answer: Answer) -> tuple[Message, ...]:
    """Return why a printed result has its verdict."""
    bare = before_doubt(answer)
    why = (bare.problem,) if bare.problem else answer_reasons(result.analyte, name, bare)
    near = tuple(near_words(result, bare))
    if near:  # they say the same with a number
        why = tuple(message for message in why if message.code != "verdict.near")
    return (*bare.notes, *why, *near, *doubt_words(answer), *_look(result))


def before_doubt(answer: Answer) -> Answer:
    """Return the answer as the printed result alone gave it."""
    return replace(answer, judged=answer.doubt.before) if answer.doubt else answer


def doubt_words(answer: Answer) -> tuple[Message, ...]:
    """Return what the sample or the lab's marks leave open."""
    return answer.doubt.why if answer.doubt else ()


def answer_reasons(slug: str | None, name: str, answer: Answer) -> tuple[Message, ...]:
    """Return why an answer is what it is: what is open about it, then what decided."""
    several = tuple(_open_readings(name, answer))
    if several and answer.judged.verdict == "cant_tell":
        return several
    return (*several, *judged_reasons(slug, name, answer))


def judged_reasons(slug: str | None, name: str, answer: Answer) -> Iterator[Message]:
    """Yield why the gravest reading has its verdict."""
    judged = answer.judged
    if judged.decided is None or judged.told is None:
        yield from _without_level(name, answer)
        return
    if judged.told.level.value is None or judged.told.level.op == "absent":
        yield from _germ_words(slug, name, judged.told)
    elif len(answer.ways) < 2:
        yield from compared_words(name, judged.told)
    if judged.decided is not judged.told and judged.decided.level.value:
        code = "over_goal" if is_goal(judged.decided.level) else "band"
        yield say(f"verdict.{code}", level=level_text(judged.decided.level))
    if judged.verdict == "watch" and judged.decided.level.role == "health":
        yield say("verdict.near")
    if judged.verdict in {"health_concern", "watch"}:
        yield say("verdict.guards", effect=phrase(judged.decided.level.effect))
    if judged.verdict != "no_concern_found":
        yield from _about_level(judged)
    elif judged.told.level.status == "proposed":
        yield say("verdict.proposed_under")
    for one in judged.people:
        yield say("verdict.sodium_diet", level=level_text(one.level))


def open_basis(answer: Answer) -> str | None:
    """Return the form beside nitrogen that a sheet may have meant; None: it was not open."""
    return next((amount.of for amount, _ in answer.ways if amount.of in {"NO3", "NO2"}), None)


def _open_readings(name: str, answer: Answer) -> Iterator[Message]:
    """Yield what is open about the reading of a result, when several are possible."""
    if len(answer.ways) < 2:
        return
    other, differ = open_basis(answer), answer.judged.verdict == "cant_tell"
    if other is not None:
        code = "nitrogen_basis" if differ else "nitrogen_basis_agrees"
        yield say(f"verdict.{code}", name=name, other=other)
    elif not differ:
        yield say("verdict.readings_agree", name=name)
    told = [judged.told for _, judged in answer.ways if judged.told is not None]
    if told and told[0].level.value is not None:
        readings = dict.fromkeys(reading_text(one) for one in told)
        level = told[0].level
        yield say(
            "verdict.could_be",
            name=name,
            readings=either(tuple(readings)),
            who=who(level),
            level=level_text(level),
        )


def _germ_words(slug: str | None, name: str, told: Compared) -> Iterator[Message]:
    if told.outcome == "under":
        yield say("verdict.germs_not_found", name=name)
    elif told.outcome == "maybe":
        code = "germs_small_bottle" if told.amount.high is not None else "crowded"
        yield say(f"verdict.{code}", name=name)
    else:
        yield say("verdict.germs_found", name=name)
        if slug in MEANS:
            yield say(f"verdict.{MEANS[slug]}")


def _without_level(name: str, answer: Answer) -> Iterator[Message]:
    if answer.ways and answer.ways[0][0].found is False and answer.ways[0][0].low >= 0:
        yield say("verdict.not_found", name=name)
        return
    total = answer.part_of
    if total is not None:
        yield say("verdict.no_level_part", name=name, total=name_of(total, total))
    elif answer.judged.verdict == "cant_tell":
        yield say("verdict.no_level_found", name=name)
    else:
        yield say("verdict.no_level", name=name)


def _about_level(judged: Judged) -> Iterator[Message]:
    """Yield what has to be said of the level itself."""
    decided, told = judged.decided, judged.told
    if decided is None or told is None:
        return
    level = told.level
    if level.kind == "action_level":
        yield from _about_action_level(level, judged)
    elif level.status == "proposed_withdrawal":
        yield say("verdict.withdrawal_proposed")
    elif level.status == "adopted_not_applying" and level.until is not None:
        yield say("verdict.not_yet", year=level.until.year)
    elif level.status == "proposed":
        yield say("verdict.proposed_only")
    elif level.form == "state_guideline":
        yield say("verdict.state_advice")
    elif level.kind == "advisory" and level.role == "health":
        yield say("verdict.only_advice")
    if decided.outcome == "over" and level.slug in ABOUT:
        yield say(f"verdict.{ABOUT[level.slug]}")


def _about_action_level(level: Level, judged: Judged) -> Iterator[Message]:
    if level.slug != "lead":
        yield say("verdict.action_level_copper")
        return
    yield say("verdict.action_level")
    if level.until is not None and judged.verdict != "watch":
        yield say("verdict.lead_old_level", year=level.until.year)


def _look(result: Result) -> Iterator[Message]:
    if result.state in {"blank", "unreadable"}:
        return
    if result.review or not sure(result.confidence):
        yield say("verdict.look", text=result.text)

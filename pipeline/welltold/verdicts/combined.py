"""All findings of one sample: each result, and the levels that count several results together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from ..interpretation import Finding, Verdict
from ..levels import Level
from ..messages import Message, say
from ..reading import Result
from .amounts import Amount, converted, possible
from .basis import settle
from .compare import Judged, together
from .contradiction import against_each_other
from .doing import Step, of_doubt, persons
from .doubting import as_marked, doubted_total
from .drafts import Draft, draft, levels_used, numbers
from .judging import COMPARED, Answer, Context, answer, answer_amounts
from .names import group_of, name_of
from .reasons import answer_reasons, before_doubt, doubt_words
from .sums import Summed, total_of, uranium_activity, without_uranium
from .tables import Total, step, steps, totals

ALPHA = "gross_alpha"
HUNDREDTH = Decimal("0.01")
"""Fine enough not to round a sum onto its level."""
UNSETTLED = frozenset({"health_concern", "cant_tell"})


def combined(results: Sequence[Result], context: Context) -> tuple[Draft, ...]:
    """Return the findings of the results, and then those of the totals that are not printed."""
    settled = settle(tuple(map(as_marked, results)))
    results = tuple(one.result for one in settled)
    amounts = _amounts(results)
    printed = {result.analyte for result in results if result.state != "blank"}
    added = [
        one
        for total in totals()
        if total.slug not in printed
        for one in _total_draft(total, amounts, results, context)
    ]
    verdicts = {one.finding.analyte: one.finding.verdict for one in added}
    verdicts |= _printed_verdicts(results, amounts, context)
    parts = [(part.slug, verdicts.get(total.slug)) for total in totals() for part in total.parts]
    context = replace(
        context,
        settled=frozenset(slug for slug, verdict in parts if verdict == "no_concern_found"),
        unsettled=frozenset(slug for slug, verdict in parts if verdict in UNSETTLED),
    )
    own = [
        draft(one.result, _special(one.result, amounts, context), context, one.why)
        for one in settled
    ]
    return (*against_each_other(own, results), *added)


def _printed_verdicts(
    results: Sequence[Result], amounts: Mapping[str, tuple[Amount, ...]], context: Context
) -> dict[str | None, Verdict]:
    """Return the verdicts on the totals that the sheet prints."""
    names = {total.slug for total in totals()}
    rows = [r for r in results if r.analyte in names and r.state != "blank"]
    drafts = [draft(result, _special(result, amounts, context), context) for result in rows]
    gravest = sorted(drafts, key=lambda one: one.answer.judged.gravity if one.answer else 0)
    return {one.finding.analyte: one.finding.verdict for one in reversed(gravest)}


def _amounts(results: Sequence[Result]) -> dict[str, tuple[Amount, ...]]:
    """Return all readings of each analyte; the dissolved part only where no total was tested."""
    by_slug: dict[str, list[Result]] = {}
    for result in results:
        if result.analyte is not None and result.state != "blank":
            by_slug.setdefault(result.analyte, []).append(result)
    found: dict[str, tuple[Amount, ...]] = {}
    for slug, same in by_slug.items():
        whole = [result for result in same if result.fraction != "dissolved"] or same
        read = [amount for result in whole for amount in possible(result, slug).amounts]
        found[slug] = tuple(amount for amount in read if amount.unit is not None)
    return found


def _special(
    result: Result, amounts: Mapping[str, tuple[Amount, ...]], context: Context
) -> Answer | None:
    """Return the answer for what cannot be judged by itself; None for everything else."""
    if result.analyte == ALPHA and result.state != "blank":
        return _alpha(result, amounts, context)
    total = next((t for t in totals() if t.slug == result.analyte), None)
    if total is None or result.state in {"blank", "unreadable"}:
        return None
    return _printed_total(result, total, amounts, context)


def _alpha(
    result: Result, amounts: Mapping[str, tuple[Amount, ...]], context: Context
) -> Answer | None:
    """Return gross alpha judged without its uranium, which the level does not count.

    None where it is not over the level even with the uranium in it.
    """
    name = name_of(result.analyte, result.label)
    whole = answer(result, name, context)
    activity = uranium_activity(amounts.get("uranium", ()))
    if whole.problem is not None or whole.judged.verdict == "no_concern_found":
        return None
    counted = [
        converted(one, ALPHA, "pCi/L", None)
        for one in possible(result, name).amounts
        if one.unit is not None
    ]
    alpha = [without_uranium(one, activity) for one in counted]
    if not alpha:
        return None
    note = say("verdict.alpha_all") if activity is None else _taken_off(counted, alpha, activity)
    return replace(answer_amounts(ALPHA, alpha, context), notes=(note,))


def _taken_off(counted: Sequence[Amount], left: Sequence[Amount], uranium: Amount) -> Message:
    """Return that uranium was taken off; how much, where all three are one number."""
    if len(counted) > 1 or not all(one.exact for one in (*counted, *left, uranium)):
        return say("verdict.alpha_less")
    alpha, rest, less = (
        f"{one.low.quantize(HUNDREDTH).normalize():f}" for one in (counted[0], left[0], uranium)
    )
    return say("verdict.alpha_less_counted", alpha=alpha, uranium=less, rest=rest)


def _printed_total(
    result: Result,
    total: Total,
    amounts: Mapping[str, tuple[Amount, ...]],
    context: Context,
) -> Answer | None:
    """Return the answer where a printed total and its own parts lead to different verdicts."""
    printed = answer(result, name_of(result.analyte, result.label), context)
    if printed.problem is not None or printed.judged.verdict == "health_concern":
        return None
    level = _level_of(total, context)
    parts = total_of(total, amounts, level.unit, level.basis) if level else ()
    added = answer_amounts(total.slug, [s.amount for s in parts], context) if parts else None
    if added is None or added.judged.verdict != "health_concern":
        return None
    note = say("verdict.total_differs", text=result.text)
    judged = together((printed.judged, added.judged))
    return Answer(judged, (*printed.ways, *added.ways), notes=(note,))


def _total_draft(
    total: Total,
    amounts: Mapping[str, tuple[Amount, ...]],
    results: Sequence[Result],
    context: Context,
) -> Iterator[Draft]:
    level = _level_of(total, context)
    if level is None:
        return
    summed = total_of(total, amounts, level.unit, level.basis)
    if not summed:
        return
    told = answer_amounts(total.slug, [one.amount for one in summed], context)
    if not _worth_telling(total, summed, told.judged, context):
        return
    missing = tuple(name_of(slug, slug) for slug in summed[-1].missing)
    if missing and told.judged.urgency == "soon" and told.judged.verdict == "cant_tell":
        told = replace(told, judged=replace(told.judged, urgency=None))
    doubt = doubted_total(_rows(summed, results), told.judged, context.scene)
    told = replace(told, judged=doubt.judged, doubt=doubt)
    finding = _total_finding(total, summed, told, results, context)
    whole = (finding.label,) if missing and group_of(total.slug) == "metal" else missing
    yield Draft(finding, tuple(_total_steps(total, told, whole)), told)


def _worth_telling(
    total: Total, summed: Sequence[Summed], judged: Judged, context: Context
) -> bool:
    """Whether a total with parts that were not tested says anything of its own."""
    if not any(one.missing for one in summed):
        return True
    if judged.verdict == "health_concern":
        parts = [part for one in summed for part in one.parts]
        alone = (answer_amounts(slug, [one], context).judged for slug, one in parts)
        return not any(one.verdict == "health_concern" for one in alone)
    return total.missing == "cant_tell" and any(one.amount.found for one in summed)


def _total_finding(
    total: Total,
    summed: Sequence[Summed],
    told: Answer,
    results: Sequence[Result],
    context: Context,
) -> Finding:
    name = name_of(total.slug, total.slug)
    amount = numbers(total.slug, told)
    parts = _rows(summed, results)
    doubt = told.doubt
    return Finding(
        total.slug,
        name,
        "",
        told.judged.verdict,
        value=amount.value,
        low=amount.low,
        high=None if doubt and doubt.open_above else amount.high,
        unit=amount.unit,
        basis=amount.basis,
        urgency=told.judged.urgency,
        persons=persons(total.slug, told),
        levels=levels_used(context.levels.of(total.slug), told.judged),
        why=(
            *answer_reasons(total.slug, name, before_doubt(told)),
            *_part_words(total, summed[-1]),
            *doubt_words(told),
        ),
        confidence=min((doubt.sure if doubt else 1.0, *(result.confidence for result in parts))),
        where=tuple(place for result in parts for place in result.where),
    )


def _rows(summed: Sequence[Summed], results: Sequence[Result]) -> tuple[Result, ...]:
    """Return the printed rows that a total was made of."""
    used = {slug for one in summed for slug, _ in one.parts}
    return tuple(result for result in results if result.analyte in used)


def _part_words(total: Total, summed: Summed) -> Iterator[Message]:
    found = [name_of(slug, slug) for slug, one in summed.parts if one.found is not False]
    clear = [name_of(slug, slug) for slug, one in summed.parts if one.found is False]
    if found:
        yield say("verdict.total_parts", parts=", ".join(found))
    if clear:
        yield say("verdict.total_not_found", parts=", ".join(clear))
    if summed.missing:
        missing = ", ".join(name_of(slug, slug) for slug in summed.missing)
        yield say("verdict.total_missing", parts=missing)
    if total.found > 1:
        yield say("verdict.total_needs_two")


def _total_steps(total: Total, told: Answer, missing: tuple[str, ...]) -> Iterator[Step]:
    """Yield what to do about a total; ``missing``: names of the tests that would complete it."""
    judged = before_doubt(told).judged
    if judged.verdict == "watch":
        yield from (step(one) for one in steps(total.slug, "watch"))
    if judged.decided and (judged.verdict == "health_concern" or judged.urgency is not None):
        yield from (step(one) for one in steps(judged.decided.level.slug, "health"))
    if judged.verdict == "cant_tell" and missing:
        yield step("test_missing", parts=", ".join(missing))
    if told.doubt is not None:
        yield from of_doubt(judged.decided.level.slug if judged.decided else None, told.doubt, ())


def _level_of(total: Total, context: Context) -> Level | None:
    levels = context.levels.of(total.slug)
    return next((level for level in levels if level.role in COMPARED), None)

"""One finding from one printed result, or from a total, before the sample is seen as a whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..errors import UnitMismatchError
from ..interpretation import Finding, LevelKind, LevelUsed, Verdict
from ..levels import Level
from ..messages import Message, say
from ..reading import Result
from .amounts import Amount, converted
from .compare import Judged
from .doing import Step, first_steps, persons
from .judging import COMPARED, Answer, Context, answer, with_doubt
from .names import name_of
from .put_aside import put_aside
from .reasons import reasons
from .tables import step

FOR_BABIES = frozenset({"babies", "ten_day_infant"})
"""Forms of levels that are shown with a result although they decide nothing."""
PER_100_ML = frozenset({"CFU/100mL", "MPN/100mL", "count/100mL", "P/A"})


@dataclass(frozen=True, slots=True)
class Numbers:
    """A finding's amount: in the level's own unit and basis, else in the analyte's."""

    value: Decimal | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    unit: str | None = None
    basis: str | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """A finding, the steps it asks for, and the answer behind it."""

    finding: Finding
    steps: tuple[Step, ...]
    answer: Answer | None


def draft(
    result: Result, given: Answer | None, context: Context, settled: tuple[Message, ...] = ()
) -> Draft:
    """Return the finding of one printed result.

    ``given``: an answer made elsewhere; ``settled``: how the rest of the sheet settled the number.
    """
    name = name_of(result.analyte, result.label)
    if result.state == "blank":
        return Draft(_plain(result, "not_tested", say("verdict.blank")), (), None)
    if result.analyte is None:
        unknown = _plain(result, "cant_tell", say("verdict.unknown_test", text=result.label))
        return Draft(unknown, (), None)
    told = with_doubt(result, given or answer(result, name, context), context.scene)
    aside = tuple(put_aside(result, name, told, context))
    amount = numbers(result.analyte, told, result)
    doubt = told.doubt
    finding = Finding(
        result.analyte,
        result.label,
        result.text,
        told.judged.verdict,
        fraction=result.fraction,
        operator=result.operator,
        value=amount.value,
        low=amount.low,
        high=None if doubt and doubt.open_above else amount.high,
        unit=amount.unit,
        basis=amount.basis,
        present=_present(result, told),
        urgency=told.judged.urgency,
        persons=persons(result.analyte, told),
        levels=levels_used(context.levels.of(result.analyte), told.judged),
        why=(*settled, *reasons(result, name, told), *aside),
        confidence=min(result.confidence, doubt.sure if doubt else 1.0),
        where=result.where,
        also=levels_beside(context.levels.of(result.analyte)),
    )
    steps = first_steps(result, told)
    return Draft(finding, (*steps, *([step("check_sheet")] if aside else ())), told)


def levels_used(levels: Sequence[Level], judged: Judged) -> tuple[LevelUsed, ...]:
    """Return the levels that were compared, and the goals; the one that decided first."""
    first = judged.told.level if judged.told else None
    shown = [lv for lv in levels if lv.verified and (lv.role in COMPARED or lv.kind == "goal")]
    return tuple(map(_used, sorted(shown, key=lambda level: level != first)))


def levels_beside(levels: Sequence[Level]) -> tuple[LevelUsed, ...]:
    """Return what is advised for babies and compared with nothing; the sentences tell of it."""
    compared = {_used(lv) for lv in levels if lv.role in COMPARED}
    shown = (lv for lv in levels if lv.verified and lv.role == "none" and lv.form in FOR_BABIES)
    return tuple(one for one in map(_used, shown) if one not in compared)


def _used(lv: Level) -> LevelUsed:
    return LevelUsed(
        lv.programme, _kind(lv), lv.value, lv.unit, lv.basis, lv.status, lv.citation, lv.low
    )


def _kind(level: Level) -> LevelKind:
    """Return the kind; what is only proposed, or was withdrawn, never reads as a limit."""
    return "advisory" if level.status in {"proposed", "withdrawn"} else level.kind


def numbers(slug: str, told: Answer, result: Result | None = None) -> Numbers:
    """Return the amount of a finding; all None where it could not be compared."""
    amounts, unit, basis = _own_amounts(slug, told)
    if not amounts:
        return Numbers()
    if result is not None and unit is not None and amounts[0].unit is None:
        return _germ_numbers(result, unit)
    highs = [amount.high for amount in amounts if amount.high is not None]
    return Numbers(
        value=_value(amounts),
        low=min(amount.low for amount in amounts),
        high=max(highs) if len(highs) == len(amounts) else None,
        unit=unit,
        basis=basis,
    )


def _own_amounts(slug: str, told: Answer) -> tuple[list[Amount], str | None, str | None]:
    """Return the possible amounts in one unit: the level's own, or else the analyte's own."""
    judged = [one.told.amount for _, one in told.ways if one.told is not None]
    if judged:
        level = next(one.told.level for _, one in told.ways if one.told is not None)
        return judged, level.unit, level.basis
    plain = [amount for amount, _ in told.ways if amount.unit is not None]
    try:
        return _in_registry_unit(slug, plain)
    except UnitMismatchError:
        return plain, plain[0].unit, plain[0].basis


def _in_registry_unit(
    slug: str, amounts: list[Amount]
) -> tuple[list[Amount], str | None, str | None]:
    from ..analytes import registry

    own = registry().get(slug)
    if own is None or not amounts:
        return [], None, None
    return [converted(one, slug, own.unit, own.basis) for one in amounts], own.unit, own.basis


def _value(amounts: Sequence[Amount]) -> Decimal | None:
    """Return the number, or the limit; of several readings only a limit that holds for all."""
    if len(amounts) == 1 and amounts[0].exact:
        return amounts[0].low
    highs = [amount.high for amount in amounts if amount.high is not None]
    if all(amount.found is False for amount in amounts) and len(highs) == len(amounts):
        return max(highs)
    lows = [amount.low for amount in amounts if amount.more_than_low and amount.low > 0]
    return min(lows) if len(lows) == len(amounts) else None


def _germ_numbers(result: Result, unit: str) -> Numbers:
    """Return the printed count of germs; a word alone, or one of another volume, has no number."""
    if result.value is None or result.state not in {"value", "above", "below"}:
        return Numbers(unit=unit)
    if result.unit and _spelled(result.unit) not in {*PER_100_ML, None, unit}:
        return Numbers(unit=unit)
    low = Decimal(0) if result.state == "below" else result.value
    high = None if result.state == "above" else result.value
    return Numbers(result.value, low, high, unit)


def _spelled(printed: str) -> str | None:
    """Return the spelling of a unit that is used here; None for one that is not known."""
    from ..units import unit

    known = unit(printed)
    return known.name if known is not None else None


def _present(result: Result, told: Answer) -> bool | None:
    """Whether germs are there; None for what is measured as a number."""
    decided = told.judged.told
    if result.present is not None or decided is None or decided.level.unit != "count/100mL":
        return result.present
    return decided.amount.found


def _plain(result: Result, verdict: Verdict, why: Message) -> Finding:
    return Finding(
        result.analyte,
        result.label,
        result.text,
        verdict,
        why=(why,),
        confidence=result.confidence,
        where=result.where,
    )

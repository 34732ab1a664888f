"""What an earlier sheet raised, and what no number of the present sheet stands beside.

A health concern of an earlier day does not end because nobody tested for it again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..interpretation import Finding, Interpretation, SampleView
from ..messages import Message
from ..past import EarlierLeft, History
from ..verdicts.bottles import place_name
from .comparing import Then, printed_unit_of


def left_of(
    view: Interpretation, index: int, used: Sequence[Then], histories: Sequence[History]
) -> tuple[EarlierLeft, ...]:
    """Return what earlier sheets raised and cannot be followed here, health first, newest first."""
    tested = _tested(view, index)
    found = [
        one for then in used if (one := _left(then, tested=tested, histories=histories)) is not None
    ]
    found.sort(key=lambda one: one.collected or "", reverse=True)
    found.sort(key=lambda one: one.verdict != "health_concern")
    return tuple(found)


def _left(
    then: Then, *, tested: frozenset[str], histories: Sequence[History]
) -> EarlierLeft | None:
    found = then.finding
    if found.verdict not in {"health_concern", "cant_tell"}:
        return None
    again = found.analyte in tested
    why = tuple(_not_beside(then, histories)) if again else ()
    if again and not why:
        return None
    open_ = found.why[:1] if found.verdict == "cant_tell" else ()
    return EarlierLeft(
        sheet=then.sheet,
        analyte=found.analyte,
        label=found.label,
        collected=then.sample.collected,
        text=found.text,
        printed_unit=printed_unit_of(then),
        value=found.value,
        unit=found.unit,
        basis=found.basis,
        present=found.present,
        verdict="cant_tell" if found.verdict == "cant_tell" else "health_concern",
        tested=again,
        why=(*why, *open_),
    )


def _not_beside(then: Then, histories: Sequence[History]) -> Iterator[Message]:
    """Yield why a result does not stand beside the present one; nothing where it does."""
    for history in histories:
        for one in history.results:
            same = (history.analyte, one.sheet) == (then.finding.analyte, then.sheet)
            if same and not one.comparable:
                yield from one.why


def _tested(view: Interpretation, index: int) -> frozenset[str]:
    """Return what any bottle of this place was tested for."""
    place = place_name(view.samples[index].point or "")
    beside = [one for one in view.samples if place and place_name(one.point or "") == place]
    return frozenset(
        found.analyte
        for sample in (view.samples[index], *beside)
        for found in _told(sample)
        if found.analyte
    )


def _told(sample: SampleView) -> Iterator[Finding]:
    yield from (one for one in sample.findings if one.verdict != "not_tested")

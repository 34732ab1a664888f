"""The use table of page 1: drink, baby, cook, teeth, bath, pets, garden."""

from __future__ import annotations

from typing import cast

from welltold.analytes import registry
from welltold.boil import BABIES, NITROGEN
from welltold.interpretation import Finding

from ..wording import analyte_name, in_sentence, listed, word
from .hazards import ANSWERS, FUMES, USES, Answer, hazard_named, hazard_of
from .model import UseRow
from .picture import (
    INTO_THE_AIR,
    Picture,
    low_but_for_the_draw,
    quiet_at_this_tap,
    short_names,
)
from .printed import Item

_NEEDS_GERMS = frozenset({"drink", "baby", "cook", "teeth", "pets"})
_NEEDS_NITRATE = frozenset({"baby"})
_BABY = frozenset({"infant", "pregnant", "nursing"})
_SWALLOWED = frozenset({"drink", "baby", "cook"})
_OTHER_TAPS = frozenset({"bath", "garden"})
_REASONED = frozenset({"bottled", "boil", "ask", "cant_tell"})
_CALM = frozenset({"none", "not_known_risk", "cant_tell"})
_ASKS = frozenset({"bottled", "germs", "ask"})


def use_rows(picture: Picture) -> tuple[UseRow, ...]:
    """Return one row for each use; the gravest answer of all findings decides."""
    return tuple(_row(use, picture) for use in USES)


def _row(use: str, picture: Picture) -> UseRow:
    answers = _answers(use, picture)
    worst = _worst(use, picture)
    missing = _missing(use, picture) if worst in _CALM else []
    answer = "cant_tell" if missing else worst
    because = [item for said, item in answers if said == answer != "none"]
    why = _why(use, answer, because, missing)
    if answer == "boil":
        why.append(_beside_boiling(use, picture))
    first_water = [item for item in picture.open_ if low_but_for_the_draw(item)]
    if answer == "none" and first_water and use in _SWALLOWED:
        why.append(word("use_first_water", names=short_names(first_water, most=2)))
    if answer == "none" and use in _SWALLOWED and any(map(quiet_at_this_tap, picture.open_)):
        why.append(word("use_this_tap"))
    if _smells(use, picture) and not because:
        why.append(word("use_because_smell"))
    return UseRow(
        word(f"use_{use}"),
        word(f"answer_{answer}"),
        " ".join((*why, *_note(use, because, picture))),
    )


def left_out(picture: Picture) -> list[str]:
    """Return by name the tests that would answer for a use of which nothing can be told.

    What an earlier sheet had of concern has a step of its own.
    """
    past = {one.name for one in picture.past}
    names = [in_sentence(analyte_name(slug)) for slug in picture.missing]
    open_ = any(_missing(use, picture) and _worst(use, picture) in _CALM for use in USES)
    return [name for name in names if name not in past] if open_ and picture.tested else []


def _answers(use: str, picture: Picture) -> list[tuple[Answer, Item]]:
    """Return what each finding says about one use."""
    answers = [(_answer(use, item, picture), item) for item in _relevant(picture)]
    if use == "baby":
        answers += [("bottled", item) for item in picture.not_for_babies]
    return answers


def _worst(use: str, picture: Picture) -> Answer:
    """Return the answer that decides a use, before what was not tested is looked at."""
    if _smells(use, picture):
        return "bottled"
    told = (answer for answer, _ in _answers(use, picture))
    return min(told, key=ANSWERS.index, default="none")


def _smells(use: str, picture: Picture) -> bool:
    return picture.fuel_smell and use != "garden"


def _relevant(picture: Picture) -> tuple[Item, ...]:
    calm = tuple(item for item in picture.for_somebody if item not in picture.watch)
    return picture.concerns + picture.open_now + picture.open_ + picture.watch + calm


def _answer(use: str, item: Item, picture: Picture) -> Answer:
    """Return what one finding says about one use."""
    finding = item.finding
    cell = hazard_of(finding.analyte).uses[use]
    if item in picture.for_somebody:
        return "ask" if use in _SWALLOWED else "none"
    if finding.verdict == "watch" and use == "bath" and _breathed(item):
        return "ask"
    if finding.verdict == "watch":
        return "ask" if use == "baby" and _BABY & set(finding.persons) else "none"
    if finding.verdict == "cant_tell":
        calm = low_but_for_the_draw(item) or _calm_here(use, item)
        return "none" if calm else _open_answer(use, cell, finding)
    if cell == "germs":
        return _germs(use, picture)
    return cast("Answer", cell)


def _breathed(item: Item) -> bool:
    """Whether a shower lets it into the air, and it does not lie below its level."""
    steps = {one.code for one in item.finding.do}
    return bool(steps & INTO_THE_AIR) and item.against_yardstick != "below"


def _calm_here(use: str, item: Item) -> bool:
    """Whether a treated tap answers for a use; gas and vapor come from the other taps too."""
    return quiet_at_this_tap(item) and (use not in _OTHER_TAPS or item.is_germ)


def _open_answer(use: str, cell: str, finding: Finding) -> Answer:
    """Return what a result that cannot be told says: where it may be urgent, play it careful."""
    own = registry().get(finding.analyte or "")
    if own is not None and not own.health and finding.urgency is None:
        return "none"  # hardness or iron that is open keeps nobody from drinking
    if cell not in _ASKS or not (finding.urgency or finding.levels):
        return "none"
    careful = finding.urgency is not None and (use == "baby" or finding.analyte not in NITROGEN)
    return "bottled" if careful and cell != "ask" else "cant_tell"


def _germs(use: str, picture: Picture) -> Answer:
    """Boil first only where the boil rule lets this person boil."""
    if picture.advice == "boil" or (picture.advice.startswith("babies_") and use != "baby"):
        return "boil"
    return "bottled"


def _missing(use: str, picture: Picture) -> list[str]:
    """Return by name what would have to be tested before this use can be answered."""
    needed = {"total_coliform": use in _NEEDS_GERMS, "nitrate": use in _NEEDS_NITRATE}
    names = [in_sentence(analyte_name(slug)) for slug in picture.missing if needed[slug]]
    past = [one.name for one in picture.past] if use in _NEEDS_GERMS else []
    return list(dict.fromkeys((*past, *names)))


def _why(use: str, answer: str, because: list[Item], missing: list[str]) -> list[str]:
    """Return the reason of the answer."""
    parts = []
    if because and answer in _REASONED:
        parts.append(word("use_because", names=short_names(because, most=2)))
    if missing:
        parts.append(word("use_untested", names=listed(missing)))
    if use == "pets" and answer in {"ask", "bottled"}:
        parts.append(word("use_note_vet"))
    return parts


def _beside_boiling(use: str, picture: Picture) -> str:
    """Return what to use instead, and for which people boiled water is no answer."""
    babies = picture.advice in BABIES and use != "pets"
    return word("use_note_boil_babies" if babies else "use_note_boil")


def _note(use: str, because: list[Item], picture: Picture) -> tuple[str, ...]:
    """Return what the gravest hazard says beside a use; stains are said of nuisances too."""
    hazards = {hazard_of(item.finding.analyte) for item in (*because, *picture.nuisance)}
    if picture.fuel_smell:
        hazards.add(hazard_named(FUMES))
    noted = [hazard for hazard in hazards if use in hazard.notes]
    gravest = min(noted, key=lambda hazard: hazard.rank, default=None)
    return (word(f"use_note_{gravest.notes[use]}"),) if gravest else ()

"""The sentences at the top of page 1, which say if we can drink it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import get_args

from welltold.boil import BABIES
from welltold.interpretation import Person

from ..wording import analyte_names, counted, listed, word
from .hazards import hazard_of
from .other_samples import OtherSample
from .picture import (
    Picture,
    distinct,
    low_but_for_the_draw,
    not_for_babies,
    persons_words,
    short_names,
)
from .printed import Item


def main_message(picture: Picture) -> tuple[str, ...]:
    """Return a few short sentences, the worst finding first."""
    others = tuple(_others(picture.others))
    if picture.urgent or picture.fuel_smell:
        return (*_present(picture), *others, *_past(picture))
    return (*others, *_present(picture), *_past(picture))


def _others(others: Sequence[OtherSample]) -> Iterator[str]:
    """Yield which other samples of the sheet have a health concern that this one has not."""
    if others:
        names = dict.fromkeys(name for one in others for name in one.concerns)
        ids = listed([one.name for one in others])
        yield counted("main_other_sample", len(others), id=ids, names=listed(list(names)))


def _past(picture: Picture) -> Iterator[str]:
    """Yield what an earlier sheet found of concern, where this one says nothing of it."""
    if picture.past:
        yield word("main_past", names=listed([one.name for one in picture.past]))


def _present(picture: Picture) -> tuple[str, ...]:
    if picture.now or picture.fuel_smell:
        return _stop(picture)
    if picture.soon:
        return _soon(picture)
    if picture.open_now:
        names = short_names(picture.open_now)
        return (word("main_cant", names=names), word("main_cant_do"))
    if not picture.tested:
        return (word("main_empty"),)
    return _calm(picture)


def _stop(picture: Picture) -> tuple[str, ...]:
    """Return what to say when something asks for a step today."""
    fumes = picture.fuel_smell or any(_is(item.finding.analyte, "fumes") for item in picture.now)
    first = word("main_fumes" if fumes else "main_stop")
    if not picture.now:
        return (first, _found(picture.concerns)) if picture.concerns else (first,)
    persons = [p for item in picture.now for p in item.finding.persons if p != "everyone"]
    found = _found(picture.concerns)
    urgent = (word("main_now_persons", persons=persons_words(persons)),) if persons else ()
    return (first, found, *urgent)


def _soon(picture: Picture) -> tuple[str, ...]:
    """Return what to say of a health concern that leaves a few weeks."""
    hazards = [hazard_of(item.finding.analyte) for item in picture.soon]
    drunk = any(hazard.uses["drink"] in {"bottled", "germs"} for hazard in hazards)
    if any(hazard.name == "fumes" for hazard in hazards):
        return (word("main_fumes"), _found(picture.soon))
    first = _other_water(picture) if drunk else (word("main_soon_air"),)
    return (*first, _found(picture.soon))


def _other_water(picture: Picture) -> tuple[str, ...]:
    """Return which water to drink for now; boiled will do only where the boil rule lets it."""
    if picture.advice in BABIES:
        return (word("main_soon_boil"), word("main_soon_babies"))
    return (word("main_soon_boil" if picture.advice == "boil" else "main_soon"),)


def _found(items: Sequence[Item]) -> str:
    return counted("main_now", len(distinct(items)), names=short_names(items))


def _calm(picture: Picture) -> tuple[str, ...]:
    """Return what was found instead of a health concern, and what is open."""
    sentences: list[str] = []
    if picture.watch:
        names = short_names(picture.watch)
        sentences.append(counted("main_watch", len(distinct(picture.watch)), names=names))
    elif not picture.nuisance and picture.quiet:
        sentences.append(_clean(picture))
        if not (picture.missing or picture.open_):
            sentences.append(word("main_clean_end"))
    if picture.not_for_babies:
        sentences.append(word("main_no_formula", names=short_names(picture.not_for_babies)))
    if picture.nuisance:
        n = len(distinct(picture.nuisance))
        sentences.append(counted("main_nuisance", n, names=short_names(picture.nuisance)))
        # what is no water for a baby's formula is no health concern for most people only
        most = any(map(not_for_babies, picture.nuisance))
        sentences.append(counted("main_nuisance_end_most" if most else "main_nuisance_end", n))
    sentences += _for_somebody(picture)
    sentences += _open(picture.open_)
    if picture.missing:
        sentences.append(word("main_untested_core", names=analyte_names(picture.missing)))
    return tuple(sentences)


def _for_somebody(picture: Picture) -> Iterator[str]:
    """Yield for whom of this home something matters that is no health concern for others."""
    persons = {person for item in picture.for_somebody for person in item.finding.persons}
    told = [one for one in get_args(Person) if one in persons & picture.at_home]
    if told:
        yield word("who_matters", persons=persons_words(told))


def _open(items: Sequence[Item]) -> Iterator[str]:
    """Yield what cannot be told; what is only open in standing water is told as that."""
    drawn = [item for item in items if low_but_for_the_draw(item)]
    other = [item for item in items if item not in drawn]
    if other:
        yield word("main_some_open", names=short_names(other))
    if drawn:
        yield word("main_first_water", names=short_names(drawn))


def _clean(picture: Picture) -> str:
    """Return in how many tests nothing was found; what cannot be told is not one of them."""
    quiet, open_ = (
        sum(item.result is not None for item in part) for part in (picture.quiet, picture.open_)
    )
    if open_:
        return word("main_clean_some", n=quiet, all=quiet + open_)
    return counted("main_clean", quiet)


def _is(slug: str | None, hazard: str) -> bool:
    return hazard_of(slug).name == hazard

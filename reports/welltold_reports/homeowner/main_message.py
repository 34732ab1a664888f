"""The sentences at the top of page 1, which say if we can drink it."""

from __future__ import annotations

from collections.abc import Sequence

from ..wording import counted, word
from .hazards import hazard_of
from .picture import Picture, distinct, missing_names, persons_words, short_names
from .printed import Item


def main_message(picture: Picture) -> tuple[str, ...]:
    """Return one to four short sentences, the worst finding first."""
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
        return (first,)
    persons = [p for item in picture.now for p in item.finding.persons if p != "everyone"]
    found = _found(picture.concerns)
    urgent = (word("main_now_persons", persons=persons_words(persons)),) if persons else ()
    return (first, found, *urgent)


def _soon(picture: Picture) -> tuple[str, ...]:
    """Return what to say of a health concern that leaves a few weeks."""
    hazards = [hazard_of(item.finding.analyte) for item in picture.soon]
    drunk = any(hazard.uses["drink"] in {"bottled", "germs"} for hazard in hazards)
    first = word("main_soon" if drunk else "main_soon_air")
    if any(hazard.name == "fumes" for hazard in hazards):
        first = word("main_fumes")
    return (first, _found(picture.soon))


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
    if picture.nuisance:
        n = len(picture.nuisance)
        sentences.append(counted("main_nuisance", n, names=short_names(picture.nuisance)))
        sentences.append(counted("main_nuisance_end", n))
    if picture.not_for_babies:
        sentences.append(word("main_no_formula", names=short_names(picture.not_for_babies)))
    if picture.open_:
        sentences.append(word("main_some_open", names=short_names(picture.open_)))
    if picture.missing:
        sentences.append(word("main_untested_core", names=missing_names(picture.missing)))
    return tuple(sentences)


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

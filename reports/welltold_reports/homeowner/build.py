"""Builds the homeowner's report of one sample from the interpretation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

from welltold import __version__
from welltold.interpretation import Interpretation, SampleView
from welltold.level_packs import known_packs
from welltold.level_rows import FEDERAL
from welltold.messages import Language, speaking
from welltold.reviews import is_draft, is_whole
from welltold.sampling.cards import advised
from welltold.speech import phrase

from ..visible import only_visible
from ..wording import date_words, texts, word
from .cards import card_groups
from .first_page import first_page
from .history import history_part
from .model import HomeownerReport
from .outlets import outlet_part, outlet_steps
from .past_concerns import advice_about_boiling
from .printed import corrections_of, items_of
from .stages import refused_entries, stage_intro, step_lines, train_blocks
from .tables import (
    appendix_table,
    quiet_names,
    quiet_table,
    retest_table,
    shared_doubts,
    source_entries,
    unknown_table,
    unread_lines,
    untested_table,
    word_table,
)


def build(view: Interpretation, index: int) -> HomeownerReport:
    """Return the report of the sample at ``index``; pure, the same for the same input."""
    with speaking(view.language):
        return only_visible(_report(view, index))


def _report(view: Interpretation, index: int) -> HomeownerReport:
    sample = view.samples[index]
    printed = view.reading.samples
    items = items_of(sample, printed[index] if index < len(printed) else None)
    advice = advice_about_boiling(sample, view.site)
    first = first_page(view, index, items)
    first = replace(first, steps=(*first.steps, *outlet_steps(sample)))
    groups = card_groups(items, advice)
    trains = train_blocks(sample)
    quiet = quiet_table(items)
    return HomeownerReport(
        language=view.language,
        title=word("title"),
        sample=sample_line(sample),
        first=first,
        groups=groups,
        quiet=quiet,
        quiet_names=quiet_names(items),
        stages=stage_intro(sample),
        trains=trains,
        steps=step_lines(sample),
        refused=refused_entries(sample),
        untested=untested_table(items),
        retest=retest_table(sample),
        retest_always=_retest_always(sample),
        words=word_table(" ".join(_strings((first, groups, trains, quiet)))),
        sources=source_entries(items),
        sources_note=levels_from(view.levels_packs),
        appendix=appendix_table(items),
        notes=(
            *corrections_of(items),
            *shared_doubts(view.reading, items),
            *texts(view.reading.warnings),
            *doubtful_checks(sample),
        ),
        unread=unread_lines(view.reading),
        about=about(view),
        unknown=unknown_table(items),
        history=history_part(sample, items),
        outlet=outlet_part(sample),
    )


def sample_line(sample: SampleView) -> str:
    """Return which sample it is, where and when it was taken, in one line."""
    parts = [word("sample_named", id=sample.id) if sample.id else word("sample_plain")]
    if sample.point:
        parts.append(sample.point)
    if sample.collected:
        parts.append(word("sample_date", date=date_words(sample.collected)))
    return ", ".join(parts)


def doubtful_checks(sample: SampleView) -> tuple[str, ...]:
    """Return where the sheet does not agree with itself, one line for each check."""
    doubts = [check for check in sample.checks or () if check.outcome == "doubt"]
    return tuple(" ".join(texts(check.why)) for check in doubts)


def levels_from(packs: Sequence[str]) -> str:
    """Return who set the levels: EPA, and whose packs were asked for beside."""
    whose = [_publisher(name) for name in packs if name != FEDERAL]
    also = (word("levels_also", who="; ".join(dict.fromkeys(whose))),) if whose else ()
    return " ".join((word("levels_are"), *also))


def _publisher(pack: str) -> str:
    """Return who published a pack of levels."""
    known = known_packs()
    return phrase(known[pack].whose) if pack in known else word("levels_own")


def about(view: Interpretation) -> tuple[str, ...]:
    """Return what the report was made from, and what it is not."""
    source = view.reading.source
    packs = ", ".join(map(_publisher, view.levels_packs))
    return (
        word("about_not_certified"),
        word("about_local"),
        word("about_as_of", date=date_words(view.as_of), packs=packs),
        word("about_made", version=__version__, file=source.file),
        word("about_sha", sha=source.sha256),
        *_translation(view.language),
    )


def translation_marks(language: Language) -> tuple[str, ...]:
    """Return the mark of a translation that nobody has signed, for a footer."""
    return (word("draft_mark"),) if is_draft(language) else ()


def _translation(language: Language) -> Iterator[str]:
    """Yield what has to be said of sentences that nobody has signed, or that are missing."""
    if is_draft(language):
        yield word("about_draft")
    if not is_whole(language):
        yield word("about_untranslated")


def _retest_always(sample: SampleView) -> tuple[str, ...]:
    fix = (word("retest_fix"),) if sample.trains and not sample.retest else ()
    year = () if sample.retest else (word("retest_year"),)
    cards = (word("retest_cards"),) if next(advised(sample), None) else ()
    return (*fix, *year, word("retest_change"), *cards)


def _strings(obj: Any) -> list[str]:
    """Return every text inside a part of the report."""
    if isinstance(obj, str):
        return [obj]
    if is_dataclass(obj):
        return [text for field in fields(obj) for text in _strings(getattr(obj, field.name))]
    if isinstance(obj, tuple):
        return [text for part in obj for text in _strings(part)]
    return []

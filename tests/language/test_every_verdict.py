"""Every verdict of every analyte, told in both languages: no gap, nothing left in English."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

import welltold
from welltold.analytes import Analyte, registry
from welltold.interpretation import Interpretation, Verdict
from welltold.levels import load_levels
from welltold.messages import LANGUAGES, Language
from welltold.reading import Reading, Result, Sample, Source, Where
from welltold.speech import plain_name
from welltold_reports.homeowner import build
from welltold_reports.homeowner.hazards import hazard_of
from welltold_reports.html import homeowner_html, worksheet_html
from welltold_reports.number_line import NumberLine
from welltold_reports.worksheet import build_worksheet

from .test_catalogues import english_words

DAY = date(2026, 11, 25)
LEVELS = load_levels(("us_federal",), DAY)
GAP = re.compile(r"\{\w*\}|\bNone\b(?! of them)|\bnan\b|  +|(?<!\d)[,;:] ?[.,;]|\(\)|«»|“”")
CITATION = re.compile(r"(?<=\d)([^()]*) \(.*$")
"""What stands in brackets behind the number of a level."""
TALLEST = 40
"""Analytes on one invented sheet; more make no other sentence, only a slower test."""
LABEL = "Zzz"
WAYS = ("far over", "over", "near", "under", "not found", "blind", "bare", "present", "absent",
        "unreadable", "blank")  # fmt: skip


def amounts(one: Analyte) -> tuple[Decimal, str]:
    """A number that decides something for this analyte, and its unit."""
    known = [level for level in LEVELS.of(one.slug) if level.value and level.role != "none"]
    if known:
        return known[0].value or Decimal(1), known[0].unit
    return (one.natural_high or Decimal(1)) / 10, one.unit


def result(one: Analyte, way: str, line: int) -> Result:
    number, unit = amounts(one)
    value = {
        "far over": number * 12, "over": number * 3, "near": number * Decimal("0.97"),
        "under": number / 4, "not found": number / 10, "blind": number * 7, "bare": number * 3,
    }.get(way)  # fmt: skip
    state = {
        "not found": "below", "blind": "below", "present": "present", "absent": "absent",
        "unreadable": "unreadable", "blank": "blank",
    }.get(way, "value")  # fmt: skip
    shown = "" if value is None else f"{value:f}"
    return Result(
        one.slug,
        f"{LABEL}{line}",
        f"<{shown}" if state == "below" else shown or "?",
        state,  # type: ignore[arg-type]  # one of the states
        operator="<" if state == "below" else "=",
        value=value,
        present={"present": True, "absent": False}.get(way),
        unit=None if way in {"bare", "present", "absent"} else unit,
        basis=one.basis,
        where=(Where("value", page=1, box=(10.0, 10.0, 20.0, 20.0)),),
    )


@cache
def views(language: Language) -> tuple[Interpretation, ...]:
    """Every analyte in every way, some on each sheet."""
    every = list(registry().values())
    told = []
    for way in WAYS:
        for start in range(0, len(every), TALLEST):
            some = every[start : start + TALLEST]
            results = tuple(result(one, way, line) for line, one in enumerate(some, start=1))
            sample = Sample("S1", None, "2026-11-16", results=results)
            reading = Reading(Source("sheet.csv", "0" * 64, "csv", None), samples=(sample,))
            told.append(welltold.interpret(reading, as_of=DAY, language=language))
    return tuple(told)


PASSED_OVER = {"language", "about", "verdict", "source"}
"""Codes, and what names versions, files and citations."""


def texts(part: Any) -> Iterator[str]:
    """Every text of a report; of the sources only what is no citation."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, NumberLine):
        yield from (part.alt, part.label, *(tick.label for tick in part.ticks))
    elif isinstance(part, tuple):
        for one in part:
            yield from texts(one)
    elif is_dataclass(part):
        for field in fields(part):
            if field.name == "sources":
                for entry in part.sources:
                    yield from (CITATION.sub(r"\1", line) for line in entry.sentences)
            elif field.name not in PASSED_OVER:
                yield from texts(getattr(part, field.name))


def test_every_verdict_of_every_analyte_that_can_be_is_there() -> None:
    seen: dict[str, set[Verdict]] = {}
    for view in views("es"):
        for finding in view.samples[0].findings:
            seen.setdefault(finding.analyte or "", set()).add(finding.verdict)
    assert seen.keys() >= registry().keys()
    for slug in registry():
        decides = [lv for lv in LEVELS.of(slug) if lv.role == "health" and lv.op == "max"]
        if decides and decides[0].value:
            assert {"health_concern", "no_concern_found", "cant_tell"} & seen[slug], slug
    told = set().union(*seen.values())
    assert told == {"health_concern", "watch", "nuisance_only", "no_concern_found", "cant_tell",
                    "not_tested"}  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_gap_and_no_placeholder_in_any_verdict(language: Language) -> None:
    found = {
        (match.group(), text)
        for view in views(language)
        for text in texts(build(view, 0))
        for match in GAP.finditer(text)
    }
    assert not sorted(found)[:9]


def test_no_english_word_is_left_in_any_spanish_verdict() -> None:
    found = {}
    for view in views("es"):
        report = build(view, 0)
        for text in (*texts(report), *texts(build_worksheet(view, 0, report).trains)):
            words = english_words(text)
            if words:
                found[text] = words
    assert not list(found.items())[:9]


def test_a_finding_says_in_each_language_what_it_says_in_the_other() -> None:
    """The same codes in the same order: a translation adds no reason and loses none."""
    for english, spanish in zip(views("en"), views("es"), strict=True):
        pairs = zip(english.samples[0].findings, spanish.samples[0].findings, strict=True)
        for one, other in pairs:
            assert (one.analyte, one.verdict, one.urgency) == (
                other.analyte, other.verdict, other.urgency,
            )  # fmt: skip
            for mine, theirs in ((one.why, other.why), (one.do, other.do)):
                assert [m.code for m in mine] == [m.code for m in theirs]


def test_every_sentence_of_a_verdict_has_another_text_in_spanish() -> None:
    same = set()
    for english, spanish in zip(views("en"), views("es"), strict=True):
        pairs = zip(english.samples[0].findings, spanish.samples[0].findings, strict=True)
        for one, other in pairs:
            mine, theirs = (*one.why, *one.do), (*other.why, *other.do)
            same |= {a.code for a, b in zip(mine, theirs, strict=True) if a.text == b.text}
    assert not same


def test_the_pages_themselves_say_that_they_are_spanish() -> None:
    view = views("es")[0]
    report = build(view, 0)
    for page in (homeowner_html(report), worksheet_html(build_worksheet(view, 0, report))):
        assert '<html lang="es">' in page
        assert "borrador" in page
    text = re.sub(r"<style>.*?</style>|<[^>]+>", " ", homeowner_html(report), flags=re.DOTALL)
    body = text.replace("Share this page with everyone who drinks this water.", "")
    body = body.partition("De dónde salen los niveles")[0]
    assert not english_words(body.replace("draft translation", ""))


def test_every_hazard_is_told_in_spanish() -> None:
    assert {hazard_of(slug).name for slug in registry()} >= {"fumes", "nitrate", "lead"}


def test_names_in_the_pages_are_the_spanish_ones() -> None:
    from welltold.messages import speaking

    with speaking("es"):
        names = {slug: plain_name(slug) for slug in registry()}
    for view in views("es"):
        report = build(view, 0)
        for group in report.groups:
            for card in group.cards:
                assert card.name in names.values() or card.name.startswith(LABEL), card.name

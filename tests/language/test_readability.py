"""The Spanish of every sample report reads easily.

Szigriszt-Pazos (INFLESZ) of 65 or more is "fairly easy" (Barrio-Cantalejo and others 2008, An Sist
Sanit Navar 31(2):135): perspicuity = 206.835 - 62.3 syllables / words - words / sentences, measured
here with textstat 0.7.8 on the running text, once as it stands and once with the names of analytes
put as "sal" and numbers with their units as "5 partes".
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.metadata import version
from pathlib import Path

import pytest
import report_cases as cases
from textstat.textstat import textstatistics

import welltold
from welltold.analytes import registry
from welltold.errors import WelltoldError
from welltold.interpretation import Interpretation
from welltold.messages import speaking
from welltold.speech import plain_name
from welltold_reports.homeowner import HomeownerReport, build

from .test_catalogues import FORBIDDEN, LONGEST, MEAN, english_words, sentences

EASY = 65
SHEETS = sorted(path.name for path in (Path(__file__).parents[2] / "samples" / "sheets").iterdir())
BAD = {"price-list.csv", "pump-invoice.pdf", "truncated.pdf"}
"""Bad on purpose, or no lab sheet."""
MEASURE = textstatistics()
MEASURE.set_lang("es")


@cache
def reports(sheet: str) -> tuple[HomeownerReport, ...]:
    path = Path(__file__).parents[2] / "samples" / "sheets" / sheet
    view = welltold.interpret(welltold.read(path, language="es"), language="es")
    return tuple(build(view, index) for index in range(len(view.samples)))


def first_page(report: HomeownerReport) -> list[str]:
    """The running text of page 1: no labels, no tables, no telephone line."""
    first = report.first
    panel = first.panel.sentences if first.panel else ()
    steps = [step.text for step in first.steps]
    return [*first.main, *panel, *steps, *first.calls[:-1], first.untested, *first.sure]


def whole(report: HomeownerReport) -> list[str]:
    """The running text of all pages."""
    text = first_page(report)
    for group in report.groups:
        for card in group.cards:
            text += [*card.what, card.who, *card.do]
    for train in report.trains:
        for stage in train.stages:
            text += [*stage.because, stage.open_, *stage.cautions]
        text += [train.left, *train.for_, *train.against]
    for table in (report.untested, report.words):
        text += [row[-1] for row in table.rows] if table else []
    text += [*report.stages, *report.steps, report.sources_note, *report.about[:2]]
    return [one for one in text if one]


@cache
def names() -> re.Pattern[str]:
    with speaking("es"):
        known = sorted((plain_name(slug) or "" for slug in registry()), key=len, reverse=True)
    return re.compile(rf"\b({'|'.join(map(re.escape, [*known, 'E. coli']))})(?!\w)", re.IGNORECASE)


def masked(text: str) -> str:
    text = names().sub("sal", text)
    return re.sub(
        r"[\d,.]*\d ?(partes por \w+( millones)?|mg/L( como N)?|µg/L|pies|meses|minutos?|horas)",
        "5 partes",
        text,
    )


def perspicuity(text: str) -> float:
    return MEASURE.szigriszt_pazos(text.replace("E. coli", "E coli"))


KINDS = {
    **dict.fromkeys("aeoáéó", "strong"),
    **dict.fromkeys("iuü", "weak"),
    "í": "own",
    "ú": "own",
}


def syllables(word: str) -> int:
    """Count the syllables of a Spanish word: weak vowels join their neighbours, others do not."""
    word = re.sub(r"qu|gu(?=[eéií])", "q", word.lower())
    word = re.sub(r"y(?![aeiouáéíóú])", "i", word)
    count, before = 0, ""
    for letter in word:
        kind = KINDS.get(letter, "")
        joins = {kind, before} <= {"weak", "strong"} and "weak" in {kind, before}
        count += bool(kind) and not joins
        before = kind
    return max(count, 1)


def strict(text: str) -> float:
    """Szigriszt-Pazos with syllables counted as Spanish speakers do.

    textstat counts them by hyphenation, which never leaves one letter alone ("agua" is one), and so
    comes out kinder.
    """
    words = re.findall(r"[a-záéíóúüñ]+", text.lower())
    count = sum(map(syllables, words))
    return 206.835 - 62.3 * count / len(words) - len(words) / len(sentences(text))


def test_the_measure_is_the_published_one() -> None:
    """Two sentences counted by hand: 12 words, 2 sentences, 20 syllables."""
    assert version("textstat") == "0.7.8"
    text = "Deje correr el agua fría. Llame hoy al médico de su hijo."
    by_hand = (2, 2, 1, 2, 2, 2, 1, 1, 3, 1, 1, 2)
    assert tuple(syllables(word) for word in re.findall(r"\w+", text)) == by_hand
    expected = 206.835 - 62.3 * sum(by_hand) / 12 - 12 / 2
    assert strict(text) == pytest.approx(expected)
    assert 0 < perspicuity(text) - expected < 12


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("bacterias", 3), ("coliformes", 4), ("radón", 2), ("tuberías", 4), ("análisis", 4),
        ("baño", 2), ("guía", 2), ("quiere", 2), ("ciudad", 2), ("oír", 2), ("aéreo", 4),
        ("uranio", 3), ("lluvia", 2), ("muy", 1), ("y", 1), ("orgánico", 4), ("sulfuro", 3),
    ],
)  # fmt: skip
def test_syllables(word: str, count: int) -> None:
    """After the rules of the Real Academia Española for diphthong and hiatus."""
    assert syllables(word) == count


def texts(sheet: str) -> Iterator[tuple[str, list[str]]]:
    for report in reports(sheet):
        yield "page 1", first_page(report)
        yield "all", whole(report)


@pytest.mark.parametrize("sheet", [name for name in SHEETS if name not in BAD])
def test_every_sample_reads_easily_in_spanish(sheet: str) -> None:
    for part, text in texts(sheet):
        running = " ".join(text)
        assert perspicuity(running) >= EASY, (part, running)
        assert perspicuity(masked(running)) >= EASY, (part, masked(running))
        assert strict(masked(running)) >= EASY, (part, masked(running))


@pytest.mark.parametrize("sheet", [name for name in SHEETS if name not in BAD])
def test_no_sentence_of_a_spanish_sample_is_long(sheet: str) -> None:
    for part, text in texts(sheet):
        found = [one for block in text for one in sentences(block)]
        longest = max(found, key=lambda one: len(one.split()))
        assert len(longest.split()) <= LONGEST, longest
        if part == "page 1":
            assert sum(len(one.split()) for one in found) / len(found) <= MEAN


@pytest.mark.parametrize("sheet", [name for name in SHEETS if name not in BAD])
def test_no_forbidden_and_no_english_word_in_a_spanish_sample(sheet: str) -> None:
    for _, text in texts(sheet):
        running = " ".join(text)
        assert not FORBIDDEN.findall(running)
        unquoted = re.sub(r"«[^»]*»", "", running)
        assert not english_words(unquoted), english_words(unquoted)


@pytest.mark.parametrize("sheet", sorted(BAD))
def test_bad_samples_are_refused_in_any_language(sheet: str) -> None:
    with pytest.raises(WelltoldError):
        reports(sheet)


@pytest.mark.parametrize("name", sorted(cases.CASES))
def test_invented_cases_are_built_in_spanish_too(name: str) -> None:
    view: Interpretation = cases.CASES[name]()
    for index in range(len(view.samples)):
        report = build(replace(view, language="es"), index)
        assert report.title.startswith("El agua de su pozo")
        running = " ".join(first_page(report))
        assert not re.findall(r"\{\w*\}|\bNone\b", running)

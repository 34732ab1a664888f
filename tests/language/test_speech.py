"""The language that is spoken: lists, dates, names, and who carries it where."""

from __future__ import annotations

import warnings
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from threading import Thread

import pytest
from babel import Locale
from babel.numbers import format_decimal

import welltold
from welltold import messages
from welltold.batch.worker import Task, report_on
from welltold.messages import Language, Message, UntranslatedWarning, say, speaking, spoken
from welltold.reading import Reading, Result, Sample, Source
from welltold.retelling import retold
from welltold.site import Home, Site
from welltold.speech import LOCALES, date_words, either, in_sentence, listed, plain_name
from welltold_reports import render_text
from welltold_reports.homeowner import build
from welltold_reports.numbers import plain

SHEET = "sample,test,result,unit\nW1,Nitrate as N,14.2,mg/L\nW1,Iron,0.1,mg/L\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "sheet.csv"
    path.write_text(SHEET, "utf-8")
    return path


def test_english_is_spoken_unless_another_language_is_asked_for() -> None:
    assert spoken() == "en"
    with speaking("es"):
        assert spoken() == "es"
        with speaking(None):
            assert spoken() == "es"
        with speaking("en"):
            assert spoken() == "en"
        assert spoken() == "es"
    assert spoken() == "en"


def test_an_unknown_language_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="unknown language 'fr'; known: en, es"), speaking("fr"):  # type: ignore[arg-type]
        pass


def test_each_thread_speaks_its_own_language() -> None:
    heard: list[str] = []
    with speaking("es"):
        thread = Thread(target=lambda: heard.append(spoken()))
        thread.start()
        thread.join()
    assert heard == ["en"]


@pytest.mark.parametrize(
    ("names", "english", "spanish"),
    [
        ((), "", ""),
        (("plomo",), "plomo", "plomo"),
        (("cobre", "plomo"), "cobre and plomo", "cobre y plomo"),
        (("a", "b", "hierro"), "a, b and hierro", "a, b y hierro"),
        (("uranio", "itrio"), "uranio and itrio", "uranio e itrio"),
        (("yodo", "hidróxido"), "yodo and hidróxido", "yodo e hidróxido"),
        (("cloro", "yodo"), "cloro and yodo", "cloro y yodo"),
    ],
)
def test_lists(names: tuple[str, ...], english: str, spanish: str) -> None:
    """Real Academia Española: "e" before the sound of i, "y" before "hie" and before "yo"."""
    assert listed(names) == english
    with speaking("es"):
        assert listed(names) == spanish


def test_choices() -> None:
    """Real Academia Española: "u" before the sound of o, also before 8 and 11."""
    with speaking("es"):
        assert either(("7 mg/L", "9 mg/L")) == "7 mg/L o 9 mg/L"
        assert either(("7 mg/L", "8 mg/L")) == "7 mg/L u 8 mg/L"
        assert either(("7", "110")) == "7 o 110"
        assert either(("plata", "oro")) == "plata u oro"
    assert either(("7 mg/L", "8 mg/L")) == "7 mg/L or 8 mg/L"


def test_dates() -> None:
    assert date_words("2026-11-05T14:30") == "November 5, 2026"
    assert date_words("soon") == "soon"
    with speaking("es"):
        assert date_words("2026-11-05") == "5 de noviembre de 2026"


def test_numbers_are_written_as_readers_in_the_united_states_write_them() -> None:
    """Babel's locale data (CLDR): a point before decimals and commas in both languages."""
    for language, locale in LOCALES.items():
        with speaking(language):
            for number in ("0.05", "1920", "12345.60", "1E+6"):
                places = "0" * max(-int(Decimal(number).as_tuple().exponent), 0)
                pattern = f"#,##0.{places}" if places else "#,##0"
                assert plain(Decimal(number)) == format_decimal(Decimal(number), pattern, locale)
        rule = Locale.parse(locale).plural_form
        assert [rule(n) for n in (0, 1, 2, 14)] == ["other", "one", "other", "other"]


def test_names_inside_a_sentence() -> None:
    names = {
        "Ácido dicloroacético": "ácido dicloroacético",
        "E. coli": "E. coli",
        "pH": "pH",
        "PFOA más PFOS": "PFOA más PFOS",
        "Índice de Langelier": "índice de Langelier",
        "Legionella": "Legionella",
        "Cromo(VI), hexavalente": "cromo(VI), hexavalente",
        "Chromium(VI), hexavalent": "chromium(VI), hexavalent",
    }
    assert {name: in_sentence(name) for name in names} == names


def test_what_is_not_in_the_registry_has_no_name() -> None:
    with speaking("es"):
        assert plain_name("zorbium") is None
        assert plain_name(None) is None


def test_a_missing_translation_is_said_in_english_and_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole = messages._own

    def some(room: str, language: Language) -> Mapping[str, str]:
        kept = {"e_coli_means": "Es posible."}
        return kept if (room, language) == ("verdict", "es") else whole(room, language)

    monkeypatch.setattr(messages, "_own", some)
    for cached in (messages.untranslated, messages._catalogue):
        cached.cache_clear()
    try:
        with speaking("es"):
            assert say("verdict.e_coli_means").text == "Es posible."
            with pytest.warns(UntranslatedWarning, match=r"verdict.near has no sentence in 'es'"):
                assert say("verdict.near").text.startswith("Another test")
        with speaking("en"), warnings.catch_warnings():
            warnings.simplefilter("error")
            assert say("verdict.near").text.startswith("Another test")
    finally:
        for cached in (messages.untranslated, messages._catalogue):
            cached.cache_clear()


def reading(*review: Message) -> Reading:
    result = Result("lead", "Lead", "5", "value", review=review)
    return Reading(Source("x.csv", "0" * 64, "csv", None), samples=(Sample(results=(result,)),))


def test_a_reading_is_told_again_in_another_language() -> None:
    one = say("read.label_fuzzy", label="Led", analyte="Lead")
    with speaking("es"):
        told = retold(reading(one)).results[0].review[0]
        assert told.text == "El nombre Led se tomó por esto: Plomo. Compárelo con la hoja."
        spanish = retold(reading(one))
    assert retold(spanish).results[0].review == (one,)


def test_a_message_of_another_version_keeps_its_text() -> None:
    old = (Message("read.gone", {}, "Old."), Message("lab.x", {}, "Theirs."))
    odd = Message("read.label_fuzzy", {"name": "x"}, "Other fields.")
    with speaking("es"):
        assert retold(reading(*old, odd)).results[0].review == (*old, odd)
    same = reading(say("read.label_unknown"))
    assert retold(same) is same


def test_the_face_speaks_what_it_is_asked_for(sheet: Path, tmp_path: Path) -> None:
    spanish = welltold.interpret(welltold.read(sheet, language="es"), language="es")
    english = welltold.interpret(welltold.read(sheet))
    by_site = welltold.interpret(welltold.read(sheet), site=Site(home=Home(language="es")))
    over_site = welltold.interpret(
        welltold.read(sheet), site=Site(home=Home(language="es")), language="en"
    )
    languages = (spanish.language, english.language, by_site.language, over_site.language)
    assert languages == ("es", "en", "es", "en")
    assert render_text(spanish).startswith("El agua de su pozo")
    assert render_text(english).startswith("Your well water")
    assert render_text(by_site) == render_text(spanish)
    page = welltold.write(spanish, tmp_path, ["html"], language="es")[0]
    assert '<html lang="es">' in page.read_text("utf-8")
    with pytest.raises(ValueError, match="speaks 'es', not 'en'"):
        welltold.write(spanish, tmp_path, ["html"], language="en")
    assert spoken() == "en"


def test_what_the_lab_printed_is_never_translated(sheet: Path) -> None:
    english = welltold.read(sheet)
    spanish = welltold.read(sheet, language="es")
    assert replace(spanish, warnings=()) == replace(english, warnings=())
    appendix = build(welltold.interpret(spanish, language="es"), 0).appendix
    assert appendix is not None
    assert appendix.rows[0][:2] == ("Nitrate as N", "14.2 mg/L")


def test_a_batch_worker_carries_the_language(sheet: Path, tmp_path: Path) -> None:
    task = Task(
        path=str(sheet),
        inside=sheet.name,
        sha256="0" * 64,
        folder=str(tmp_path / "out"),
        out=str(tmp_path),
        formats=("text", "json"),
        as_of="2026-11-25",
        packs=None,
        site=None,
        language="es",
    )
    done = report_on(task)
    assert done.rows[0]["language"] == "es"
    text = (tmp_path / "out" / "sheet.report.txt").read_text("utf-8")
    assert text.startswith("El agua de su pozo")
    assert "borrador" in text

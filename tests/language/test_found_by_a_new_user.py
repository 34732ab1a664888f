"""Words that a first reader stumbled over stay mended."""

from __future__ import annotations

from pathlib import Path

import pytest

import welltold
from welltold import face
from welltold.look import Look
from welltold.messages import LANGUAGES, Language, catalogue, rooms
from welltold.site import load_site
from welltold_reports.homeowner import build

SHEET = Path(__file__).parents[2] / "samples" / "sheets" / "hard-rusty.pdf"
SITE = '[equipment]\nin_place = ["air_injection_filter", "softener"]\n'


def test_the_site_file_has_one_name_in_spanish() -> None:
    said = [text for room in rooms() for text in catalogue(room, "es").values()]
    assert not [text for text in said if "archivo del sitio" in text]
    assert [text for text in said if "archivo del lugar" in text]


@pytest.mark.parametrize(
    ("language", "equipment", "agency"),
    [
        ("en", "air-injection iron filter, water softener", "(US Environmental Protection Agency)"),
        ("es", "filtro", "(Agencia de Protección Ambiental de EE. UU. (EPA))"),
    ],
)
def test_pages_name_equipment_and_agency_in_words(
    language: Language, equipment: str, agency: str, tmp_path: Path
) -> None:
    site = tmp_path / "site.toml"
    site.write_text(SITE, "utf-8")
    view = face.interpret(welltold.read(SHEET), site=load_site(site), language=language)
    face.write(view, tmp_path, ("html",), name="a", look=Look())
    pages = {path.name: path.read_text("utf-8") for path in tmp_path.glob("a.*.html")}
    assert equipment in pages["a.worksheet.html"]
    assert "air injection filter, softener" not in pages["a.worksheet.html"]
    for page in pages.values():
        assert agency in page
        assert "us_federal" not in page


def test_no_sentence_stands_twice_about_cloudy_water(tmp_path: Path) -> None:
    view = face.interpret(welltold.read(SHEET))
    (found,) = (one for one in view.samples[0].findings if one.analyte == "turbidity")
    text = " ".join(message.text for message in found.why)
    assert text.count("treated lake and river water") <= 1


def test_an_answer_of_the_lab_in_its_own_language_is_told_in_the_readers() -> None:
    sheet = SHEET.with_name("letter.pdf")
    told = {}
    for language in LANGUAGES:
        report = build(face.interpret(welltold.read(sheet), language=language), 0)
        assert report.quiet is not None
        told[language] = (report.groups[0].cards[0].value, report.quiet.rows[0][1])
    assert told["en"] == ("present", "absent")
    assert told["es"] == ("Se encontró («present»)", "No se encontró («absent»)")

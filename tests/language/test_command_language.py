"""``--language`` of every command that writes for a reader."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from openpyxl import load_workbook
from typer.testing import CliRunner, Result

from welltold.command.app import app
from welltold.errors import WelltoldError
from welltold.messages import catalogue

ROOT = Path(__file__).parents[2]
SHEET = "sample,test,result,unit\nW1,Lead,23,ug/L\nW1,Hardness,250,mg/L\nW1,Iron,1,mgg\n"
SITE = '[home]\nlanguage = "es"\n'


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "inbox" / "sheet.csv"
    path.parent.mkdir()
    path.write_text(SHEET, "utf-8")
    return path


def command(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], catch_exceptions=False)


def test_a_report_in_spanish(sheet: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = command("report", sheet, "--language", "es", "--out", out)
    assert "El agua de su pozo" in done.stdout
    for name in ("sheet.homeowner.html", "sheet.worksheet.html"):
        assert '<html lang="es">' in (out / name).read_text("utf-8")
    assert json.loads((out / "sheet.report.json").read_text("utf-8"))["language"] == "es"


def test_the_option_is_stronger_than_the_site_file(sheet: Path, tmp_path: Path) -> None:
    site = tmp_path / "site.toml"
    site.write_text(SITE, "utf-8")
    languages = [
        json.loads(command("report", sheet, "--json", "--site", site, *more).stdout)["language"]
        for more in ((), ("--language", "en"))
    ]
    assert languages == ["es", "en"]


def test_an_unknown_language_is_refused_with_the_known_ones(sheet: Path) -> None:
    for name in ("report", "read", "batch", "demo"):
        done = command(name, *([] if name == "demo" else [sheet]), "--language", "fr")
        assert done.exit_code == 2
        assert re.search(r"'fr' is not one of en, es", " ".join(done.output.split()))


def test_why_is_told_in_spanish(sheet: Path) -> None:
    told = command("report", sheet, "--explain", "lead", "--language", "es").stdout
    assert "La hoja dice «Lead»: «23» ug/L" in told
    assert "Lo que resulta: posible problema de salud" in told


def test_a_reading_is_shown_in_spanish(sheet: Path) -> None:
    told = command("read", sheet, "--language", "es").stdout
    assert "No se conoce la unidad mgg. Revise qué quiere decir." in told
    assert "Analito" in told
    english = command("read", sheet).stdout
    assert "Analyte" in english
    spanish = json.loads(command("read", sheet, "--json", "--language", "es").stdout)
    review = [one["review"] for one in spanish["samples"][0]["results"] if one["review"]]
    assert review[0][0]["text"].startswith("No se conoce")


def test_a_batch_speaks_one_language(sheet: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    asked = ("--out", out, "--format", "text", "--jobs", "1")
    told = command("batch", sheet.parent, *asked, "--language", "es").stderr
    assert "1 archivo(s): 1 con informe" in told
    assert "hay valores o líneas que revisar" in (out / "summary.csv").read_text("utf-8")
    book = load_workbook(out / "summary.xlsx")
    assert book.sheetnames == ["Muestras", "Totales"]
    assert book["Totales"]["A1"].value == "Archivos dados"
    (report,) = out.rglob("*.report.txt")
    assert report.read_text("utf-8").startswith("El agua de su pozo")
    command("batch", sheet.parent, *asked)
    assert report.read_text("utf-8").startswith("Your well water"), "another language: done again"


def test_a_complaint_speaks_the_language_that_was_asked_for(tmp_path: Path) -> None:
    empty = tmp_path / "empty.pdf"
    empty.touch()
    told = command("report", empty, "--language", "es", "--out", tmp_path).stderr
    assert "el archivo está vacío. Pida otra vez el archivo" in told
    assert "the file is empty. Ask for the file again" in command("read", empty).stderr
    folder = tmp_path / "inbox"
    folder.mkdir()
    empty.rename(folder / "empty.pdf")
    command("batch", folder, "--language", "es", "--out", tmp_path / "out", "--jobs", "1")
    aside = (tmp_path / "out" / "set-aside.csv").read_text("utf-8")
    assert "el archivo está vacío" in aside


def complaint(*words: object) -> str:
    """What is said of a mistake, whether it stops the command or one file."""
    try:
        return command(*words).stderr
    except WelltoldError as error:
        return str(error)


def spoilt(folder: Path) -> dict[str, tuple[str, str]]:
    """Own files with a mistake: what is wrong in English, and in Spanish."""
    (folder / "site.toml").write_text('[home]\npeople = "four"\n', "utf-8")
    (folder / "levels.toml").write_text('[pack]\nname = "A"\nwhose = "B"\n', "utf-8")
    (folder / "shelf.csv").write_text("name,stag\n", "utf-8")
    (folder / "head.toml").write_text('nmae = "A"\n', "utf-8")
    return {
        "--site site.toml": ("is not a whole number", "no es un número entero"),
        "--levels levels.toml": ("has no level", "no tiene ningún nivel"),
        "--shelf shelf.csv": ("is no known column", "no es una columna conocida"),
        "--letterhead head.toml": ("this key is not known", "esta clave no se conoce"),
    }


def test_what_is_wrong_in_ones_own_file_is_told_in_the_language_asked_for(
    sheet: Path, tmp_path: Path
) -> None:
    for option, (english, spanish) in spoilt(tmp_path).items():
        name, _, file = option.partition(" ")
        words = ("report", sheet, name, tmp_path / file, "--out", tmp_path / "out")
        assert english in complaint(*words)
        assert spanish in complaint(*words, "--language", "es")
    site = command("read", tmp_path / "site.toml", "--language", "es").stderr
    assert "délo con `--site`" in site


def test_every_sentence_on_an_own_file_is_in_use() -> None:
    folders = ("pipeline/welltold", "parsers/welltold_parsers")
    code = [path for folder in folders for path in (ROOT / folder).rglob("*.py")]
    used = set(re.findall(r"[\"'](\w+)[\"']", "".join(path.read_text("utf-8") for path in code)))
    assert set(catalogue("own")) <= used


def test_what_was_written_is_told_in_the_language_of_the_report(
    sheet: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    told = command("report", sheet, "--language", "es", "--out", out, "--format", "text").stderr
    assert "escrito: " in told
    assert "written: " not in told
    read = command("read", sheet, "--language", "es", "--json", "--out", out).stderr
    assert "1 de 1 archivo(s) leídos en" in read

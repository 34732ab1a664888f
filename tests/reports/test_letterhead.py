"""A letterhead says who hands the report over, and can neither hide nor change what was found."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
import report_cases as cases
from lxml import html as lxml_html
from pdfplumber import open as open_pdf
from PIL import Image
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import ExitCode, FileMissingError, LetterheadError
from welltold.letterhead import KNOWN, Letterhead, load_letterhead
from welltold.logo import SIZE
from welltold.look import Look
from welltold_reports import write

TEN_LINES = "x" * 60
FULL = Letterhead(
    "Tamarack Well Service",
    ("12 Millrace Road", "Tamarack Falls"),
    "555-0100",
    "office@tamarack-wells.example",
    "tamarack-wells.example",
    None,
    "We are glad to go through this report with you.",
)


def letterhead_file(folder: Path, text: str) -> Path:
    path = folder / "letterhead.toml"
    path.write_text(text, "utf-8")
    return path


def logo_file(folder: Path, size: tuple[int, int] = (900, 300), kind: str = "PNG") -> Path:
    path = folder / f"logo.{kind.lower()}"
    Image.new("RGB", size, "navy").save(path, kind)
    return path


def test_the_template_is_a_letterhead_and_names_every_key(tmp_path: Path) -> None:
    out = tmp_path / "letterhead.toml"
    done = CliRunner().invoke(app, ["template", "letterhead", "--out", str(out)])
    assert done.exit_code == ExitCode.ok
    with pytest.raises(LetterheadError, match="says nothing yet"):
        load_letterhead(out)
    lines = out.read_text("utf-8").splitlines()
    keys = {line.lstrip("#").split(" = ")[0] for line in lines if " = " in line}
    assert keys == set(KNOWN)
    wanted = [line.removeprefix("#") if " = " in line else line for line in lines]
    logo_file(tmp_path)
    assert load_letterhead(letterhead_file(tmp_path, "\n".join(wanted))).logo is not None


@pytest.mark.parametrize("size", [(900, 300), (300, 900), (40, 40)])
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_logo_is_made_small(tmp_path: Path, kind: str, size: tuple[int, int]) -> None:
    name = logo_file(tmp_path, size, kind).name
    logo = load_letterhead(letterhead_file(tmp_path, f'logo = "{name}"')).logo
    assert logo is not None
    assert (logo.width <= SIZE[0], logo.height <= SIZE[1]) == (True, True)
    with Image.open(io.BytesIO(logo.data)) as picture:
        assert picture.size == (logo.width, logo.height)


def test_a_photograph_does_not_make_the_page_heavy(tmp_path: Path) -> None:
    noise = Image.effect_noise((1600, 1200), 90).convert("RGB")
    noise.save(tmp_path / "photo.jpg", quality=70)
    head = load_letterhead(letterhead_file(tmp_path, 'name = "A"\nlogo = "photo.jpg"'))
    page = write(cases.nitrate_and_germs(), tmp_path, ["html"], name="x", look=Look(head))[0]
    assert page.stat().st_size <= 250_000


WRONG = {
    "unknown key": ('nmae = "A"', "nmae", 'did you mean "name"'),
    "no text": ("name = 5", "name", "text in quotes"),
    "a long name": (f'name = "{"x" * 300}"', "name", "300 letters, at most 60"),
    "a long closing": (f'closing = "{"x" * 401}"', "closing", "at most 400"),
    "a promise": ('closing = "Your water is perfectly safe now."', "closing", "'safe'"),
    "a promise in Spanish": ('closing = "Agua pura, garantizada."', "closing", "'garantizada'"),
    "many address lines": (f"address = {['a'] * 5}", "address", "5 lines, at most 4"),
    "no list": ('address = "12 Millrace Road"', "address", "a list of lines"),
    "no TOML": ("name = ", "TOML", "Invalid value"),
    "no such logo": ('logo = "none.png"', "logo", "none.png cannot be opened"),
    "a text as logo": ('logo = "letterhead.toml"', "logo", "no PNG or JPEG"),
    "a page as logo": ('logo = "page.svg"', "logo", "no PNG or JPEG"),
    "a gif as logo": ('logo = "logo.gif"', "logo", "no PNG or JPEG"),
    "half a logo": ('logo = "half.png"', "logo", "no PNG or JPEG"),
    "a heavy logo": ('logo = "heavy.png"', "logo", "heavy.png has 40.0 MB, at most 2 MB"),
    "a wide logo": ('logo = "wide.png"', "logo", "5,000 by 10 pixels, at most 4,000"),
    "a bomb": ('logo = "bomb.png"', "logo", "pixels"),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong_is_named(tmp_path: Path, case: str) -> None:
    text, key, told = WRONG[case]
    (tmp_path / "page.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    Image.new("P", (9, 9)).save(tmp_path / "logo.gif")
    noise = io.BytesIO()
    Image.effect_noise((300, 300), 90).save(noise, "PNG")
    (tmp_path / "half.png").write_bytes(noise.getvalue()[:2000])
    (tmp_path / "heavy.png").write_bytes(noise.getvalue().ljust(40_000_000, b"\0"))
    Image.new("1", (5000, 10)).save(tmp_path / "wide.png")
    Image.new("1", (30_000, 30_000)).save(tmp_path / "bomb.png")
    path = letterhead_file(tmp_path, text)
    with pytest.raises(LetterheadError) as caught:
        load_letterhead(path)
    assert caught.value.exit_code == ExitCode.letterhead_invalid
    assert str(caught.value).startswith(f"{path}: {key}: ")
    assert told in str(caught.value)


def test_a_letterhead_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        load_letterhead(tmp_path / "none.toml")


def test_it_stands_on_the_pages_and_not_in_the_findings(tmp_path: Path) -> None:
    view = cases.nitrate_and_germs()
    files = write(view, tmp_path, ["html", "pdf", "json", "text"], name="x", look=Look(FULL))
    by_name = {path.name: path for path in files}
    page = by_name["x.homeowner.html"].read_text("utf-8")
    assert page.index("Tamarack Well Service") < page.index("What to do")
    assert page.index("They are not part of what the lab found.") < page.index(FULL.closing)
    with open_pdf(by_name["x.homeowner.pdf"]) as document:
        text = "\n".join(one.extract_text() for one in document.pages)
    assert FULL.closing in text
    assert FULL.closing in by_name["x.report.txt"].read_text("utf-8")
    assert "Tamarack Well" not in json.dumps(json.loads(by_name["x.report.json"].read_text()))


def longest(folder: Path) -> Letterhead:
    """A letterhead that takes all the room that it may, and would rather be the report."""
    logo_file(folder, (4000, 4000))
    shout = ("YOUR WATER IS FINE " * 30)[:60].strip()
    text = f'name = "{shout}"\naddress = {[shout] * 4}\nphone = "{shout}"\nemail = "{shout}"\n'
    text += f'web = "{shout}"\nlogo = "logo.png"\nclosing = "{(shout + " ") * 6}"'
    return load_letterhead(letterhead_file(folder, text))


@pytest.mark.parametrize("name", ["nitrate_and_germs", "cant_tell", "arsenic", "clean"])
def test_the_longest_letterhead_hides_nothing(tmp_path: Path, name: str) -> None:
    """Page 1 keeps every line, and the answer stands within the first third of it."""
    view = cases.CASES[name]()
    bare = write(view, tmp_path / "bare", ["pdf"], name="x")[0]
    dressed = write(view, tmp_path / "dressed", ["pdf"], name="x", look=Look(longest(tmp_path)))[0]
    with open_pdf(bare) as before, open_pdf(dressed) as after:
        was, now = (document.pages[0].extract_text() for document in (before, after))
        decision = was.partition("Your water can change.")[0]
        assert "How sure is this?" in decision
        assert set(decision.split()) <= set(now.split())
        largest = max(char["size"] for char in after.pages[0].chars)
        answer = [char for char in after.pages[0].chars if char["size"] == largest]
        assert min(char["top"] for char in answer) < after.pages[0].height / 4
        assert "Handed over by YOUR WATER" in now, "never a sentence of the report's own"
        assert "FINE" not in "".join(char["text"] for char in answer)


def test_markup_in_a_letterhead_is_printed_and_not_obeyed(tmp_path: Path) -> None:
    nasty = replace(
        FULL,
        name='<script>alert(1)</script>"#set page(fill: red)',
        closing="{{ 7*7 }} \u202egnp.exe *bold* \x1b[2J",
    )
    files = write(cases.clean_well(), tmp_path, ["html", "pdf", "text"], name="x", look=Look(nasty))
    root = lxml_html.document_fromstring(files[0].read_bytes())
    assert not list(root.iter("script"))
    text = root.text_content()
    assert '<script>alert(1)</script>"#set page(fill: red)' in text
    assert "{{ 7*7 }} gnp.exe *bold* [2J" in text
    with open_pdf(next(one for one in files if one.name == "x.homeowner.pdf")) as document:
        assert "#set page(fill: red)" in document.pages[0].extract_text()
    assert "\x1b" not in files[-1].read_text("utf-8")


def test_an_empty_letterhead_changes_nothing(tmp_path: Path) -> None:
    view = cases.clean_well()
    bare = write(view, tmp_path / "a", ["html", "pdf"], name="x")
    empty = write(view, tmp_path / "b", ["html", "pdf"], name="x", look=Look(Letterhead()))
    assert [path.read_bytes() for path in bare] == [path.read_bytes() for path in empty]


def test_same_letterhead_same_bytes(tmp_path: Path) -> None:
    look = Look(longest(tmp_path), "a4")
    first, again = (
        write(cases.arsenic_just_above(), tmp_path / one, ["html", "pdf"], name="x", look=look)
        for one in ("a", "b")
    )
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in again]


@pytest.mark.parametrize("command", ["report", "batch"])
def test_a_wrong_letterhead_is_told_before_the_work_begins(tmp_path: Path, command: str) -> None:
    path = letterhead_file(tmp_path, 'colour = "red"')
    sheets = Path(__file__).parents[2] / "samples" / "sheets"
    given = str(sheets / "clean-well.pdf") if command == "report" else str(sheets)
    words = [command, given, "--letterhead", str(path), "--out", str(tmp_path / "out")]
    done = CliRunner().invoke(app, words)
    assert isinstance(done.exception, LetterheadError)
    assert not (tmp_path / "out").exists()


# -- paper ----------------------------------------------------------------------------------------


def test_a4_pages_keep_the_first_page_one_page_and_the_work_sheet_too(tmp_path: Path) -> None:
    for name in ("nitrate_and_germs", "hard_and_rusty", "clean"):
        view = cases.CASES[name]()
        files = write(view, tmp_path, ["html", "pdf"], name=name, look=Look(paper="a4"))
        for path in files:
            if path.suffix == ".html":
                assert "@page { size: a4; }" in path.read_text("utf-8")
                continue
            with open_pdf(path) as document:
                sizes = {(round(page.width), round(page.height)) for page in document.pages}
                assert sizes == {(595, 842)}
                if "homeowner" in path.name:
                    assert "How sure is this?" in document.pages[0].extract_text()
                if "worksheet" in path.name:
                    assert len(document.pages) == 1

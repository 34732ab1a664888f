"""WCAG 2.2 AA on the pages as a browser shows them: axe-core, narrow screens, enlarged pages."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import report_cases as cases
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from test_reports_samples import NAMES, SHEETS
from typer.testing import CliRunner

from welltold import face
from welltold.command.app import app
from welltold.messages import LANGUAGES
from welltold_reports import write

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

ODD = ("hostile", "four_hundred", "nothing", "cant_tell", "many")
"""Made by hand, in English: what would break a careless page."""
DRESSED = "dressed"
"""With a letterhead, earlier and later sheets, the amounts for a well, and the page of a batch."""
SETS = [(language, name) for language in LANGUAGES for name in NAMES]
SETS += [("en", name) for name in ODD]
SETS += [(language, DRESSED) for language in LANGUAGES]
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PHONE = {"width": 320, "height": 700}
"""WCAG 1.4.10: what is left of 1,280 pixels at 400 %."""
ENLARGED = {"width": 640, "height": 450}
"""1,280 by 900 pixels at 200 %."""
DESK = {"width": 1280, "height": 900}
IN_THE_DARK = (
    "nitrate-bacteria.pdf",
    "hard-rusty.pdf",
    "clean-well.pdf",
    "letter.pdf",
    "nothing",
    DRESSED,
)
UNREACHABLE = """() => [...document.querySelectorAll('.scroll')]
    .filter(one => one.scrollWidth > one.clientWidth)
    .filter(one => one.tabIndex !== 0 || !one.getAttribute('aria-label'))
    .map(one => one.outerHTML.slice(0, 200))"""

pytestmark = pytest.mark.filterwarnings("ignore::welltold.messages.UntranslatedWarning")


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


@cache
def written(folder: Path, language: str, name: str) -> tuple[Path, ...]:
    """The HTML pages of one sheet in one language."""
    if name == DRESSED:
        return dressed(folder / "dressed" / language, language)
    if name in ODD:
        return write(cases.CASES[name](), folder / "odd", ["html"], name=name)
    reading = face.read(SHEETS / name, language=language)  # type: ignore[arg-type]  # of LANGUAGES
    view = face.interpret(reading, as_of=date(2026, 11, 25), language=language)  # type: ignore[arg-type]  # of LANGUAGES
    return write(view, folder / language, ["html"], name=name)


def dressed(folder: Path, language: str) -> tuple[Path, ...]:
    """The pages of a well with a past, handed over by a dealer, and a batch's page of calls."""
    folder.mkdir(parents=True)
    Image.new("RGB", (900, 300), "navy").save(folder / "logo.png")
    letterhead, site = folder / "letterhead.toml", folder / "site.toml"
    letterhead.write_text('name = "Tamarack"\nlogo = "logo.png"\nclosing = "Hello."', "utf-8")
    site.write_text("[well]\ndepth_ft = 180\nstatic_ft = 40\ncasing_in = 6\n", "utf-8")
    options = ["--format", "html", "--language", language, "--out", str(folder)]
    words = ["report", str(SHEETS / "nitrate-bacteria.pdf"), "--site", str(site)]
    words += ["--earlier", str(SHEETS / "letter.pdf"), "--letterhead", str(letterhead)]
    words += ["--after", str(SHEETS / "hard-rusty-treated.csv")]
    CliRunner().invoke(app, [*words, *options])
    inbox = folder.parent / f"inbox-{language}"
    inbox.mkdir()
    for name in ("nitrate-bacteria.pdf", "county-survey.xlsx"):
        (inbox / name).write_bytes((SHEETS / name).read_bytes())
    CliRunner().invoke(app, ["batch", str(inbox), *options, "--jobs", "1"])
    pages = tuple(sorted(folder.glob("*.html")))
    assert len(pages) == 4
    return pages


@pytest.fixture
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    scheme = getattr(request, "param", "light")
    context = browser.new_context(color_scheme=scheme, viewport=DESK)
    yield context.new_page()
    context.close()


def broken_rules(page: Page, path: Path) -> list[str]:
    """What axe-core finds, and every contrast that it could not work out on an ordinary text.

    Of the letters of a number line, which stand beside shapes, it cannot tell the background; the
    ink is the text's own, so the rest of the page and `test_reports_formats` measure it.
    """
    page.goto(path.as_uri())
    options = {"runOnly": {"type": "tag", "values": TAGS}}
    found: dict[str, Any] = Axe().run(page, options=options).response
    broken = [f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in found["violations"]]
    for one in found["incomplete"]:
        nodes = [node["html"] for node in one["nodes"] if not node["html"].startswith("<text ")]
        if one["id"] == "color-contrast" and nodes:
            broken.append(f"open contrast: {nodes[0][:200]}")
    return broken


def too_wide(page: Page) -> list[str]:
    """What leaves the page at the right, outside of boxes that scroll by themselves."""
    leaving: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('body *')]
            .filter(one => one.getBoundingClientRect().right > innerWidth + 1)
            .filter(one => !one.closest('.scroll') && !one.closest('.vh'))
            .map(one => one.outerHTML.slice(0, 200))"""
    )
    scrolled: int = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return leaving + ([f"the page is {scrolled} pixels too wide"] if scrolled > 0 else [])


@pytest.mark.parametrize(("language", "name"), SETS)
def test_axe_finds_nothing(page: Page, folder: Path, language: str, name: str) -> None:
    for path in written(folder, language, name):
        assert broken_rules(page, path) == [], path.name


@pytest.mark.parametrize("page", ["dark"], indirect=True)
@pytest.mark.parametrize("name", IN_THE_DARK)
def test_axe_finds_nothing_in_dark_colours(page: Page, folder: Path, name: str) -> None:
    """The dark page differs by its five colours only, so a few of the sheets show them all."""
    for path in written(folder, "en", name):
        assert broken_rules(page, path) == [], path.name


@pytest.mark.parametrize(("language", "name"), SETS)
def test_nothing_leaves_a_narrow_or_an_enlarged_page(
    page: Page, folder: Path, language: str, name: str
) -> None:
    """What scrolls in a box of its own can be reached by keyboard, and has a name."""
    for path in written(folder, language, name):
        page.goto(path.as_uri())
        for size in (ENLARGED, PHONE):
            page.set_viewport_size(size)
            assert too_wide(page) == [], f"{path.name} at {size['width']}"
        assert page.evaluate(UNREACHABLE) == [], path.name


def test_the_checks_see_a_page_that_is_wrong(page: Page, tmp_path: Path) -> None:
    """A picture without a name, grey on grey, a skipped heading, a line that runs off."""
    wrong = tmp_path / "wrong.html"
    wrong.write_text(
        "<!DOCTYPE html><html><head><title>x</title></head><body><main><h1>One</h1><h4>Four</h4>"
        '<svg role="img" width="9" height="9"></svg><p style="color:#999">grey</p>'
        '<p style="width:900px;white-space:nowrap">wide</p></main></body></html>',
        "utf-8",
    )
    names = {one.partition(":")[0] for one in broken_rules(page, wrong)}
    assert {"html-has-lang", "svg-img-alt", "color-contrast", "heading-order"} <= names
    page.set_viewport_size(PHONE)
    assert too_wide(page)

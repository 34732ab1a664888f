"""HTML pages: one self-contained file each, no script, nothing from the network."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from welltold.look import Paper
from welltold.messages import speaking

from .cards import CardsPage
from .homeowner import HomeownerReport
from .pictures import Picture, drawn
from .shapes import shape_svg
from .urgent import UrgentPage
from .wording import word
from .worksheet import WorkSheet

TEMPLATES = Path(__file__).parent / "templates"
_BLANK_LINES = re.compile(r"\n\s*\n+")


def homeowner_html(report: HomeownerReport, paper: Paper = "letter") -> str:
    """Return the homeowner's report as one HTML page, to be printed on this paper."""
    return _render("homeowner.html.j2", report, paper)


def worksheet_html(sheet: WorkSheet, paper: Paper = "letter") -> str:
    """Return the dealer's work sheet as one HTML page, to be printed on this paper."""
    return _render("worksheet.html.j2", sheet, paper)


def cards_html(page: CardsPage, paper: Paper = "letter") -> str:
    """Return the cards for the next sample as one HTML page, to be printed on this paper."""
    return _render("cards.html.j2", page, paper)


def urgent_html(page: UrgentPage) -> str:
    """Return the page of a batch that tells whom to call first."""
    return _render("urgent.html.j2", page, "letter")


def _render(
    template: str, report: HomeownerReport | WorkSheet | CardsPage | UrgentPage, paper: Paper
) -> str:
    count = 0

    def line(picture: Picture) -> Markup:
        nonlocal count
        count += 1
        return Markup(drawn(picture, f"hatch{count}"))  # noqa: S704 all pictures escape their text

    sheet = _stylesheet(template.replace(".html.j2", ".css"))
    css = Markup(f"{sheet}@page {{ size: {paper}; }}\n")  # noqa: S704 our own file
    with speaking(report.language):
        page = _environment().get_template(template).render(r=report, css=css, line=line)
    return _BLANK_LINES.sub("\n", page).strip() + "\n"


def _sign(verdict: str, label: str) -> Markup:
    return Markup(shape_svg(verdict, label))  # noqa: S704 shape_svg() escapes its label


@cache
def _stylesheet(name: str) -> str:
    return (TEMPLATES / name).read_text("utf-8")


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(w=word, sign=_sign)
    return environment

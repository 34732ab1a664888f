"""PDF pages by typst: tagged after PDF/UA-1, fonts embedded, the same bytes for the same input.

All text goes in as JSON, never as source, so markup in a name is printed and not obeyed.
"""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any

import typst

from welltold.look import Paper
from welltold.messages import Language, catalogue
from welltold.reviews import is_draft

from .cards import CardsPage
from .homeowner import HomeownerReport
from .number_line import PRINTED_WIDTH
from .pictures import Picture, drawn
from .sender import LogoPicture
from .shapes import shape_svg
from .worksheet import WorkSheet

HERE = Path(__file__).parent
FAMILY = "Source Sans Pro"
_SIGNS = ("health_concern", "watch", "nuisance_only", "no_concern_found", "cant_tell", "not_tested")
BOTH_SIDES = 2
"""Pages of one leaf."""
BODIES = ((12.0, 2), (11.0, 4), (10.4, 4))
"""Points of the letters behind page 1, and with how many pages nothing smaller is tried."""
USUAL_PAGES = 4
SAVED = 0.45
"""Of a page: more than smaller letters save in a report of so many pages."""
MOST_ROWS = 18
"""With more rows no setting brings a work sheet onto one page."""
_PAPERS: dict[Paper, str] = {"letter": "us-letter", "a4": "a4"}
"""What typst calls them."""
_PAGE = re.compile(rb"/Type\s*/Page\b")
_NO_GLYPH = re.compile(
    "[^ -~\u00a0-\u00ac\u00ae-\u036f\u038e-\u03a1\u03a3-\u04ff\u1e00-\u1eff\u2010-\u2027"
    "\u2030-\u2040\u2070\u2074-\u208e\u20a0-\u20bf\u2100-\u211e\u2190-\u22ff\u2500-\u25ff]"
)
"""Characters that the shipped fonts cannot show; PDF/UA-1 refuses a page that has one."""
_INVISIBLE = frozenset({"Cc", "Cf", "Cn", "Co", "Cs", "Mn"})
LONGEST_WORD = 24
_LONG_WORD = re.compile(rf"\S{{{LONGEST_WORD},}}")
_MARK = re.compile(r"(?<=\w)[-,/_:;.](?=\w)")
_ANYWHERE = re.compile(rf"[^\u200b]{{{LONGEST_WORD - 1}}}(?=[^\u200b])")
_CHECKSUM = re.compile("[0-9a-f]{64}")
"""Stays whole, so that it can be copied."""
INSTEAD = "\u25a1"
"""An empty box, for a character without a glyph."""


def homeowner_pdf(report: HomeownerReport, paper: Paper = "letter") -> bytes:
    """Return the homeowner's report as PDF; small letters behind page 1 save a page."""
    data = {"report": _plain(report)}
    made: list[bytes] = []
    for body, enough in BODIES:
        made.append(_compile("homeowner.typ", dict(data), report.language, paper, body=str(body)))
        pages = _count(made[-1])
        if pages <= enough or (pages <= USUAL_PAGES and _last_page_filled() > SAVED):
            break
    return min(made, key=_count)


def _last_page_filled() -> float:
    """Return how far down its last page the report set last ends, in parts of the page."""
    end = _compiler("homeowner.typ").query("<end>", field="value", one=True)
    return float(json.loads(end))


def cards_pdf(page: CardsPage, paper: Paper = "letter") -> bytes:
    """Return the cards for the next sample as PDF."""
    return _compile("cards.typ", {"report": _plain(page)}, page.language, paper)


def worksheet_pdf(sheet: WorkSheet, paper: Paper = "letter") -> bytes:
    """Return the work sheet as PDF: on one page if it can be, else on both sides of a leaf.

    It is set tighter only where that saves a page or a second leaf; nothing is left out.
    """
    loose = _worksheet(sheet, paper, tight=False)
    pages = _count(loose)
    if pages == 1 or (pages == BOTH_SIDES and _rows(sheet) > MOST_ROWS):
        return loose
    tight = _worksheet(sheet, paper, tight=True)
    return tight if _count(tight) == 1 or pages > BOTH_SIDES else loose


def _rows(sheet: WorkSheet) -> int:
    """Return about how many rows the tables of a work sheet have."""
    open_ = sum(check.holds is not True for check in sheet.checks)
    return open_ + 3 * sum(len(size.groups) for size in sheet.sizes)


def _worksheet(sheet: WorkSheet, paper: Paper, *, tight: bool) -> bytes:
    data = {"report": _plain(sheet), "tight": tight}
    return _compile("worksheet.typ", data, sheet.language, paper)


def _count(pdf: bytes) -> int:
    return len(_PAGE.findall(pdf))


def _compile(
    template: str, data: dict[str, Any], language: Language, paper: Paper, **inputs: str
) -> bytes:
    data["paper"] = _PAPERS[paper]
    words = catalogue("report", language)
    data["words"], data["draft"] = words, words["draft_mark"] if is_draft(language) else ""
    data["signs"] = {verdict: shape_svg(verdict, "") for verdict in _SIGNS}
    out = _compiler(template).compile(
        sys_inputs={"data": json.dumps(data, ensure_ascii=False), **inputs},
        format="pdf",
        pdf_standards=["ua-1"],
        timestamp=0,
    )
    if not isinstance(out, bytes):
        raise TypeError("typst returned no PDF")
    return out


@cache
def _compiler(template: str) -> typst.Compiler:
    """Return a compiler that is kept: fonts are looked up once."""
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=True, font_paths=[str(HERE / "fonts")]
    )
    return typst.Compiler(HERE / "templates" / template, root=HERE / "templates", font_paths=fonts)


def _plain(obj: Any) -> Any:
    """Return a part of the report as dictionaries, lists and text; pictures become SVG."""
    if isinstance(obj, LogoPicture):
        return {"svg": obj.svg, "alt": _clean(obj.alt)}
    if isinstance(obj, Picture):
        made = drawn(obj, "ink", width=PRINTED_WIDTH, family=FAMILY)
        return {"svg": made, "alt": _clean(obj.alt)}
    if isinstance(obj, str):
        return _clean(obj)
    if is_dataclass(obj):
        return {field.name: _plain(getattr(obj, field.name)) for field in fields(obj)}
    if isinstance(obj, tuple):
        return [_plain(part) for part in obj]
    return obj


def _clean(text: str) -> str:
    """Return the text without what cannot be printed: a box for a letter, nothing for a control."""
    text = _NO_GLYPH.sub(_substitute, text)
    return text if len(text) < LONGEST_WORD else _LONG_WORD.sub(_breakable, text)


def _breakable(match: re.Match[str]) -> str:
    """Return a long word that may be broken, best behind a mark, else anywhere; no checksum."""
    word = match.group()
    if _CHECKSUM.fullmatch(word):
        return word
    return _ANYWHERE.sub("\\g<0>\u200b", _MARK.sub("\\g<0>\u200b", word))


def _substitute(match: re.Match[str]) -> str:
    char = match.group()
    if char.isspace():
        return " "
    return "" if unicodedata.category(char) in _INVISIBLE else INSTEAD

"""Writes the report files of one reading."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from welltold.errors import OutputError
from welltold.interpretation import Interpretation, SampleView
from welltold.look import Look, Paper
from welltold.messages import speaking

from .cards import CardsPage, build_cards
from .homeowner import HomeownerReport, build
from .names import stems
from .sender import Sender, sender_of, sender_text
from .worksheet import WorkSheet, build_worksheet

FORMATS = ("html", "pdf", "xlsx", "json", "text")
NO_SAMPLE = SampleView(None, None, None, None)


@dataclass(frozen=True, slots=True)
class Pages:
    """Everything that is set as pages for one sample."""

    report: HomeownerReport
    sheet: WorkSheet
    cards: CardsPage


def write(
    view: Interpretation,
    out: Path,
    formats: Sequence[str] = FORMATS,
    *,
    name: str,
    look: Look | None = None,
) -> tuple[Path, ...]:
    """Write the asked formats into ``out`` (made if missing) and return the files, in order.

    ``html`` and ``pdf``: ``NAME.homeowner.*``, ``NAME.worksheet.*`` and ``NAME.cards.*``, with the
    sample's id behind NAME where a reading has several samples; ``xlsx``: ``NAME.xlsx``; ``json``:
    ``NAME.report.json``; ``text``: ``NAME.report.txt``. ValueError for an unknown format;
    OutputError when a file cannot be written.
    """
    unknown = [form for form in formats if form not in FORMATS]
    if unknown:
        raise ValueError(f"unknown format {unknown[0]!r}; known: {', '.join(FORMATS)}")
    view = with_samples(view)
    with speaking(view.language):
        return tuple(
            _written(Path(out) / file_name, content)
            for file_name, content in _files(view, formats, name, look or Look())
        )


def _written(path: Path, content: bytes) -> Path:
    """Write one file and return it; OutputError when it cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    except OSError as error:
        raise OutputError(str(path), error.strerror or str(error)) from error
    return path


def with_samples(view: Interpretation) -> Interpretation:
    """Return a view with at least one sample, so that there is always a page that says so."""
    if view.samples:
        return view
    return replace(view, samples=(NO_SAMPLE,))


def _files(
    view: Interpretation, formats: Sequence[str], name: str, look: Look
) -> Iterator[tuple[str, bytes]]:
    sender = sender_of(look.letterhead)
    if {"html", "pdf"} & set(formats):
        for index, stem in enumerate(stems(name, view.samples)):
            report = replace(build(view, index), sender=sender)
            pages = Pages(report, build_worksheet(view, index, report), build_cards(view, index))
            for form in ("html", "pdf"):
                if form in formats:
                    yield from _pages(form, stem, pages, look.paper)
    for form, suffix in (("xlsx", "xlsx"), ("json", "report.json"), ("text", "report.txt")):
        if form in formats:
            yield f"{name}.{suffix}", _whole(form, sender)(view)


def _pages(form: str, stem: str, pages: Pages, paper: Paper) -> Iterator[tuple[str, bytes]]:
    """Yield the pages of one sample in one page format, which is loaded when asked for."""
    if form == "html":
        from .html import cards_html, homeowner_html, worksheet_html

        yield f"{stem}.homeowner.html", homeowner_html(pages.report, paper).encode()
        yield f"{stem}.worksheet.html", worksheet_html(pages.sheet, paper).encode()
        yield f"{stem}.cards.html", cards_html(pages.cards, paper).encode()
    else:
        from .pdf import cards_pdf, homeowner_pdf, worksheet_pdf

        yield f"{stem}.homeowner.pdf", homeowner_pdf(pages.report, paper)
        yield f"{stem}.worksheet.pdf", worksheet_pdf(pages.sheet, paper)
        yield f"{stem}.cards.pdf", cards_pdf(pages.cards, paper)


def _whole(form: str, sender: Sender | None) -> Callable[[Interpretation], bytes]:
    """Return the writer of a format that holds all samples in one file."""
    if form == "xlsx":
        from .xlsx import workbook

        return workbook
    if form == "json":
        from .json_report import report_json

        return lambda view: report_json(view).encode()
    from .terminal import render_text

    after = "\n" + sender_text(sender) if sender else ""
    return lambda view: (render_text(view) + after).encode()

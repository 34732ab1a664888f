"""The sheets that begin as HTML: printed by the browser, by the office suite, or saved as it is."""

from __future__ import annotations

from jinja2 import Environment, FileSystemLoader

from . import press
from .content import HERE, Sheet

PRINTED = ("acid-copper", "pfas")

_PAGES = Environment(loader=FileSystemLoader(HERE / "html"), autoescape=True)


def _page(sheet: Sheet) -> str:
    samples = [sample.given | {"rows": sample.rows} for sample in sheet.samples]
    template = _PAGES.get_template(f"{sheet.name}.html")
    return template.render(lab=sheet["lab"], report=sheet["report"], samples=samples, s=samples[0])


def make(sheet: Sheet) -> bytes:
    """Return the page as the browser prints it."""
    return press.html_pdf(_page(sheet))


def make_letter(sheet: Sheet) -> bytes:
    """Return the page as the office suite's text program prints it."""
    name = f"{sheet.name}.html"
    made = press.office_pdfs({name: _page(sheet).encode()}, "writer_pdf_Export")
    return made[name]


def make_portal(sheet: Sheet) -> bytes:
    """Return the page itself, to be saved under a workbook's name."""
    for i, sample in enumerate(sheet.samples):
        for j in range(len(sample.rows)):
            sheet.put(i, j, sheet="", cell=f"B{6 + j + i * (3 + len(sample.rows))}")
    return _page(sheet).encode()

"""Which maker makes which sheet."""

from __future__ import annotations

from collections.abc import Callable

from . import book_sheets, canvas_sheets, html_sheets, package_sheet, text_sheets, typst_sheets
from .content import Sheet

Maker = Callable[[Sheet], bytes]

_MAKERS: dict[str, Maker] = {
    "arsenic-two-wells": book_sheets.make_two_wells,
    "county-survey": book_sheets.make_survey,
    "exchange-export": text_sheets.make_exchange,
    "fixed-width": text_sheets.make_fixed,
    "flagged-metals": book_sheets.make_flagged,
    "hard-rusty": canvas_sheets.make_consumer,
    "hard-rusty-treated": text_sheets.make_treated,
    "kit-card": canvas_sheets.make_card,
    "letter": html_sheets.make_letter,
    "metals-latin1": text_sheets.make_metals,
    "old-lims": book_sheets.make_lims,
    "package": package_sheet.make,
    "portal": html_sheets.make_portal,
    "price-list": text_sheets.make_prices,
    "radionuclides": canvas_sheets.make_activity,
    "rotated": canvas_sheets.make_turned,
    "spring-round": book_sheets.make_round,
    "truncated": typst_sheets.make_truncated,
    "two-dates-utf16": text_sheets.make_rounds,
    "voc-two-columns": canvas_sheets.make_volatiles,
}
_MAKERS |= dict.fromkeys(typst_sheets.NAMES, typst_sheets.make)
_MAKERS |= dict.fromkeys(html_sheets.PRINTED, html_sheets.make)


def make(sheet: Sheet) -> bytes:
    """Return the sheet's file, and note in the sheet where its results stand."""
    return _MAKERS[sheet.name](sheet)

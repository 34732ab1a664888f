"""PDF files as pages of words: of their text layer, or read from pictures with the extra.

pdfium is not thread safe: with two threads most runs crash or give wrong words. Read PDFs in one
thread of a process, and use several processes to be faster.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import pypdfium2
import pypdfium2.raw as pdfium

from welltold.errors import (
    DamagedFileError,
    EmptyFileError,
    PasswordError,
    PicturesOnlyError,
    PoorPictureError,
    TooLargeError,
    WelltoldError,
)
from welltold.messages import Message, say
from welltold_parsers.doors.pdf_choices import with_choices
from welltold_parsers.doors.pdf_forms import flattened, laid_on
from welltold_parsers.doors.pdf_words import Found, words_of
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.doors.telling import ranges
from welltold_parsers.geometry import Page
from welltold_parsers.limits import Limits
from welltold_parsers.scan import available

_TAIL = 65_536
_LINEARIZED = re.compile(rb"/Linearized\b.{0,200}?/L\s+(\d+)", re.DOTALL)
_STAMP_WORDS = 10
"""A page with a picture over most of it and no more words than this is a scan with a stamp."""
_PICTURE_SHARE = 0.5


@dataclass(slots=True)
class _Notes:
    """Page numbers by what should be told about them."""

    pages: dict[str, list[int]] = field(default_factory=dict)
    pictures: dict[int, bool] = field(default_factory=dict)
    """Pages to be read from their picture, and whether they have hidden text to compare with."""
    poor: list[Message] = field(default_factory=list)
    """Pages that are pictures and cannot be read, each with its reason."""
    noticed: list[Message] = field(default_factory=list)
    """What should be known of pictures that were read."""

    def add(self, name: str, page: int) -> None:
        self.pages.setdefault(name, []).append(page)

    def messages(self) -> tuple[Message, ...]:
        return tuple(
            say(f"door.{name}", pages=ranges(numbers)) for name, numbers in self.pages.items()
        )


def read(source: Source, limits: Limits) -> Opened:
    """Return the pages of a PDF with their words; pages of pictures are told, or refused."""
    _refuse_cut_off(source)
    document = _open(source)
    try:
        count = len(document)
        if count > limits.pages:
            raise TooLargeError(source.name, "pages", count, limits.pages)
        if document.get_formtype() != pdfium.FORMTYPE_NONE:
            document.init_forms()
        notes = _Notes()
        found = (_page(document, index, notes, limits, source.name) for index in range(count))
        pages = {page.number: page for page in found if page is not None}
        if notes.pictures:
            _read_pictures(document, pages, notes)
    except pypdfium2.PdfiumError as error:
        raise DamagedFileError(source.name, "PDF", str(error)) from error
    finally:
        document.close()
    read_pages = tuple(pages.values())
    _refuse_without_text(source, read_pages, notes)
    warnings = (*notes.messages(), *notes.noticed, *notes.poor)
    return Opened(pages=read_pages, warnings=warnings)


def _refuse_cut_off(source: Source) -> None:
    """Refuse a file whose end is missing: what pdfium can still mend lacks results silently."""
    tail = source.data[-_TAIL:]
    if b"%%EOF" not in tail and b"startxref" not in tail:
        raise DamagedFileError(source.name, "PDF", "its end is missing")
    whole = _LINEARIZED.search(source.data[:2048])
    if whole and len(source.data) < int(whole[1]):
        raise DamagedFileError(source.name, "PDF", "its end is missing")


def _open(source: Source) -> pypdfium2.PdfDocument:
    try:
        return pypdfium2.PdfDocument(source.data)
    except pypdfium2.PdfiumError as error:
        if pdfium.FPDF_GetLastError() == pdfium.FPDF_ERR_PASSWORD or "assword" in str(error):
            raise PasswordError(source.name, "PDF") from error
        raise DamagedFileError(source.name, "PDF", str(error)) from error


def _page(
    document: pypdfium2.PdfDocument, index: int, notes: _Notes, limits: Limits, path: str
) -> Page | None:
    """Return one page, or None with a note when it cannot be loaded."""
    number = index + 1
    try:
        page = document[index]
    except pypdfium2.PdfiumError:
        notes.add("page_unreadable", number)
        return None
    try:
        laid = laid_on(document, page)
        if laid.texts and not laid.damaged and flattened(page):
            page.close()
            page = document[index]
        elif laid.texts:
            notes.add("fields_damaged", number)
        found = words_of(page, laid.ticks)
        if len(found.words) > limits.words:
            raise TooLargeError(path, "words on a page", len(found.words), limits.words)
        for name in found.notes:
            notes.add(name, number)
        hidden = _is_hidden_layer(page, found)
        if (hidden or _shows_picture(page, found)) and available():
            notes.pictures[number] = hidden
            return _seen(page, number, found)
        if _shows_picture(page, found):
            notes.add("picture_pages", number)
            return _seen(page, number, found)
        if hidden:
            notes.add("hidden_layer", number)
        width, height = (round(side, 2) for side in page.get_size())
        if found.turn in {90, 270}:
            width, height = height, width
        words = with_choices(page, found.words, found.turn)
        return Page(number, width, height, words, turn=found.turn)
    finally:
        page.close()


def _shows_picture(page: pypdfium2.PdfPage, found: Found) -> bool:
    few = len(found.words) <= _STAMP_WORDS and "no_character_map" not in found.notes
    return few and _is_picture(page, found)


def _is_hidden_layer(page: pypdfium2.PdfPage, found: Found) -> bool:
    """Whether a page is a picture, and its words are what a machine read from it, unseen."""
    unseen = sum(word.confidence < 1 for word in found.words)
    return unseen > 0.5 * len(found.words) and _is_picture(page, found)


def _seen(page: pypdfium2.PdfPage, number: int, found: Found) -> Page:
    """Return a page of a picture with the few words that are text."""
    width, height = (round(side, 2) for side in page.get_size())
    return Page(number, width, height, found.words, turn=found.turn)


def _read_pictures(document: pypdfium2.PdfDocument, pages: dict[int, Page], notes: _Notes) -> None:
    """Put what is read from pictures in place of their pages; those too poor keep their words."""
    from welltold_parsers.scan.layers import compared
    from welltold_parsers.scan.pages import read_shots
    from welltold_parsers.scan.pdf_pages import shots_of

    for number, told in read_shots(shots_of(document, tuple(notes.pictures))):
        if not isinstance(told, Page):
            notes.poor.append(say("scan.page_left_out", page=number, reason=told.text))
            continue
        notes.add("picture_read", number)
        notes.noticed += told.scan.told if told.scan else ()
        before = pages[number]
        hidden = notes.pictures[number]
        pages[number] = compared(told, before.words, before.width) if hidden else told


def _is_picture(page: pypdfium2.PdfPage, found: Found) -> bool:
    """Whether a page with few words or none shows something that is no text.

    Without a word any picture or a good number of drawn lines counts (text may be drawn as
    outlines); with a few words a picture must cover half of the page.
    """
    width, height = page.get_size()
    pictures = list(page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=4))
    if not found.words:
        return bool(pictures) or sum(1 for _ in page.get_objects(max_depth=4)) > 20
    for picture in pictures:
        left, bottom, right, top = picture.get_bounds()
        if (right - left) * (top - bottom) > _PICTURE_SHARE * width * height:
            return True
    return False


def _refuse_without_text(source: Source, pages: tuple[Page, ...], notes: _Notes) -> None:
    pictures = set(notes.pages.get("picture_pages", ()))
    if not pages:
        raise DamagedFileError(source.name, "PDF", "no page can be loaded")
    pictures |= {int(poor.args["page"]) for poor in notes.poor}
    with_text = [page for page in pages if page.words and page.number not in pictures]
    error: WelltoldError | None = None
    if not with_text and notes.poor:
        error = PoorPictureError(source.name, str(notes.poor[0].args["reason"]))
    elif not with_text and pictures:
        error = PicturesOnlyError(source.name, len(pictures))
    elif not with_text and not notes.pages:
        error = EmptyFileError(source.name)
    if error:
        raise error

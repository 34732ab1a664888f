"""Pages as pictures, plain for the HTML page and with their frames drawn as flat PNG.

A page of text is drawn from its PDF; a scan is shown as it was made straight to be read.
"""

from __future__ import annotations

import base64
import io
import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
from PIL import Image, ImageDraw, ImageFont

from welltold_parsers.geometry import Page, Scan

from .marks import Mark
from .svg import STYLES, TAG, Box, frame_lines, placed

SHARP = 2.0
"""Pixels a point: 144 dots an inch, enough to read the smallest print."""
LONGEST = 2400
"""Pixels of the longer side at most; a larger page is drawn coarser."""
CROP = 88
"""Pixels of height of the enlarged place of a doubtful value."""
COLOURS = 64
"""Colours in the picture of a page; print needs few, and the files stay small."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One page as a picture."""

    number: int
    width: float
    """Points."""
    height: float
    data: str
    """The page without frames, as a ``data:`` address."""


def draw_pages(
    path: Path, pages: Sequence[Page], marks: Sequence[Mark], stem: Path
) -> Iterator[Picture]:
    """Yield the pages as pictures; write each with its frames to ``STEM.page-N.png``.

    Not thread safe, like all that uses pdfium.
    """
    with _opened(path, pages) as document:
        for page in pages:
            image, scale = _picture(document, page)
            yield Picture(page.number, page.width, page.height, _address(image))
            own = [mark for mark in marks if mark.where.page == page.number]
            _draw(image, own, scale)
            image.save(stem.with_name(f"{stem.name}.page-{page.number}.png"), optimize=True)


def crop_of(page: Page, box: Box) -> str:
    """Return the place of a doubtful value on a scan, enlarged, as a ``data:`` address."""
    if page.scan is None:
        return ""
    left, top, right, bottom = box
    room = bottom - top
    wide = (left - 3 * room, top - room / 2, right + 3 * room, bottom + room / 2)
    image = _scanned(page.scan)
    edges = [round(edge * page.scan.scale) for edge in wide]
    part = image.crop((max(edges[0], 0), max(edges[1], 0), edges[2], edges[3]))
    share = CROP / max(part.height, 1)
    return _address(
        part.resize((max(round(part.width * share), 1), CROP), Image.Resampling.BICUBIC)
    )


@contextmanager
def _opened(path: Path, pages: Sequence[Page]) -> Iterator[pypdfium2.PdfDocument | None]:
    """Open the PDF where a page is drawn from it."""
    if all(page.scan for page in pages):
        yield None
        return
    document = pypdfium2.PdfDocument(path)
    try:
        if document.get_formtype() != pdfium.FORMTYPE_NONE:
            document.init_forms()
        yield document
    finally:
        document.close()


def _picture(document: pypdfium2.PdfDocument | None, page: Page) -> tuple[Image.Image, float]:
    if page.scan is None:
        return _render(document, page)
    image = _scanned(page.scan)
    share = min(LONGEST / max(image.size), 1.0)
    size = (round(image.width * share), round(image.height * share))
    return image.resize(size).convert("RGB"), page.scan.scale * share


def _scanned(scan: Scan) -> Image.Image:
    return Image.open(io.BytesIO(scan.picture))


def _render(document: pypdfium2.PdfDocument, page: Page) -> tuple[Image.Image, float]:
    """Return the page as it was read: turned so that its text is upright."""
    scale = min(SHARP, LONGEST / max(page.width, page.height, 1))
    leaf = document[page.number - 1]
    try:
        image: Image.Image = leaf.render(scale=scale, rotation=page.turn).to_pil()
    finally:
        leaf.close()
    return image.convert("RGB"), scale


def _address(image: Image.Image) -> str:
    buffer = io.BytesIO()
    few = image.convert("RGB").quantize(
        COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE
    )
    few.save(buffer, "PNG", optimize=True)
    return f"data:image/png;base64,{base64.b64encode(buffer.getvalue()).decode('ascii')}"


def _draw(image: Image.Image, marks: Sequence[Mark], scale: float) -> None:
    pen = ImageDraw.Draw(image)
    for mark, box, tag in placed(marks):
        style = STYLES[mark.kind]
        width = max(1, round(style.width * scale))
        for line in frame_lines(mark.kind, box):
            for ends in _dashes(line, style.dash):
                pen.line([scale * at for at in ends], fill=style.colour, width=width)
        if mark.number:
            _draw_tag(pen, mark, tag, scale)


def _draw_tag(pen: ImageDraw.ImageDraw, mark: Mark, box: Box, scale: float) -> None:
    left, top, right, bottom = (scale * at for at in box)
    pen.rectangle((left, top, right, bottom), fill=STYLES[mark.kind].colour)
    font = ImageFont.load_default(TAG * scale)
    middle = ((left + right) / 2, (top + bottom) / 2)
    pen.text(middle, mark.number, fill="#ffffff", font=font, anchor="mm")


def _dashes(
    line: tuple[float, float, float, float], dash: tuple[float, float] | None
) -> Iterator[tuple[float, float, float, float]]:
    """Yield the drawn pieces of a straight line."""
    x, y, to_x, to_y = line
    length = math.hypot(to_x - x, to_y - y)
    if dash is None or length == 0:
        yield line
        return
    drawn, left_out = dash
    step_x, step_y = (to_x - x) / length, (to_y - y) / length
    at = 0.0
    while at < length:
        end = min(at + drawn, length)
        yield x + step_x * at, y + step_y * at, x + step_x * end, y + step_y * end
        at += drawn + left_out

"""What happens to pages: turned in the file, cropped, stamped with a word across."""

from __future__ import annotations

import io
import random

import pikepdf
from pikepdf import Rectangle
from reportlab.pdfgen.canvas import Canvas


def _saved(document: pikepdf.Pdf) -> bytes:
    out = io.BytesIO()
    document.save(out, deterministic_id=True)
    return out.getvalue()


def turned(made: bytes, rng: random.Random) -> bytes:
    """Return pages that lie on their side in the file and are turned to be seen upright."""
    way = rng.choice((90, 180, 270))
    with pikepdf.open(io.BytesIO(made)) as document:
        for page in document.pages:
            _, _, wide, high = (float(side) for side in page.mediabox)
            lay = {
                90: f"0 1 -1 0 {high} 0",
                180: f"-1 0 0 -1 {wide} {high}",
                270: f"0 -1 1 0 0 {wide}",
            }
            page.contents_add(f"q {lay[way]} cm\n".encode(), prepend=True)
            page.contents_add(b"\nQ")
            page.mediabox = Rectangle(0, 0, *((wide, high) if way == 180 else (high, wide)))
            page.rotate(way, relative=False)
        return _saved(document)


def cropped(made: bytes, rng: random.Random) -> bytes:
    """Return pages whose sheet is larger than what is seen of it."""
    edge = rng.choice((20, 45, 72))
    with pikepdf.open(io.BytesIO(made)) as document:
        for page in document.pages:
            left, low, right, high = (float(side) for side in page.mediabox)
            page.cropbox = Rectangle(left, low, right, high)
            page.mediabox = Rectangle(left - edge, low - edge, right + edge, high + edge)
        return _saved(document)


def stamped(made: bytes, rng: random.Random) -> bytes:
    """Return pages with a grey word across them."""
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.setFillGray(0.88)
    canvas.setFont("Helvetica-Bold", 90)
    canvas.translate(180, 220)
    canvas.rotate(45)
    canvas.drawString(0, 0, rng.choice(("COPY", "DRAFT", "FINAL")))
    canvas.save()
    with (
        pikepdf.open(io.BytesIO(made)) as document,
        pikepdf.open(io.BytesIO(out.getvalue())) as stamp,
    ):
        for page in document.pages:
            page.add_underlay(stamp.pages[0], Rectangle(*page.mediabox))
        return _saved(document)


def handled(made: bytes, rng: random.Random) -> bytes:
    """Return a PDF that one in five times went through one of these."""
    way = rng.choice((turned, cropped, stamped)) if rng.random() < 0.2 else None
    return way(made, rng) if way else made

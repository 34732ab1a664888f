"""A logo for the letterhead: a PNG or JPEG picture, checked and made small enough for a page."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from .errors import LetterheadError
from .own_text import told

if TYPE_CHECKING:
    from PIL import Image

KINDS = ("PNG", "JPEG")
MOST_BYTES = 2_000_000
MOST_PIXELS = 4_000
"""Of one side."""
SIZE = (480, 160)
"""The largest logo on a page, in pixels; drawn at a quarter of an inch for 100 of them."""
HEAVY = 40_000
"""Bytes above which a picture is kept as JPEG, so that a photograph does not fill the page."""


@dataclass(frozen=True, slots=True)
class Logo:
    """A picture that may be put on a page as it is."""

    data: bytes
    kind: str
    """``png`` or ``jpeg``."""
    width: int
    height: int


def load_logo(path: Path, letterhead: str) -> Logo:
    """Return the picture, without what a camera or a program wrote beside it; LetterheadError.

    The same file gives the same bytes.
    """
    from PIL import Image, ImageOps

    data = _content(path, letterhead)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of very many pixels: they are refused here
            with Image.open(io.BytesIO(data), formats=KINDS) as picture:
                _check_size(picture.size, path, letterhead)
                upright = ImageOps.exif_transpose(picture).convert("RGBA")
    except LetterheadError:
        raise
    except Image.DecompressionBombError as error:
        raise _wrong(letterhead, told("logo_pixels", name=path.name)) from error
    except Exception as error:  # a damaged picture fails in many ways
        raise _wrong(letterhead, told("logo_kind", name=path.name)) from error
    upright.thumbnail(SIZE)
    return _encoded(upright)


def _content(path: Path, letterhead: str) -> bytes:
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            most = MOST_BYTES // 1_000_000
            told_size = f"{size / 1e6:.1f}"
            problem = told("logo_bytes", name=path.name, size=told_size, most=most)
            raise _wrong(letterhead, problem)
        return path.read_bytes()
    except OSError as error:
        reason = error.strerror or "unreadable"
        raise _wrong(letterhead, told("logo_open", name=path.name, reason=reason)) from error


def _check_size(size: tuple[int, int], path: Path, letterhead: str) -> None:
    if max(size) > MOST_PIXELS:
        wide, tall, most = (f"{one:,}" for one in (*size, MOST_PIXELS))
        problem = told("logo_size", name=path.name, wide=wide, tall=tall, most=most)
        raise _wrong(letterhead, problem)


def _encoded(picture: Image.Image) -> Logo:
    """Return the picture as PNG, or as JPEG on white where that is much lighter."""
    from PIL import Image as Images

    out = io.BytesIO()
    picture.save(out, "PNG", optimize=True)
    if len(out.getvalue()) <= HEAVY:
        return Logo(out.getvalue(), "png", *picture.size)
    white = Images.new("RGBA", picture.size, "white")
    white.alpha_composite(picture)
    out = io.BytesIO()
    white.convert("RGB").save(out, "JPEG", quality=80)
    return Logo(out.getvalue(), "jpeg", *picture.size)


def _wrong(letterhead: str, problem: str) -> LetterheadError:
    return LetterheadError(letterhead, "logo", problem, told("logo_known"))

"""Files of pictures as shades of grey, one for each page, upright as the camera says.

Nothing is unpacked before its size is known: a small file can hold a picture that fills the memory.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, ImageSequence, UnidentifiedImageError

from welltold.errors import DamagedFileError, PoorPictureError, TooLargeError, WelltoldError
from welltold.messages import say
from welltold_parsers.limits import Limits

from .shot import Shot

Gray = NDArray[np.uint8]
_WORKED_ON = 3600
"""Pixels of the longer side at most; more shows no more of a sheet, and takes longer."""
_ALIKE = 1.25
"""Resolutions across and down that differ by less are taken as they are."""
_PAGE_INCHES = (3.0, 18.0)
"""A resolution is believed that makes the longer side of a sheet so long."""


def shots_of(path: str, data: bytes, limits: Limits) -> Iterator[Shot]:
    """Yield the pages of a file of pictures; raises errors of ``welltold.errors`` only."""
    if data[4:8] == b"ftyp":
        from pillow_heif import register_heif_opener

        register_heif_opener()
    try:
        with warnings.catch_warnings():
            # Pillow warns of what the limit below refuses anyhow, and of odd metadata.
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(data)) as image:
                _look_at(path, image, limits)
                of = getattr(image, "n_frames", 1)
                for number, frame in enumerate(ImageSequence.Iterator(image), start=1):
                    _refuse_large(path, frame, limits)
                    yield _shot(frame, number, of)
    except WelltoldError:
        raise
    except UnidentifiedImageError as error:
        raise DamagedFileError(path, "picture", "its head is not understood") from error
    except Image.DecompressionBombError as error:
        told = re.search(r"\d+", str(error))
        pixels = int(told[0]) if told else limits.pixels + 1
        raise TooLargeError(path, "pixels", pixels, limits.pixels) from error
    except (OSError, ValueError, SyntaxError, EOFError, KeyError, IndexError, TypeError) as error:
        raise DamagedFileError(path, "picture", str(error) or type(error).__name__) from error


def _look_at(path: str, image: Image.Image, limits: Limits) -> None:
    frames = getattr(image, "n_frames", 1)
    if frames > 1 and image.format in {"GIF", "WEBP", "PNG"}:
        raise PoorPictureError(path, say("scan.moving").text)
    if frames > limits.pages:
        raise TooLargeError(path, "pages", frames, limits.pages)
    _refuse_large(path, image, limits)


def _refuse_large(path: str, image: Image.Image, limits: Limits) -> None:
    pixels = image.width * image.height
    if pixels > limits.pixels:
        raise TooLargeError(path, "pixels", pixels, limits.pixels)


def _shot(frame: Image.Image, number: int, of: int) -> Shot:
    points = _points(frame)
    if frame.format == "JPEG":
        frame.draft("L", (_WORKED_ON, _WORKED_ON))
    upright = ImageOps.exif_transpose(frame)
    if points and (upright.width > upright.height) != (frame.width > frame.height):
        points = points[1], points[0]
    if upright.mode in {"RGBA", "LA", "PA"} or "transparency" in upright.info:
        whole = upright.convert("RGBA")
        upright = Image.alpha_composite(Image.new("RGBA", whole.size, "white"), whole)
    gray, coarse = _square(_gray(upright), points)
    gray.thumbnail((_WORKED_ON, _WORKED_ON), Image.Resampling.LANCZOS, reducing_gap=3.0)
    return Shot(np.ascontiguousarray(np.asarray(gray, np.uint8)), points, coarse, number, of)


def _square(gray: Image.Image, points: tuple[float, float] | None) -> tuple[Image.Image, bool]:
    """Return the picture with as many dots an inch down as across, and whether it had not.

    A fax of 204 by 98 dots an inch looks squashed, and no network knows such letters.
    """
    if points is None:
        return gray, False
    across, down = gray.width / points[0], gray.height / points[1]
    if max(across, down) < _ALIKE * min(across, down):
        return gray, False
    most = max(across, down)
    size = round(points[0] * most), round(points[1] * most)
    return gray.resize(size, Image.Resampling.BICUBIC), True


def _gray(image: Image.Image) -> Image.Image:
    """Return shades of grey; 16-bit scans keep their upper half."""
    if image.mode.startswith("I") or image.mode == "F":
        wide = np.asarray(image, np.float64)
        top = max(float(wide.max()), 1.0)
        return Image.fromarray((wide * (255 / top)).clip(0, 255).astype(np.uint8))
    return image.convert("L")


def _points(frame: Image.Image) -> tuple[float, float] | None:
    told = frame.info.get("dpi")
    if not isinstance(told, tuple) or len(told) != 2 or not all(told):
        return None
    size = tuple(float(side) / float(dots) for side, dots in zip(frame.size, told, strict=True))
    if not _PAGE_INCHES[0] <= max(size) <= _PAGE_INCHES[1]:
        return None
    return size[0] * 72, size[1] * 72

"""Reads pictures of single lines: characters, each with its place and how sure the network is.

Only characters that a lab sheet in a Latin language can hold are allowed; the network knows many
thousand more, and would rather see a Chinese full stop than a pale decimal point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from .models import Floats, reader

Gray = NDArray[np.uint8]
HEIGHT = 48
"""Pixels; the height of a line as the network takes it."""
_LONGEST = 3200
_BATCH = 6
_ALLOWED = (
    "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
    " .,:;<>=+-–—/\\()[]{}%#*&@!?'\"_|~^$§°±×·•≤≥µμÀÁÂÄÇÈÉÊËÍÎÑÓÔÖÚÜàáâäãçèéêëíîïñóôöõúûüßøåØ"
    "¹²³⁴₂₃₄™®©†‡√✓✔☐☑☒□■Ωαβγδ"
)


@dataclass(frozen=True, slots=True)
class Letter:
    """One character of a line that was read."""

    text: str
    at: float
    """Middle, as a share of the line picture's width."""
    sure: float


@dataclass(frozen=True, slots=True)
class Read:
    """One line as it was read."""

    letters: tuple[Letter, ...] = ()

    @property
    def text(self) -> str:
        """All characters."""
        return "".join(letter.text for letter in self.letters)

    @property
    def sure(self) -> float:
        """The mean of how sure the network is of the characters; 0 where there is none."""
        if not self.letters:
            return 0.0
        return sum(letter.sure for letter in self.letters) / len(self.letters)


def read_lines(lines: Sequence[Gray]) -> list[Read]:
    """Return what stands in each picture of a line, in their order."""
    done: list[Read] = [Read()] * len(lines)
    order = sorted(range(len(lines)), key=lambda at: _width(lines[at]))
    for start in range(0, len(order), _BATCH):
        places = order[start : start + _BATCH]
        batch, widths = _batch([lines[at] for at in places])
        told = reader().run(batch)
        for row, at in enumerate(places):
            done[at] = _decoded(told[row], widths[row], batch.shape[3])
    return done


def _width(line: Gray) -> int:
    height, width = line.shape
    return min(max(int(width * HEIGHT / max(height, 1) + 0.5), 8), _LONGEST)


def _batch(lines: Sequence[Gray]) -> tuple[Floats, list[int]]:
    """Return the lines as one input of the network, with the width that each takes in it."""
    widths = [_width(line) for line in lines]
    room = -(-max(*widths, 64) // 32) * 32
    batch = np.zeros((len(lines), 3, HEIGHT, room), np.float32)
    for row, (line, width) in enumerate(zip(lines, widths, strict=True)):
        how = cv2.INTER_AREA if line.shape[0] > 1.5 * HEIGHT else cv2.INTER_LINEAR
        small = cv2.resize(line, (width, HEIGHT), interpolation=how)
        batch[row, :, :, :width] = small.astype(np.float32) / 127.5 - 1
    return batch, widths


@cache
def _kept() -> tuple[NDArray[np.intp], tuple[str, ...]]:
    """Return the outputs that are allowed, the empty one first, and what they stand for."""
    characters = reader().characters
    kept = [at for at, text in enumerate(characters) if at == 0 or text in _ALLOWED]
    return np.array(kept, np.intp), tuple(characters[at] for at in kept)


def _decoded(told: Floats, width: int, room: int) -> Read:
    kept, characters = _kept()
    chances = told[:, kept]
    best = chances.argmax(axis=1)
    steps = len(best)
    letters: list[Letter] = []
    start = 0
    for at in range(1, steps + 1):
        if at < steps and best[at] == best[start]:
            continue
        if best[start]:
            run = chances[start:at, best[start]]
            peak = start + int(run.argmax())
            place = (peak + 0.5) * room / steps / width
            letters.append(Letter(characters[best[start]], place, float(run.max())))
        start = at
    return Read(tuple(letters))

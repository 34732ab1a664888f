"""One process of a crew: takes pictures from its standard input, gives pages on its output."""

from __future__ import annotations

import os
import pickle
import signal
import sys
from typing import BinaryIO

from welltold.messages import Language, speaking

from .crew import Answer
from .shot import Shot


def main() -> None:
    """Read pictures until no more come."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who started this process ends it
    # What a library prints must not get between the pages.
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as out:
        os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
        _serve(sys.stdin.buffer, out)


def _serve(pictures: BinaryIO, out: BinaryIO) -> None:
    import cv2

    cv2.setNumThreads(1)
    while True:
        try:
            language, shot = pickle.load(pictures)  # noqa: S301 - from the process that started us
        except EOFError:
            return
        pickle.dump(_answer(language, shot), out, protocol=5)
        out.flush()


def _answer(language: Language, shot: Shot) -> Answer | None:
    """Return a page or why it cannot be read; None for a fault, which then shows where we began."""
    from .pages import read_page
    from .poor import Poor

    try:
        with speaking(language):
            return read_page(shot)
    except Poor as error:
        return error.reason
    except Exception:  # noqa: BLE001 - it comes again, and is told, in the process that asked
        return None

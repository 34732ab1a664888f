"""What reading a picture costs against the bare OCR engine, and what a second process brings.

Both sides of a ratio run with one thread each, on the same pictures, turn by turn. The bare engine
finds and reads the lines of a page and stops there; ours also straightens the page, makes results
of it, and reads each value again.
"""

from __future__ import annotations

import logging
import os
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from figures import Figure
from numpy.typing import NDArray
from PIL import Image

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "samples")]

from scan import spoil  # noqa: E402 - found beside the bench

import welltold  # noqa: E402 - as above
from welltold_parsers.scan import models, pages  # noqa: E402 - as above
from welltold_parsers.working import working  # noqa: E402 - as above

Gray = NDArray[np.uint8]
SHEETS = ("nitrate-bacteria", "hard-rusty", "pfas", "package")
ROUNDS = 2
_BEST = {"Det.limit_type": "max", "Det.limit_side_len": 1280, "Global.use_cls": False}
"""The settings in which the bare engine reads such pages best for what it costs."""


def scanned() -> list[Gray]:
    """The first pages of some samples as an office scans them, 200 dots an inch."""
    drawn = (spoil.drawn(ROOT / f"samples/sheets/{name}.pdf")[0] for name in SHEETS)
    return [spoil.office(page, np.random.default_rng(at)) for at, page in enumerate(drawn)]


def saved(pictures: Sequence[Gray], path: Path) -> Path:
    """One file of pictures."""
    first, *others = (Image.fromarray(one) for one in pictures)
    first.save(path, save_all=True, append_images=others, dpi=(200, 200))
    return path


@contextmanager
def one_thread() -> Iterator[None]:
    """Let every engine that is started inside have one thread."""
    before, threads = os.environ.get(models.THREADS), cv2.getNumThreads()
    os.environ[models.THREADS] = "1"
    cv2.setNumThreads(1)
    models.finder.cache_clear()
    models.reader.cache_clear()
    try:
        yield
    finally:
        cv2.setNumThreads(threads)
        models.finder.cache_clear()
        models.reader.cache_clear()
        if before is None:
            del os.environ[models.THREADS]
        else:
            os.environ[models.THREADS] = before


def bare_engine(**settings: object) -> Callable[[Gray], object]:
    """The engine as its package starts it, with one thread."""
    from rapidocr import RapidOCR

    logging.getLogger("RapidOCR").setLevel(logging.ERROR)
    room = "EngineConfig.onnxruntime"
    alone: dict[str, Any] = {f"{room}.intra_op_num_threads": 1, f"{room}.inter_op_num_threads": 1}
    engine = RapidOCR(params={"Global.log_level": "error", **alone, **settings})
    return lambda picture: engine(cv2.cvtColor(picture, cv2.COLOR_GRAY2BGR))


def cpu(work: Callable[[], object]) -> float:
    """CPU seconds of a call in this process."""
    start = time.process_time()
    work()
    return time.process_time() - start


def read_anew(path: Path) -> welltold.Reading:
    """Read a file of which nothing is remembered."""
    pages._RECENT.clear()
    return welltold.read(path)


def against_bare(pictures: Sequence[Gray], folder: Path) -> Iterator[Figure]:
    """Yield our CPU time over that of the bare engine, as it comes and in its best settings."""
    files = [saved([one], folder / f"{at}.png") for at, one in enumerate(pictures)]
    as_it_comes, best = bare_engine(), bare_engine(**_BEST)
    ours = theirs = tuned = 0.0
    for warm_up in (as_it_comes, best):
        warm_up(pictures[0])
    read_anew(files[0])
    for _ in range(ROUNDS):
        for picture, path in zip(pictures, files, strict=True):
            theirs += cpu(lambda one=picture: as_it_comes(one))
            tuned += cpu(lambda one=picture: best(one))
            ours += cpu(lambda one=path: read_anew(one))
    many = ROUNDS * len(files)
    yield Figure("a scanned page to results / bare OCR engine as it comes", ours / theirs, "x", 1.5)
    yield Figure(
        "a scanned page to results / bare OCR engine, best settings", ours / tuned, "x", 1.5
    )
    yield Figure("a scanned page to results", ours / many, "s CPU")


def in_time(path: Path, jobs: int) -> float:
    """Seconds to read a file by so many processes that have been started before."""
    with working(jobs):
        read_anew(path)
        start = time.monotonic()
        read_anew(path)
        return time.monotonic() - start


def of_two_processes(pictures: Sequence[Gray], folder: Path) -> Iterator[Figure]:
    """Yield the throughput of two processes over that of one, and the memory of one."""
    path = saved([*pictures, *pictures], folder / "many.tif")
    times = [(in_time(path, 1), in_time(path, 2)) for _ in range(ROUNDS)]
    one, two = (min(some) for some in zip(*times, strict=True))
    count = 2 * len(pictures)
    yield Figure(
        f"{count} pages by two processes of one thread / one", one / two, "x", 1.7, at_least=True
    )
    yield Figure("the same by two", count / two, "pages/s")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    yield Figure("peak memory of such a process", peak, "MiB", 1500)


def figures() -> Iterator[Figure]:
    """Yield the figures of scans."""
    pictures = scanned()
    with tempfile.TemporaryDirectory() as folder, one_thread():
        yield from against_bare(pictures, Path(folder))
        yield from of_two_processes(pictures, Path(folder))

"""How well scans of the project's own samples are read: ``python tests/bench/scans.py [WAY...]``.

Each sample is drawn at 200 dots an inch, spoiled as offices, faxes and phones do, and read as a
picture. Prints for each way right, silent and doubted results, and processor seconds a page.
"""

from __future__ import annotations

import sys
import tempfile
import time
import zlib
from pathlib import Path

import numpy as np
from PIL import Image

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from samples.proving.judge import Score, score_document, total  # noqa: E402 - as above
from samples.proving.score import load_truths  # noqa: E402 - as above
from scan.spoil import WAYS, drawn  # noqa: E402 - as above

import welltold  # noqa: E402 - the proving ground is found beside the tests
from welltold.jsonform import to_jsonable  # noqa: E402 - as above


def scores(way: str) -> tuple[list[Score], float]:
    """Read all samples spoiled in one way; return their scores and processor seconds a page."""
    found, pages, spent = [], 0, 0.0
    truths = load_truths(ROOT / "samples/expected")
    with tempfile.TemporaryDirectory() as folder:
        for sheet in sorted((ROOT / "samples/sheets").glob("*.pdf")):
            truth = truths[sheet.stem]
            if not any(sample["results"] for sample in truth["samples"]):
                continue
            try:
                clean = drawn(sheet)
            except RuntimeError:  # a sample that is cut off on purpose
                continue
            seeds = (zlib.crc32(f"{sheet.stem}{at}{way}".encode()) for at in range(len(clean)))
            spoiled = [
                WAYS[way](one, np.random.default_rng(s))
                for one, s in zip(clean, seeds, strict=True)
            ]
            path = Path(folder) / f"{sheet.stem}.tif"
            first, *others = (Image.fromarray(one) for one in spoiled)
            first.save(path, save_all=True, append_images=others)
            start = time.process_time()
            try:
                reading = to_jsonable(welltold.read(path))
            except welltold.WelltoldError:
                reading = None
            spent += time.process_time() - start
            pages += len(spoiled)
            found.append(score_document(truth, reading))
    return found, spent / pages


def main(ways: list[str]) -> None:
    """Print one line for each way."""
    for way in ways or list(WAYS):
        found, seconds = scores(way)
        whole = total(found)
        wrong = whole.silent + whole.phantoms
        print(
            f"{way:12} {whole.results:4} results  F1 {whole.f1:.3f}  silent {wrong}  "
            f"lost {whole.lost}  to review {whole.review_share:.3f}  {seconds:.1f} s a page",
            flush=True,
        )
        for one in found:
            for note in one.notes:
                print(f"    {one.name}: {note}")


if __name__ == "__main__":
    main(sys.argv[1:])

"""How well pictures of sheets are read: ``python tests/bench scans [WAY...] [--sheets N]``.

Sheets of the proving ground, drawn at 200 dots an inch and spoiled in one way, with growing
strength: one line for each, so that one sees where reading breaks, and that doubt rises before it
does. ``--reports`` compares the reports of scanned samples with those of the text originals.
``--samples`` takes the project's own samples, spoiled as offices, faxes and phones do.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import log10
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "samples")]

from samples.proving.__main__ import truth_of  # noqa: E402 - as above
from samples.proving.judge import Score, score_document, total  # noqa: E402 - as above
from samples.proving.layouts import layouts, make_sheet  # noqa: E402 - as above
from samples.proving.match import match  # noqa: E402 - as above
from samples.proving.score import load_truths  # noqa: E402 - as above
from samples.proving.spoil import WAYS  # noqa: E402 - as above
from scan import spoil  # noqa: E402 - as above
from scanned_reports import differences  # noqa: E402 - as above

import welltold  # noqa: E402 - the proving ground is found beside the tests
from welltold.jsonform import to_jsonable  # noqa: E402 - as above

Gray = NDArray[np.uint8]
_DOTS = {"fax": (204.0, 196.0), "fax 204x98": (204.0, 98.0)}
"""Dots an inch that the file tells; others are told as drawn."""


@dataclass(slots=True)
class Tally:
    """What has come of some sheets spoiled in one way."""

    name: str
    scores: list[Score] = field(default_factory=list)
    points: int = 0
    """Values a power of ten off, without a doubt."""
    pages: int = 0
    seconds: float = 0.0
    """Of processor time."""

    def __str__(self) -> str:
        read = [one for one in self.scores if not one.failed]
        whole = total(read)
        told = f"{self.name:26} {whole.results:4} results"
        refused = len(self.scores) - len(read)
        if not whole.results:
            return f"{told}  all {refused} refused"
        wrong = whole.silent + whole.phantoms
        return (
            f"{told}  F1 {whole.f1:.3f}  silent {wrong:2} ({1000 * wrong / whole.results:4.1f} in "
            f"1,000), points {self.points}  lost {whole.lost:3}  review {whole.review_share:.3f}  "
            f"refused {refused}  {self.seconds / max(self.pages, 1):4.1f} s a page"
        )


def read_pages(tally: Tally, truth: dict[str, Any], pages: Sequence[Gray], **saved: Any) -> None:
    """Read pages as one file of pictures, and add what comes of them to a tally."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.tif"
        first, *others = (Image.fromarray(one) for one in pages)
        first.save(path, save_all=True, append_images=others, **saved)
        start = time.process_time()
        try:
            reading = to_jsonable(welltold.read(path))
        except welltold.WelltoldError:
            reading = None
        tally.seconds += time.process_time() - start
    tally.pages += len(pages)
    tally.scores.append(score_document(truth, reading))
    if reading is not None:
        tally.points += sum(map(_point_lost, match(truth, reading).pairs))


def _point_lost(pair: Any) -> bool:
    """Whether a value is silently a power of ten off."""
    true, read = pair.true["value"], pair.read.get("value")
    if pair.read.get("use") == "look" or not true or not read or true == read:
        return False
    tens = log10(abs(float(read) / float(true)))
    return abs(tens) > 0.5 and abs(tens - round(tens)) < 0.01


def drawn_sheets(seed: int, count: int) -> Iterator[tuple[dict[str, Any], Gray]]:
    """Yield sheets of one page of the proving ground, each of another layout, with their truth."""
    some = [layout for layout in layouts() if layout.suffix == ".pdf"]
    dice = np.random.default_rng(seed)
    dice.shuffle(some)  # type: ignore[arg-type]  # numpy shuffles any list
    made = 0
    for layout in some:
        pdf, leaf = make_sheet(layout, f"{seed} 0 {layout.name}")
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "sheet.pdf"
            path.write_bytes(pdf)
            pages = spoil.drawn(path)
        if len(pages) != 1:
            continue
        yield truth_of(layout.name, layout, leaf), pages[0]
        made += 1
        if made == count:
            return


def spoiled(ways: Sequence[str], seed: int, count: int) -> Iterator[Tally]:
    """Yield the tally of each way and strength; the first is that of unspoiled pictures."""
    sheets = list(drawn_sheets(seed, count))
    clean = Tally("unspoiled")
    for truth, page in sheets:
        read_pages(clean, truth, [page], dpi=(200, 200))
    yield clean
    for way in ways:
        for strength in WAYS[way].strengths:
            tally = Tally(f"{way} {strength:g} {WAYS[way].unit}")
            for truth, page in sheets:
                at = zlib.crc32(f"{truth['name']}{way}{strength}{seed}".encode())
                picture = WAYS[way](page, np.random.default_rng(at), strength)
                saved = {"dpi": _DOTS[way]} if way in _DOTS else {}
                read_pages(tally, truth, [picture], **saved)
            yield tally


def samples(ways: Sequence[str]) -> Iterator[Tally]:
    """Yield the tallies of the project's own samples, each way of `spoil` that is asked for."""
    truths = load_truths(ROOT / "samples/expected")
    for way in ways or list(spoil.WAYS):
        tally = Tally(way)
        for sheet in sorted((ROOT / "samples/sheets").glob("*.pdf")):
            truth = truths[sheet.stem]
            if not any(sample["results"] for sample in truth["samples"]):
                continue
            try:
                clean = spoil.drawn(sheet)
            except RuntimeError:  # a sample that is cut off on purpose
                continue
            seeds = (zlib.crc32(f"{sheet.stem}{at}{way}".encode()) for at in range(len(clean)))
            pages = [
                spoil.WAYS[way](one, np.random.default_rng(s))
                for one, s in zip(clean, seeds, strict=True)
            ]
            read_pages(tally, truth, pages)
        yield tally


def main(arguments: list[str]) -> int:
    """Print one line for each way and strength, with what is wrong below it."""
    parser = argparse.ArgumentParser(prog="python tests/bench scans", description=__doc__)
    parser.add_argument("ways", nargs="*", metavar="WAY", help=", ".join(WAYS))
    parser.add_argument("--sheets", type=int, default=6)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--samples", action="store_true", help=f"with {', '.join(spoil.WAYS)}")
    parser.add_argument("--reports", action="store_true", help="compare reports; names of samples")
    asked = parser.parse_args(arguments)
    if asked.reports:
        for name, told in differences(asked.ways):
            print(f"{name:20} {told}", flush=True)
        return 0
    ways = asked.ways or list(WAYS)
    known = spoil.WAYS if asked.samples else WAYS
    if unknown := [way for way in asked.ways if way not in known]:
        parser.error(f"not one of {', '.join(known)}: {', '.join(unknown)}")
    told = samples(asked.ways) if asked.samples else spoiled(ways, asked.seed, asked.sheets)
    for tally in told:
        print(tally, flush=True)
        for one in tally.scores:
            for note in [] if one.failed else one.notes:
                print(f"    {one.name}: {note}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

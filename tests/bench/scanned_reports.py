"""Whether a scan leads to the same report: ``python tests/bench scans --reports [SHEET...]``.

Each PDF of the samples is scanned as an office does it (200 dots an inch, a little skew), read and
interpreted; its findings are compared with those of the text original. A finding that differs and
hangs on a value which the reading doubts is told apart from one that differs silently.
"""

from __future__ import annotations

import tempfile
import zlib
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

import numpy as np
from PIL import Image
from scan import spoil

import welltold

SHEETS = Path(__file__).parents[2] / "samples" / "sheets"
AS_OF = date(2026, 11, 25)
Told = dict[tuple[int, str], tuple[str, bool]]


def findings(reading: welltold.Reading) -> Told:
    """Return the verdict on each analyte of each sample, and whether its value is doubted."""
    doubted = {
        (at, result.analyte)
        for at, sample in enumerate(reading.samples)
        for result in sample.results
        if result.use == "look"
    }
    view = welltold.interpret(reading, as_of=AS_OF)
    return {
        (at, one.analyte): (one.verdict, (at, one.analyte) in doubted)
        for at, sample in enumerate(view.samples)
        for one in sample.findings
        if one.analyte is not None
    }


def scanned(path: Path, folder: Path) -> Path:
    """Return a PDF of pictures made from a PDF of text."""
    dice = np.random.default_rng(zlib.crc32(path.stem.encode()))
    pages = [Image.fromarray(spoil.office(page, dice)) for page in spoil.drawn(path)]
    made = folder / f"{path.stem}.pdf"
    pages[0].save(made, save_all=True, append_images=pages[1:], resolution=200)
    return made


def differences(names: Sequence[str] = ()) -> Iterator[tuple[str, str]]:
    """Yield each sheet's name with one line on what differs; nothing of sheets not readable."""
    with tempfile.TemporaryDirectory() as folder:
        for path in sorted(SHEETS.glob("*.pdf")):
            if names and path.stem not in names:
                continue
            try:
                true = findings(welltold.read(path))
            except welltold.WelltoldError:
                continue
            try:
                read = findings(welltold.read(scanned(path, Path(folder))))
            except welltold.WelltoldError as error:
                yield path.stem, f"not read: {error}"
                continue
            yield path.stem, _told(true, read)


def _told(true: Told, read: Told) -> str:
    silent, doubted, same = [], 0, 0
    for key in sorted(true.keys() | read.keys()):
        before, after = true.get(key), read.get(key)
        if before and after and before[0] == after[0]:
            same += 1
        elif after and after[1]:
            doubted += 1
        else:
            one, other = before[0] if before else "-", after[0] if after else "-"
            silent.append(f"{key[1]}: {one}, scanned {other}")
    return f"{same} the same, {doubted} doubted, {len(silent)} differ silently {silent or ''}"

"""What the digits of reporting limits tell of lost points, and how often they raise a false doubt.

Sheets of the proving ground are read from their text, so that every decimal is right; then each
number in turn loses its point.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from figures import Figure

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT)]

from samples.proving.layouts import layouts, make_sheet  # noqa: E402 - the proving ground is above

import welltold  # noqa: E402 - as above
from welltold.reading import Result  # noqa: E402 - as above
from welltold_parsers.scan.limit_digits import unlike_limits  # noqa: E402 - as above

SEED = 6


def sheets() -> Iterator[tuple[Result, ...]]:
    """The results of one sheet of each layout that is a PDF."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sheet.pdf"
        for layout in layouts():
            if layout.suffix != ".pdf":
                continue
            path.write_bytes(make_sheet(layout, f"{SEED} 0 {layout.name}")[0])
            try:
                yield tuple(welltold.read(path).results)
            except welltold.WelltoldError:
                continue


def doubted(results: Sequence[Result]) -> set[int]:
    """Places of the results that are doubted."""
    odd = {id(one.result) for one in unlike_limits(results)}
    return {at for at, one in enumerate(results) if id(one) in odd}


def found(results: Sequence[Result]) -> Iterator[bool]:
    """Whether each number beside a limit is doubted when it has lost its point."""
    for at, one in enumerate(results):
        beside = one.reporting_limit is not None or one.detection_limit is not None
        if one.state == "value" and one.decimals and beside:
            lost = replace(one, decimals=0)
            yield at in doubted((*results[:at], lost, *results[at + 1 :]))


def figures() -> Iterator[Figure]:
    """Yield the share of right results doubted, and of lost points noticed."""
    read = list(sheets())
    false, count = sum(len(doubted(one)) for one in read), sum(map(len, read))
    tried = [one for results in read for one in found(results)]
    name = f"right results of {count:,} doubted for the digits of their limit"
    yield Figure(name, 100 * false / count, "%", 1)
    yield Figure(f"of {len(tried)} lost points beside a limit, noticed by it alone",
                 100 * sum(tried) / len(tried), "%", 50, at_least=True)  # fmt: skip

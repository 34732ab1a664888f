"""Fits ``reading_signals.csv``: ``python -m samples.proving.fit FOLDER... [--write TABLE]``.

``--keep FILE`` keeps what was seen; ``--seen FILE`` adds it to a later fit as seen at first sight,
before the engine had learned from those sheets. Where there is any, the base is that of first
sight: a lab whose sheets nobody has read before is what confidence has to answer for. The weights
are fitted to all.

Each FOLDER holds sheets with their ``NAME.truth.json``. Every sheet is read, and of each result it
is noted which signals it had and whether it was right. Confidence is the logistic function of a
base and a weight, never above zero, for each signal. A layout counts as at most twenty results, so
that long files do not decide; a signal that was seldom seen keeps to what was set by hand. What is
printed is fitted without the layout in question (ten parts, whole layouts left out); the second
table leaves out the results that a person is asked about whatever the confidence.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from .judge import Score
from .match import match, says_something
from .report import calibration, risk
from .score import load_truths

if TYPE_CHECKING:
    from numpy.typing import NDArray

_MOST = 20.0
"""Results that one layout counts for."""
_TRUST = 1.0
"""How strongly a weight keeps to what was set by hand, in results of even odds."""
_HALF = 0.5
"""Half a wrong result more than was seen: nothing is certain."""
_PARTS = 10
_ROUNDS = 400


@dataclass(frozen=True, slots=True)
class Seen:
    """One result that was read."""

    layout: str
    signals: frozenset[str]
    right: bool
    first: bool = False
    """Whether the engine had not learned from this sheet when it read it."""


def seen_in(folder: Path) -> Iterator[Seen]:
    """Read the sheets of a folder; yield what was read with its signals."""
    import welltold_parsers
    from welltold.errors import WelltoldError
    from welltold.jsonform import to_jsonable
    from welltold_parsers.layout.doubt import telling_all

    for stem, truth in load_truths(folder).items():
        path = folder / str(truth.get("file", ""))
        if not path.is_file():
            path = next(p for p in folder.glob(f"{stem}.*") if p.suffix != ".json")
        try:
            with telling_all():
                reading = json.loads(
                    json.dumps(to_jsonable(welltold_parsers.read(path)), default=str)
                )
        except WelltoldError:
            continue
        found = match(truth, reading)
        for pair in found.pairs:
            yield Seen(str(truth["layout"]), _signals(pair.read), not pair.faults)
        for one in filter(says_something, found.extra):
            yield Seen(str(truth["layout"]), _signals(one), False)  # noqa: FBT003 - not on the sheet


def _signals(read: Mapping[str, Any]) -> frozenset[str]:
    return frozenset(reason["code"].removeprefix("read.") for reason in read["review"])


def kept_form(seen: Sequence[Seen]) -> str:
    """Return what was seen as JSON, one list (layout, signals, right) a result."""
    return json.dumps([(one.layout, sorted(one.signals), one.right) for one in seen])


def kept_in(file: Path) -> Iterator[Seen]:
    """Yield what a file of `kept_form` holds."""
    for layout, signals, right in json.loads(file.read_text(encoding="utf-8")):
        yield Seen(layout, frozenset(signals), right, first=True)


def fit(seen: Sequence[Seen], by_hand: Mapping[str, float]) -> tuple[float, dict[str, float]]:
    """Return the base (of first sight, if any was seen) and each signal's weight, in log odds."""
    names = sorted(by_hand)
    rows = np.array([[name in one.signals for name in names] for one in seen], dtype=float)
    right = np.array([one.right for one in seen], dtype=float)
    first = np.array([int(one.first) for one in seen])
    counts: dict[str, int] = {}
    for one in seen:
        counts[one.layout] = counts.get(one.layout, 0) + 1
    share = np.array([min(1.0, _MOST / counts[one.layout]) for one in seen])
    prior = np.array([by_hand[name] for name in names])
    bases, weights = _first_bases(first, right, share), prior.copy()
    for _ in range(_ROUNDS):
        odds = 1 / (1 + np.exp(-(bases[first] + rows @ weights)))
        miss = share * (right - odds)
        bend = share * odds * (1 - odds)
        plain = 1 / (1 + np.exp(-bases))
        up = np.bincount(first, miss, minlength=2) - _HALF * plain
        down = np.bincount(first, bend, minlength=2) + _HALF * plain * (1 - plain) + 0.1
        bases = bases + np.clip(up / down, -1.0, 1.0)
        step = rows.T @ miss - _TRUST * (weights - prior)
        weights = np.minimum(0.0, weights + 0.5 * step / (rows.T @ bend + _TRUST))
    return float(bases[first.max()]), dict(zip(names, map(float, weights), strict=True))


def _first_bases(
    first: NDArray[np.int_], right: NDArray[np.float64], share: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the log odds of being right, of known sheets and of sheets at first sight."""
    good = np.bincount(first, share * right, minlength=2) + _HALF
    bad = np.bincount(first, share * (1 - right), minlength=2) + _HALF
    odds: NDArray[np.float64] = np.log(good / bad)
    return odds


def confidence(base: float, weights: Mapping[str, float], signals: frozenset[str]) -> float:
    """Return the confidence in a result with these signals."""
    return 1 / (1 + math.exp(-(base + sum(weights.get(name, 0.0) for name in signals))))


def without_layout(
    seen: Sequence[Seen], by_hand: Mapping[str, float]
) -> list[tuple[float, bool, frozenset[str]]]:
    """Return the confidence in each result, fitted on other layouts, and whether it was right."""
    layouts = sorted({one.layout for one in seen})
    part = {layout: number % _PARTS for number, layout in enumerate(layouts)}
    told = []
    for number in range(_PARTS):
        base, weights = fit([s for s in seen if part[s.layout] != number], by_hand)
        told += [
            (confidence(base, weights, s.signals), s.right, s.signals)
            for s in seen
            if part[s.layout] == number
        ]
    return told


def main(arguments: list[str]) -> int:
    """Fit, print how sure and how right, and write the table if asked."""
    from welltold.tables import read_table

    parser = argparse.ArgumentParser(prog="python -m samples.proving.fit", description=__doc__)
    parser.add_argument("folders", type=Path, nargs="*")
    parser.add_argument("--keep", type=Path, help="a file for what was seen in the folders")
    parser.add_argument(
        "--seen", type=Path, action="append", default=[], help="a file that --keep wrote"
    )
    parser.add_argument("--write", type=Path, help="the table whose weights are to be renewed")
    given = parser.parse_args(arguments)
    table = [r for r in read_table("reading_signals.csv") if r.text("by_hand") != "-"]
    by_hand = {r.text("signal"): float(r.text("by_hand")) for r in table}
    asked = frozenset(r.text("signal") for r in table if r.text("ask") == "yes")
    seen = [one for folder in given.folders for one in seen_in(folder)]
    if given.keep:
        given.keep.write_text(kept_form(seen), encoding="utf-8")
    seen += [one for file in given.seen for one in kept_in(file)]
    told = without_layout(seen, by_hand)
    every = Score("left out", sure=[(at, right) for at, right, _ in told])
    open_ = [(at, right) for at, right, signals in told if not signals & asked]
    print("\n".join([*calibration([every]), "", *risk([Score("not asked about", sure=open_)])]))
    lines = _table(seen, by_hand, asked)
    print("\n" + "\n".join(lines))
    if given.write:
        kept = given.write.read_text(encoding="utf-8").splitlines()
        head = [line for line in kept if line.startswith(("#", "signal,", "use,"))]
        given.write.write_text("\n".join([*head, *lines]) + "\n", encoding="utf-8")
    return 0


def _table(seen: Sequence[Seen], by_hand: Mapping[str, float], asked: frozenset[str]) -> list[str]:
    """Return the lines of the table, fitted on everything that was seen."""
    base, weights = fit(seen, by_hand)
    lines = [f"base,{base:.3f},-,no,{len(seen)},{sum(s.right for s in seen)}"]
    for name in sorted(by_hand, key=lambda n: (weights[n], n)):
        some = [s for s in seen if name in s.signals]
        right = sum(s.right for s in some)
        ask = "yes" if name in asked else "no"
        hand = f"{weights[name]:.3f},{by_hand[name]:.3f}"
        lines.append(f"{name},{hand},{ask},{len(some)},{right}")
    return lines


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

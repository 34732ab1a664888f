"""Compares readings with the truth: ``python -m samples.proving.score TRUTH READ [--json]``.

TRUTH is a folder of ``NAME.truth.json`` (or of expected readings ``NAME.json``), READ a folder of
readings ``NAME.json``. A result counts as right only if analyte, operator, value, unit, basis and
sample are. What is wrong is a silent error, unless the reading asks a person to look; what is
missing is lost silently, unless ``unread`` has it. A result of nowhere is a phantom.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from . import alike
from .match import Matched, Pair, Told, match, says_something


@dataclass(slots=True)
class Score:
    """The counts of a document, or of many."""

    name: str
    layout: str = ""
    documents: int = 1
    results: int = 0
    """True results."""
    right: int = 0
    """Read right, whether sent to review or not."""
    right_looked: int = 0
    """Of those, sent to review."""
    doubted: int = 0
    """Wrong, and the reading says that one should look."""
    silent: int = 0
    """Wrong, and nothing says so."""
    in_unread: int = 0
    lost: int = 0
    """Missing without a word."""
    phantoms: int = 0
    """Read without a doubt, and not on the sheet."""
    phantoms_doubted: int = 0
    unread: int = 0
    """Entries of ``unread``."""
    failed: int = 0
    """Documents with results and without a reading."""
    faults: Counter[str] = field(default_factory=Counter)
    """What was wrong, counted over the silent errors."""
    notes: list[str] = field(default_factory=list)

    @property
    def given(self) -> int:
        """Results that the reading gives."""
        wrong = self.doubted + self.silent
        return self.right + wrong + self.phantoms + self.phantoms_doubted

    @property
    def precision(self) -> float:
        return self.right / self.given if self.given else float(not self.results)

    @property
    def recall(self) -> float:
        return self.right / self.results if self.results else 1.0

    @property
    def f1(self) -> float:
        both = self.precision + self.recall
        return 2 * self.precision * self.recall / both if both else 0.0

    @property
    def looked(self) -> int:
        """Results that the reading sends to a person."""
        return self.right_looked + self.doubted + self.phantoms_doubted

    @property
    def review_share(self) -> float:
        return self.looked / self.given if self.given else 0.0

    @property
    def badness(self) -> tuple[int, int, float]:
        """Order for the list of the worst documents."""
        return self.silent + self.phantoms, self.lost, 1 - self.f1

    def as_dict(self) -> dict[str, Any]:
        told = {key: getattr(self, key) for key in Score.__annotations__}
        rates = ("precision", "recall", "f1", "review_share")
        return told | {key: round(getattr(self, key), 4) for key in rates}


def _in_unread(lost: Iterable[Told], unread: Iterable[Told]) -> tuple[int, list[Told]]:
    """Match what is missing with the entries of ``unread``, one to one."""
    left = [alike.name(entry.get("text")) for entry in unread]
    found, silent = 0, []
    for true in lost:
        label, text = alike.name(true["label"]), alike.name(true.get("text"))
        hits = [one for one in left if (label and label in one) or (text and one == text)]
        hits.sort(key=lambda one: (text not in one, len(one)))
        if hits:
            left.remove(hits[0])
            found += 1
        else:
            silent.append(true)
    return found, silent


def _tolerated(read: Told, truth: Told) -> bool:
    """Say whether an extra result repeats a line that the truth calls awkward, no plain result."""
    lines = [line for sample in truth["samples"] for line in sample.get("awkward", ())]
    return any(alike.name(line["label"]) == alike.name(read.get("label")) for line in lines)


def _count_pair(score: Score, pair: Pair) -> None:
    look = pair.read.get("use") == "look"
    if not pair.faults:
        score.right += 1
        score.right_looked += look
    elif look:
        score.doubted += 1
    else:
        score.silent += 1
        score.faults.update(pair.faults)
        said = f"{pair.read.get('operator', '=')} {pair.read.get('value')} {pair.read.get('unit')}"
        what = ", ".join(pair.faults)
        score.notes.append(f"silent ({what}): {pair.true['label']} {pair.true['text']!r}: {said}")


def score_document(truth: Told, reading: Told | None) -> Score:
    """Return the counts of one document; a reading that does not exist has lost everything."""
    score = Score(str(truth.get("name", "")), str(truth.get("layout", "")))
    score.results = sum(len(sample["results"]) for sample in truth["samples"])
    if reading is None:
        score.failed, score.lost = int(score.results > 0), score.results
        return score
    matched: Matched = match(truth, reading)
    for pair in matched.pairs:
        _count_pair(score, pair)
    score.unread = len(reading.get("unread", ()))
    score.in_unread, silent = _in_unread(matched.lost, reading.get("unread", ()))
    score.lost = len(silent)
    score.notes += [f"lost: {one['label']} {one['text']!r}" for one in silent]
    for read in matched.extra:
        if _tolerated(read, truth) or not says_something(read):
            continue
        doubted = read.get("use") == "look"
        score.phantoms += not doubted
        score.phantoms_doubted += doubted
        if not doubted:
            score.notes.append(f"phantom: {read.get('label')} {read.get('text')!r}")
    return score


def total(scores: Iterable[Score], name: str = "all") -> Score:
    """Return the sum of several scores."""
    whole = Score(name, documents=0)
    counts = [key for key, kind in Score.__annotations__.items() if kind == "int"]
    for score in scores:
        for key in counts:
            setattr(whole, key, getattr(whole, key) + getattr(score, key))
        whole.faults += score.faults
    return whole


def load_truths(folder: Path) -> dict[str, Told]:
    """Return the truths of a folder by name; expected readings of ``samples/`` fit as well."""
    paths = sorted(folder.glob("*.truth.json")) or sorted(folder.glob("*.json"))
    truths = {}
    for path in paths:
        told = json.loads(path.read_text(encoding="utf-8"))
        stem = re.sub(r"(\.truth)?\.json$", "", path.name)
        truths[stem] = {"name": stem, "layout": told.get("layout") or stem} | told
    return truths


def score_folders(truths: Path, readings: Path) -> list[Score]:
    """Return the scores of all documents of a folder."""
    scores = []
    for stem, truth in load_truths(truths).items():
        path = readings / f"{stem}.json"
        read = json.loads(path.read_text(encoding="utf-8")) if path.is_file() else None
        scores.append(score_document(truth, read))
    return scores


_HEAD = ("documents", "results", "precision", "recall", "F1", "silent", "doubted", "in unread",
         "lost", "phantoms", "review")  # fmt: skip


def _row(score: Score, width: int) -> str:
    rates = f"{score.precision:9.3f} {score.recall:6.3f} {score.f1:6.3f}"
    counts = f"{score.silent:6} {score.doubted:7} {score.in_unread:9} {score.lost:6}"
    more = f"{score.phantoms:4}+{score.phantoms_doubted:<4} {score.review_share:6.3f}"
    start = f"{score.name[:width]:<{width}} {score.documents:9} {score.results:7}"
    return f"{start} {rates} {counts} {more}"


def render(scores: list[Score], worst: int = 10, *, notes: bool = False) -> str:
    """Return the table of layouts, the total, and the worst documents."""
    layouts: dict[str, list[Score]] = {}
    for score in scores:
        layouts.setdefault(score.layout, []).append(score)
    width = max(len(name) for name in (*layouts, "all"))
    head = (f"{_HEAD[0]:>9} {_HEAD[1]:>7} {_HEAD[2]:>9} {_HEAD[3]:>6} {_HEAD[4]:>6} {_HEAD[5]:>6} "
            f"{_HEAD[6]:>7} {_HEAD[7]:>9} {_HEAD[8]:>6} {_HEAD[9]:>9} {_HEAD[10]:>6}")  # fmt: skip
    lines = [" " * (width + 1) + head]
    lines += [_row(total(some, layout), width) for layout, some in sorted(layouts.items())]
    whole = total(scores)
    lines += ["-" * len(lines[0]), _row(whole, width), ""]
    bad = sum(1 for some in layouts.values() if total(some).silent)
    per = 1000 / max(whole.results, 1)
    mean = sum(score.f1 for score in scores) / max(len(scores), 1)
    lines.append(
        f"per 1,000 results: {whole.silent * per:.1f} silent, {whole.lost * per:.1f} lost, "
        f"{whole.phantoms * per:.1f} phantoms; layouts with a silent error: {bad} of "
        f"{len(layouts)}; mean F1 a document {mean:.3f}; documents without a reading {whole.failed}"
    )
    lines.append("silent errors by kind: " + (str(dict(whole.faults.most_common())) or "none"))
    lines += ["", "worst documents:"]
    for score in sorted(scores, key=lambda one: one.badness, reverse=True)[:worst]:
        lines.append(f"  {_row(score, width)}  {score.layout}")
        lines += [f"      {note}" for note in score.notes[: 200 if notes else 3]]
    return "\n".join(lines)


def main(arguments: list[str]) -> int:
    """Print the comparison of two folders."""
    parser = argparse.ArgumentParser(prog="python -m samples.proving.score", description=__doc__)
    parser.add_argument("truth", type=Path)
    parser.add_argument("read", type=Path)
    parser.add_argument("--json", action="store_true", help="print the counts as JSON")
    parser.add_argument("--worst", type=int, default=10, help="how many documents to name")
    parser.add_argument("--notes", action="store_true", help="name every fault of those")
    asked = parser.parse_args(arguments)
    scores = score_folders(asked.truth, asked.read)
    if not scores:
        print(f"no truth in {asked.truth}", file=sys.stderr)
        return 2
    if asked.json:
        whole = total(scores).as_dict()
        print(json.dumps({"all": whole, "documents": [one.as_dict() for one in scores]}, indent=1))
    else:
        print(render(scores, asked.worst, notes=asked.notes))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

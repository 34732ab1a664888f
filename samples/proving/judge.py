"""Judges a reading: what of it is right, doubted, silently wrong, lost, or of nowhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
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
    sure: list[tuple[float, bool]] = field(default_factory=list)
    """Of each result given: how sure the reading was, and whether it was right."""

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

    @property
    def needs_no_look(self) -> bool:
        """Whether a person can take the document as it is read."""
        return not self.looked and not self.unread and not self.failed

    def as_dict(self) -> dict[str, Any]:
        told = {key: getattr(self, key) for key in Score.__annotations__ if key != "sure"}
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
    score.sure.append((float(pair.read.get("confidence", 1.0)), not pair.faults))
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
        score.sure.append((float(read.get("confidence", 1.0)), False))
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
        whole.sure += score.sure
    return whole

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
from pathlib import Path

from .judge import Score, score_document, total
from .match import Told
from .report import render


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

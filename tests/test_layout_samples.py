"""Every sample sheet with an expected reading is read right, or its doubt is said."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from samples.proving.score import score_document

from welltold.errors import NoResultError
from welltold.jsonform import to_jsonable
from welltold_parsers import read

SAMPLES = Path(__file__).parent.parent / "samples"


def expected(outcome: str) -> list[dict[str, Any]]:
    every = [
        json.loads(p.read_text("utf-8")) for p in sorted((SAMPLES / "expected").glob("*.json"))
    ]
    return [e for e in every if e["outcome"] == outcome]


@pytest.mark.parametrize("truth", expected("read"), ids=lambda t: t["file"])
def test_nothing_is_silently_wrong_or_lost(truth: dict[str, Any]) -> None:
    reading = to_jsonable(read(SAMPLES / "sheets" / truth["file"]))
    score = score_document(
        {"name": truth["file"], **truth}, json.loads(json.dumps(reading, default=float))
    )
    assert (score.silent, score.lost, score.phantoms) == (0, 0, 0), score.notes
    assert score.right >= 0.9 * score.results


@pytest.mark.parametrize("truth", expected("no lab report"), ids=lambda t: t["file"])
def test_what_is_no_lab_report_has_no_result(truth: dict[str, Any]) -> None:
    with pytest.raises(NoResultError):
        read(SAMPLES / "sheets" / truth["file"])

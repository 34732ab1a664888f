"""Builds small readings and interprets them, without the treatment room."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from welltold import treatment
from welltold.interpretation import Finding, SampleView
from welltold.reading import Reading, Result, Sample, Source
from welltold.verdicts import interpret

NOW = date(2026, 11, 25)
NUMBER = re.compile(r"([<>]?)\s*(-?[\d.]+)")


@dataclass(frozen=True, slots=True)
class Bench:
    """What the tests work with."""

    result: Callable[..., Result]
    judge: Callable[..., Finding]
    view: Callable[..., SampleView]
    interpret: Callable[..., Any]


@pytest.fixture(scope="session")
def bench() -> Bench:
    return Bench(result, judge, view, interpret)


@pytest.fixture(autouse=True)
def _no_treatment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stages to consider are another room's, and another test's."""
    monkeypatch.setattr(treatment, "consider", lambda *_: treatment.Plan())


def result(
    slug: str | None, text: str, unit: str | None = None, basis: str | None = None, **more: Any
) -> Result:
    """Return a result as a sheet prints it: "5", "<0.5", "> 200", "ND", "Present", "TNTC"."""
    words = {"Present": "present", "Absent": "absent", "TNTC": "too_many", "Trace": "trace"}
    base = Result(slug, slug or "Unknown test", text, "value", unit=unit, basis=basis)
    if text == "":
        base = replace(base, state="blank")
    elif text == "???":
        base = replace(base, state="unreadable")
    elif text == "ND":
        base = replace(base, state="below", operator="<")
    elif text in words:
        present = {"Present": True, "Absent": False}.get(text)
        base = replace(base, state=words[text], present=present)
    else:
        sign, number = NUMBER.fullmatch(text).groups()  # type: ignore[union-attr]  # a test's own typing slip
        state = {"<": "below", ">": "above"}.get(sign, "value")
        base = replace(base, state=state, operator=sign or "=", value=Decimal(number))
    return replace(base, **more)


def view(
    *results: Result, as_of: date = NOW, site: Any = None, sample: dict[str, Any] | None = None
) -> SampleView:
    """Return the view of one sample with these results."""
    reading = Reading(
        Source("sheet.csv", "0" * 64, "csv", 1),
        samples=(Sample(results=results, **(sample or {})),),
    )
    return interpret(reading, as_of=as_of, site=site).samples[0]


def judge(
    one: Result,
    *beside: Result,
    as_of: date = NOW,
    site: Any = None,
    taken: str | None = "first_draw",
    **sample: Any,
) -> Finding:
    """Return the finding of the first result, in a sample with the others."""
    seen = view(one, *beside, as_of=as_of, site=site, sample={"taken": taken, **sample})
    findings: Iterable[Finding] = seen.findings
    found = [f for f in findings if f.label == one.label and f.text == one.text]
    assert len(found) == 1, found
    return found[0]

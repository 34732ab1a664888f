"""Later sheets behind equipment, as typed readings; the worked cases of ``tests/outlet``."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import welltold
from welltold.behind import Outlet, OutletSheet, OutletSign
from welltold.interpretation import Interpretation
from welltold.reading import Reading, Result, Sample, Source
from welltold.site import Equipment, SampleFacts, Site

FOLDER = Path(__file__).parent / "outlet"
BASES = {"hardness": "CaCO3", "alkalinity": "CaCO3", "nitrate": "N", "nitrite": "N"}
Values = Mapping[str, str]
Case = Mapping[str, Any]


@cache
def cases() -> tuple[Case, ...]:
    """Return every worked case."""
    return tuple(tomllib.loads((FOLDER / "cases.toml").read_text("utf-8"))["case"])


def bottle(values: Values, **more: Any) -> Sample:
    """Return one sample with these results."""
    return Sample(results=tuple(result(slug, text) for slug, text in values.items()), **more)


def result(slug: str, text: str, **more: Any) -> Result:
    """Return one result of "9 mg/L", "<5 mg/L", "present" or "absent"."""
    if text in {"present", "absent"}:
        state: Any = text
        return Result(slug, slug, text, state, present=text == "present", **more)
    number, _, unit = text.partition(" ")
    below = number.startswith("<")
    return Result(
        slug,
        slug.replace("_", " "),
        number,
        "below" if below else "value",
        "<" if below else "=",
        Decimal(number.lstrip("<")),
        unit=unit or None,
        basis=BASES.get(slug),
        **more,
    )


def sheet(name: str, *samples: Sample) -> Reading:
    """Return a reading of one sheet with a checksum of its own."""
    sha = hashlib.sha256(repr((name, samples)).encode()).hexdigest()
    return Reading(Source(name, sha, "typed", 1), samples=samples)


def house(*line: str, **more: Any) -> Site:
    """Return a site with this equipment in place."""
    return Site(equipment=Equipment(in_place=line), **more)


@dataclass(frozen=True, slots=True)
class Asked:
    """Two bottles and the stages between them."""

    line: tuple[str, ...]
    raw: Values
    later: Values
    point: str | None = None
    site: Site | None = None
    raw_day: str | None = "2026-01-10"
    day: str | None = "2026-05-10"

    def told(self, **results: Any) -> Interpretation:
        """Return the whole view; ``results`` changes the later results."""
        first = sheet("raw.csv", bottle(self.raw, id="R1", collected=self.raw_day))
        sample = bottle(self.later, id="L1", collected=self.day, point=self.point)
        rows = tuple(replace(row, **results) for row in sample.results)
        later = sheet("later.csv", replace(sample, results=rows))
        return welltold.interpret(first, site=self.site or house(*self.line), after=[later])

    def sheet(self, **results: Any) -> OutletSheet:
        """Return the one comparison."""
        outlet = self.told(**results).samples[0].outlet
        assert outlet is not None
        (one,) = outlet
        return one

    def stage(self, name: str, **results: Any) -> Outlet:
        """Return one stage of it."""
        return next(one for one in self.sheet(**results).stages if one.stage == name)

    def outcomes(self, **results: Any) -> dict[str, str]:
        """Return the outcome of each stage."""
        return {one.stage: one.outcome for one in self.sheet(**results).stages}


def of(case: Case) -> Asked:
    """Return a worked case as bottles."""
    return Asked(tuple(case["line"]), case["raw"], case["later"], case.get("point"))


def named(name: str) -> Asked:
    """Return the worked case of this name."""
    return of(next(case for case in cases() if case["name"] == name))


def sign(one: Outlet, slug: str) -> OutletSign:
    """Return one sign of a stage."""
    return next(it for it in one.signs if it.analyte == slug)


def facts(**by_id: tuple[str, ...]) -> dict[str, SampleFacts]:
    """Return what the site file says stood ahead of each sample."""
    return {name: SampleFacts(after=after) for name, after in by_id.items()}

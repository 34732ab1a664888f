"""The pool of analytes and the water that an invented well gives."""

from __future__ import annotations

import csv
import math
import random
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

KINDS = ("plain", "formal", "symbol", "short")


@dataclass(frozen=True, slots=True)
class Name:
    """A label, and what it says of the basis and the fraction."""

    text: str
    basis: str | None
    fraction: str | None


@dataclass(frozen=True, slots=True)
class Analyte:
    """One analyte of the pool."""

    slug: str
    group: str
    unit: str
    median: float
    spread: str
    rl: Decimal
    limit: str
    cas: str
    method: str
    names: dict[str, tuple[Name, ...]]
    """Labels by kind."""


def _name(text: str) -> Name:
    text, _, basis = text.partition("=")
    text, _, fraction = text.partition("@")
    return Name(text, basis or None, fraction or None)


@cache
def pool() -> dict[str, Analyte]:
    """Return the analytes by slug."""
    text = Path(__file__).with_name("pool.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    found = {}
    for row in csv.DictReader(lines):
        names = {kind: tuple(map(_name, row[kind].split("|"))) for kind in KINDS}
        told = {key: row[key] for key in ("slug", "group", "unit", "spread", "limit", "cas")}
        found[row["slug"]] = Analyte(
            **told, median=float(row["median"]), rl=Decimal(row["rl"]), method=row["method"],
            names=names,
        )  # fmt: skip
    return found


def of_groups(*groups: str) -> list[Analyte]:
    """Return the analytes of some groups, in the pool's order."""
    return [one for one in pool().values() if one.group in groups]


def _drawn(one: Analyte, rng: random.Random) -> float:
    if one.spread.startswith("n"):
        return one.median + float(one.spread[1:]) * rng.gauss(0, 1)
    return one.median * 10 ** (float(one.spread) * min(2.5, max(-2.5, rng.gauss(0, 1))))


def water(rng: random.Random) -> dict[str, float]:
    """Return a value for every analyte; the major ions balance and the sums fit their parts."""
    value = {slug: _drawn(one, rng) for slug, one in pool().items()}
    nitrogen = value["nitrate"] / 14.007
    acids = value["chloride"] / 35.45 + value["sulfate"] / 48.03 + nitrogen
    bases = value["calcium"] / 20.04 + value["magnesium"] / 12.15
    bases += value["sodium"] / 22.99 + value["potassium"] / 39.1
    short = acids + 0.3 - bases
    if short > 0:
        value["sodium"] += short * 22.99
        bases += short
    value["alkalinity"] = (bases - acids) * 50.04 * rng.uniform(0.97, 1.03)
    value["bicarbonate"] = value["alkalinity"] * 1.219
    value["hardness"] = 2.497 * value["calcium"] + 4.118 * value["magnesium"]
    value["specific_conductance"] = 92 * bases * rng.uniform(0.96, 1.04)
    value["total_dissolved_solids"] = 0.62 * value["specific_conductance"] * rng.uniform(0.95, 1.05)
    value["ph"] = max(5.2, min(9.2, value["ph"]))
    value["e_coli"] = min(value["e_coli"], 0.6 * value["total_coliform"])
    value["gross_alpha"] = max(value["gross_alpha"], value["radium_226"] * 1.3)
    return value


def rounded(value: float, rl: Decimal, figures: int) -> Decimal:
    """Return a value with so many figures, but none finer than a tenth of the reporting limit."""
    places = figures - 1 - math.floor(math.log10(value))
    exponent = rl.as_tuple().exponent
    assert isinstance(exponent, int)  # noqa: S101 - a reporting limit is a finite number
    return Decimal(f"{value:.{max(0, min(places, 1 - exponent))}f}")

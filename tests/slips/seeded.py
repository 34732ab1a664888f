"""Invented lab sheets of waters that balance, as they are and with one slip put in.

The charges balance by construction, conductance is PHREEQC 3's at 25 C, hardness and dissolved
solids are summed here with weights typed from the periodic table, so nothing of what is measured
comes from the code under test. Every number then gets the noise and the rounding of a lab.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np
from phreeqpython.viphreeqc import VIPhreeqc

from welltold.analytes import analyte
from welltold.reading import Result, Sample, Where

if TYPE_CHECKING:
    from numpy.random import Generator

# shares of the charge, %: calcium, magnesium, sodium, potassium; alkalinity, chloride, sulfate,
# nitrate
KINDS = {
    "limestone": ((60, 28, 10, 2), (80, 8, 9, 3)),
    "soft rock": ((35, 20, 40, 5), (55, 22, 15, 8)),
    "sodium bicarbonate": ((6, 4, 88, 2), (82, 10, 8, 0.3)),
    "salty": ((25, 15, 57, 3), (25, 62, 11, 2)),
    "gypsum": ((62, 25, 12, 1), (28, 8, 63, 1)),
    "farmed": ((55, 28, 14, 3), (55, 15, 12, 18)),
}
IONS = ("calcium", "magnesium", "sodium", "potassium")
OTHERS = ("alkalinity", "chloride", "sulfate", "nitrate")
MASS = {
    "calcium": 20.039,
    "magnesium": 12.1525,
    "sodium": 22.990,
    "potassium": 39.098,
    "alkalinity": 50.0435,
    "chloride": 35.453,
    "sulfate": 48.03,
    "nitrate": 14.007,
}
"""mg of one meq; alkalinity as CaCO3, nitrate as N."""
DRIED = {"alkalinity": 30.004, "nitrate": 62.004}
"""mg of one meq when dried, where it is another: carbonate, and nitrate as NO3."""
LOOKALIKES = ("06", "08", "14", "17", "27", "35", "38", "49", "56", "68")
KINDS_OF_SLIP = ("decimal", "unit", "basis", "swap", "digit", "lost_sign")


@dataclass(frozen=True, slots=True)
class Seeded:
    """A sheet with its slip, and what it printed before."""

    kind: str
    sample: Sample
    truth: Sample
    rows: frozenset[int]


class Waters:
    """Draws waters; ``noise`` is one standard deviation of every number, as a share."""

    def __init__(self, seed: int, noise: tuple[float, float] = (0.03, 0.05)) -> None:
        self.chance = np.random.default_rng(seed)
        self.noise = noise
        self.program = VIPhreeqc()
        self.program.load_database(str(files("phreeqpython") / "database" / "phreeqc.dat"))
        self.program.run_string(
            "SELECTED_OUTPUT 1\n -reset false\nUSER_PUNCH 1\n -headings sc\n 10 PUNCH SC\nEND"
        )

    def sheets(self, count: int, *, short: bool = False) -> Iterator[Sample]:
        """Yield sheets whose strengths cover 1.5 to 18 meq/L evenly; ``short`` lacks some rows."""
        steps = (self.chance.permutation(count) + self.chance.random(count)) / count
        for step in steps:
            yield self.sheet(1.5 * (18 / 1.5) ** float(step), short=short)

    def seeded(self, count: int) -> Iterator[Seeded]:
        """Yield sheets with one slip, the kinds in turn; fewer where a slip cannot be made."""
        for index, sheet in enumerate(self.sheets(count)):
            made = slipped(sheet, KINDS_OF_SLIP[index % len(KINDS_OF_SLIP)], self.chance)
            if made is not None:
                yield made

    def off(self, sample: Sample, share: float) -> Sample:
        """Return a sheet with one row so much too high or too low: a lab's error, not a slip."""
        results = list(sample.results)
        at = int(self.chance.choice([i for i, r in enumerate(results) if r.state == "value"]))
        factor = 1 + share * float(self.chance.choice([-1, 1]))
        results[at] = _number(results[at], rounded(float(results[at].value or 1) * factor, 3))
        return replace(sample, results=tuple(results))

    def sheet(self, strength: float, *, short: bool = False) -> Sample:
        """Return the sheet of one water with ``strength`` meq/L of cations."""
        chance = self.chance
        names = list(KINDS)
        first, second = KINDS[names[int(chance.integers(len(names)))]]
        meq = {}
        for slugs, shares in ((IONS, first), (OTHERS, second)):
            drawn = np.array(shares) * np.exp(chance.normal(0, 0.5, len(shares)))
            meq |= dict(zip(slugs, strength * drawn / drawn.sum(), strict=True))
        true = {slug: one * MASS[slug] for slug, one in meq.items()}
        silica = float(np.exp(chance.normal(np.log(14), 0.5)))
        dried = sum(one * DRIED.get(slug, MASS[slug]) for slug, one in meq.items()) + silica
        true |= {
            "hardness": (meq["calcium"] + meq["magnesium"]) * 50.0435,
            "total_dissolved_solids": dried * float(chance.uniform(0.98, 1.05)),
            "specific_conductance": self.conductance(meq),
        }
        if chance.random() < 0.5:
            true["bicarbonate"] = true["alkalinity"] * 1.2193
        if chance.random() < 0.5:
            true["silica"] = silica
        if short:
            for slug in ("potassium", "nitrate", "silica", "total_dissolved_solids"):
                if chance.random() < 0.5:
                    true.pop(slug, None)
        return Sample(results=tuple(self.rows(true)))

    def conductance(self, meq: dict[str, float]) -> float:
        """Return PHREEQC's conductance at 25 C."""
        ions = "\n".join(
            f" {name} {float(meq[slug] / charge)!r}"
            for slug, name, charge in (
                ("calcium", "Ca", 2),
                ("magnesium", "Mg", 2),
                ("sodium", "Na", 1),
                ("potassium", "K", 1),
                ("chloride", "Cl", 1),
                ("sulfate", "S(6)", 2),
                ("nitrate", "N(5)", 1),
            )
        )
        self.program.run_string(
            "SOLUTION 1\n units mmol/kgw\n temp 25\n pH 7.6\n"
            f" Alkalinity {float(meq['alkalinity'])!r} meq/kgw\n{ions}\nEND"
        )
        return float(self.program.get_selected_output_array()[-1][0])

    def rows(self, true: dict[str, float]) -> Iterator[Result]:
        """Yield the rows as a lab prints them: noisy, rounded, in an order of its own."""
        spread = float(self.chance.uniform(*self.noise))
        order = sorted(true) if self.chance.random() < 0.5 else self.chance.permutation(list(true))
        for line, slug in enumerate(map(str, order)):
            own = analyte(slug)
            value = rounded(true[slug] * float(np.exp(self.chance.normal(0, spread))), 3)
            limit = Decimal("1.0") if slug != "nitrate" else Decimal("0.10")
            below = value < limit
            shown = limit if below else value
            yield Result(
                slug,
                own.name,
                f"<{shown:f}" if below else f"{shown:f}",
                "below" if below else "value",
                "<" if below else "=",
                shown,
                unit=own.unit,
                basis=own.basis,
                reporting_limit=limit,
                where=(Where("value", page=1, box=(200.0, 10.0 * line, 240.0, 10.0 * line + 8)),),
            )


def rounded(value: float, digits: int) -> Decimal:
    """Return a number with so many significant digits, never in powers of ten."""
    exponent = Decimal(value).adjusted() - digits + 1
    return Decimal(value).quantize(Decimal(1).scaleb(min(exponent, 0)))


def slipped(sample: Sample, kind: str, chance: Generator) -> Seeded | None:
    """Return the sheet with one slip of a kind in a row drawn at random; None: not possible."""
    if kind == "lost_sign":
        sample = _diluted(sample, chance)
    rows = [at for at, one in enumerate(sample.results) if _may_slip(one, kind)]
    if not rows:
        return None
    at = int(chance.choice(rows))
    results = list(sample.results)
    if kind == "swap":
        other = at + 1 if at + 1 < len(results) else at - 1
        one, two = results[at], results[other]
        results[at], results[other] = _as(one, two), _as(two, one)
        return Seeded(kind, replace(sample, results=tuple(results)), sample, frozenset({at, other}))
    after = _slip(results[at], kind, chance)
    if after is None:
        return None
    results[at] = after
    return Seeded(kind, replace(sample, results=tuple(results)), sample, frozenset({at}))


def _may_slip(result: Result, kind: str) -> bool:
    if kind == "lost_sign":
        return result.state == "below"
    return result.state == "value" and (kind != "basis" or result.analyte == "nitrate")


def _diluted(sample: Sample, chance: Generator) -> Sample:
    """Return the sheet of a lab that diluted one bottle, so that a part fell below its limit."""
    results = list(sample.results)
    some = {"chloride", "sulfate", "sodium", "potassium", "magnesium"}
    at = int(chance.choice([i for i, one in enumerate(results) if one.analyte in some]))
    value = rounded(float(results[at].value or 1) * float(chance.uniform(1.5, 6)), 1)
    limit = Decimal(f"{value:f}")
    text, below = f"<{limit:f}", {"state": "below", "operator": "<"}
    results[at] = replace(results[at], text=text, value=limit, reporting_limit=limit, **below)
    return replace(sample, results=tuple(results))


def _as(row: Result, content: Result) -> Result:
    return replace(
        row,
        text=content.text,
        state=content.state,
        operator=content.operator,
        value=content.value,
    )


def _slip(result: Result, kind: str, chance: Generator) -> Result | None:
    value = result.value
    assert value is not None
    if kind == "decimal":
        return _number(result, value.scaleb(int(chance.choice([-1, 1]))))
    if kind == "unit":
        ladder = {"mg/L": ("ug/L", "g/L"), "uS/cm": ("mS/cm",)}[result.unit or ""]
        return replace(result, unit=str(chance.choice(ladder)))
    if kind == "basis":
        # true nitrate as N; the lab measured it as NO3 and printed that number as N
        return _number(result, rounded(float(value) * 62.004 / 14.007, 3))
    if kind == "lost_sign":
        return replace(result, text=f"{value:f}", state="value", operator="=")
    return _misread(result, value, chance)


def _number(result: Result, value: Decimal) -> Result:
    return replace(result, text=f"{value:f}", value=value)


def _misread(result: Result, value: Decimal, chance: Generator) -> Result | None:
    """Return a result with one of its first two digits taken for a lookalike."""
    digits = value.as_tuple().digits
    made = []
    for place in range(min(2, len(digits))):
        for pair in LOOKALIKES:
            for old, new in (pair, pair[::-1]):
                if digits[place] == int(old) and (place or new != "0"):
                    changed = (*digits[:place], int(new), *digits[place + 1 :])
                    made.append(Decimal((0, changed, int(value.as_tuple().exponent))))
    return _number(result, made[int(chance.integers(len(made)))]) if made else None

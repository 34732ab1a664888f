"""Draws a sheet: one lab's habits, what it tests, the results as printed and their truth."""

from __future__ import annotations

import datetime
import random
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from . import pool, words

_ABSENT = (("Absent", "Present"), ("ABSENT", "PRESENT"), ("Negative", "Positive"), ("A", "P"),
           ("absent", "present"), ("Not Present", "Present"))  # fmt: skip
_UNKNOWN = ("ND", "N.D.", "Not Detected", "BDL", "BRL", "None Detected", "n/d")
_WITH_LIMIT = ("<{}", "<{}", "< {}", "ND ({})", "ND<{}", "<{} U", "{} U", "LT {}", "ND @ {}")
_MILLI = ("mg/L", "mg/L", "mg/L", "mg/l", "MG/L", "ppm")
_MICRO = ("ug/L", "ug/L", "µg/L", "μg/L", "ug/l", "mcg/L", "ppb")
_NANO = ("ng/L", "ng/L", "ppt")
_UNITS = {
    "uS/cm": ("uS/cm", "µS/cm", "umhos/cm", "uS/cm"),
    "S.U.": ("S.U.", "SU", "std units", "pH units", "units", ""),
    "CU": ("CU", "color units", "Pt-Co", "PCU"),
    "MPN/100 mL": ("MPN/100 mL", "MPN/100mL", "CFU/100 mL", "cfu/100mL", "MPN/100 ml"),
    "CFU/mL": ("CFU/mL", "cfu/mL"),
}


@dataclass(slots=True)
class Test:
    """One analyte as this sheet prints it."""

    analyte: pool.Analyte
    label: str
    unit: str
    """As printed; empty where the sheet prints none."""
    basis: str | None
    fraction: str | None
    scale: Decimal
    """From the pool's unit to the printed one."""
    rl: Decimal
    """In the printed unit."""
    limit: str


@dataclass(slots=True)
class Item:
    """One result: how it is printed, and what it means."""

    test: Test
    text: str
    operator: str
    value: Decimal | None
    presence: str | None = None
    flag: str = ""
    extra: dict[str, str] = field(default_factory=dict)
    """What else stands in its row, by role."""

    def truth(self) -> dict[str, Any]:
        """Return the result as the truth file tells it."""
        return {
            "analyte": self.test.analyte.slug,
            "label": self.test.label,
            "operator": self.operator,
            "value": None if self.value is None else float(self.value),
            "presence": self.presence,
            "unit": self.test.unit or None,
            "basis": self.test.basis,
            "fraction": self.test.fraction,
            "text": self.text,
        }


@dataclass(slots=True)
class Bottle:
    """One sample."""

    id: str
    point: str
    collected: datetime.datetime
    items: list[Item]
    hidden: set[str] = field(default_factory=set)
    """What of id, point and collected the sheet does not print."""


@dataclass(slots=True)
class Habit:
    """How one lab prints, drawn once for a sheet."""

    rng: random.Random
    kind: str
    milli: str
    micro: str
    nano: str
    metals: str
    """The unit of metals: ``own``, ``mg/L`` or ``ug/L``."""
    with_limit: str
    unknown: str | None
    """The word for "not detected" where the limit is not beside it."""
    flagged: bool
    """Not detected is told by U in a column of its own."""
    presence: tuple[str, str] | None
    comma: bool
    thousands: bool
    date: str
    time: str
    units: dict[str, str]
    heads: dict[str, str]
    mixed: bool
    """Labels of several kinds on one sheet."""
    mark: str = ""
    """A footnote's mark behind some labels."""
    other_ways: bool = True
    """Now and then another basis or unit than the usual one."""
    estimates: bool = True
    """Marks values near the reporting limit with J."""

    def number(self, value: Decimal) -> str:
        """Return a number as this lab prints it."""
        text = f"{value:,f}" if self.thousands else f"{value:f}"
        return text.replace(",", " ").replace(".", ",") if self.comma else text

    def day(self, moment: datetime.datetime) -> str:
        """Return the date as this lab prints it."""
        return moment.strftime(self.date)

    def moment(self, moment: datetime.datetime) -> str:
        """Return date and time as this lab prints them."""
        return moment.strftime(f"{self.date} {self.time}").strip()


def habit(rng: random.Random, *, flagged: bool = False, comma: bool = False) -> Habit:
    """Return the habits of one lab."""
    return Habit(
        rng=rng,
        kind=rng.choice(("plain", "plain", "formal", "symbol")),
        milli=rng.choice(_MILLI),
        micro=rng.choice(_MICRO),
        nano=rng.choice(_NANO),
        metals=rng.choice(("own", "own", "mg/L", "ug/L")),
        with_limit=rng.choice(_WITH_LIMIT),
        unknown=rng.choice(_UNKNOWN) if rng.random() < 0.35 else None,
        flagged=flagged,
        presence=rng.choice(_ABSENT) if rng.random() < 0.5 else None,
        comma=comma,
        thousands=rng.random() < 0.4,
        date="%d.%m.%Y" if comma else rng.choice(words.DATES),
        time="%H:%M" if comma else rng.choice(words.TIMES),
        units={unit: rng.choice(spellings) for unit, spellings in _UNITS.items()},
        heads={role: rng.choice(some) for role, some in words.HEADS.items()},
        mixed=rng.random() < 0.3,
        mark=rng.choice(("*", " *", "**", " (1)", "†")) if rng.random() < 0.12 else "",
    )


def _printed_unit(one: pool.Analyte, lab: Habit) -> tuple[str, Decimal]:
    wanted = one.unit
    if one.group == "metals" and lab.metals != "own":
        light = one.slug not in {"calcium", "magnesium", "sodium", "potassium", "silica"}
        wanted = lab.metals if light or lab.metals == "mg/L" else one.unit
    scale = Decimal(1)
    if wanted != one.unit:
        scale = Decimal(1000) if wanted == "ug/L" else Decimal("0.001")
    if one.slug == "ph":
        return lab.units["S.U."], scale
    spelled = {"mg/L": lab.milli, "ug/L": lab.micro, "ng/L": lab.nano}
    return spelled.get(wanted) or lab.units.get(wanted, wanted), scale


_OTHER_WAYS = {
    "nitrate": (("Nitrate (as NO3)", "Nitrate as NO3"), "mg/L", "NO3", "4.4268", "45"),
    "hardness": (("Hardness", "Total Hardness"), "gpg", None, "0.0584", ""),
    "calcium": (("Calcium as CaCO3", "Calcium (as CaCO3)"), "mg/L", "CaCO3", "2.497", ""),
}
_UNIT_WITH_BASIS = {
    "nitrate": ("Nitrate", ("mg/L as N", "mg N/L", "mg/L-N"), "N"),
    "nitrite": ("Nitrite", ("mg/L as N", "mg N/L"), "N"),
    "ammonia": ("Ammonia", ("mg/L as N", "mg N/L"), "N"),
    "alkalinity": ("Alkalinity, Total", ("mg/L as CaCO3", "mg CaCO3/L"), "CaCO3"),
    "hardness": ("Hardness, Total", ("mg/L as CaCO3", "mg CaCO3/L"), "CaCO3"),
}


def _another_way(one: pool.Analyte, lab: Habit) -> Test | None:
    """Return a test in another basis or unit than the usual one, now and then."""
    dice = lab.rng.random()
    if one.slug in _OTHER_WAYS and dice < 0.08:
        labels, unit, basis, scale, limit = _OTHER_WAYS[one.slug]
        spelled = lab.milli if unit == "mg/L" else lab.rng.choice(("gpg", "grains/gal", "gr/gal"))
        rl = Decimal("0.5") if unit == "gpg" else one.rl
        label = lab.rng.choice(labels)
        return Test(one, label, spelled, basis, None, Decimal(scale), rl, limit)
    if one.slug in _UNIT_WITH_BASIS and 0.5 < dice < 0.62:
        label, units, basis = _UNIT_WITH_BASIS[one.slug]
        limit = lab.number(Decimal(one.limit)) if one.limit else ""
        return Test(one, label, lab.rng.choice(units), basis, None, Decimal(1), one.rl, limit)
    return None


def test_of(one: pool.Analyte, lab: Habit) -> Test:
    """Return how a lab prints an analyte."""
    if lab.other_ways and (other := _another_way(one, lab)):
        return other
    kind = lab.rng.choice(pool.KINDS[:3]) if lab.mixed else lab.kind
    name = lab.rng.choice(one.names[kind])
    unit, scale = _printed_unit(one, lab)
    limit = one.limit
    if limit and "-" not in limit:
        limit = lab.number((Decimal(limit) * scale).normalize() + 0)
    elif lab.comma:
        limit = limit.replace(".", ",")
    rl = (one.rl * scale).normalize() + 0
    mark = lab.mark if lab.rng.random() < 0.3 else ""
    return Test(one, name.text + mark, unit, name.basis, name.fraction, scale, rl, limit)


def _not_detected(test: Test, lab: Habit, *, limit_beside: bool) -> Item:
    limit = lab.number(test.rl)
    if lab.flagged:
        return Item(test, limit, "<", test.rl, flag="U")
    if lab.unknown and test.analyte.group != "bacteria":
        return Item(test, lab.unknown, "<", test.rl if limit_beside else None)
    return Item(test, lab.with_limit.format(limit), "<", test.rl)


def _bacteria(test: Test, amount: float, lab: Habit) -> Item | None:
    if test.analyte.slug == "heterotrophic_plate_count":
        return None
    if lab.presence:
        found = amount >= 1
        return Item(test, lab.presence[found], "=", None, "present" if found else "absent")
    if amount < 1:
        return Item(test, lab.rng.choice(("<1", "< 1", "<1.0")), "<", Decimal(1))
    if amount > 2419.6:
        text = lab.number(Decimal("2419.6"))
        return Item(test, f">{text}", ">", Decimal("2419.6"))
    return None


def item(test: Test, amount: float, lab: Habit, *, limit_beside: bool) -> Item:
    """Return a result of so much (in the pool's unit), printed by a lab."""
    if test.analyte.group == "bacteria" and (found := _bacteria(test, amount, lab)):
        return found
    scaled = amount * float(test.scale)
    if scaled < float(test.rl):
        return _not_detected(test, lab, limit_beside=limit_beside)
    figures = 2 if test.analyte.group in {"bacteria", "radio"} else lab.rng.choice((2, 3, 3))
    value = pool.rounded(scaled, test.rl, max(figures, 2 if test.analyte.slug == "ph" else 1))
    made = Item(test, lab.number(value), "=", value)
    if lab.estimates and scaled < 2 * float(test.rl) and lab.rng.random() < 0.2:
        if test.analyte.group not in {"metals", "voc", "pfas"}:
            return made
        if lab.flagged:
            made.flag = "J"
        else:
            made.text += lab.rng.choice((" J", "J"))
    return made


_PANELS = (
    ("bacteria", "nutrients"), ("general", "anions", "nutrients", "metals"),
    ("bacteria", "general", "nutrients", "metals"), ("metals",), ("general", "anions", "metals"),
    ("bacteria", "general", "anions", "nutrients", "metals"), ("voc",), ("pfas",),
    ("radio", "metals"), ("nutrients", "anions"),
)  # fmt: skip


def panel(lab: Habit, least: int, most: int, groups: tuple[str, ...] = ()) -> list[Test]:
    """Return what is tested, group by group."""
    rng = lab.rng
    many = [some for some in _PANELS if len(pool.of_groups(*some)) >= least]
    wanted = groups or rng.choice(many)
    some = pool.of_groups(*wanted)
    count = min(len(some), rng.randint(least, most))
    chosen = set(rng.sample(range(len(some)), count))
    order = {group: at for at, group in enumerate(wanted)}
    picked = [one for at, one in enumerate(some) if at in chosen]
    picked.sort(key=lambda one: order[one.group])
    return [test_of(one, lab) for one in picked]


def bottles(
    lab: Habit, tests: list[Test], count: int, *, limit_beside: bool, holes: float = 0.0
) -> list[Bottle]:
    """Return so many samples of the same tests; ``holes`` is the share that was not tested."""
    rng, made = lab.rng, []
    prefix = rng.choice(("26-{:05d}", "W{:06d}", "HG-{:05d}", "{:07d}", "TC{:05d}", "B26{:04d}"))
    first = rng.randint(400, 9800)
    tail = rng.choice(("-{:02d}", "-{}", "/{}", ""))
    points = rng.sample(words.POINTS, count) if count <= len(words.POINTS) else []
    if not points:
        points = [f"MW-{at:03d}" for at in range(1, count + 1)]
    moment = words.day(rng)
    for at in range(count):
        number = prefix.format(first + (0 if tail else at)) + tail.format(at + 1)
        amounts = pool.water(rng)
        items = [
            item(test, amounts[test.analyte.slug], lab, limit_beside=limit_beside)
            for test in tests
            if rng.random() >= holes
        ]
        made.append(Bottle(number, points[at], moment, items or [
            item(tests[0], amounts[tests[0].analyte.slug], lab, limit_beside=limit_beside)
        ]))  # fmt: skip
        moment += datetime.timedelta(minutes=5 * rng.randint(2, 15))
    return made

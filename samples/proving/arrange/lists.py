"""One sample, one row an analyte; the unit in several places."""

from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal

from .. import draw, pool, words
from ..blocks import Beside, Block, Leaders, Leaf, Line
from . import columns, tops

Rows = list[list[str] | str]


def _one(
    lab: draw.Habit, tests: list[draw.Test], roles: list[str]
) -> tuple[draw.Bottle, list[list[str]]]:
    bottle = draw.bottles(lab, tests, 1, limit_beside="rl" in roles)[0]
    rows = [
        [columns.cell(lab, role, item, bottle, at) for role in roles]
        for at, item in enumerate(bottle.items)
    ]
    return bottle, rows


def _leaf(lab: draw.Habit, bottle: draw.Bottle, body: list[Block]) -> Leaf:
    blocks = [*tops.top(lab), tops.sample(lab, bottle), *body, *tops.foot(lab)]
    return Leaf(lab, blocks, [bottle])


def plain(rng: random.Random) -> Leaf:
    """A table with the columns in any order and a column of units."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 4)
    bottle, rows = _one(lab, draw.panel(lab, 6, 24), roles)
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def long(rng: random.Random) -> Leaf:
    """A table that goes on over the page."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3, never=("previous",))
    groups = ("bacteria", "general", "anions", "nutrients", "metals")
    bottle, rows = _one(lab, draw.panel(lab, 40, 48, groups), roles)
    made = _sectioned(lab, bottle, rows) if rng.random() < 0.5 else [*rows]
    return _leaf(lab, bottle, [columns.grid(lab, roles, made)])


def _sectioned(lab: draw.Habit, bottle: draw.Bottle, rows: list[list[str]]) -> Rows:
    made: Rows = []
    last = ""
    for item, row in zip(bottle.items, rows, strict=True):
        group = item.test.analyte.group
        if group != last:
            last = group
            made.append(words.SECTIONS[group][len(lab.heads["text"]) % 2])
        made.append(row)
    return made


def sections(rng: random.Random) -> Leaf:
    """Sections by class, each under its heading."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3)
    groups = ("bacteria", "general", "nutrients", "metals")
    bottle, rows = _one(lab, draw.panel(lab, 12, 26, groups), roles)
    made = _sectioned(lab, bottle, rows)
    return _leaf(lab, bottle, [columns.grid(lab, roles, made)])


def flagged(rng: random.Random) -> Leaf:
    """U in a column of its own, the limit as a plain number in the result's column."""
    lab = draw.habit(rng, flagged=True)
    roles = columns.chosen(lab, 3, never=("previous",))
    groups = rng.choice((("metals",), ("voc",), ("anions", "metals"), ("pfas",)))
    bottle, rows = _one(lab, draw.panel(lab, 6, 18, groups), roles)
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def decimal_commas(rng: random.Random) -> Leaf:
    """A lab that writes decimal commas and days first."""
    lab = draw.habit(rng, comma=True)
    roles = columns.chosen(lab, 3, never=("range",))
    bottle, rows = _one(lab, draw.panel(lab, 8, 20, ("general", "anions", "metals")), roles)
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def unit_in_label(rng: random.Random) -> Leaf:
    """The unit stands behind the analyte's name."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3, unit=False)
    bottle, rows = _one(lab, draw.panel(lab, 6, 20), roles)
    form = rng.choice(("{} ({})", "{}, {}", "{} {}", "{} [{}]"))
    at = roles.index("label")
    for item, row in zip(bottle.items, rows, strict=True):
        if item.test.unit:
            row[at] = form.format(item.test.label, item.test.unit)
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def unit_in_result(rng: random.Random) -> Leaf:
    """The unit stands behind the number, in the result's cell."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3, unit=False, never=("previous",))
    bottle, rows = _one(lab, draw.panel(lab, 6, 20), roles)
    at = roles.index("text")
    for item, row in zip(bottle.items, rows, strict=True):
        number = item.presence is None and (item.operator != "<" or item.value is not None)
        if number and any(sign.isdigit() for sign in item.text):
            row[at] = f"{item.text} {item.test.unit}".strip()
        elif item.presence is None:
            item.test.unit = ""
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def _of_one_unit(lab: draw.Habit, least: int, groups: tuple[str, ...]) -> list[draw.Test]:
    lab.other_ways = False
    tests = draw.panel(lab, least, 30, groups)
    unit = Counter(test.unit for test in tests if test.unit).most_common(1)[0][0]
    return [test for test in tests if test.unit == unit]


def unit_in_head(rng: random.Random) -> Leaf:
    """The unit stands in the head over the results only."""
    lab = draw.habit(rng)
    tests = _of_one_unit(lab, 12, rng.choice((("metals",), ("voc",), ("pfas",))))
    roles = columns.chosen(lab, 3, unit=False)
    bottle, rows = _one(lab, tests, roles)
    grid = columns.grid(lab, roles, rows)
    form = rng.choice(("{} ({})", "{}, {}", "{} {}", "{} in {}"))
    at = roles.index("text")
    grid.heads[0][at] = form.format(grid.heads[0][at], tests[0].unit)
    return _leaf(lab, bottle, [grid])


def unit_in_line(rng: random.Random) -> Leaf:
    """One line says the unit for all results."""
    lab = draw.habit(rng)
    tests = _of_one_unit(lab, 14, ("anions", "nutrients", "metals"))
    roles = columns.chosen(lab, 2, unit=False)
    bottle, rows = _one(lab, tests, roles)
    form = rng.choice((
        "All results in {} unless noted.", "Results are reported in {}.", "Units: {}",
    ))  # fmt: skip
    line = Line(form.format(tests[0].unit))
    grid = columns.grid(lab, roles, rows)
    return _leaf(lab, bottle, [line, grid] if rng.random() < 0.7 else [grid, line])


def unit_in_section(rng: random.Random) -> Leaf:
    """The unit stands in the section's heading."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 2, unit=False, never=("number",))
    lab.other_ways = False
    tests = draw.panel(lab, 14, 26, ("nutrients", "anions", "metals"))
    tests.sort(key=lambda test: test.unit)
    bottle, rows = _one(lab, tests, roles)
    made: Rows = []
    form = rng.choice(("Chemical, in {}", "Results in {}", "Analytes ({})", "Units: {}"))
    last = None
    for item, row in zip(bottle.items, rows, strict=True):
        if item.test.unit != last:
            last = item.test.unit
            made.append(form.format(last))
        made.append(row)
    return _leaf(lab, bottle, [columns.grid(lab, roles, made)])


def consumer(rng: random.Random) -> Leaf:
    """A sheet for the household: limit, range and rating words around the result."""
    lab = draw.habit(rng)
    roles = ["label", *rng.sample(["limit", "range", "text", "unit", "status"], 5)]
    groups = ("bacteria", "general", "nutrients", "metals")
    bottle, rows = _one(lab, draw.panel(lab, 8, 18, groups), roles)
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])


def beside(rng: random.Random) -> Leaf:
    """One list in two tables side by side."""
    lab = draw.habit(rng)
    roles = ["label", "text", *rng.choice((["unit"], ["unit", "rl"], ["rl", "unit"]))]
    tests = draw.panel(lab, 12, 30, rng.choice((("voc",), ("metals",), ("anions", "metals"))))
    bottle, rows = _one(lab, tests, roles)
    half = (len(rows) + 1) // 2
    left, right = (columns.grid(lab, roles, some) for some in (rows[:half], rows[half:]))
    return _leaf(lab, bottle, [Beside(left, right)])


def card(rng: random.Random) -> Leaf:
    """A small card with dots between label and value."""
    lab = draw.habit(rng)
    lab.unknown, lab.estimates = None, False
    groups = ("general", "nutrients", "metals")
    bottle = draw.bottles(lab, draw.panel(lab, 5, 9, groups), 1, limit_beside=False)[0]
    pairs = [(item.test.label, f"{item.text} {item.test.unit}".strip()) for item in bottle.items]
    blocks: list[Block] = [*tops.top(lab, place=False), tops.sample(lab, bottle), Leaders(pairs)]
    return Leaf(lab, [*blocks, Line("Screening test. Bottle no. 7.")], [bottle], small=True)


def radio(rng: random.Random) -> Leaf:
    """Radionuclides with their counting uncertainty."""
    lab = draw.habit(rng)
    lab.with_limit = "<{}"
    lab.unknown = None
    tests = [draw.test_of(one, lab) for one in pool.of_groups("radio")]
    roles = ["label", *rng.choice((["text", "uncertainty", "unit"], ["text", "unit", "rl"],
                                   ["text", "uncertainty", "rl", "unit", "method"]))]  # fmt: skip
    bottle = draw.bottles(lab, tests, 1, limit_beside=True)[0]
    rows: Rows = []
    for at, item in enumerate(bottle.items):
        doubt = ""
        if item.operator == "=" and item.value is not None:
            doubt = lab.number((item.value * Decimal("0.17")).quantize(Decimal("0.1")))
        if "uncertainty" not in roles and doubt:
            item.text += rng.choice((" ± ", " +/- ")) + doubt
        rows.append([
            doubt if role == "uncertainty" else columns.cell(lab, role, item, bottle, at)
            for role in roles
        ])  # fmt: skip
    return _leaf(lab, bottle, [columns.grid(lab, roles, rows)])

"""Several samples on a sheet: blocks, groups, samples across, samples down."""

from __future__ import annotations

import random

from .. import draw, pool, words
from ..blocks import Block, Break, Grid, Leaf, Line, Pairs
from . import columns, tops

Rows = list[list[str] | str]
_EMPTY = ("-", "—", "NT", "", "---", "N/A")


def _rows(lab: draw.Habit, bottle: draw.Bottle, roles: list[str]) -> Rows:
    return [
        [columns.cell(lab, role, item, bottle, at) for role in roles]
        for at, item in enumerate(bottle.items)
    ]


def blocks(rng: random.Random) -> Leaf:
    """A head and a table for each sample."""
    lab = draw.habit(rng, flagged=rng.random() < 0.25)
    roles = columns.chosen(lab, 3)
    tests = draw.panel(lab, 3, 12)
    bottles = draw.bottles(lab, tests, rng.randint(2, 5), limit_beside="rl" in roles, holes=0.1)
    made: list[Block] = [*tops.top(lab), tops.owner(lab)]
    apart = rng.random() < 0.3
    for at, bottle in enumerate(bottles):
        if at and apart:
            made.append(Break())
        made.append(Pairs(tops.told(lab, bottle), rng.choice((1, 2))))
        rows = _rows(lab, bottle, roles)
        made.append(columns.grid(lab, roles, rows))
    return Leaf(lab, [*made, *tops.foot(lab)], bottles)


def groups(rng: random.Random) -> Leaf:
    """One table; a row over all columns names the sample of the rows below."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3, never=("number",))
    tests = draw.panel(lab, 3, 10)
    bottles = draw.bottles(lab, tests, rng.randint(2, 5), limit_beside="rl" in roles, holes=0.1)
    form = rng.choice((
        "Sample {id}   {point}   Collected {day}", "{id} - {point} ({day})",
        "{head}: {id}   Location: {point}   Sampled: {day}",
    ))  # fmt: skip
    rows: Rows = []
    for bottle in bottles:
        day = lab.day(bottle.collected)
        head = lab.heads["id"]
        rows.append(form.format(id=bottle.id, point=bottle.point, day=day, head=head))
        rows += _rows(lab, bottle, roles)
    grid = columns.grid(lab, roles, rows)
    return Leaf(lab, [*tops.top(lab), tops.owner(lab), grid, *tops.foot(lab)], bottles)


def _hide(bottles: list[draw.Bottle], roles: set[str]) -> None:
    for bottle in bottles:
        bottle.hidden |= roles


def _table(bottles: list[draw.Bottle]) -> dict[str, dict[str, draw.Item]]:
    return {
        bottle.id: {item.test.analyte.slug: item for item in bottle.items} for bottle in bottles
    }


def across(rng: random.Random) -> Leaf:
    """Samples as columns, with their heads stacked; unit and limit left or right."""
    lab = draw.habit(rng)
    tests = draw.panel(lab, 5, 18)
    bottles = draw.bottles(lab, tests, rng.randint(2, 5), limit_beside=False, holes=0.08)
    held, empty = _table(bottles), rng.choice(_EMPTY)
    before = [role for role in ("unit", "limit") if rng.random() < 0.6 or role == "unit"]
    after = [before.pop()] if len(before) > 1 and rng.random() < 0.5 else []
    rows: Rows = []
    for test in tests:
        sides = {"unit": test.unit, "limit": test.limit}
        cells = [held[bottle.id].get(test.analyte.slug) for bottle in bottles]
        texts = [item.text if item else empty for item in cells]
        left, right = ([sides[role] for role in some] for some in (before, after))
        rows.append([test.label, *left, *texts, *right])
    stack = rng.sample(("point", "collected"), 2)[: rng.randint(1, 2)]
    _hide(bottles, {"point", "collected"} - {*stack})
    heads = [_head_row(lab, role, bottles, before, after) for role in ("id", *stack)]
    heads[-1][0] = lab.heads["label"]
    for at, role in enumerate(before, 1):
        heads[-1][at] = lab.heads[role]
    for at, role in enumerate(after, 1):
        heads[-1][-at] = lab.heads[role]
    first = 1 + len(before)
    results = set(range(first, first + len(bottles)))
    grid = Grid(heads, rows, results, results)
    made = [*tops.top(lab), tops.owner(lab), grid, *tops.foot(lab)]
    return Leaf(lab, made, bottles, wide=len(bottles) > 3)


def _head_row(
    lab: draw.Habit, role: str, bottles: list[draw.Bottle], before: list[str], after: list[str]
) -> list[str]:
    told = {"id": lambda b: b.id, "point": lambda b: b.point}
    say = told.get(role, lambda b: lab.day(b.collected))
    left = [lab.heads[role], *("" for _ in before)]
    return [*left, *map(say, bottles), *("" for _ in after)]


def down(rng: random.Random) -> Leaf:
    """Samples as rows; rows of units, reporting limits and guidelines are no samples."""
    lab = draw.habit(rng)
    lab.kind, lab.mixed = rng.choice((("short", False), ("plain", False)))
    tests = draw.panel(lab, 4, 9)
    bottles = draw.bottles(lab, tests, rng.randint(3, 9), limit_beside=True, holes=0.06)
    held, empty = _table(bottles), rng.choice(_EMPTY)
    front = ["id", *rng.sample(("point", "collected"), rng.randint(1, 2))]
    _hide(bottles, {"point", "collected"} - {*front})
    rows: Rows = []
    for bottle in bottles:
        told = {"id": bottle.id, "point": bottle.point, "collected": lab.day(bottle.collected)}
        cells = [held[bottle.id].get(test.analyte.slug) for test in tests]
        texts = [item.text if item else empty for item in cells]
        rows.append([told[role] for role in front] + texts)
    units = [test.unit for test in tests]
    heads, notes = _down_heads(lab, front, tests, units)
    limits = _note(rng.choice(("Guideline", "Limit", "MCL")), front, [t.limit for t in tests])
    if rng.random() < 0.5:
        rows.append(limits)
    width = len(front)
    grid = Grid(heads, [*notes, *rows], set(range(width, width + len(tests))))
    made = [*tops.top(lab), tops.owner(lab), grid, *tops.foot(lab)]
    return Leaf(lab, made, bottles, wide=True)


def _note(title: str, front: list[str], cells: list[str]) -> list[str]:
    return [title, *("" for _ in front[1:]), *cells]


def _down_heads(
    lab: draw.Habit, front: list[str], tests: list[draw.Test], units: list[str]
) -> tuple[list[list[str]], Rows]:
    """Return heads with their unit below, in the same cell, or in a row of their own."""
    names = [lab.heads[role] for role in front]
    labels = [test.label for test in tests]
    needs_limits = lab.unknown is not None
    limits = [lab.number(t.rl) if t.analyte.group != "bacteria" else "" for t in tests]
    notes: Rows = []
    way = lab.rng.choice(("cell", "head row", "row"))
    if way == "cell":
        heads = [[*names, *(f"{a} ({u})" if u else a for a, u in zip(labels, units, strict=True))]]
    elif way == "head row":
        heads = [[*names, *labels], [*("" for _ in front), *units]]
    else:
        heads = [[*names, *labels]]
        notes.append(_note("Units", front, units))
    if needs_limits:
        notes.append(_note(lab.heads["rl"], front, limits))
    return heads, notes


def page_per_method(rng: random.Random) -> Leaf:
    """Each page lists all samples for the tests of one class; a sample is spread over the pages."""
    lab = draw.habit(rng)
    tests = draw.panel(lab, 8, 14, ("bacteria", "nutrients", "metals"))
    bottles = draw.bottles(lab, tests, rng.randint(2, 4), limit_beside=False)
    roles = ["id", "point", "label", "text", "unit"]
    _hide(bottles, {"collected"})
    made: list[Block] = []
    for group in dict.fromkeys(test.analyte.group for test in tests):
        if made:
            made.append(Break())
        else:
            made += [*tops.top(lab), tops.owner(lab)]
        made.append(Line(words.SECTIONS[group][0], strong=True))
        rows: Rows = []
        for bottle in bottles:
            for at, item in enumerate(bottle.items):
                if item.test.analyte.group == group:
                    told = {"id": bottle.id, "point": bottle.point}
                    rest = [columns.cell(lab, r, item, bottle, at) for r in roles[2:]]
                    rows.append([*told.values(), *rest])
        grid = columns.grid(lab, roles, rows)
        made.append(grid)
    return Leaf(lab, [*made, *tops.foot(lab)], bottles)


def indented(rng: random.Random) -> Leaf:
    """An indented list of outlets; analyte and unit stand in the title only."""
    lab = draw.habit(rng)
    lab.unknown, lab.mixed = None, False
    lab.kind = "plain"
    slug = rng.choice(("lead", "copper", "arsenic", "nitrate", "iron"))
    test = draw.test_of(pool.pool()[slug], lab)
    bottles = draw.bottles(lab, [test], rng.randint(5, 14), limit_beside=False)
    _hide(bottles, {"id"})
    title = rng.choice(("{} in drinking water, {}", "{} results ({})", "Tap survey: {} in {}"))
    made: list[Block] = [*tops.top(lab), Line(title.format(test.label, test.unit), strong=True)]
    made.append(Line(f"Collected {lab.day(bottles[0].collected)}"))
    half = len(bottles) // 2
    for building, some in (("Main house", bottles[:half]), ("Farm buildings", bottles[half:])):
        made.append(Line(building, strong=True))
        rows: Rows = [[f"    {bottle.point}", bottle.items[0].text] for bottle in some]
        made.append(Grid([], rows, {1}))
    return Leaf(lab, made, bottles)


def two_tables(rng: random.Random) -> Leaf:
    """Samples across twice: one table a class, each with its own unit in a line above."""
    lab = draw.habit(rng)
    lab.other_ways, lab.unknown, lab.metals = False, None, "ug/L"
    tests = draw.panel(lab, 10, 20, ("nutrients", "anions", "metals"))
    bottles = draw.bottles(lab, tests, rng.randint(2, 4), limit_beside=False, holes=0.06)
    _hide(bottles, {"collected"})
    held, empty = _table(bottles), rng.choice(_EMPTY)
    made: list[Block] = [*tops.top(lab), tops.owner(lab)]
    for unit in dict.fromkeys(test.unit for test in tests):
        rows: Rows = []
        for test in (one for one in tests if one.unit == unit):
            cells = [held[bottle.id].get(test.analyte.slug) for bottle in bottles]
            rows.append([test.label, *(item.text if item else empty for item in cells)])
        heads = [_head_row(lab, role, bottles, [], []) for role in ("id", "point")]
        heads[-1][0] = lab.heads["label"]
        results = set(range(1, 1 + len(bottles)))
        made += [Line(f"Results in {unit}", strong=True), Grid(heads, rows, results, results)]
    return Leaf(lab, [*made, *tops.foot(lab)], bottles)

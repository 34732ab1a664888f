"""Papers that are more than a table: slips, letters, packages, summaries, files with traps."""

from __future__ import annotations

import random
from decimal import Decimal

from .. import draw, pool, words
from ..blocks import Block, Break, Grid, Leaf, Line, Pairs, Title
from . import columns, tops

Rows = list[list[str] | str]


def slip(rng: random.Random) -> Leaf:
    """A bacteria slip whose results stand in sentences or behind colons."""
    lab = draw.habit(rng)
    lab.presence = lab.presence or ("Absent", "Present")
    if len(lab.presence[0]) == 1:
        lab.presence = ("ABSENT", "PRESENT")
    lab.mark = ""
    tests = [draw.test_of(pool.pool()[slug], lab) for slug in ("total_coliform", "e_coli")]
    bottle = draw.bottles(lab, tests, 1, limit_beside=False)[0]
    form = rng.choice((
        "{label} bacteria were {text} in 100 mL of this sample.", "{label}: {text}",
        "{label} ... {text}", "Result for {label}: {text} per 100 mL",
    ))  # fmt: skip
    made: list[Block] = [*tops.top(lab, place=rng.random() < 0.5), tops.sample(lab, bottle)]
    for item in bottle.items:
        label = item.test.label.removesuffix(" Bacteria").removesuffix(" bacteria")
        made.append(Line(form.format(label=label, text=item.text)))
    made.append(Line("Method SM 9223 B, 24 hours at 35 °C. Test your well each year."))
    return Leaf(lab, made, [bottle], small=True)


_SENTENCES = (
    "The {label} was {text} {unit}.", "We found {label} at {text} {unit}.",
    "{label} was measured at {text} {unit}.", "Your {label} result was {text} {unit}.",
)  # fmt: skip


def letter(rng: random.Random) -> Leaf:
    """A letter with the results in sentences, beside levels that are no results."""
    lab = draw.habit(rng)
    lab.unknown, lab.with_limit = None, rng.choice(("less than {}", "<{}", "below {}"))
    lab.kind, lab.mixed, lab.presence = "plain", False, ("absent", "present")
    lab.estimates, lab.mark = False, ""
    tests = draw.panel(lab, 4, 7, ("nutrients", "metals", "bacteria"))
    tests = [test for test in tests if test.analyte.slug != "heterotrophic_plate_count"]
    bottle = draw.bottles(lab, tests, 1, limit_beside=False)[0]
    sentences = []
    for item in bottle.items:
        if item.presence:
            sentences.append(f"{item.test.label} was {item.text}.")
            continue
        form = rng.choice(_SENTENCES)
        said = form.format(label=item.test.label, text=item.text, unit=item.test.unit)
        if item.test.limit and rng.random() < 0.4:
            said += f" The drinking water level is {item.test.limit} {item.test.unit}."
        sentences.append(said)
    made: list[Block] = [*tops.top(lab), Line(f"Dear {rng.choice(words.PEOPLE)},")]
    day = bottle.collected.strftime("%B %-d, %Y")
    made.append(Line(f"Sample {bottle.id} from your {bottle.point.lower()} of {day} was tested."))
    half = (len(sentences) + 1) // 2
    made += [Line(" ".join(sentences[:half])), Line(" ".join(sentences[half:]))]
    return Leaf(lab, [*made, Line("Sincerely, A. Ferreira, chemist")], [bottle])


def _control(lab: draw.Habit, roles: list[str], tests: list[draw.Test], title: str) -> list[Block]:
    """Return a quality-control table that looks like a sample's table."""
    rng, rows = lab.rng, []
    for test in tests[:5]:
        level = test.rl * rng.choice((20, 50, 100))
        found = (level * Decimal(rng.randint(92, 108)) / 100).quantize(test.rl)
        item = draw.Item(test, lab.number(found), "=", found)
        bottle = draw.Bottle(title, "", words.day(rng), [item])
        rows.append([columns.cell(lab, role, item, bottle, 0) for role in roles])
    grid = columns.grid(lab, roles, rows)
    return [Line(title, strong=True), grid]


def package(rng: random.Random) -> Leaf:
    """Samples page by page, then quality control and custody."""
    lab = draw.habit(rng, flagged=rng.random() < 0.5)
    roles = columns.chosen(lab, 3, never=("previous", "status", "range", "number", "cas"))
    tests = draw.panel(lab, 6, 14, ("anions", "metals"))
    bottles = draw.bottles(lab, tests, rng.randint(2, 3), limit_beside="rl" in roles)
    made: list[Block] = []
    for bottle in bottles:
        made += [*tops.top(lab, place=False), Pairs(tops.told(lab, bottle), 2)]
        rows: Rows = [
            [columns.cell(lab, role, item, bottle, at) for role in roles]
            for at, item in enumerate(bottle.items)
        ]
        made += [columns.grid(lab, roles, rows), Break()]
    made.append(Title("Quality Control"))
    batch = rng.randint(1000, 9000)
    for title in ("Method Blank {}-BLK1", "Laboratory Control Sample {}-BS1",
                  "Matrix Spike {}-MS1"):  # fmt: skip
        made += _control(lab, roles, tests, title.format(batch))
    made += [Line("Recovery 98 %   Limits 85-115   RPD 1.4 %   Limit 20"), Break()]
    made.append(Title("Chain of Custody"))
    custody = [
        [bottle.point, lab.day(bottle.collected), bottle.collected.strftime("%H:%M"), "3", "DW"]
        for bottle in bottles
    ]
    made.append(Grid([["Field ID", "Date", "Time", "Bottles", "Matrix"]], [*custody]))
    made.append(Line("Temperature on arrival 3.8 °C   pH < 2: yes   Courier 555-0171"))
    return Leaf(lab, made, bottles)


def summary(rng: random.Random) -> Leaf:
    """The detections on a first page, and all results again on the second."""
    lab = draw.habit(rng)
    roles = columns.chosen(lab, 3, never=("previous", "number"))
    tests = draw.panel(lab, 8, 20, ("anions", "nutrients", "metals"))
    bottle = draw.bottles(lab, tests, 1, limit_beside="rl" in roles)[0]
    few = ["label", "text", "unit"]
    found: Rows = [
        [columns.cell(lab, role, item, bottle, at) for role in few]
        for at, item in enumerate(bottle.items)
        if item.operator == "="
    ]
    rows: Rows = [
        [columns.cell(lab, role, item, bottle, at) for role in roles]
        for at, item in enumerate(bottle.items)
    ]
    made: list[Block] = [*tops.top(lab), tops.sample(lab, bottle)]
    made.append(Line("Summary of detections", strong=True))
    made += [columns.grid(lab, few, found), Break()]
    made += [Line("All results", strong=True), Pairs(tops.told(lab, bottle), 2)]
    made.append(columns.grid(lab, roles, rows))
    return Leaf(lab, [*made, *tops.foot(lab)], [bottle])


def no_report(rng: random.Random) -> Leaf:
    """A price list or an order form: names of tests, numbers, and not one result."""
    lab = draw.habit(rng)
    tests = draw.panel(lab, 6, 16)
    price = rng.choice(("Price", "Price (USD)", "Fee", "Cost per sample"))
    rows: Rows = [
        [test.label, test.analyte.method, f"${rng.randint(12, 90)}.00", str(rng.randint(1, 14))]
        for test in tests
    ]
    grid = Grid([["Test", "Method", price, "Days"]], rows, {2, 3})
    made = [*tops.top(lab), Line("Prices from January 2026", strong=True), grid]
    return Leaf(lab, [*made, Line("Courier within Tamarack County: $15.50")], [])


def ticks(rng: random.Random) -> Leaf:
    """A form with boxes; the crossed one is the result."""
    lab = draw.habit(rng)
    lab.presence, lab.mark = ("Absent", "Present"), ""
    tests = [draw.test_of(pool.pool()[slug], lab) for slug in ("total_coliform", "e_coli")]
    bottle = draw.bottles(lab, tests, 1, limit_beside=False)[0]
    crossed, empty = rng.choice((("[X]", "[ ]"), ("(x)", "( )"), ("[x]", "[_]")))
    made: list[Block] = [*tops.top(lab), tops.sample(lab, bottle)]
    for item in bottle.items:
        boxes = [f"{crossed if word == item.text else empty} {word}" for word in lab.presence]
        made.append(Line(f"{item.test.label}:   {'   '.join(boxes)}"))
    made.append(Line("Method SM 9223 B. A crossed box is the result."))
    return Leaf(lab, made, [bottle], small=True)

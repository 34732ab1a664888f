"""Files of data: one line a result, one line a sample, signs in a column of their own."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal

from .. import draw
from ..blocks import Grid, Leaf
from . import columns

Rows = list[list[str] | str]
_Teller = Callable[[draw.Item, draw.Bottle], str]

_STYLES: tuple[dict[str, str], ...] = (
    {"id": "LabSampleID", "point": "LocationName", "collected": "SampleDate",
     "label": "Analyte", "cas": "CASNumber", "text": "Result", "unit": "ResultUnit",
     "flag": "LabQualifier", "rl": "ReportingLimit", "method": "Method", "type": "SampleType"},
    {"id": "SAMPLE_NO", "point": "STATION", "collected": "COLLECT_DATE", "label": "PARAMETER_NAME",
     "cas": "CAS_RN", "text": "RESULT_VALUE", "unit": "UNITS", "flag": "QUAL", "rl": "PQL",
     "method": "METHOD_CODE", "type": "SAMP_TYPE"},
    {"id": "sample.id", "point": "sample.location", "collected": "sample.collected",
     "label": "test.name", "cas": "test.cas", "text": "test.value", "unit": "test.unit",
     "flag": "test.flag", "rl": "test.limit", "method": "test.method", "type": "sample.kind"},
)  # fmt: skip


def _tellers(lab: draw.Habit) -> dict[str, _Teller]:
    stamp = lab.rng.choice(("%Y-%m-%d", "%m/%d/%Y", "%Y-%m-%d %H:%M", "%m/%d/%Y %H:%M"))
    return {
        "id": lambda _, bottle: bottle.id,
        "point": lambda _, bottle: bottle.point,
        "collected": lambda _, bottle: bottle.collected.strftime(stamp),
        "type": lambda _, __: "N",
    }


def _line(
    lab: draw.Habit, roles: list[str], tell: dict[str, _Teller], item: draw.Item,
    bottle: draw.Bottle,
) -> list[str]:  # fmt: skip
    return [
        tell[role](item, bottle) if role in tell else columns.cell(lab, role, item, bottle, 0)
        for role in roles
    ]


def _quality(lab: draw.Habit, roles: list[str], some: Rows) -> Rows:
    """Return lines of blanks and spikes, which one code tells from samples."""
    made: Rows = []
    for row in some[:4]:
        copy = list(row)
        copy[roles.index("type")] = lab.rng.choice(("LB", "MS", "LCS", "FB"))
        copy[roles.index("text")] = lab.number(Decimal("0.47"))
        copy[roles.index("id")] = f"QC-{len(made) + 1}"
        made.append(copy)
    return made


def export(rng: random.Random) -> Leaf:
    """One line a result, with codes for the kind of sample."""
    lab = draw.habit(rng, flagged=rng.random() < 0.4)
    lab.thousands = False
    names = rng.choice(_STYLES)
    roles = ["id", "point", "collected", "label", "text", "unit"]
    roles += rng.sample(("cas", "method", "type"), rng.randint(0, 3))
    roles += ["rl"] if rng.random() < 0.6 or lab.unknown else []
    if rng.random() < 0.4:
        rng.shuffle(roles)
    if lab.flagged:
        roles.insert(roles.index("text") + 1, "flag")
    tests = draw.panel(lab, 4, 14)
    bottles = draw.bottles(lab, tests, rng.randint(2, 6), limit_beside="rl" in roles, holes=0.1)
    tell = _tellers(lab)
    rows: Rows = [
        _line(lab, roles, tell, item, bottle) for bottle in bottles for item in bottle.items
    ]
    if "type" in roles and rng.random() < 0.6:
        rows += _quality(lab, roles, rows)
    heads = [names[role] for role in roles]
    return Leaf(lab, [Grid([heads], rows, results={roles.index("text")})], bottles)


def signs(rng: random.Random) -> Leaf:
    """One line a result; the sign "<" stands in a column before the number."""
    lab = draw.habit(rng)
    lab.unknown, lab.with_limit, lab.presence, lab.thousands = None, "<{}", None, False
    lab.estimates = False
    tests = draw.panel(lab, 4, 12, ("nutrients", "metals"))
    bottles = draw.bottles(lab, tests, rng.randint(1, 4), limit_beside=False)
    head = rng.choice(("", "Sign", "<", "Prefix", "Mod"))
    rows: Rows = []
    for bottle in bottles:
        for item in bottle.items:
            sign = "<" if item.operator == "<" else ""
            number = item.text.lstrip("< ")
            item.text = number
            day = bottle.collected.strftime("%m/%d/%Y")
            told = [bottle.id, bottle.point, day, item.test.label]
            rows.append([*told, sign, number, item.test.unit, item.test.limit])
    roles = ("id", "point", "collected", "label")
    heads = [*(lab.heads[role] for role in roles), head, lab.heads["text"], lab.heads["unit"]]
    return Leaf(lab, [Grid([[*heads, lab.heads["limit"]]], rows)], bottles)


def wide(rng: random.Random) -> Leaf:
    """One line a sample, with names as a database has them."""
    lab = draw.habit(rng)
    lab.kind, lab.mixed, lab.thousands, lab.unknown = "plain", False, False, None
    lab.mark = ""
    tests = draw.panel(lab, 3, 8)
    bottles = draw.bottles(lab, tests, rng.randint(4, 20), limit_beside=False, holes=0.08)
    for at, bottle in enumerate(bottles):
        bottle.id = str(40211 + at)
    form = rng.choice(("{label} ({unit})", "{label}_{unit}", "{label}, {unit}"))
    heads = ["SampleID", "Site", "Date"]
    heads += [form.format(label=t.label, unit=t.unit) if t.unit else t.label for t in tests]
    rows: Rows = []
    for bottle in bottles:
        held = {item.test.analyte.slug: item.text for item in bottle.items}
        day = bottle.collected.strftime("%Y-%m-%d")
        cells = [held.get(test.analyte.slug, "") for test in tests]
        rows.append([bottle.id, bottle.point, day, *cells])
    return Leaf(lab, [Grid([heads], rows)], bottles)


def dated(rng: random.Random) -> Leaf:
    """One line a sample, with the day of analysis behind every result."""
    lab = draw.habit(rng)
    lab.kind, lab.mixed, lab.thousands, lab.unknown = "plain", False, False, None
    lab.mark = ""
    tests = draw.panel(lab, 3, 6)
    bottles = draw.bottles(lab, tests, rng.randint(3, 10), limit_beside=False, holes=0.06)
    heads = ["Sample ID", "Location", "Collected"]
    for test in tests:
        unit = f" ({test.unit})" if test.unit else ""
        heads += [f"{test.label}{unit}", "Analyzed"]
    rows: Rows = []
    for bottle in bottles:
        held = {item.test.analyte.slug: item.text for item in bottle.items}
        row = [bottle.id, bottle.point, bottle.collected.strftime("%m/%d/%Y")]
        for test in tests:
            later = bottle.collected + timedelta(days=rng.randint(1, 9))
            text = held.get(test.analyte.slug, "")
            row += [text, later.strftime("%m/%d/%Y") if text else ""]
        rows.append(row)
    return Leaf(lab, [Grid([heads], rows)], bottles)

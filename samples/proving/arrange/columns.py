"""The columns of a table with one row an analyte."""

from __future__ import annotations

import datetime
import random
from collections.abc import Sequence
from decimal import Decimal

from ..blocks import Grid
from ..draw import Bottle, Habit, Item, Test

_EXTRA = ("rl", "mdl", "limit", "status", "method", "analyzed", "analyst", "factor", "cas",
          "previous", "number", "range")  # fmt: skip
_RIGHT = {"text", "rl", "mdl", "limit", "factor", "previous"}
_STATUS = {
    "Status": ("Pass", "Exceeds"), "Rating": ("OK", "High"), "Exceeds?": ("No", "Yes"),
    "Comment": ("", "above limit"), "Within Limit": ("Yes", "No"), "P/F": ("P", "F"),
}  # fmt: skip


def chosen(lab: Habit, most: int, *, unit: bool = True, never: tuple[str, ...] = ()) -> list[str]:
    """Return the roles of the columns from left to right."""
    rng = lab.rng
    extra = [role for role in _EXTRA if role not in never]
    weights = {"rl": 5, "method": 4, "limit": 5, "analyzed": 3}
    some: list[str] = []
    for _ in range(rng.randint(0, most)):
        left = [role for role in extra if role not in some]
        some += rng.choices(left, [weights.get(role, 1) for role in left])
    if lab.flagged and "rl" not in some and rng.random() < 0.5:
        some.append("rl")
    if "status" in some and "limit" not in some:
        some.append("limit")
    rest = ["text", *(["unit"] if unit else []), *(r for r in some if r not in {"number", "cas"})]
    if rng.random() < 0.6:
        rng.shuffle(rest)
    if lab.flagged:
        rest.insert(rest.index("text") + 1, "flag")
    front = ["label"]
    if "cas" in some:
        front.insert(rng.randint(0, 1), "cas")
    return [*(["number"] if "number" in some else []), *front, *rest]


def heads(lab: Habit, roles: list[str]) -> list[str]:
    """Return the words over the columns."""
    return [lab.heads[role] for role in roles]


def grid(lab: Habit, roles: list[str], rows: Sequence[list[str] | str]) -> Grid:
    """Return the table of rows of these roles under their heads."""
    right = {at for at, role in enumerate(roles) if role in _RIGHT}
    return Grid([heads(lab, roles)], [*rows], right, {roles.index("text")})


def _over(item: Item) -> bool:
    limit = item.test.analyte.limit
    if not limit or item.value is None or item.operator == "<":
        return False
    value = item.value / item.test.scale
    if "-" in limit:
        low, high = map(Decimal, limit.split("-"))
        return not low <= value <= high
    return value > Decimal(limit)


def _previous(item: Item, rng: random.Random, lab: Habit) -> str:
    if item.value is None or item.operator != "=":
        return ""
    return lab.number((item.value * Decimal(rng.randint(80, 119)) / 100).quantize(item.value))


def cell(lab: Habit, role: str, item: Item, bottle: Bottle, at: int) -> str:
    """Return what stands in one column of a result's row."""
    test: Test = item.test
    rng = lab.rng
    if role in {"label", "text", "flag"}:
        return {"label": test.label, "text": item.text, "flag": item.flag}[role]
    day = bottle.collected + datetime.timedelta(days=1 + len(test.analyte.group) % 5)
    bacteria = test.analyte.group == "bacteria"
    status = _STATUS[lab.heads["status"]]
    top = (test.rl * rng.choice((40, 100, 400))).normalize() + 0
    made = {
        "number": str(at + 1),
        "unit": test.unit,
        "rl": "" if bacteria or test.analyte.slug == "ph" else lab.number(test.rl),
        "mdl": "" if bacteria else lab.number((test.rl / 4).normalize() + 0),
        "limit": test.limit,
        "status": status[_over(item)] if test.limit else "",
        "method": test.analyte.method,
        "analyzed": lab.day(day),
        "analyst": ("JT", "LB", "MK")[len(test.analyte.group) % 3],
        "factor": "1",
        "cas": test.analyte.cas,
        "range": f"{lab.number(Decimal(0))} - {lab.number(top)}",
    }
    return made[role] if role in made else _previous(item, rng, lab)

"""The top and the foot of a sheet: who tested, whose water, where and when."""

from __future__ import annotations

import datetime

from .. import words
from ..blocks import Block, Line, Pairs, Title
from ..draw import Bottle, Habit

_NOTES = (
    "Results relate only to the sample as received.",
    "This report may be copied only as a whole.",
    "Limits are levels for public supplies, shown for comparison.",
    "Sample temperature on arrival: 4.2 °C.",
    "Reviewed by A. Ferreira, quality manager. Certificate 0417.",
    "Page 1 of 1",
    "Questions? Call 555-0123 between 8 and 4.",
)


def top(lab: Habit, *, place: bool = True) -> list[Block]:
    """Return the lab's own lines."""
    rng = lab.rng
    made: list[Block] = [Title(rng.choice(words.LABS))]
    if place:
        phone = f"555-01{rng.randint(10, 99)}"
        made.append(Line(f"{words.address(rng)}, Tamarack County   Telephone {phone}"))
    if rng.random() < 0.6:
        kind = ("Laboratory Report", "Certificate of Analysis", "Water Analysis Report")
        made.append(Line(rng.choice(kind), strong=True))
    return made


def told(lab: Habit, bottle: Bottle) -> list[tuple[str, str]]:
    """Return a sample's keys and values."""
    rng = lab.rng
    arrived = bottle.collected + datetime.timedelta(hours=rng.randint(3, 30))
    return [
        (lab.heads["id"], bottle.id),
        (lab.heads["point"], bottle.point),
        (lab.heads["collected"], lab.moment(bottle.collected)),
        (lab.heads["received"], lab.day(arrived)),
    ]


def sample(lab: Habit, bottle: Bottle) -> Pairs:
    """Return the block that names one sample and its owner."""
    rng = lab.rng
    pairs = told(lab, bottle)
    issued = bottle.collected + datetime.timedelta(days=rng.randint(5, 12))
    more = [
        ("Client", rng.choice(words.PEOPLE)),
        ("Address", words.address(rng)),
        (lab.heads["reported"], lab.day(issued)),
        ("Matrix", "Drinking Water"),
        ("Sampled by", "client"),
    ]
    pairs += rng.sample(more, rng.randint(1, len(more)))
    if rng.random() < 0.5:
        rng.shuffle(pairs)
    return Pairs(pairs, rng.choice((1, 2)))


def owner(lab: Habit) -> Pairs:
    """Return the block that names the client of several samples."""
    number = str(lab.rng.randint(11000, 99000))
    pairs = [("Client", lab.rng.choice(words.PEOPLE)), ("Work Order", number)]
    return Pairs([*pairs, ("Project", "Domestic wells 2026")], lab.rng.choice((1, 2)))


def foot(lab: Habit) -> list[Block]:
    """Return the lines below the results."""
    lines = lab.rng.sample(_NOTES, lab.rng.randint(0, 3))
    if lab.flagged:
        lines.insert(0, "U: not detected at the value shown. J: estimated.")
    elif lab.unknown:
        lines.insert(0, f"{lab.unknown}: not found at the reporting limit.")
    if lab.mark:
        lines.append(f"{lab.mark.strip()} Not within the scope of accreditation.")
    return [Line(text) for text in lines]

"""A level that is wrong by a factor of ten must change some verdict of the published cases."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

import pytest

from welltold.levels import Level, Levels, load_levels
from welltold.verdicts import judging
from welltold.verdicts.amounts import Amount
from welltold.verdicts.judging import Context, answer_amounts

if TYPE_CHECKING:
    from .conftest import Bench

DAY = date(2026, 11, 25)
TABLE = load_levels(("us_federal",), DAY)
# rows that stand beside a stricter or equal level of another kind, which decides before them
BESIDE = {
    ("lead", "action_level", "0.015"),  # the older action level, beside 0.010
    ("hfpo_da", "advisory", "10"),  # the advisory of 2022 and the limit are the same number, so
    ("hfpo_da", "primary_limit", "10"),  # each stands in for the other
    ("strontium", "advisory", "4000"),  # the screening level, beside the advisory it agrees with
    ("boron", "advisory", "5000"),  # the same
    ("radon", "primary_limit", "4000"),  # the second proposed limit, beside 300
    ("fluoride", "secondary", "2.0"),  # the notice for children, the same number, decides before it
    ("zinc", "secondary", "5"),  # taste, beside the screening level of 2 mg/L
}
DECIDING = [
    (slug, place)
    for slug, rows in TABLE.by_slug.items()
    for place, level in enumerate(rows)
    if level.role in judging.COMPARED
    and level.value
    and level.op != "absent"
    and (slug, level.kind, str(level.value)) not in BESIDE
]


def probes(level: Level) -> Iterator[Amount]:
    """Yield the values around a level at which a verdict must turn: just under and just over."""
    ends = [end for end in (level.low if level.op == "range" else None, level.value) if end]
    for end in ends:
        for factor in ("0.999", "1.001"):
            value = end * Decimal(factor)
            yield Amount(value, value, more_than_low=False, found=True, unit=level.unit,
                         basis=level.basis)  # fmt: skip


def verdicts(slug: str, table: Levels, amounts: list[Amount]) -> list[tuple[str, object, object]]:
    homes = (frozenset[str](), frozenset({"low_sodium_diet", "child", "infant"}))
    contexts = [Context(table, home) for home in homes]
    answers = [answer_amounts(slug, [one], context) for one in amounts for context in contexts]
    return [(a.judged.verdict, a.judged.urgency, a.judged.people != ()) for a in answers]


@pytest.mark.parametrize("factor", ["10", "0.1"])
@pytest.mark.parametrize(("slug", "place"), DECIDING)
def test_a_level_off_by_ten_is_noticed(slug: str, place: int, factor: str) -> None:
    rows = list(TABLE.by_slug[slug])
    level = rows[place]
    assert level.value is not None
    low = None if level.low is None else level.low * Decimal(factor)
    rows[place] = replace(level, value=level.value * Decimal(factor), low=low)
    wrong = replace(TABLE, by_slug=MappingProxyType({**TABLE.by_slug, slug: tuple(rows)}))
    amounts = list(probes(level))
    assert verdicts(slug, wrong, amounts) != verdicts(slug, TABLE, amounts)


@pytest.mark.parametrize(("slug", "place"), DECIDING)
def test_a_level_taken_away_is_noticed(slug: str, place: int) -> None:
    rows = TABLE.by_slug[slug]
    left = tuple(row for i, row in enumerate(rows) if i != place)
    wrong = replace(TABLE, by_slug=MappingProxyType({**TABLE.by_slug, slug: left}))
    amounts = list(probes(rows[place]))
    assert verdicts(slug, wrong, amounts) != verdicts(slug, TABLE, amounts)


def test_the_mutations_reach_every_deciding_rule() -> None:
    assert len(DECIDING) > 120


@pytest.mark.parametrize("slug", ["e_coli", "fecal_coliform", "total_coliform", "enterococci"])
def test_a_germ_rule_taken_away_is_noticed(
    bench: Bench, slug: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = bench.result(slug, "Present")
    before = bench.judge(found).verdict
    bare = replace(TABLE, by_slug=MappingProxyType({**TABLE.by_slug, slug: ()}))
    room = sys.modules["welltold.verdicts.interpret"]
    monkeypatch.setattr(room, "load_levels", lambda *_: bare)
    assert bench.judge(found).verdict != before

"""The packs of states, of Canada and of the WHO, typed again from what they publish.

Numbers stand here in the unit of the publication, with the publication beside them; the tables may
hold them in another unit of the same kind.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from typed_packs import ADVICE, NOW, OTHER_PACKS, PUBLISHED

from welltold import messages
from welltold.analytes import registry
from welltold.level_rows import Level
from welltold.levels import all_rows, in_own_unit, known_packs
from welltold.tables import read_table
from welltold.units import convert, unit

DATA = Path(messages.__file__).parent / "data"
PER_MG = {"mg/L": Decimal(1), "ug/L": Decimal(1000), "ng/L": Decimal(1000000)}
DECIDING = {"health", "watch", "nuisance", "person"}


def today(pack: str) -> list[Level]:
    return [lv for lv in all_rows(pack) if lv.role in DECIDING and lv.holds(NOW)]


def as_typed(level: Level, wanted: str) -> tuple[Decimal | None, str]:
    """The level's number in the unit of the publication; by factors of 1000 only."""
    if level.value is None or level.unit not in PER_MG or wanted not in PER_MG:
        return level.value, level.unit
    return level.value / PER_MG[level.unit] * PER_MG[wanted], wanted


def differences(pack: str, rows: list[Level]) -> list[str]:
    """Where the deciding rows of a pack differ from what is typed above."""
    programme, typed = PUBLISHED[pack]
    left, found = dict(typed), []
    for level in rows:
        keys = [key for key in left if key.partition("#")[0] == level.slug]
        same = [key for key in keys if left[key][2] == level.role]
        number = as_typed(level, left[same[0]][1]) if same else (None, "")
        if not same or number != (Decimal(left[same[0]][0]), left[same[0]][1]):
            found.append(f"{level.slug}: {level.value} {level.unit} as {level.role}")
            continue
        left.pop(same[0])
        if level.basis != {"nitrate": "NO3"}.get(level.slug):
            found.append(f"{level.slug}: basis {level.basis}")
        if level.op != ("absent" if level.unit == "count/100mL" else "max"):
            found.append(f"{level.slug}: op {level.op}")
        if not level.programme.startswith(programme):
            found.append(f"{level.slug}: programme {level.programme}")
        if level.acute != (level.slug in {"nitrate", "e_coli"}):
            found.append(f"{level.slug}: acute {level.acute}")
        if (level.status == "advisory") != (pack in ADVICE):
            found.append(f"{level.slug}: status {level.status}")
    return found + [f"{key} is missing" for key in left]


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_a_pack_holds_what_is_published_and_nothing_else(pack: str) -> None:
    assert differences(pack, today(pack)) == []


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_every_flipped_row_is_noticed(pack: str) -> None:
    rows = today(pack)
    assert rows
    for index, row in enumerate(rows):
        value = (row.value or Decimal(0)) + Decimal("0.001")
        role = "nuisance" if row.role == "health" else "health"
        status = "in_force" if row.status == "advisory" else "advisory"
        flipped = (
            replace(row, value=value),
            replace(row, op="min"),
            replace(row, role=role),
            replace(row, status=status),
            replace(row, acute=not row.acute),
            replace(row, basis="N"),
            replace(row, programme="EPA limit"),
            replace(row, unit="ug/L" if row.unit == "mg/L" else "mg/L"),
        )
        for wrong in flipped:
            changed = [*rows[:index], wrong, *rows[index + 1 :]]
            assert differences(pack, changed) != [], wrong


@pytest.mark.parametrize("pack", known_packs())
def test_every_row_can_be_compared_with_a_result(pack: str) -> None:
    for level in all_rows(pack):
        assert level.slug in registry(), level
        assert level.op == "none" or unit(level.unit) is not None, level
        if level.role in DECIDING and level.op not in {"absent", "none"} and level.value:
            assert in_own_unit(level), level


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_nothing_from_memory_decides_and_advice_is_never_a_limit(pack: str) -> None:
    for level in all_rows(pack):
        assert level.verified == (not level.source.startswith("from memory")), level
        assert level.citation, level
        assert level.role == "none" or level.verified, level
        if pack in ADVICE:
            assert level.kind in {"advisory", "secondary"}, level
            assert level.status in {"advisory", "withdrawn"}, level
        assert level.form != "watch_band", level
        assert level.persons == (), level


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_no_two_rows_of_one_level_hold_on_the_same_day(pack: str) -> None:
    rows = all_rows(pack)
    for day in {row.effective for row in rows}:
        keys = [(r.slug, r.programme, r.kind, r.form, r.basis) for r in rows if r.holds(day)]
        assert len(keys) == len(set(keys)), day


@pytest.mark.parametrize("pack", known_packs().values(), ids=lambda pack: pack.name)
def test_a_pack_says_whose_it_is_and_of_when(pack: object) -> None:
    assert pack.whose  # type: ignore[attr-defined]  # pytest names parameters as objects
    assert pack.edition  # type: ignore[attr-defined]  # the same
    assert pack.covers  # type: ignore[attr-defined]  # the same
    head = (DATA / pack.table).read_text("utf-8").split("\nslug,")[0]  # type: ignore[attr-defined]  # the same
    assert all(line.startswith("#") for line in head.splitlines())
    assert "2026-11-25" in head
    if pack.name != "us_federal":  # type: ignore[attr-defined]  # the same
        assert f"Whose: {pack.whose}" in head  # type: ignore[attr-defined]  # the same


def test_every_table_of_levels_is_a_pack() -> None:
    tables = {path.name for path in DATA.glob("levels_*.csv")}
    assert tables == {row.text("table") for row in read_table("level_packs.csv")}


def test_nitrate_by_any_name_is_the_same_level() -> None:
    # Health Canada: 45 mg/L as nitrate "is equivalent to 10 mg/L measured as nitrate-nitrogen";
    # WHO: 50 mg/L as nitrate, 11.3 as nitrogen (50 x 14.007 / 62.004)
    as_n = {}
    for pack in ("canada", "who"):
        (level,) = (lv for lv in all_rows(pack) if lv.slug == "nitrate")
        assert level.basis == "NO3"
        assert level.value is not None
        as_n[pack] = convert(level.value, "nitrate", level.unit, level.basis, "mg/L", "N")
    assert round(as_n["canada"], 1) == Decimal("10.2")
    assert round(as_n["who"], 1) == Decimal("11.3")

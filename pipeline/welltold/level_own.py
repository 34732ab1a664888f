"""One level of the user's own, from one section of the user's file.

The user vouches for it: it decides like a level that was read, and its citation is printed as the
user's own. It is a limit, a level for taste and stains, or advice; nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import cast

from .errors import UnitMismatchError
from .interpretation import LevelKind
from .level_packs import Pack, all_rows
from .level_rows import FEDERAL, OWN_FORM, Level, Op, Role, Status
from .level_section import Section, near

KEYS = (
    "analyte",
    "kind",
    "value",
    "low",
    "absent",
    "unit",
    "basis",
    "acute",
    "effect",
    "citation",
    "effective",
    "until",
)
KINDS: Mapping[str, tuple[Role, Status]] = {
    "primary_limit": ("health", "in_force"),
    "advisory": ("health", "advisory"),
    "secondary": ("nuisance", "in_force"),
}
OWN = "your own file"


def own_level(row: Section, name: str, pack: Pack) -> Level:
    """Return the level that a section holds; LevelsFileError names what is wrong in it.

    ``name`` is the name that reports print for the file.
    """
    row.only(KEYS)
    slug = _slug(row)
    kind = row.choice("kind", tuple(KINDS))
    role, status = KINDS[kind]
    op, low, value = _numbers(row, slug, kind)
    unit, basis = _unit(row, slug, op)
    effective, until = row.day("effective"), row.day("until")
    first = effective or date.fromisoformat(pack.edition)
    if until is not None and until <= first:
        raise row.wrong("until", "is not after the first day", f"a date after {first}")
    level = Level(
        slug=slug,
        programme=f"{OWN}, {name}",
        kind=cast("LevelKind", kind),
        form=OWN_FORM,
        op=op,
        low=low,
        value=value,
        unit=unit,
        basis=basis,
        role=role,
        acute=row.flag("acute"),
        persons=(),
        effect=_effect(row),
        status=status,
        effective=first,
        until=until,
        dated="rule" if effective else "read",
        verified=True,
        citation=f"{OWN}: {row.text('citation', 'where the level is published')}",
        source=f"{OWN}, edition {pack.edition}",
        pack=pack.name,
    )
    return _in_federal_unit(row, level)


def _effect(row: Section) -> str:
    """Return what a level guards against; it goes into sentences that promise nothing."""
    known = 'what it guards against, such as "stomach illness"'
    effect = row.text("effect", known)
    if "safe" in effect.lower():
        raise row.wrong("effect", 'says "safe", which no report does', known)
    return effect


def _slug(row: Section) -> str:
    from .analytes import identify, registry

    name = row.text("analyte", "an analyte as welltold names it, such as arsenic")
    if name in registry():
        return name
    match = identify(name)
    hint = f' (did you mean "{match.slug}"?)' if match else near(name, registry())
    known = "names such as arsenic, nitrate, total_coliform"
    raise row.wrong("analyte", f'"{name}" is not a known analyte{hint}', known)


def _numbers(row: Section, slug: str, kind: str) -> tuple[Op, Decimal | None, Decimal | None]:
    low, value, germs = row.number("low"), row.number("value"), _judged_as_germs(slug)
    if row.flag("absent"):
        if value is not None or low is not None or not germs:
            raise row.wrong("absent", "does not fit here", "absent = true alone, and for germs")
        return "absent", None, Decimal(0)
    if germs:
        raise row.wrong("value", "does not fit: any such germ counts", "absent = true")
    if not value:
        problem = "is missing" if value is None else "is 0"
        raise row.wrong("value", problem, "a number above 0, such as 0.005")
    if low is None:
        return "max", None, value
    if kind != "secondary" or low >= value:
        raise row.wrong("low", "makes no range", "in a secondary level, a number below value")
    return "range", low, value


def _unit(row: Section, slug: str, op: Op) -> tuple[str, str | None]:
    """Return the unit and basis of a level; both must be able to become the analyte's own."""
    from .analytes import analyte
    from .units import convert, unit

    own = analyte(slug)
    if op == "absent":
        return own.unit, None
    spelling = row.text("unit", f"a unit such as {own.unit}")
    found = unit(spelling)
    if found is None:
        raise row.wrong("unit", f'"{spelling}" is not a known unit', f"a unit such as {own.unit}")
    basis = row.text("basis", "what is counted, such as N") if "basis" in row.values else None
    basis = basis or found.basis
    if own.basis is not None and basis is None:
        raise row.wrong(
            "basis", f"is missing; {own.name.lower()} is counted in several ways", own.basis
        )
    try:
        convert(Decimal(1), slug, found.name, basis, own.unit, own.basis)
    except UnitMismatchError as error:
        key = "basis" if "basis" in row.values else "unit"
        known = f"{own.unit} as {own.basis}" if own.basis else own.unit
        raise row.wrong(key, str(error).rstrip("."), known) from None
    return found.name, basis


def _judged_as_germs(slug: str) -> bool:
    """Whether any amount is over the federal level; germs without one are judged so too."""
    from .analytes import analyte

    if analyte(slug).group != "microbial":
        return False
    return all(one.op == "absent" for one in all_rows(FEDERAL) if one.slug == slug)


def _in_federal_unit(row: Section, level: Level) -> Level:
    """Return the level in the unit and basis of the federal ones.

    All readings of one result, and the lists in reports, then compare like with like.
    """
    from .units import convert

    federal = [lv for lv in all_rows(FEDERAL) if lv.slug == level.slug and lv.role != "none"]
    first = next((lv for lv in federal if lv.value is not None and lv.op != "absent"), None)
    if level.op == "absent" or first is None:
        return level
    unit, basis = first.unit, first.basis
    if (unit, basis) == (level.unit, level.basis):
        return level

    def turned(number: Decimal | None) -> Decimal | None:
        if number is None:
            return None
        return convert(number, level.slug, level.unit, level.basis, unit, basis)

    try:
        low, value = turned(level.low), turned(level.value)
    except UnitMismatchError as error:
        raise row.wrong("unit", str(error).rstrip("."), unit) from None
    return replace(level, low=low, value=value, unit=unit, basis=basis)

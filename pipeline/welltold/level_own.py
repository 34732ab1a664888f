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
from .level_section import Section
from .own_text import meant, near, told
from .speech import in_sentence, plain_name

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
        raise row.wrong("until", told("until_first"), told("date_after", day=first))
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
        citation=f"{OWN}: {row.text('citation', told('want_citation'))}",
        source=f"{OWN}, edition {pack.edition}",
        pack=pack.name,
    )
    return _in_federal_unit(row, level)


def _effect(row: Section) -> str:
    """Return what a level guards against; it goes into sentences that promise nothing."""
    known = told("want_effect")
    effect = row.text("effect", known)
    if "safe" in effect.lower():
        raise row.wrong("effect", told("promises_safe", word="safe"), known)
    return effect


def _slug(row: Section) -> str:
    from .analytes import identify, registry

    name = row.text("analyte", told("want_analyte"))
    if name in registry():
        return name
    match = identify(name)
    hint = meant(match.slug) if match else near(name, registry())
    known = told("names_such", example="arsenic, nitrate, total_coliform")
    raise row.wrong("analyte", told("unknown_analyte", name=name, near=hint), known)


def _numbers(row: Section, slug: str, kind: str) -> tuple[Op, Decimal | None, Decimal | None]:
    low, value, germs = row.number("low"), row.number("value"), _judged_as_germs(slug)
    if row.flag("absent"):
        if value is not None or low is not None or not germs:
            raise row.wrong("absent", told("absent_unfit"), told("want_absent"))
        return "absent", None, Decimal(0)
    if germs:
        raise row.wrong("value", told("value_unfit"), "absent = true")
    if not value:
        problem = told("missing" if value is None else "is_zero")
        raise row.wrong("value", problem, told("want_value"))
    if low is None:
        return "max", None, value
    if kind != "secondary" or low >= value:
        raise row.wrong("low", told("no_range"), told("want_low"))
    return "range", low, value


def _unit(row: Section, slug: str, op: Op) -> tuple[str, str | None]:
    """Return the unit and basis of a level; both must be able to become the analyte's own."""
    from .analytes import analyte
    from .units import convert, unit

    own = analyte(slug)
    if op == "absent":
        return own.unit, None
    wanted = told("want_unit", unit=own.unit)
    spelling = row.text("unit", wanted)
    found = unit(spelling)
    if found is None:
        raise row.wrong("unit", told("unknown_unit", unit=spelling), wanted)
    basis = row.text("basis", told("want_basis")) if "basis" in row.values else None
    basis = basis or found.basis
    if own.basis is not None and basis is None:
        name = in_sentence(plain_name(slug) or slug)
        raise row.wrong("basis", told("basis_missing", name=name), own.basis)
    try:
        convert(Decimal(1), slug, found.name, basis, own.unit, own.basis)
    except UnitMismatchError as error:
        key = "basis" if "basis" in row.values else "unit"
        known = told("unit_as", unit=own.unit, basis=own.basis) if own.basis else own.unit
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

"""Which columns of a table with analytes across hold results, and which serve them."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass

from .astray_flags import holds_flags
from .cells import Cell, join
from .column import Column
from .column_heads import joined
from .content import Content, contents
from .elements import elements, is_symbol
from .families import family_word
from .flags_before import owner_of, stand_before
from .formula_heads import formula_head
from .group_units import group_units
from .head_cells import head_analyte
from .left_out import columns_left_out
from .roles import column_head
from .shared_columns import more_flags
from .sheet_names import is_amount, statistic
from .sheet_roles import sign_columns
from .short_names import by_valence, short_name, worded
from .tables import Table
from .tokens import analyte_in, analytes_within, unit_of
from .unit_choice import fits
from .wide import Extra, companions, is_sheet, more_columns, seen, unit_above
from .words import split_unit

_COMPANIONS = frozenset(
    {"qualifier", "sign", "detect_flag", "unit", "reporting_limit", "detection_limit", "method"}
)
_DEGREES = frozenset({"degC", "degF"})
_WARM = {"water": "temperature", "air": "air_temperature"}
"""What a word says over a column of degrees."""
_SEVERAL = 3
"""So many known analytes at the head of a page's table say what a short name beside them means."""


@dataclass(slots=True)
class AnalyteColumn:
    """One column of results."""

    index: int
    label: str
    name: str
    """The part of the label that names the analyte."""
    cell: Cell
    unit: str | None
    own: dict[str, int]
    sure: bool = True
    """The head names the analyte by itself; else it does so only beside the others."""


def result_columns(table: Table) -> list[AnalyteColumn]:
    """Return the columns of results, each with the columns that serve it."""
    serving = companions(table) if is_sheet(table) else {}
    earlier = columns_left_out(table)
    found = list(_headed(table, {*serving, *earlier}))
    if is_sheet(table):
        for made in found:
            made.unit = made.unit or unit_above(table, made.index)
        found.extend(
            AnalyteColumn(*e[:5], {}, e.sure) for e in _short(table, found, {*serving, *earlier})
        )
    elif len({c.name for c in found}) >= _SEVERAL:
        found.extend(_abbreviated(table, {c.index for c in found} | earlier))
    found.extend(_unknown_columns(table, {c.index for c in found} | serving.keys() | earlier))
    found.sort(key=lambda c: c.index)
    _units_over_groups(table, found)
    owners = {c.index: c for c in found}
    for index, (role, at) in serving.items():
        if at in owners:
            owners[at].own.setdefault(role, index)
    _companions(table, found, serving.keys() | earlier)
    return found


def _headed(table: Table, others: Container[int]) -> Iterator[AnalyteColumn]:
    """Yield the columns whose heads name an analyte; ``others`` are known for something else."""
    family = {**_of_family(table), **_elements(table)} if is_sheet(table) else {}
    named = _symbols(table)
    for index, column in enumerate(table.columns):
        if not column.head_cells or index in others:
            continue
        if index in family:
            yield family[index]
        elif not is_sheet(table) or index in named or not statistic(_without_unit(column)):
            made = _analyte_column(index, column)
            if made:
                yield made


def _elements(table: Table) -> dict[int, AnalyteColumn]:
    """Return the columns of elements whose symbols mean something else where they stand alone."""
    symbols = _symbols(table)
    heads = [symbols.get(i) or _without_unit(c) for i, c in enumerate(table.columns)]
    found = {}
    for index, name in elements(heads).items():
        cells = table.columns[index].head_cells
        units = [t for c in cells if unit_of(t := c.text.strip("()[]")) is not None]
        unit = units[-1] if units else None
        found[index] = AnalyteColumn(index, heads[index], name, join(cells), unit, {})
    return found


def _symbols(table: Table) -> dict[int, str]:
    """Return the symbols of elements that stand in the heads, whatever else stands over them."""
    told = ((i, c.text) for i, column in enumerate(table.columns) for c in column.head_cells)
    return {index: text for index, text in told if is_symbol(text)}


def _of_family(table: Table) -> dict[int, AnalyteColumn]:
    """Return the columns of a family of heads; in doubt, for nobody knows what its word says."""
    word = family_word([c.head for c in table.columns])
    found: dict[int, AnalyteColumn] = {}
    content = seen(table) if word else []
    for index, column in enumerate(table.columns if word else ()):
        rest = column.head.removeprefix(word)
        bare, unit = split_unit(rest)
        named = short_name(rest)
        name = bare if head_analyte(rest) is not None else (named.name if named else None)
        if rest != column.head and name is not None and content[index].numeric_results():
            cell = join(column.head_cells)
            found[index] = AnalyteColumn(index, column.head, name, cell, unit, {}, sure=False)
    return found


def _without_unit(column: Column) -> str:
    """Return a head without the cells that are units: "std" is no deviation in "std units"."""
    return joined([c.text for c in column.head_cells if unit_of(c.text.strip("()[]")) is None])


def _units_over_groups(table: Table, found: Sequence[AnalyteColumn]) -> None:
    """Give columns without a unit the one that a head over several columns tells."""
    units = group_units(table, [c.index for c in found if c.unit is None])
    for made in found:
        made.unit = made.unit or units.get(made.index)


def _short(table: Table, found: Sequence[AnalyteColumn], serving: Container[int]) -> list[Extra]:
    known = {c.index: c.name for c in found}
    left = {i for i in range(len(table.columns)) if i not in known and i not in serving}
    return more_columns(table, seen(table), known, left)


def _abbreviated(table: Table, taken: set[int]) -> Iterator[AnalyteColumn]:
    """Yield the columns of a page's table that say an analyte for short: "Hard." beside others.

    A head with a unit of its own is left to the next step, which asks whether the two fit.
    """
    content = contents([table.cells(line) for line in table.lines[:60]], len(table.columns))
    for index, (column, facts) in enumerate(zip(table.columns, content, strict=True)):
        cells, label = column.head_cells, column.head
        if index in taken or not cells or not facts.numeric_results() or column_head(column):
            continue
        named = None if any(unit_of(c.text.strip("()[]")) for c in cells) else short_name(label)
        if named is not None and named.slug is not None:
            unit, sure = named.unit, named.sure
            yield AnalyteColumn(index, label, named.name, join(cells), unit, {}, sure=sure)


def _unknown_columns(table: Table, taken: set[int]) -> list[AnalyteColumn]:
    """Return columns of numbers with a unit whose head is no known analyte and no other role."""
    content = contents([table.cells(line) for line in table.lines[:60]], len(table.columns))
    found = []
    for index, (column, facts) in enumerate(zip(table.columns, content, strict=True)):
        cells = column.head_cells
        if index in taken or not cells or column_head(column) or not facts.numeric_results():
            continue
        units = [c.text.strip("()[]") for c in cells if unit_of(c.text.strip("()[]"))]
        unit = units[0] if units else split_unit(column.head)[1]
        label = joined([c.text for c in cells if unit_of(c.text.strip("()[]")) is None])
        if unit and any(c.isalpha() for c in label):
            short = short_name(label)
            fitting = short is not None and short.slug is not None and fits(short.slug, unit)
            name = short.name if short is not None and fitting else _warmth(label, unit) or label
            found.append(AnalyteColumn(index, label, name, join(cells), unit, {}))
    return found


def _warmth(label: str, spelled: str) -> str | None:
    """Return the temperature that a bare word names over degrees: "Air", "Water"."""
    meaning = unit_of(spelled.strip("()[]"))
    slug = (
        _WARM.get(split_unit(label)[0].lower())
        if meaning is not None and meaning.name in _DEGREES
        else None
    )
    return worded(slug, None, None) if slug is not None else None


def _analyte_column(index: int, column: Column) -> AnalyteColumn | None:
    cells = column.head_cells
    if is_amount(column.head):
        return None
    if (told := formula_head(column.head)) is not None and cells[0].line.sheet is not None:
        return AnalyteColumn(index, column.head, told.name, join(cells), told.unit, {}, sure=False)
    if (species := by_valence(column.head)) is not None and cells[0].line.sheet is not None:
        return AnalyteColumn(index, column.head, species.name, join(cells), None, {})
    for parts in ([*cells], *([c] for c in reversed(cells)), cells[:2], cells[-2:]):
        text = joined([c.text for c in parts])
        if head_analyte(text) is None:
            continue
        unit = None
        for cell in cells:
            if unit_of(cell.text.strip("()[]")):
                unit = cell.text.strip("()[]")
        label = text
        spelled = split_unit(text)[1]
        named = [c for c in parts if unit_of(c.text.strip("()[]")) is None]
        if not named or head_analyte(joined([c.text for c in named])) is None:
            named = [c for c in parts if analyte_in(c.text)][:1] or named  # "pH" is a unit too
        if named:
            label = joined([c.text for c in named])
        return AnalyteColumn(index, label, reading_name(label), join(parts), unit or spelled, {})
    return None


def reading_name(label: str) -> str:
    """Return the part of a head that names its analyte, for heads that say more."""
    bare, _ = split_unit(label)
    if analyte_in(bare) is not None:
        return label
    within = analytes_within(bare)
    if len(within) == 1:
        start, end, _match = within[0]
        return " ".join(bare.split()[start:end])
    return label


def _only_unit(table: Table) -> bool:
    heads = (column_head(c) for c in table.columns)
    return sum(h is not None and h.role == "unit" for h in heads) == 1


def _companions(table: Table, found: list[AnalyteColumn], told: Container[int]) -> None:
    """Give columns of flags, signs and limits to the analyte column before them."""
    rows = [table.cells(line) for line in table.lines[:60]]
    content = contents(rows, len(table.columns))
    indices = {c.index for c in found}
    signs = sign_columns(table, indices) if is_sheet(table) else {}
    roles = {
        index: role
        for index, column in enumerate(table.columns)
        if index not in indices
        and index not in told
        and index not in signs
        and (role := _companion(column, content[index])) in _COMPANIONS
    }
    roles.update(dict.fromkeys(_flags_under_others(table, indices, told, roles), "qualifier"))
    before = {
        role: stand_before([i for i, r in roles.items() if r == role], sorted(indices))
        for role in set(roles.values())
    }
    owners = {c.index: c for c in found}
    for index, at in signs.items():
        owners[at].own.setdefault("sign", index)
    for index, role in roles.items():
        if role == "unit" and len(found) > 1 and is_sheet(table) and _only_unit(table):
            continue  # it serves the whole row
        owner = owner_of(index, indices, before=before[role])
        if owner is not None and owners[owner].own.setdefault(role, index) != index:
            more_flags(role, [index], owners[owner].own)


def _flags_under_others(
    table: Table, results: Container[int], told: Container[int], roles: Mapping[int, str]
) -> list[int]:
    """Return the columns of flags behind results whose heads say something else: "Comment".

    One for several results says of none which it is for.
    """
    at = [
        index
        for index in range(1, len(table.columns))
        if index not in results
        and index not in told
        and roles.get(index, "method") == "method"
        and index - 1 in results
        and table.columns[index].head
        and holds_flags(table, index)
    ]
    return at if len(at) > 1 or sum(i in results for i in range(len(table.columns))) == 1 else []


def _companion(column: Column, content: Content) -> str:
    """Return what a column beside the results is, by its head, or a column of flags without one."""
    head = column_head(column)
    if head is not None:
        return head.role
    return "qualifier" if content.filled and content.flag == content.filled else ""

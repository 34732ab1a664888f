"""Makes ``data/factors.csv`` from the definitions in ``data/units.txt`` with the pint library.

Run by a developer after a change of the definitions, never while a sheet is read::

    python -m welltold.factor_table > pipeline/welltold/data/factors.csv

A test makes the table anew and compares.
"""

from __future__ import annotations

import sys
from decimal import Decimal, localcontext
from importlib.resources import files
from typing import Any

from .tables import Row, read_table

HEAD = """\
# How much of its base one canonical unit is. Made by welltold.factor_table from units.txt and
# canonical_units.csv: do not edit by hand.
#
# unit         canonical unit
# kind         dimension; only units of one kind convert by factor
# base         what the kind counts in
# multiply_by  value in base = (value in unit - zero) * multiply_by
# zero         the reading at which the base reads 0 (32 for degrees Fahrenheit)
# citation     where the definition comes from
unit,kind,base,multiply_by,zero,citation
"""
DIGITS = 25
"""Significant digits of a factor that has no finite decimal form."""


def registry() -> Any:
    """Return a pint registry that knows our own definitions and nothing else, in Decimal."""
    import pint  # late: it takes a fifth of a second to load

    made: Any = pint.UnitRegistry(
        None, non_int_type=Decimal, autoconvert_offset_to_baseunit=True, cache_folder=None
    )
    definitions = (files("welltold") / "data" / "units.txt").read_text("utf-8")
    made.load_definitions(definitions.splitlines())
    return made


def factor_table() -> str:
    """Return the text of ``data/factors.csv``."""
    rows = list(read_table("canonical_units.csv"))
    expressions = {row.text("unit"): row.cells["expression"] for row in rows}
    with localcontext() as context:
        context.prec = 2 * DIGITS
        units = registry()
        return HEAD + "".join(_line(units, row, expressions) for row in rows)


def _line(units: Any, row: Row, expressions: dict[str, str]) -> str:
    unit, base = row.text("unit"), row.text("base")
    factor, zero = Decimal(1), Decimal(0)
    if unit != base and expressions[unit]:
        factor, zero = _affine(units, expressions[unit], expressions[base])
    cells = (unit, row.text("kind"), base, _plain(factor), _plain(zero), row.text("citation"))
    return ",".join(cells) + "\n"


def _affine(units: Any, unit: str, base: str) -> tuple[Decimal, Decimal]:
    """Return factor and zero of ``base = (unit - zero) * factor``, from two points."""
    at_zero, at_one = (
        Decimal(units.Quantity(Decimal(value), unit).to(base).magnitude) for value in (0, 1)
    )
    factor = at_one - at_zero
    return factor, -at_zero / factor


def _plain(number: Decimal) -> str:
    rounded = round(number, DIGITS - number.adjusted() - 1) if number else number
    text = f"{rounded:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


if __name__ == "__main__":
    sys.stdout.write(factor_table())

"""What earlier sheets of the same well say, as published in ``welltold.report/1``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .messages import Message
from .reading import Operator


@dataclass(frozen=True, slots=True)
class EarlierSheet:
    """One earlier sheet, or one sample of it that stands beside the present one."""

    file: str
    sha256: str
    sample: str | None = None
    """The lab's number for the sample; None where none is used."""
    point: str | None = None
    collected: str | None = None
    matched: bool = False
    """Whether a sample of it was taken at the same place."""
    why: tuple[Message, ...] = ()
    """Why it is used, or why not."""


@dataclass(frozen=True, slots=True)
class EarlierResult:
    """One earlier result of an analyte."""

    sheet: int
    """Position of its sheet in ``Earlier.sheets``, from 1."""
    collected: str | None
    text: str
    """As printed."""
    printed_unit: str | None
    operator: Operator | None
    value: Decimal | None
    """In the unit and basis of the history that it stands in."""
    present: bool | None
    comparable: bool
    why: tuple[Message, ...] = ()
    """Why it is not comparable; empty when it is."""


@dataclass(frozen=True, slots=True)
class History:
    """The earlier results of one analyte, the oldest first, without the present one."""

    analyte: str
    unit: str | None
    """Unit and basis of the present finding."""
    basis: str | None
    results: tuple[EarlierResult, ...]


@dataclass(frozen=True, slots=True)
class Earlier:
    """What earlier sheets of the same well say; it never decides a verdict."""

    sheets: tuple[EarlierSheet, ...]
    analytes: tuple[History, ...]
    """In the order of the findings."""

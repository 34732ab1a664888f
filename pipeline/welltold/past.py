"""What earlier sheets of the same well say, as published in ``welltold.report/1``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

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
class EarlierLeft:
    """What an earlier sheet raised, and what no present result stands beside."""

    sheet: int
    """Position of its sheet in ``Earlier.sheets``, from 1."""
    analyte: str | None
    label: str
    """As printed; the plain name where it was worked out."""
    collected: str | None
    text: str
    """As printed; "" where it was worked out."""
    printed_unit: str | None
    value: Decimal | None
    """In ``unit`` and ``basis``, those of the finding of that day."""
    unit: str | None
    basis: str | None
    present: bool | None
    verdict: Literal["health_concern", "cant_tell"]
    """What that sheet says by the levels of today."""
    tested: bool
    """Whether the present sheet tests for it, in a way that cannot be compared."""
    why: tuple[Message, ...] = ()
    """Why it is not comparable, and why it was open then."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """What earlier sheets of the same well say; it never decides a verdict."""

    sheets: tuple[EarlierSheet, ...]
    analytes: tuple[History, ...]
    """In the order of the findings."""
    left: tuple[EarlierLeft, ...] = ()
    """What was raised then and cannot be followed here: health first, then the newest first."""

"""The reading: what a lab printed, and where it stands on the sheet.

These types cross every boundary and are the published contract ``welltold.reading/1``. Pages,
rows and lines count from 1; boxes are (left, top, right, bottom) in points from the top left of
the page as it is seen. Nothing here is ever the number 0 for "not found".
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from .messages import Message

if TYPE_CHECKING:
    import pandas as pd

SCHEMA = "welltold.reading/1"

State = Literal[
    "value", "below", "above", "present", "absent", "trace", "too_many", "blank", "unreadable"
]
Operator = Literal["=", "<", ">"]
Taken = Literal["first_draw", "flushed", "raw", "treated"]
Use = Literal["as_is", "look"]
Fraction = Literal["total", "dissolved"]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Where:
    """One place on the sheet."""

    of: Literal["value", "label", "unit", "limit", "header"]
    page: int | None = None
    """Page of a paged document, from 1; None in a workbook or table file."""
    sheet: str | None = None
    """Name of the sheet of a workbook; "" for a file that is one table."""
    box: Box | None = None
    """Points from the top left of the page as it is seen."""
    cell: str | None = None
    """``B7`` in a workbook or a separated file; ``L12C30`` (line, column) in plain text."""
    text: str | None = None
    """What is printed there, of a heading: the name of the column."""


@dataclass(frozen=True, slots=True)
class Normalized:
    """The value in the analyte's own unit and basis."""

    value: Decimal
    unit: str
    basis: str | None


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another reading of the same place that was not chosen."""

    text: str
    value: Decimal | None
    why: str


@dataclass(frozen=True, slots=True)
class Correction:
    """What a person put in place of the printed text."""

    text: str
    value: Decimal | None
    by: str
    at: str
    """ISO 8601."""
    printed_unit: str | None = field(default=None, metadata={"omit": True})
    """The unit as printed, "" for none, where another was typed; None: the unit stands."""


@dataclass(frozen=True, slots=True)
class Result:
    """One analyte's result in one sample."""

    analyte: str | None
    """Slug in the registry, or None when the label is not known."""
    label: str
    """The analyte's name exactly as printed."""
    text: str
    """The result exactly as printed."""
    state: State
    operator: Operator = "="
    value: Decimal | None = None
    """The printed number in the printed unit; the limit itself for ``<`` and ``>``."""
    present: bool | None = None
    """For presence/absence tests only."""
    unit: str | None = None
    """The unit as printed."""
    basis: str | None = None
    """``N``, ``NO3``, ``CaCO3``, ``P`` ...; None when the sheet leaves it open."""
    fraction: Fraction | None = None
    qualifiers: tuple[str, ...] = ()
    method: str | None = None
    analyzed: str | None = None
    cas: str | None = None
    reporting_limit: Decimal | None = None
    detection_limit: Decimal | None = None
    printed_limit: str | None = None
    """The limit of a rule that the lab printed beside the result, as printed."""
    normalized: Normalized | None = None
    decimals: int | None = None
    """Digits printed behind the decimal point."""
    shown: str | None = None
    """In a workbook: the cell as it is displayed, when it differs from what is stored."""
    stored: str | None = None
    alternatives: tuple[Alternative, ...] = ()
    correction: Correction | None = None
    confidence: float = 1.0
    """The share of such readings that is right."""
    review: tuple[Message, ...] = ()
    """Why a person should look; never empty when ``use`` is "look"."""
    where: tuple[Where, ...] = ()

    @property
    def use(self) -> Use:
        """Whether the result may be used as it is, or a person should look first."""
        return "look" if self.review else "as_is"

    @property
    def stated(self) -> str:
        """The result as it counts: what a person put in its place, else as printed."""
        return self.correction.text if self.correction else self.text


@dataclass(frozen=True, slots=True)
class Sample:
    """One bottle, or one set of bottles taken together."""

    id: str | None = None
    """The lab's number for the sample."""
    point: str | None = None
    """Where it was taken, or what the client calls it."""
    collected: str | None = None
    """ISO 8601 date, or date and time."""
    received: str | None = None
    matrix: str | None = None
    taken: Taken | None = None
    results: tuple[Result, ...] = ()


@dataclass(frozen=True, slots=True)
class Unread:
    """Something that looks like a result and was not understood."""

    text: str
    where: Where
    reason: Message


@dataclass(frozen=True, slots=True)
class Numbers:
    """How many numbers a file shows, and how many of them were taken for what.

    A number is a printed word with a digit, or a cell of a sheet with a digit. The roles add up to
    ``shown``; none is counted twice.
    """

    shown: int = 0
    results: int = 0
    limits: int = 0
    """Limits, levels and ranges that are printed beside results."""
    metadata: int = 0
    """Dates, numbers of samples and reports, methods, pages, telephones, addresses."""
    quality_control: int = 0
    beside: int = 0
    """What else belongs to results: dilutions, uncertainties, earlier results, statistics."""
    headings: int = 0
    """In heads of tables and names of tests: "2,4-D"."""
    text: int = 0
    """In sentences and other places that name no test."""
    unread: int = 0


@dataclass(frozen=True, slots=True)
class Source:
    """The file that was read."""

    file: str
    """The file's name without its folder."""
    sha256: str
    kind: str
    """``pdf``, ``xlsx``, ``xls``, ``ods``, ``csv``, ``html``, ``text``, ``typed`` ..."""
    pages: int
    """Pages of a document, sheets of a workbook."""


@dataclass(frozen=True, slots=True)
class Lab:
    """Who reported, as printed."""

    name: str | None = None
    report_id: str | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything that was read from one file."""

    source: Source
    lab: Lab = Lab()
    samples: tuple[Sample, ...] = ()
    unread: tuple[Unread, ...] = ()
    warnings: tuple[Message, ...] = ()
    numbers: Numbers | None = field(default=None, compare=False, metadata={"omit": True})
    """What became of each number of the file; None where that was not counted."""

    @property
    def results(self) -> tuple[Result, ...]:
        """All results of all samples, in the sheet's order."""
        return tuple(result for sample in self.samples for result in sample.results)

    @property
    def doubts(self) -> int:
        """How many results need a look, plus how many lines were not understood."""
        return sum(result.use == "look" for result in self.results) + len(self.unread)

    def to_frame(self) -> pd.DataFrame:
        """Return one row a result, with the columns of `welltold.rows.COLUMNS`.

        Numbers are floats here, for computing; the printed text stands beside them.
        """
        from .frame import to_frame

        return to_frame(self)

"""What is known at one point of the sheet, and what has been gathered so far."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from welltold.messages import Message, say
from welltold.reading import Unread
from welltold.units import basis_of, units_in

from .accounts import Accounts
from .blocks import block_kind
from .build import build
from .cells import Cell, Line, join, where
from .dates import stamp
from .metadata import Fact, sample_facts, unit_for_all
from .printed import Printed, Section
from .samples import Facts, Samples
from .tokens import analyte_in, analytes_within, is_method, value_of
from .words import heading_region, split_unit

if TYPE_CHECKING:
    from .listing import ListReader

_DISSOLVED = re.compile(r"(?i)\bdissolved\b|\bfiltered\b(?! tap)")
_TOTAL = re.compile(r"(?i)\btotal (?:recoverable )?metals\b")
_METHOD_IN = re.compile(
    r"(?i)\b(?:(?:EPA|SM|ASTM|SW-?846|USGS|HACH)(?: method)?[\s:#-]*\w?\d[\w.-]*"
    r"(?:[ -][A-Z]\b)?|E\d{3}\.\d)"
)
_SAMPLE_LINE = re.compile(r"^((?=\S*\d\S*\d)[A-Z]{0,6}[-/]?\d[\w/.-]{3,18})(?=[\s:,(])(.*)$")
_WITH_BASIS = re.compile(r"[^(,]+?,?\s*\(?as \w+\)?|[\w ]+-N\b")
_ND_MEANS = re.compile(
    r"\b(?:N\.?D\.?|BDL|BRL)\s*(?:=|:|-|–|means|indicates)\s*"
    r"(?:not detected[^\d<]{0,30}|none detected[^\d<]{0,30})?"
    r"(?:less than|below|under|at|<)?\s*(?:a limit of\s*)?([\d.].*)$"
)
_TEST_KEY = re.compile(r"(?i)^(?:test|analysis|analyte|parameter|determination)s?\s*:\s*")
_DASH = re.compile(r"\s+[–—-]\s+|[.;:]\s")
_TITLE = 12
"""A title has no more words."""
_ON_ARRIVAL = re.compile(
    r"(?i)\b(?:(?:on|at|upon) (?:arrival|receipt)|when received|as received temp|cooler"
    r"|temp(?:erature)? blank)\b"
)
_MARKED = re.compile(r"^\s*(?:[-–—:|/]\s|\()")
_SHORT = 14
"""A row of more cells is not quoted whole."""
_LASTING = frozenset({"qc", "custody", "history", "limits", "methods", "invoice", "summary"})
_NOT_RESULTS = frozenset(
    {
        "qc",
        "custody",
        "methods",
        "limits",
        "history",
        "definitions",
        "accreditation",
        "invoice",
        "summary",
        "qc_sample",
        "blank_sample",
    }
)
_COUNTED = {"qc_sample": "qc", "blank_sample": "blank"}


class Title(NamedTuple):
    """The only analyte that a title or the text above a table names."""

    name: str
    cell: Cell
    how: str
    """Which doubt it leaves."""
    unit: str | None


class Context:
    """The state of one reading."""

    __slots__ = (
        "accounts",
        "blanks",
        "counts",
        "day_first",
        "key_unit",
        "last_heading",
        "decimal_comma",
        "lab_name",
        "listing",
        "nd_defined",
        "page_unit",
        "region",
        "report_id",
        "samples",
        "section",
        "title_analyte",
        "turned",
        "unread",
        "warnings",
    )

    def __init__(self, *, decimal_comma: bool, day_first: bool) -> None:
        self.decimal_comma = decimal_comma
        self.day_first = day_first
        self.samples = Samples(day_first=day_first)
        self.section = Section()
        self.page_unit: Cell | None = None
        self.nd_defined: Cell | None = None
        self.region: str | None = None
        self.accounts = Accounts()
        self.last_heading: Line | None = None
        self.key_unit: tuple[str, Cell] | None = None
        """The unit that a key names for its page: "Units: ng/L"."""
        self.turned = False
        self.title_analyte: Title | None = None
        self.listing: ListReader | None = None
        self.unread: list[Unread] = []
        self.warnings: list[Message] = []
        self.counts: dict[str, int] = {}
        self.blanks: list[str] = []
        self.report_id: str | None = None
        self.lab_name: str | None = None

    @property
    def closed(self) -> bool:
        """Whether the current part of the sheet holds no results."""
        return self.region in _NOT_RESULTS

    def count(self, what: str) -> None:
        """Count a number-bearing row that is accounted for without being a result."""
        what = _COUNTED.get(what, what)
        self.counts[what] = self.counts.get(what, 0) + 1

    def emit(self, printed: Printed) -> None:
        """Add one result, or the line as unread."""
        if self.page_unit is not None:
            printed.cells.setdefault("page_unit", self.page_unit)
        if self.nd_defined is not None:
            printed.cells["nd_defined"] = self.nd_defined
        self.accounts.settle(printed.label_cell.line, printed.value_cell.line)
        if printed.draft.unsure:
            printed.doubt("sample_unsure")
        if _ON_ARRIVAL.search(printed.label):
            self.count("custody")
            return
        result = build(printed, decimal_comma=self.decimal_comma)
        if result is None:
            line = printed.value_cell.line
            short = len(line.cells) <= _SHORT and printed.label_cell.line is line
            whole = join(line.cells) if short else join([printed.label_cell, printed.value_cell])
            numbers = any(c.isdigit() for c in printed.text)
            self.lost(printed.value_cell, "not_understood" if numbers else "words_only", whole.text)
        else:
            printed.draft.results.append(result)

    def lost(self, cell: Cell, why: str, text: str | None = None) -> None:
        """Keep something that looks like a result and was not understood."""
        self.accounts.settle(cell.line)
        place = where("value", cell)
        self.unread.append(Unread(text or cell.text, place, say(f"read.{why}")))

    def _sample_heading(self, text: str) -> bool:
        """Take up a heading that is a sample's number, place and date without any key."""
        found = _SAMPLE_LINE.match(text)
        if not found or is_method(found[1]) or analyte_in(text) is not None:
            return False
        rest = found[2]
        day = stamp(rest, day_first=self.day_first)
        if day is not None:
            self.samples.note("collected", rest[day.start : day.end])
            rest = f"{rest[: day.start]} {rest[day.end :]}"
        place = rest.strip(" -–—:|/(),.;")
        if day is None and not _MARKED.match(found[2]):
            return False
        self.samples.note("sample_id", found[1])
        if place:
            self.samples.note("point", place)
        return True

    def start_list(self, reader: ListReader, lines: Sequence[Line]) -> None:
        """Begin a list of places; the one before it is complete."""
        self.end_list()
        self.listing = reader
        reader.read(lines)

    def end_list(self) -> None:
        """Add what the list of places holds."""
        if self.listing is not None:
            self.listing.finish()
            self.listing = None

    def look_for_unit(self, lines: Sequence[Line]) -> None:
        """Keep the unit that one line, above or below, states for the whole page."""
        found: dict[str, Line] = {}
        for line in lines:
            self._look_for_nd(line)
            if any(" in " in c.text or ":" in c.text for c in line.cells):
                text = line.text
                unit = unit_for_all(text) if len(text) < 200 else None
                if unit and len(text.split()) >= 2:
                    found.setdefault(unit, line)
        if len(found) == 1:
            unit, line = next(iter(found.items()))
            self.page_unit = _cell_of(join(line.cells), unit)

    def _look_for_nd(self, line: Line) -> None:
        """Keep the limit in a footnote such as "ND = less than 0.1 ppm"."""
        if not any("ND" in c.text or "N.D" in c.text or "BDL" in c.text for c in line.cells):
            return
        match = _ND_MEANS.search(line.text)
        if match and (piece := _number_and_unit(match[1])):
            self.nd_defined = _cell_of(join(line.cells), piece)

    def look_for_title(self, lines: Sequence[Line]) -> None:
        """Keep the only analyte that the lines above a table name, for tables that name none."""
        found: dict[str, Title] = {}
        for line, text in _clauses(lines):
            words = text.split()
            for start, end, match in analytes_within(text):
                name = " ".join(words[start:end]).strip("()[],.;:!?\"'")
                title = len(words) <= _TITLE
                if title:
                    name = self._title_name(text, name)
                how = "analyte_from_heading" if title else "analyte_from_text"
                unit = next(iter(units_in(text)), None) if title else None
                found.setdefault(match.slug, Title(name, line.cells[0], how, unit))
        if len(found) == 1:
            self.title_analyte = next(iter(found.values()))

    def _title_name(self, text: str, name: str) -> str:
        """Return the analyte's name in a title with its basis: "Nitrate (as N)"."""
        at = text.find(name)
        more = _WITH_BASIS.match(text, at) if at >= 0 else None
        return (more[0] if more and analyte_in(more[0]) else name).strip(" ,:;.")

    def _fact(self, fact: Fact) -> None:
        """Take up what holds for the report or the section rather than for a sample."""
        if fact.role == "report_id":
            if self.report_id is None and any(c.isdigit() for c in fact.text):
                self.report_id = fact.text
        elif fact.role == "lab_name":
            self.lab_name = self.lab_name or fact.text
        elif fact.role == "method":
            self.section = replace(self.section, method=fact.text)
        elif fact.role == "unit":
            self.section = replace(self.section, unit=fact.text, unit_cell=fact.cell)
            self.key_unit = fact.text, fact.cell

    def facts(self, facts: list[Fact]) -> None:
        """Take up keys and values."""
        for fact in facts:
            self._fact(fact)
        self._region_beside(facts)
        pairs = list(sample_facts(facts))
        names = [text for role, text in pairs if role in {"lab_id", "sample_id", "client_id"}]
        kind = next((k for name in names if (k := block_kind(name))), None)
        if self.region == "qc" and not (self.turned and names and not kind):
            return
        if names and (self.turned or self.region not in _LASTING):
            self.region = kind
            self.accounts.turn(facts[0].cell.line, closed=self.closed)
            if kind == "blank_sample":
                self.blanks.append(names[0])
        if kind is None:
            for role, text in pairs:
                self.samples.note(role, text)

    def _region_beside(self, facts: list[Fact]) -> None:
        """Take up a title that stands on one line with keys: "Case Narrative   Job ID: 340-7"."""
        told = {id(f.cell) for f in facts}
        keys = {f.key for f in facts}
        for cell in facts[0].cell.line.cells if facts else ():
            if id(cell) in told or cell.text in keys or ":" in cell.text:
                continue
            region = heading_region(cell.text)
            if region:
                self._enter(region)
                self.accounts.turn(cell.line, closed=self.closed)

    def _enter(self, region: str) -> None:
        self.region = None if region == "results" else region
        self.turned = False

    def reopens(self, facts: Facts) -> bool:
        """Whether a row of a known sample, on a page behind quality control, ends that part."""
        if self.region == "qc" and self.turned and self.samples.knows(facts):
            self.region = None
        return not self.closed

    def turn(self) -> None:
        """Begin another page or sheet: a part that was closed before may be over."""
        self.turned = True
        self.key_unit = None

    def heading_over(self, left: float, right: float, head: Line) -> None:
        """Take up the part of the last heading that stands over one of several tables."""
        line = self.last_heading
        if line is None or line.page != head.page or head.top - line.bottom > 4 * head.height:
            return
        if len(line.cells) < 2 or head.sheet is not None:
            return
        over = [c for c in line.cells if left - 2 <= c.left < right]
        if len(over) == 1:
            self.section = _section(over[0].text, over[0], unit_for_all(over[0].text))

    def heading(self, line: Line) -> None:
        """Take up a heading: a region, a unit, a method, a fraction, an analyte."""
        self.last_heading = line
        text = line.text
        cell = join(line.cells)
        region = heading_region(text)
        if region and not _is_sentence(text):
            self._enter(region)
            self.accounts.turn(line, closed=self.closed)
        whole = unit_for_all(text)
        if whole and len(text.split()) > 4:
            return
        if len(line.cells) > 2 or len(text.split()) > 9 or text.endswith("."):
            return
        if self._sample_heading(text):
            return
        self.section = _section(text, cell, whole)
        if self.section.unit is None and self.key_unit is not None:
            unit, place = self.key_unit
            self.section = replace(self.section, unit=unit, unit_cell=place)


def _number_and_unit(text: str) -> str | None:
    words = text.split()
    for size in range(min(5, len(words)), 1, -1):
        piece = " ".join(words[:size]).rstrip(".,;)")
        value = value_of(piece)
        if value is not None and value.unit_text:
            return piece
    return None


def _is_sentence(text: str) -> bool:
    """Whether a line is a remark that only contains the words of a heading."""
    return text.rstrip().endswith(".") or text[:1] in "*†‡" or text[:1].islower()


def _clauses(lines: Sequence[Line]) -> Iterator[tuple[Line, str]]:
    """Yield each line; only the words before a dash where a long line begins as a title does."""
    for line in lines:
        text = line.text
        start = _DASH.split(text, maxsplit=1)[0]
        short = len(text.split()) > _TITLE and 2 <= len(start.split()) <= _TITLE
        if short and start != text and analytes_within(start):
            yield line, start
            yield line, text[len(start) :]
        else:
            yield line, text


def _cell_of(cell: Cell, text: str) -> Cell:
    return Cell(
        text, (cell.left, cell.top, cell.right, cell.bottom), cell.line, cell.words, cell.source
    )


def _before_method(text: str, end: int) -> str:
    return _TEST_KEY.sub("", text[:end]).strip(" ,-–:(")


def _section(text: str, cell: Cell, whole: str | None) -> Section:
    bare, spelled = split_unit(_TEST_KEY.sub("", text))
    unit = whole or spelled or next(iter(units_in(text)), None)
    method = _METHOD_IN.search(text)
    fraction = "dissolved" if _DISSOLVED.search(text) else "total" if _TOTAL.search(text) else None
    names = bare if method is None else _before_method(text, method.start())
    analyte = names if analyte_in(names) else None
    basis = None
    found = re.search(r"(?i)\bas ([A-Z]\w{0,5}\d?)\b", text)
    if found:
        basis = basis_of(found[1])
    return Section(
        unit=unit,
        unit_cell=_cell_of(cell, unit) if unit else None,
        method=method[0] if method else (text if is_method(text) else None),
        fraction=fraction,
        analyte=analyte,
        analyte_cell=cell if analyte else None,
        basis=basis,
    )

"""What is known at one point of the sheet, and what has been gathered so far."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from welltold.messages import Message, say
from welltold.reading import Unread
from welltold.units import units_in

from .accounts import Accounts
from .blocks import block_kind, second_bottle, without_continued
from .build import build
from .cells import Cell, Line, join, where
from .dates import stamp
from .facts import Fact, sample_facts
from .headings import (
    TITLE_WORDS,
    Title,
    cell_of,
    clauses,
    ends_in_unit,
    is_long,
    section_of,
    title_with_unit,
    two_units,
)
from .legends import units_told
from .page_units import PageUnits
from .printed import Printed, Section
from .region_titles import beside_keys, is_sentence
from .sample_kinds import control_kind
from .samples import Facts, Samples
from .stated_limits import NdLimits
from .stated_units import unit_for_all
from .tokens import analyte_in, analytes_within, is_method
from .words import heading_region

if TYPE_CHECKING:
    from .listing import ListReader

_SAMPLE_LINE = re.compile(r"^((?=\S*\d\S*\d)[A-Z]{0,6}[-/]?\d[\w/.-]{3,18})(?=[\s:,(])(.*)$")
_ABOUT = re.compile(r"(?i)(?:in|levels?|results?|test\w*|sampl\w*|summary|data|concentrations?)\b")
"""What follows the test that a sheet is about: "Lead in ...", which "Ferrous Ridge Lab" is not."""
_WITH_BASIS = re.compile(r"[^(,]+?,?\s*\(?as \w+\)?|[\w ]+-N\b")
_CLAUSE = re.compile(r";|(?<=[A-Za-z)])\.\s|(?<=\d)\.\s(?=[A-Z])")
_SIGN_BEHIND = re.compile(r"^(.*[\w)*])[\s:]*([<>≤≥])$")
"""A name that took the sign of its number along: "Lead: <"."""
_ON_ARRIVAL = re.compile(
    r"(?i)\b(?:(?:on|at|upon) (?:arrival|receipt)|when received|as received temp|cooler"
    r"|temp(?:erature)? blank)\b"
)
_MARKED = re.compile(r"^\s*(?:[-–—:|/]\s|\()")
_CONTROL_SHEET = re.compile(
    r"(?i)^(?:lab(?:oratory)? )?(?:qc|qa|qa[ /_-]?qc)(?: (?:data|results))?$"
)
_CHART_SHEET = re.compile(r"(?i)\b(?:charts?|graphs?|plots?|trends?)\b")
_MAY_STATE = re.compile(r" in | are | unless |:")
_STATED = 400
"""Letters of a line that may state the unit for a page."""
_PLACE = 6
_SHORT = 14
"""A row of more cells is not quoted whole."""
_LASTING = frozenset({"qc", "custody", "history", "limits", "methods", "invoice", "summary"})
_NOT_RESULTS = _LASTING | {"definitions", "accreditation", "qc_sample", "blank_sample"}
_CONTROLS = frozenset({"qc_sample", "blank_sample"})
_COUNTED = {"qc_sample": "qc", "blank_sample": "blank"}


class Context:
    """The state of one reading."""

    __slots__ = (
        "accounts",
        "blanks",
        "counts",
        "day_first",
        "decimal_comma",
        "key_unit",
        "lab_name",
        "last_heading",
        "legend",
        "listing",
        "named",
        "named_sheet",
        "nd_defined",
        "nd_limit",
        "page_units",
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
        self.page_units = PageUnits()
        self.nd_defined = NdLimits()
        self.nd_limit: str | None = None
        """Which of the laboratory's limits the sheet says that "ND" stands for."""
        self.legend: dict[str, Cell] = {}
        """Names of tests, in small letters, with the unit that a legend gives them."""
        self.region: str | None = None
        self.accounts = Accounts()
        self.named: set[str] = set()
        """Which names of the blank or control are told since its last row."""
        self.named_sheet = False
        """The name of the sheet says that it holds no results."""
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
        self.named = set()
        what = _COUNTED.get(what, what)
        self.counts[what] = self.counts.get(what, 0) + 1

    def emit(self, printed: Printed) -> None:
        """Add one result, or the line as unread."""
        sign = _SIGN_BEHIND.match(printed.label)
        if sign is not None:
            printed.label = sign[1]
            printed.cells.setdefault("sign", cell_of(printed.label_cell, sign[2]))
        unit = self._legend_unit(printed.label) or self.page_units.unit
        if unit is not None:
            printed.cells.setdefault("page_unit", unit)
        printed.nd_limit = self.nd_limit
        if (limit := self.nd_defined.of(printed.name or printed.label)) is not None:
            printed.cells["nd_defined"] = limit
        self.accounts.settle(printed.label_cell.line, printed.value_cell.line)
        if printed.draft.unsure:
            printed.doubt("sample_unsure")
        if _ON_ARRIVAL.search(printed.label):
            self.count("custody")
            return
        answer = printed.label_cell.line.answer
        if answer is not None and printed.text != answer[1].text:
            # beside a ticked answer stands a limit, or a count that may say something else
            self.lost(printed.value_cell, "ticks_unclear", join(printed.label_cell.line.cells).text)
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

    def _legend_unit(self, label: str) -> Cell | None:
        """Return the unit that a legend gives to the tests whose names begin so."""
        if not self.legend:
            return None
        words = label.lower().split()
        starts = (" ".join(words[:size]) for size in range(len(words), 0, -1))
        return next((c for s in starts if (c := self.legend.get(s))), None)

    def lost(self, cell: Cell, why: str, text: str | None = None) -> None:
        """Keep something that looks like a result and was not understood."""
        self.accounts.settle(cell.line)
        place = where("value", cell)
        self.unread.append(Unread(text or cell.text, place, say(f"read.{why}")))

    def _sample_heading(self, text: str) -> bool:
        """Take up a heading that is a sample's number, place and date without any key."""
        text = without_continued(text)
        if self._known_sample(text):
            return True
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

    def _known_sample(self, text: str) -> bool:
        """Take up a heading that begins with a sample's number that was told before."""
        first, _, place = text.partition(" ")
        if any(c.isdigit() for c in text) and (role := self.samples.role_of(text)):
            self.samples.note(role, text)
            return True
        role = self.samples.role_of(first) if sum(c.isdigit() for c in first) > 1 else None
        if role is None or len(place.split()) > _PLACE:
            return False
        self.samples.note(role, first)
        if place.strip(" -–—:|()"):
            self.samples.note("point", place.strip(" -–—:|()"))
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
            self.nd_defined.look(line)
            if any(_MAY_STATE.search(c.text) for c in line.cells):
                text = line.text
                self.look_for_legend(line)
                unit = _stated(text) if len(text) < _STATED else None
                unit = unit or next((u for c in line.cells if (u := unit_for_all(c.text))), None)
                if unit and len(text.split()) >= 2:
                    found.setdefault(unit, line)
        if len(found) == 1:
            self.page_units.state(*next(iter(found.items())))
        elif not found:
            self.page_units.without_statement(lines)

    def look_for_legend(self, line: Line) -> None:
        """Keep the units that a line gives to tests by name."""
        self.legend.update((n, cell_of(join(line.cells), u)) for n, u in units_told(line))

    def look_for_title(self, lines: Sequence[Line]) -> None:
        """Keep the only analyte that the lines above a table name, for tables that name none."""
        found: dict[str, Title] = {}
        leading: dict[str, Title] = {}
        for line, text in clauses(lines):
            words = text.split()
            for start, end, match in analytes_within(text):
                name = " ".join(words[start:end]).strip("()[],.;:!?\"'—– ")
                title = len(words) <= TITLE_WORDS
                if title:
                    name = self._title_name(text, name)
                how = "analyte_from_heading" if title else "analyte_from_text"
                unit = next(iter(units_in(text)), None) if title else None
                known = found.get(match.slug)
                if known is None or (known.unit is None and unit is not None):
                    found[match.slug] = Title(name, line.cells[0], how, unit)
                if title and start == 0 and _ABOUT.match(" ".join(words[end:])):
                    leading[match.slug] = found[match.slug]
        named = leading if len(leading) == 1 else found
        if len(named) == 1:
            self.title_analyte = next(iter(named.values()))

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
        pairs = [(role, without_continued(text)) for role, text in sample_facts(facts)]
        names = [text for role, text in pairs if role in {"lab_id", "sample_id", "client_id"}]
        kinds = [block_kind(name) for name in names]
        kinds += [control_kind(text) for role, text in pairs if role == "point"]
        kind = next((k for k in kinds if k), None)
        if kind == "qc_sample" and second_bottle(dict(pairs)):
            kind = None
        if self.region == "qc" and not (self.turned and names and not kind):
            return
        roles = {r for r, _ in pairs} & {"lab_id", "sample_id", "client_id", "point"}
        if self.region in _CONTROLS and self.named and not roles & self.named:
            self.named |= roles
            return  # another name of the same blank or control
        if names and (self.turned or self.region not in _LASTING):
            self.region = kind
            self.named = roles
            self.accounts.turn(facts[0].cell.line, closed=self.closed)
            if kind == "blank_sample":
                self.blanks.append(names[0])
        if kind:
            self.samples.forget()
        if kind is None:
            for role, text in pairs:
                self.samples.note(role, text)

    def _region_beside(self, facts: list[Fact]) -> None:
        """Take up a title that stands on one line with keys: "Case Narrative   Job ID: 340-7"."""
        for cell, region in beside_keys(facts):
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

    def open_sheet(self, name: str | None) -> None:
        """Close a sheet of a workbook named for controls or charts; open the next again."""
        told = name is not None and (heading_region(name) == "qc" or _CONTROL_SHEET.search(name))
        drawn = name is not None and _CHART_SHEET.search(name) and self.samples.drafts
        if told or drawn:
            self.region, self.named_sheet = "qc" if told else "history", True
            self.turned = False
        elif self.named_sheet:
            self.region, self.named_sheet = None, False

    def heading_over(self, left: float, right: float, head: Line) -> None:
        """Take up the part of the last heading that stands over one of several tables."""
        line = self.last_heading
        if line is None or line.page != head.page or head.top - line.bottom > 4 * head.height:
            return
        if len(line.cells) < 2 or head.sheet is not None:
            return
        over = [c for c in line.cells if left - 2 <= c.left < right]
        if len(over) == 1:
            self.section = section_of(over[0].text, over[0], unit_for_all(over[0].text))

    def heading(self, line: Line) -> None:
        """Take up a heading: a region, a unit, a method, a fraction, an analyte."""
        self.last_heading = line
        text = line.text
        cell = join(line.cells)
        region = heading_region(text)
        if region and not is_sentence(text):
            self._enter(region)
            self.accounts.turn(line, closed=self.closed)
        whole = unit_for_all(text)
        own = title_with_unit(text)
        if whole and own is None and len(text.split()) > 4:
            return
        many = len(line.cells) > 2 and not ends_in_unit(line.cells)
        if many or is_long(text) or text.endswith("."):
            return
        if self._sample_heading(text):
            return
        self.section = section_of(text, cell, own or whole)
        if two_units(line.cells):
            self.section = replace(self.section, unit=None, unit_cell=None)
        if self.section.unit is None and self.key_unit is not None:
            unit, place = self.key_unit
            self.section = replace(self.section, unit=unit, unit_cell=place)


def _stated(text: str) -> str | None:
    """Return the unit for all results that a line states, in one of its clauses."""
    found = (unit_for_all(clause) for clause in (text, *_CLAUSE.split(text)))
    return next((unit for unit in found if unit), None)

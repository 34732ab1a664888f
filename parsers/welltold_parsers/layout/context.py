"""What is known at one point of the sheet: its part, its heading, its unit, its title."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from .blocks import block_kind, second_bottle, without_continued
from .cells import Cell, Line, join
from .drafts import Facts
from .facts import Fact, sample_facts
from .gathered import Gathered
from .headings import (
    Title,
    ends_in_unit,
    is_long,
    section_of,
    title_with_unit,
    two_units,
)
from .legends import is_note_of_units
from .printed import Printed, Section
from .region_titles import beside_keys, is_legend, is_row, is_sentence, region_of_sheet
from .sample_headings import note_sample
from .sample_kinds import control_kind, kind_by_key
from .samples import Samples
from .sheet_titles import only_test
from .stated_units import may_state, unit_for_all
from .words import heading_region

if TYPE_CHECKING:
    from .listing import ListReader
    from .tables_again import Titled

_LASTING = frozenset({"qc", "custody", "history", "limits", "methods", "invoice", "summary"})
_NOT_RESULTS = _LASTING | {"definitions", "accreditation", "qc_sample", "blank_sample"}
_DOUBTFUL = frozenset({"custody", "qc", "definitions"})
"""Parts that a heading alone begins; where all of a sheet stands in one, it begins none."""
_MAY_BE_PLACE = re.compile(r"QC[- ]?\d+[- ]\d+$")
"""Of a control, or of a county: "QC-26-3381" is a client's where it is a sheet's only water."""
_CONTROLS = frozenset({"qc_sample", "blank_sample"})


class Context(Gathered):
    """The state of one reading: where it stands on the sheet, beside what it has gathered."""

    __slots__ = (
        "day_first",
        "key_unit",
        "lab_name",
        "last_heading",
        "listing",
        "named_sheet",
        "opened",
        "region",
        "report_id",
        "section",
        "shut",
        "title_analyte",
        "titled",
        "turned",
    )

    def __init__(self, *, decimal_comma: bool, day_first: bool) -> None:
        super().__init__(Samples(day_first=day_first), decimal_comma=decimal_comma)
        self.day_first = day_first
        self.section = Section()
        self.region: str | None = None
        self.opened = False
        """Headings of parts without results are passed over: nothing was read with them."""
        self.shut = False
        """Such a heading was met."""
        self.named_sheet = False
        """The name of the sheet says that it holds no results."""
        self.last_heading: Line | None = None
        self.key_unit: tuple[str, Cell] | None = None
        """The unit that a key names for its page: "Units: ng/L"."""
        self.turned = False
        self.title_analyte: Title | None = None
        self.titled: list[Titled] = []
        """The tables that were read, with the titles over them."""
        self.listing: ListReader | None = None
        self.report_id: str | None = None
        self.lab_name: str | None = None

    @property
    def closed(self) -> bool:
        """Whether the current part of the sheet holds no results."""
        return self.region in _NOT_RESULTS

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

    def look_for_title(self, lines: Sequence[Line]) -> None:
        """Keep the only analyte that the lines above a table name, for tables that name none."""
        titles = [line for line in lines if not is_note_of_units(line.text)]
        self.title_analyte = only_test(titles) or self.title_analyte

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

    def _kind(self, names: Sequence[str], pairs: Sequence[tuple[str, str]]) -> str | None:
        """Return what kind of control or blank names tell of; None: a client's water."""
        kind = _kind_of(names, pairs)
        if kind == "qc_sample" and any(map(_MAY_BE_PLACE.match, names)):
            self.shut = True
            return None if self.opened else kind
        return kind

    def facts(self, facts: list[Fact]) -> None:
        """Take up keys and values."""
        for fact in facts:
            self._fact(fact)
            self.accounts.keys.append(fact.cell)
        self._region_beside(facts)
        pairs = [(role, without_continued(text)) for role, text in sample_facts(facts)]
        names = [text for role, text in pairs if role in {"lab_id", "sample_id", "client_id"}]
        kind = self._kind(names, pairs)
        if self.region == "qc" and not (self.turned and names and not kind):
            return
        roles = {r for r, _ in pairs} & {"lab_id", "sample_id", "client_id", "point"}
        if self.region in _CONTROLS and self.named and not roles & self.named:
            self.named |= roles
            return  # another name of the same blank or control
        typed = next((k for role, text in pairs if (k := kind_by_key(role, text))), None)
        if typed and not names:
            self._close_for(typed, facts[0])
            return
        kind = kind or typed
        if names and (self.turned or self.region not in _LASTING):
            self.region = kind
            self.named = roles
            self.accounts.turn(facts[0].cell.line, self.region, closed=self.closed)
            if kind == "blank_sample":
                self.blanks.append(names[0])
        if kind:
            self.samples.forget()
        if kind is None:
            keys = {(f.role, without_continued(f.text)): f.key for f in facts}
            for role, text in pairs:
                self.samples.note(role, text, keys.get((role, text), ""))

    def _close_for(self, kind: str, fact: Fact) -> None:
        """Leave out the sample of the present head: a key beside its name says what it is."""
        if self.region in _CONTROLS or self.region in _LASTING:
            return
        self.named = {"sample_type"} | self.samples.forget()
        self.region = kind
        self.accounts.turn(fact.cell.line, self.region, closed=self.closed)
        if kind == "blank_sample":
            self.blanks.append(fact.text)

    def _region_beside(self, facts: list[Fact]) -> None:
        """Take up a title that stands on one line with keys: "Case Narrative   Job ID: 340-7"."""
        for cell, region in beside_keys(facts):
            self._enter(region)
            self.accounts.turn(cell.line, self.region, closed=self.closed)

    def emit(self, printed: Printed) -> None:
        """Add one result, or the line as unread."""
        if self.opened:
            printed.doubt("part_unsure")
        super().emit(printed)

    def _enter(self, region: str) -> None:
        if region in _DOUBTFUL:
            self.shut = True
            region = "results" if self.opened else region
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
        region = region_of_sheet(name, charts=bool(self.samples.drafts))
        if region is not None:
            self.region, self.named_sheet = region, True
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
        above, self.last_heading = self.last_heading, line
        text = line.text
        cell = join(line.cells)
        region = heading_region(text)
        if region and not is_sentence(text) and not is_legend(text) and not is_row(line):
            self._enter(region)
            self.accounts.turn(line, self.region, closed=self.closed)
        if is_note_of_units(text):
            return
        whole = unit_for_all(text)
        own = title_with_unit(text)
        if whole and own is None and len(text.split()) > 4 and may_state(line):
            return
        many = len(line.cells) > 2 and not ends_in_unit(line.cells)
        if many or is_long(text) or text.endswith("."):
            return
        if note_sample(text, self.samples):
            return
        found = section_of(text, cell, own or whole)
        if found.unit is None and found.analyte is None and _right_under(line, above):
            found = replace(found, unit=self.section.unit, unit_cell=self.section.unit_cell)
        self.section = found
        if two_units(line.cells):
            self.section = replace(self.section, unit=None, unit_cell=None)
        if self.section.unit is None and self.key_unit is not None:
            unit, place = self.key_unit
            self.section = replace(self.section, unit=unit, unit_cell=place)


def _right_under(line: Line, above: Line | None) -> bool:
    """Whether a line of a page goes on with the title above it: nothing stands between them."""
    if above is None or line.sheet is not None or line.page != above.page:
        return False
    return abs(line.top - above.bottom) < line.height and line.top > above.top


def _kind_of(names: Sequence[str], pairs: Sequence[tuple[str, str]]) -> str | None:
    """Return the kind of a sample by the names in a line of its head; None for a client's."""
    kinds = [block_kind(name) for name in names]
    kinds += [control_kind(text) for role, text in pairs if role == "point"]
    kind = next((k for k in kinds if k), None)
    return None if kind == "qc_sample" and second_bottle(dict(pairs)) else kind

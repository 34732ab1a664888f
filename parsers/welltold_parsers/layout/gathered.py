"""What has been gathered from a sheet so far: results, counts, and what was not understood."""

from __future__ import annotations

import re
from collections.abc import Sequence

from welltold.messages import say
from welltold.reading import Unread

from .accounts import Accounts
from .build import build
from .cells import Cell, Line, join, where
from .headings import cell_of
from .legends import Legend
from .listed_limits import ListedLimits
from .page_units import PageUnits
from .printed import Printed
from .samples import Samples
from .stated_limits import NdLimits
from .stated_units import may_state, unit_on_line
from .told_words import Exact
from .zeros import Zeros

_SIGN_BEHIND = re.compile(r"^(.*[\w)*])[\s:]*([<>≤≥])$")
"""A name that took the sign of its number along: "Lead: <"."""
_ON_ARRIVAL = re.compile(
    r"(?i)\b(?:(?:on|at|upon) (?:arrival|receipt)|when received|as received temp|cooler"
    r"|temp(?:erature)? blank)\b"
)
_SHORT = 14
"""A row of more cells is not quoted whole."""
_COUNTED = {"qc_sample": "qc", "blank_sample": "blank"}


class Gathered:
    """The results of one reading, with the units and limits that the sheet states for all."""

    __slots__ = (
        "accounts",
        "blanks",
        "counts",
        "decimal_comma",
        "exact",
        "legend",
        "listed_limits",
        "minus",
        "named",
        "nd_defined",
        "nd_limit",
        "page_units",
        "samples",
        "unread",
        "zeros",
    )

    def __init__(self, samples: Samples, *, decimal_comma: bool) -> None:
        self.samples = samples
        self.decimal_comma = decimal_comma
        self.page_units = PageUnits()
        self.nd_defined = NdLimits()
        self.listed_limits = ListedLimits()
        self.nd_limit: str | None = None
        """Which of the laboratory's limits the sheet says that "ND" stands for."""
        self.minus = False
        """The sheet answers with plus and minus."""
        self.zeros = Zeros()
        self.legend = Legend()
        self.accounts = Accounts()
        self.exact = Exact()
        self.named: set[str] = set()
        """Which names of the blank or control are told since its last row."""
        self.unread: list[Unread] = []
        self.counts: dict[str, int] = {}
        self.blanks: list[str] = []

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
        unit = self.legend.unit_of(printed.label, printed.name) or self.page_units.unit
        if unit is not None:
            printed.cells.setdefault("page_unit", unit)
        printed.nd_limit, printed.minus = self.nd_limit, self.minus
        printed.zero_below = self.zeros.below([printed.head.text if printed.head else ""])
        if (limit := self.nd_defined.of(printed.name or printed.label)) is not None:
            printed.cells["nd_defined"] = limit
        self.accounts.result(printed)
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

    def lost(self, cell: Cell, why: str, text: str | None = None) -> None:
        """Keep something that looks like a result and was not understood."""
        self.accounts.lost(cell)
        place = where("value", cell)
        self.unread.append(Unread(text or cell.text, place, say(f"read.{why}")))

    def look_for_unit(self, lines: Sequence[Line]) -> None:
        """Keep the unit that one line, above or below, states for the whole page."""
        found: dict[str, Line] = {}
        for line in lines:
            self.nd_defined.look(line)
            if may_state(line):
                self.legend.look(line)
                unit = unit_on_line(line)
                if unit and len(line.text.split()) >= 2:
                    found.setdefault(unit, line)
        if len(found) == 1:
            self.page_units.state(*next(iter(found.items())))
        elif not found:
            self.page_units.without_statement(lines)

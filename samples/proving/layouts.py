"""All layouts: which arrangement is printed by which press."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from ..make import press
from . import mechanics
from .arrange import data, lists, papers, several
from .blocks import Leaf
from .presses import book_press, canvas_press, flow_press, html_press, text_press, typst_press

Arrangement = Callable[[random.Random], Leaf]
Press = Callable[[Leaf, random.Random], bytes]


@dataclass(frozen=True, slots=True)
class Layout:
    """One layout of the proving ground."""

    name: str
    arrange: Arrangement
    press: Press
    suffix: str


_PRESSES: dict[str, tuple[Press, str]] = {
    "typst": (typst_press.make, ".pdf"),
    "canvas": (canvas_press.make, ".pdf"),
    "flow": (flow_press.make, ".pdf"),
    "browser": (html_press.make, ".pdf"),
    "writer": (html_press.make_office, ".pdf"),
    "calc": (book_press.make_printed, ".pdf"),
    "xlsx": (book_press.make, ".xlsx"),
    "xls": (book_press.make_old, ".xls"),
    "ods": (book_press.make_open, ".ods"),
    "web": (html_press.make_file, ".xls"),
    "separated": (text_press.make_separated, ".csv"),
    "fixed": (text_press.make_fixed, ".txt"),
}
_NEEDS = {"browser": press.chromium, "writer": press.office, "calc": press.office}

_PLAN: dict[Arrangement, str] = {
    lists.plain: "typst canvas flow browser writer calc xlsx xls separated fixed",
    lists.long: "typst canvas flow browser xlsx",
    lists.sections: "typst canvas flow browser xlsx fixed",
    lists.flagged: "typst canvas flow browser xlsx ods separated",
    lists.decimal_commas: "typst canvas flow separated",
    lists.unit_in_label: "typst canvas flow browser xlsx separated",
    lists.unit_in_result: "typst canvas flow writer xls",
    lists.unit_in_head: "typst canvas flow xlsx separated",
    lists.unit_in_line: "typst canvas flow calc",
    lists.unit_in_section: "typst canvas flow browser xlsx",
    lists.consumer: "typst canvas flow browser",
    lists.beside: "typst canvas flow browser fixed",
    lists.card: "typst canvas fixed",
    lists.radio: "typst canvas flow xlsx",
    several.blocks: "typst canvas flow browser calc xlsx web fixed",
    several.groups: "typst canvas flow browser xlsx xls web",
    several.across: "typst canvas flow browser calc xlsx xls ods separated",
    several.down: "typst canvas flow browser xlsx ods separated",
    several.page_per_method: "typst canvas flow xlsx",
    several.indented: "typst canvas",
    several.two_tables: "typst canvas flow xlsx calc",
    papers.ticks: "typst canvas writer",
    papers.slip: "typst canvas flow writer",
    papers.letter: "typst canvas flow writer",
    papers.package: "typst canvas flow browser",
    papers.summary: "typst canvas flow xlsx",
    papers.no_report: "typst canvas flow xlsx separated",
    data.export: "xlsx xls ods separated web",
    data.signs: "xlsx xls separated",
    data.dated: "xlsx xls separated",
    data.wide: "xlsx separated ods",
}


def layouts(*, missing: bool = False) -> list[Layout]:
    """Return all layouts that can be printed here; with ``missing``, all there are."""
    made = []
    for arrange, presses in _PLAN.items():
        for name in presses.split():
            if missing or name not in _NEEDS or _NEEDS[name]():
                one, suffix = _PRESSES[name]
                made.append(Layout(f"{arrange.__name__}-{name}", arrange, one, suffix))
    return made


def _dice(seed: str) -> random.Random:
    return random.Random(seed)  # noqa: S311 - sheets are drawn, no secrets


def make_sheet(layout: Layout, seed: str) -> tuple[bytes, Leaf]:
    """Return a sheet's file and content; the same seed gives the same."""
    leaf = layout.arrange(_dice(f"{seed} content"))
    made = layout.press(leaf, _dice(f"{seed} look"))
    if layout.suffix == ".pdf":
        made = mechanics.handled(made, _dice(f"{seed} pages"))
    return made, leaf

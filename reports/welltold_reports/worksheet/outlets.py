"""Later bottles from behind the equipment, in a few lines for the work sheet."""

from __future__ import annotations

from collections.abc import Iterator

from welltold.behind import Outlet, OutletSheet
from welltold.interpretation import SampleView
from welltold.messages import say

from ..homeowner.model import Entry
from ..homeowner.outlets import bottle_lines, figures, stage_heading
from ..wording import analyte_name, texts


def outlet_lines(sample: SampleView) -> tuple[Entry, ...]:
    """Return one entry for each sheet, and one for each stage that it tells of."""
    return tuple(_entries(sample))


def _entries(sample: SampleView) -> Iterator[Entry]:
    for one in sample.outlet or ():
        yield Entry(one.file, tuple(bottle_lines(one)))
        for stage in one.stages:
            yield Entry(stage_heading(stage), tuple(_told(stage, one)))


def _told(stage: Outlet, sheet: OutletSheet) -> Iterator[str]:
    for sign in stage.signs:
        inlet, expected, found = figures(sign, sheet)
        name = analyte_name(sign.analyte)
        figure = {"name": name, "inlet": inlet, "expected": expected, "found": found}
        yield say("outlet.work_figures", **figure).text
    yield from texts(stage.why)
    look = " ".join(texts(stage.look))
    if look:
        yield say("outlet.look", told=look).text

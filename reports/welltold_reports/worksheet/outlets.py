"""Later bottles from behind the equipment, in a few lines for the work sheet."""

from __future__ import annotations

from collections.abc import Iterator

from welltold.behind import Outlet, OutletSheet
from welltold.interpretation import SampleView
from welltold.messages import say

from ..homeowner.model import Entry
from ..homeowner.outlets import figures, stage_heading
from ..wording import analyte_name, listed, texts


def outlet_lines(sample: SampleView) -> tuple[Entry, ...]:
    """Return one entry for each sheet, and one for each stage that it tells of."""
    return tuple(_entries(sample))


def _entries(sample: SampleView) -> Iterator[Entry]:
    for one in sample.outlet or ():
        yield Entry(one.file, (*_bottles(one), *texts(one.why)))
        for stage in one.stages:
            yield Entry(stage_heading(stage), tuple(_told(stage, one)))


def _bottles(sheet: OutletSheet) -> Iterator[str]:
    """Yield where the bottles were filled; the stages ahead of each stand in the report."""
    names = [one.point or one.sample or "" for one in sheet.bottles]
    if any(names):
        yield say("outlet.work_bottles", names=listed([name for name in names if name])).text


def _told(stage: Outlet, sheet: OutletSheet) -> Iterator[str]:
    """Yield the figures that tell something; the reason and the next look where all is not well."""
    for sign in stage.signs:
        if sign.state == "open" and stage.outcome != "cant_tell":
            continue
        inlet, expected, found = figures(sign, sheet)
        name = analyte_name(sign.analyte)
        if sign.expected is None:
            yield say("outlet.work_found", name=name, inlet=inlet, found=found).text
        else:
            figure = {"name": name, "inlet": inlet, "expected": expected, "found": found}
            yield say("outlet.work_figures", **figure).text
    if stage.outcome != "working":
        yield from texts((*stage.why, *stage.look))

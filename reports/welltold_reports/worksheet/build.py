"""Builds the work sheet from the interpretation; health lines come from the homeowner's report."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from welltold.interpretation import Condition, Finding, Interpretation, SampleView
from welltold.messages import Language, say, speaking
from welltold.speech import phrase

from ..homeowner.build import about, sample_line, translation_marks
from ..homeowner.model import Entry, HomeownerReport
from ..homeowner.printed import Item, items_of
from ..homeowner.stages import refused_entries, step_lines, train_blocks, train_heading
from ..night_chart import NightChart
from ..numbers import grain_count
from ..visible import only_visible
from ..wording import analyte_names, counted, in_sentence, listed, stage_name, word
from .night_picture import night_chart
from .outlets import outlet_lines
from .sizes import SizeTable, existing_lines, figure, pumping, size_tables

DESIGN = (
    "hardness", "ph", "iron", "manganese", "alkalinity", "total_dissolved_solids",
    "hydrogen_sulfide", "sulfide", "sulfate", "chloride", "sodium", "nitrate", "nitrite", "tannin",
    "silica", "turbidity", "iron_bacteria", "total_coliform", "e_coli", "arsenic", "uranium",
    "radon", "lead", "copper", "fluoride",
)  # fmt: skip
"""The results that decide stages, in the order in which a dealer asks for them."""
MOST_VALUES = 20
_SHORT = {
    "health_concern": "work_health_short",
    "watch": "work_watch_short",
    "nuisance_only": "work_nuisance_short",
    "cant_tell": "work_cant_tell_short",
}
_SITE = (
    ("home", ("people", "bathrooms", "waste", "piping", "persons")),
    ("well", ("kind", "pump_gpm", "pressure_psi")),
    ("equipment", ("in_place", "after")),
    ("tap", ("observations",)),
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing known about the site; ``value`` is "" where it has to be asked."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Value:
    """One result that a stage depends on."""

    name: str
    value: str
    verdict: str
    """"" where no concern was found."""


@dataclass(frozen=True, slots=True)
class CheckLine:
    """What a stage asks of the water, with a box for each of three answers."""

    stage: str
    asks: str
    has: str
    """"" where it is not known: a line to write on."""
    holds: bool | None
    source: str


@dataclass(frozen=True, slots=True)
class StageLine:
    """One stage of a train with its reasons."""

    name: str
    purpose: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrainLines:
    """One train: its stages in the order in which the water meets them."""

    heading: str
    names: str
    """The stages in one line; all that is said of a later choice."""
    stages: tuple[StageLine, ...]


@dataclass(frozen=True, slots=True)
class WorkSheet:
    """Everything on the sheet, ready for a page format."""

    language: Language
    title: str
    sample: str
    site: tuple[Fact, ...]
    values: tuple[Value, ...]
    more_values: str
    checks: tuple[CheckLine, ...]
    trains: tuple[TrainLines, ...]
    sizes: tuple[SizeTable, ...]
    """The first choice, stage by stage; empty where there is none."""
    existing: tuple[Entry, ...]
    """What is in place: keep, reset with its settings, or replace."""
    pump: tuple[str, ...]
    """The pump beside the largest backwash, the drain, and the worst night in words."""
    night: NightChart | None
    """The worst night as a picture."""
    outlet: tuple[Entry, ...]
    """Later bottles from behind the equipment; empty where there are none."""
    before: tuple[str, ...]
    left: tuple[str, ...]
    refused: tuple[Entry, ...]
    steps: tuple[str, ...]
    health: tuple[str, ...]
    about: tuple[str, ...]


def build_worksheet(view: Interpretation, index: int, report: HomeownerReport) -> WorkSheet:
    """Return the work sheet of the sample at ``index``, beside its homeowner's report."""
    with speaking(view.language):
        return only_visible(_sheet(view, index, report))


def _sheet(view: Interpretation, index: int, report: HomeownerReport) -> WorkSheet:
    sample = view.samples[index]
    printed = view.reading.samples
    items = items_of(sample, printed[index] if index < len(printed) else None)
    values = _values(items)
    first = sample.trains[0] if sample.trains else None
    return WorkSheet(
        language=report.language,
        title=word("title_worksheet"),
        sample=sample_line(sample),
        site=_site(view.site, sample),
        values=values[:MOST_VALUES],
        more_values=_more(len(values) - MOST_VALUES),
        checks=_checks(sample),
        trains=_trains(sample),
        sizes=size_tables(first, sample.existing or ()) if first else (),
        existing=existing_lines(sample.existing or ()),
        pump=pumping(first) if first else (),
        night=night_chart(first) if first else None,
        outlet=outlet_lines(sample),
        before=_before(sample, view.shelf_left_out),
        left=_left(sample),
        refused=refused_entries(sample),
        steps=step_lines(sample),
        health=(*report.first.main, *(step.text for step in report.first.steps)),
        about=(*about(view)[2:5], *translation_marks(view.language)),
    )


def _more(rest: int) -> str:
    return word("work_more", n=rest) if rest > 0 else ""


def _site(site: Mapping[str, Any], sample: SampleView) -> tuple[Fact, ...]:
    facts = [Fact(word("site_point"), sample.point or "")]
    flow = sample.trains[0].flow if sample.trains else None
    told = {"pump_gpm": figure(flow.pump_gpm)} if flow and flow.pump_gpm is not None else {}
    for table, keys in _SITE:
        known = site.get(table, {})
        facts += [
            Fact(word(f"site_{key}"), _fact(table, known.get(key)) or told.get(key, ""))
            for key in keys
        ]
    return tuple(facts)


def _fact(table: str, value: Any) -> str:
    """Return what a section of the site file says; equipment by the names of the stages."""
    if table != "equipment" or not value:
        return _shown(value)
    return ", ".join(in_sentence(stage_name(slug)) for slug in value)


def _shown(value: Any) -> str:
    """Return a site value as words; lists with commas, a pressure range with a dash."""
    if value is None:
        return ""
    if isinstance(value, str):
        return phrase(value).replace("_", " ")
    if isinstance(value, list | tuple):
        numbers = all(not isinstance(part, str) for part in value)
        return ("–" if numbers else ", ").join(_shown(part) for part in value)
    return str(value)


def _values(items: tuple[Item, ...]) -> tuple[Value, ...]:
    """Return the results that matter for stages: the known ones first, then all concerns."""
    tested = [item for item in items if item.finding.verdict != "not_tested"]
    rank = {slug: number for number, slug in enumerate(DESIGN)}
    chosen = [i for i in tested if i.finding.analyte in rank or _matters(i.finding)]
    chosen.sort(key=lambda item: rank.get(item.finding.analyte or "", len(rank)))
    return tuple(Value(item.heading, _marked(item), _verdict(item.finding)) for item in chosen)


def _marked(item: Item) -> str:
    """Return the result, with a mark where a person corrected it."""
    if item.result is None or item.result.correction is None:
        return _amount(item)
    return word("value_corrected_short", value=_amount(item))


def _amount(item: Item) -> str:
    """Return the result as printed; hardness also in the unit of softener sizes."""
    value = item.finding.value
    if item.finding.analyte != "hardness" or value is None or item.finding.unit != "mg/L":
        return item.amount
    if "gpg" in item.amount or "gr" in item.amount:
        return item.amount
    return word("value_familiar", printed=item.amount, familiar=f"{grain_count(value)} gpg")


def _verdict(finding: Finding) -> str:
    """Return the verdict in one word, "" where no concern was found."""
    return word(_SHORT[finding.verdict]) if finding.verdict in _SHORT else ""


def _matters(finding: Finding) -> bool:
    return finding.verdict not in {"no_concern_found", "not_tested"}


def _checks(sample: SampleView) -> tuple[CheckLine, ...]:
    """Return each condition of the first choice once, what does not hold or is not known first.

    What several stages ask for is one line with all their names.
    """
    askers: dict[Condition, list[str]] = {}
    for train in sample.trains[:1]:
        for stage in train.stages:
            for condition in stage.conditions:
                askers.setdefault(condition, []).append(stage_name(stage.stage))
    order = {False: 0, None: 1, True: 2}
    return tuple(
        CheckLine(_askers(stages), one.asks, _known(one), one.holds, phrase(one.citation))
        for one, stages in sorted(askers.items(), key=lambda pair: order[pair[0].holds])
    )


def _askers(stages: Sequence[str]) -> str:
    names = list(dict.fromkeys(stages))
    return listed([names[0], *map(in_sentence, names[1:])])


def _known(condition: Condition) -> str:
    """Return what is known of the water, also where it does not settle the condition.

    Where nothing is known the cell stays empty, to be filled in by hand.
    """
    unknown = say("treatment.has_unknown").text.partition(":")[0]
    return "" if condition.has.startswith(unknown) else condition.has


def _trains(sample: SampleView) -> tuple[TrainLines, ...]:
    """Return the first choice in full, the others in one line each."""
    return tuple(
        TrainLines(
            block.heading,
            block.names,
            tuple(StageLine(one.name, one.purpose, one.because) for one in block.stages),
        )
        for block in train_blocks(sample)
    )


def _before(sample: SampleView, left_out: int) -> tuple[str, ...]:
    names = ("retest", "flow", "space", "permit", "listing") if sample.trains else ("retest",)
    lines = tuple(word(f"work_before_{name}") for name in names)
    return (*lines, counted("work_before_shelf", left_out)) if left_out else lines


def _left(sample: SampleView) -> tuple[str, ...]:
    return tuple(
        word("work_left_line", choice=train_heading(number), names=analyte_names(train.left))
        for number, train in enumerate(sample.trains, start=1)
        if train.left
    )

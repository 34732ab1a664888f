"""The report as plain text: for the terminal, and for an e-mail."""

from __future__ import annotations

import io
from collections.abc import Iterator

from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table as Grid
from rich.text import Text

from welltold.interpretation import Interpretation
from welltold.messages import speaking

from .homeowner import HomeownerReport, build
from .homeowner.model import Card, Table
from .wording import word
from .writer import with_samples

WIDTH = 88
MOST_IN_FULL = 2
"""With more samples than this the terminal shows the first page of each; the files hold all."""
_SIGNS = {
    "health_concern": "[!]", "watch": "(-)", "nuisance_only": "<>", "no_concern_found": "( )",
    "cant_tell": "[?]", "not_tested": "[ ]",
}  # fmt: skip


def render_text(view: Interpretation) -> str:
    """Return the reports of all samples as plain text, 88 characters wide, without colour."""
    buffer = io.StringIO()
    console = Console(
        file=buffer, width=WIDTH, color_system=None, force_terminal=False, legacy_windows=False
    )
    _print(view, console, brief=False)
    lines = buffer.getvalue().splitlines()
    return "\n".join(line.rstrip() for line in lines) + "\n"


def print_terminal(view: Interpretation, console: Console | None = None) -> None:
    """Print the reports on a terminal, as wide as it is; of many samples only their first pages."""
    view = with_samples(view)
    brief = len(view.samples) > MOST_IN_FULL
    _print(view, console or Console(), brief=brief)


def _print(view: Interpretation, console: Console, *, brief: bool) -> None:
    view = with_samples(view)
    with speaking(view.language):
        for index in range(len(view.samples)):
            report = build(view, index)
            parts = [*_first(report), Text("")] if brief else [*_first(report), *_rest(report)]
            for part in parts:
                console.print(part, highlight=False, markup=False)


def _first(report: HomeownerReport) -> Iterator[RenderableType]:
    first = report.first
    yield Text(report.title, style="bold")
    yield Text(report.sample)
    if first.taken:
        yield Text(first.taken)
    yield Text("")
    for line in first.main:
        yield Text(line, style="bold")
    if first.panel:
        yield Text("")
        yield Text(f"[!] {first.panel.signal}", style="bold")
        yield from _block(*first.panel.sentences)
    yield from _head(word("head_today"))
    for number, step in enumerate(first.steps, start=1):
        yield from _block(f"{number}. {step.when}: {step.text}")
    if not first.steps:
        yield from _block(word("steps_none"))
    yield from _head(word("head_uses"))
    for row in first.uses:
        yield from _block(f"{row.use}: {row.answer}. {row.why}".strip())
    yield from _head(word("head_call"))
    yield from _block(*first.calls)
    yield from _head(word("head_found"))
    yield from _block(*(f"{_SIGNS[count.verdict]} {count.text}" for count in first.counts))
    yield from _block(f"{word('head_untested')}. {first.untested}", *first.sure)


def _rest(report: HomeownerReport) -> Iterator[RenderableType]:
    for group in report.groups:
        yield from _head(group.heading)
        for card in group.cards:
            yield from _card(card)
    if report.unknown:
        yield from _head(word("head_unknown"))
        yield from _block(word("unknown_intro"))
        yield _grid(report.unknown)
    if report.quiet:
        yield from _head(word("head_no_concern_found"))
        yield _grid(report.quiet)
    yield from _stages(report)
    yield from _head(word("head_retest"))
    if report.retest:
        yield _grid(report.retest)
    yield from _block(*report.retest_always)
    yield from _history(report)
    yield from _outlet(report)
    if report.notes:
        yield from _head(word("head_notes"))
        yield from _block(*(f"* {line}" for line in report.notes))
    if report.unread:
        yield from _head(word("head_unread"))
        yield from _block(word("unread_intro"), *report.unread)
    yield from _head(word("head_about"))
    yield from _block(report.sources_note, *report.about)


def _stages(report: HomeownerReport) -> Iterator[RenderableType]:
    yield from _head(word("head_stages"))
    yield from _block(*report.stages)
    for train in report.trains:
        yield Text(train.heading, style="bold")
        for number, stage in enumerate(train.stages, start=1):
            because = " ".join((f"{number}. {stage.name}. {stage.purpose}.", *stage.because))
            yield from _block(because, *stage.against, stage.open_, *stage.cautions)
        if not train.stages:
            yield from _block(train.names)
        yield from _block(*train.for_, *train.against, train.left)
    for entry in report.refused:
        yield from _block(f"{entry.name}. {' '.join(entry.sentences)}")
    if report.steps:
        yield from _head(word("head_steps"))
        yield from _block(*(f"* {step}" for step in report.steps))


def _outlet(report: HomeownerReport) -> Iterator[RenderableType]:
    """Yield what later bottles say of the water behind the equipment."""
    part = report.outlet
    if part is None:
        return
    yield from _head(part.heading)
    yield from _block(*part.caution)
    for bottle in part.blocks:
        yield Text(bottle.heading, style="bold")
        yield from _block(*bottle.sentences, *(f"* {line}" for line in bottle.health))
        for stage in bottle.stages:
            yield Text(stage.heading, style="bold")
            yield from _block(*stage.sentences)
            if stage.table:
                yield _grid(stage.table)
            yield from _block(stage.look)


def _history(report: HomeownerReport) -> Iterator[RenderableType]:
    if report.history is None:
        return
    yield from _head(report.history.heading)
    yield from _block(*(f"* {line}" for line in report.history.sheets))
    if report.history.left:
        yield Text(report.history.left_heading, style="bold")
        yield from _block(*(f"* {line}" for line in report.history.left))
    yield from _block(report.history.caution)
    for block in report.history.blocks:
        yield Text(block.name, style="bold")
        yield _grid(block.table)


def _head(text: str) -> tuple[RenderableType, ...]:
    return (Text(""), Text(text, style="bold"), Text("-" * min(len(text), WIDTH)))


def _block(*lines: str) -> Iterator[RenderableType]:
    for line in lines:
        if line:
            yield Padding(Text(line), (0, 0, 0, 2))


def _card(card: Card) -> Iterator[RenderableType]:
    yield Text(f"{_SIGNS[card.verdict]} {card.name}: {card.value}", style="bold")
    body = (card.verdict_words, "; ".join(card.levels), " ".join(card.what), card.who)
    yield Group(*_block(*body, *card.do, " ".join(card.sure)), Text(""))


def _grid(table: Table) -> Grid:
    grid = Grid(box=None, pad_edge=False, show_edge=False, padding=(0, 2, 0, 0))
    for head in table.heads:
        grid.add_column(Text(head), overflow="fold")
    for row in table.rows:
        grid.add_row(*(Text(cell) for cell in row))
    return grid

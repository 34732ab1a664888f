"""Reads a list of samples: a table that names samples and holds no result."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .context import Context
from .drafts import Facts
from .head_cells import SAMPLE_ROLES
from .roles import column_head
from .sample_kinds import code_kind, control_kind
from .tables import Table
from .words import Head


def read_sample_list(table: Table, context: Context) -> list[Line]:
    """Take up the samples of a list; return the lines behind the last of them."""
    roles = [column_head(c) for c in table.columns]
    listed: list[Facts] = []
    last = -1
    others: list[tuple[int, Line]] = []
    for at, line in enumerate(table.lines):
        facts = _facts(roles, table.cells(line), context)
        kind = _kind(line, facts)
        if kind is None:
            others.append((at, line))
            continue
        last = at
        if kind == "control":
            context.samples.listed.add_control(facts)
        else:
            context.samples.listed.add(facts)
            listed.append(facts)
    if len(listed) == 1 and len(table.lines) - len(others) == 1:
        for role, text in listed[0].items():
            context.samples.note(role, text)  # the head of the one sample whose results follow
    for at, line in others:
        if at < last:
            context.heading(line)
    return [line for at, line in others if at > last]


def _facts(roles: Sequence[Head | None], cells: Sequence[Cell | None], context: Context) -> Facts:
    """Return what a line says of a sample."""
    facts: Facts = {}
    for head, cell in zip(roles, cells, strict=True):
        if head and cell and head.role in SAMPLE_ROLES and head.score > 0.6:
            kept = context.samples.fact(head.role, cell.text)
            if kept:
                facts.setdefault(head.role, kept)
    return facts


def _kind(line: Line, facts: Facts) -> str | None:
    """Return "sample", or "control" by the code of its kind; None: the line lists none."""
    named = [facts[r] for r in ("lab_id", "sample_id", "client_id", "point") if r in facts]
    if line.answer is not None or not named:
        return None
    if (code := facts.get("sample_type")) and code_kind(code):
        return "control"
    return None if len(facts) < 2 or any(map(control_kind, named)) else "sample"

"""Reads a list of samples: a table that names samples and holds no result."""

from __future__ import annotations

from .cells import Line
from .context import Context
from .heads import SAMPLE_ROLES
from .roles import column_head
from .sample_kinds import control_kind
from .samples import Facts
from .tables import Table


def read_sample_list(table: Table, context: Context) -> list[Line]:
    """Take up the samples of a list; return the lines behind the last of them."""
    roles = [column_head(c) for c in table.columns]
    last = -1
    others: list[tuple[int, Line]] = []
    for at, line in enumerate(table.lines):
        facts: Facts = {}
        for head, cell in zip(roles, table.cells(line), strict=True):
            if head and cell and head.role in SAMPLE_ROLES and head.score > 0.6:
                kept = context.samples.fact(head.role, cell.text)
                if kept:
                    facts.setdefault(head.role, kept)
        named = [facts[r] for r in ("lab_id", "sample_id", "client_id", "point") if r in facts]
        if line.answer is not None:
            others.append((at, line))
        elif len(facts) >= 2 and named and not any(control_kind(n) for n in named):
            context.samples.list_(facts)
            last = at
        else:
            others.append((at, line))
    for at, line in others:
        if at < last:
            context.heading(line)
    return [line for at, line in others if at > last]

"""Reads a list of samples: a table that names samples and holds no result."""

from __future__ import annotations

from .context import Context
from .heads import SAMPLE_ROLES
from .roles import column_head
from .samples import Facts, control_kind
from .tables import Table


def read_sample_list(table: Table, context: Context) -> int:
    """Take up the samples of a list; return how many lines fitted."""
    roles = [column_head(c) for c in table.columns]
    good = 0
    for line in table.lines:
        facts: Facts = {}
        for head, cell in zip(roles, table.cells(line), strict=True):
            if head and cell and head.role in SAMPLE_ROLES and head.score > 0.6:
                kept = context.samples.fact(head.role, cell.text)
                if kept:
                    facts.setdefault(head.role, kept)
        named = [facts[r] for r in ("lab_id", "sample_id", "client_id", "point") if r in facts]
        if len(facts) >= 2 and named and not any(control_kind(n) for n in named):
            context.samples.list_(facts)
            good += 1
        elif not facts or len(line.cells) == 1:
            context.heading(line)
    return good

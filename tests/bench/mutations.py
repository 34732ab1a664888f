"""How many wrong rows of the rule tables some test notices: levels, operators, factors, steps."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from figures import Figure

sys.path.insert(0, str(Path(__file__).parents[1]))

from mutants.changes import TABLES
from mutants.killing import outcomes
from mutants.suite import tests


def figures() -> Iterator[Figure]:
    """Yield the share of the changed rows of each table that a test notices."""
    suite = tests()
    yield Figure("tests asked", len(suite), "tests")
    counted = noticed = 0
    for table in TABLES:
        seen = list(outcomes(table, suite))
        killed = sum(bool(one.by) for one in seen)
        counted, noticed = counted + len(seen), noticed + killed
        name = f"{table.name}: wrong rows noticed (n = {len(seen)})"
        yield Figure(name, killed / len(seen), "share", 0.9, at_least=True)
        for one in seen:
            if not one.by:
                print(f"    not noticed: {one}")
    name = f"all tables: wrong rows noticed (n = {counted})"
    yield Figure(name, noticed / counted, "share", 0.95, at_least=True)

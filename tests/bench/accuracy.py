"""How well varied sheets are read: the proving ground's layouts, each several times."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from figures import Figure

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from samples.proving.__main__ import truth_of  # noqa: E402 - as above
from samples.proving.judge import Score, score_document, total  # noqa: E402 - as above
from samples.proving.layouts import layouts, make_sheet  # noqa: E402 - as above
from samples.proving.report import render  # noqa: E402 - as above

import welltold  # noqa: E402 - the proving ground is found beside the tests
from welltold.jsonform import to_jsonable  # noqa: E402 - as above

SEED, TIMES = 7, 3


def scores() -> list[Score]:
    """Read every layout three times, each with other values, names, orders and fonts."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for layout in layouts():
            for number in range(TIMES):
                made, leaf = make_sheet(layout, f"{SEED} {number} {layout.name}")
                path = Path(folder) / f"{layout.name}-{number}{layout.suffix}"
                path.write_bytes(made)
                truth = truth_of(path.stem, layout, leaf)
                try:
                    reading = to_jsonable(welltold.read(path))
                except welltold.WelltoldError:
                    reading = None
                found.append(score_document(truth, reading))
    return found


def figures() -> Iterator[Figure]:
    """Yield the figures over all layouts, then print the calibration and the worst documents."""
    found = scores()
    all_of_them = total(found)
    results = max(all_of_them.results, 1)
    given = max(all_of_them.given, 1)
    looked = all_of_them.right_looked + all_of_them.doubted + all_of_them.phantoms_doubted
    yield Figure(f"F1 over {results} results", all_of_them.f1, "", 0.985, at_least=True)
    yield Figure("silent errors per 1,000 results", all_of_them.silent / results * 1000, "", 1)
    yield Figure("silently lost per 1,000 results", all_of_them.lost / results * 1000, "", 2)
    yield Figure("phantoms per 1,000 results", all_of_them.phantoms / results * 1000, "", 1)
    yield Figure("share of results sent to review", looked / given, "", 0.03)
    print(render(found))

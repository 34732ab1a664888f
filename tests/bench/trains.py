"""What searching for trains, with sizes, costs beside writing the PDF of the same well."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from figures import Figure

import welltold
from welltold.interpretation import Interpretation
from welltold.site import Site
from welltold.treatment import consider

EACH = 8
"""Every so many worked wells one is written as PDF: the press takes most of the time."""


def figures() -> Iterator[Figure]:
    """Yield the cost of the search over the worked wells, each once."""
    sys.path.insert(0, str(Path(__file__).parents[1]))
    from wells_cases import cases, site_of, tell

    with tempfile.TemporaryDirectory() as folder:
        views = []
        for case in cases():
            told = tell(case, Path(folder))
            if told.view is not None and told.view.samples[0].trains:
                views.append((told.view, site_of(case, Path(folder))))
        searched = [search_cpu(view, site) for view, site in views]
        written = [pdf_cpu(view, Path(folder)) for view, _ in views[::EACH]]
    yield Figure("a search for trains with sizes, median well", median(searched), "ms CPU")
    yield Figure("a search for trains with sizes, worst well", max(searched), "ms CPU")
    ratio = sum(searched) / len(searched) / (sum(written[1:]) / len(written[1:]))
    yield Figure("a search for trains with sizes / writing the PDF", ratio, "x", 1)


def search_cpu(view: Interpretation, site: Site) -> float:
    """Return CPU milliseconds of all that is considered for the one sample of a well."""
    findings, sample = view.samples[0].findings, view.reading.samples[0]
    start = time.process_time()
    consider(findings, sample, site)
    return (time.process_time() - start) * 1000


def pdf_cpu(view: Interpretation, folder: Path) -> float:
    """Return CPU milliseconds of writing the homeowner's report and the work sheet as PDF."""
    start = time.process_time()
    welltold.write(view, folder, ["pdf"])
    return (time.process_time() - start) * 1000

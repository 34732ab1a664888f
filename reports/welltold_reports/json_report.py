"""The report as JSON: the published shape ``welltold.report/1``."""

from __future__ import annotations

from welltold.interpretation import Interpretation
from welltold.jsonform import dump_json


def report_json(view: Interpretation) -> str:
    """Return the whole interpretation, all samples, as JSON text."""
    return dump_json(view)

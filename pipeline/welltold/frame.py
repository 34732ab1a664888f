"""A reading as a pandas data frame; pandas is loaded only when one is asked for."""

from __future__ import annotations

import pandas as pd

from .reading import Reading
from .rows import COLUMNS, rows

NUMBERS = ("value", "reporting_limit", "detection_limit", "normalized_value", "confidence")


def to_frame(reading: Reading) -> pd.DataFrame:
    """Return one row a result; a missing number is NaN, a missing text None."""
    frame = pd.DataFrame(list(rows(reading)), columns=list(COLUMNS))
    for name in NUMBERS:
        frame[name] = frame[name].astype("float64")
    return frame

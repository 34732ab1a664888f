"""Tables of a test over the quarters of a year, with the average that runs over them."""

from __future__ import annotations

import re

from .tables import Table

_QUARTER = re.compile(
    r"(?i)(?:\b[1-4](?:st|nd|rd|th)? ?(?:q(?:tr|uarter)?)[ .'’-]*(?:20)?\d\d\b"
    r"|\bq(?:tr|uarter)?[ .-]?[1-4][ .'’/-]*(?:20)?\d\d\b"
    r"|\b(?:L?RAA|(?:locational )?running annual average)\b)"
)
_FEWEST = 3
_MOST = 0.5


def over_quarters(table: Table) -> bool:
    """Whether most columns of a table are quarters and their averages: results of other days.

    Which of them is this sample's no head says; its own result stands in a table of its own.
    """
    heads = [c.head for c in table.columns if c.head]
    told = sum(_QUARTER.search(head) is not None for head in heads)
    return told >= _FEWEST and told > _MOST * len(heads)

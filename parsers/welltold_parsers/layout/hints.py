"""What is known of a sheet before it is read, such as a note about its lab."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from .cells import Line

Parts = Sequence[Sequence[Line]]


class Hints(NamedTuple):
    """Facts that outweigh what the sheet gives away; None leaves it to the sheet."""

    in_plain_words: Callable[[Parts], Parts]
    """Puts private words of the sheet into plain ones."""
    day_first: bool | None = None
    decimal_comma: bool | None = None

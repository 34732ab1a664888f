"""One picture of a page, on its way from a file to be read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture of a page."""

    picture: Gray
    points: tuple[float, float] | None
    """Width and height where the file tells a resolution that can be believed."""
    coarse: bool = False
    """Has fewer dots one way than the other, like a fax of 204 by 98 dots an inch."""
    number: int = 1
    """The page's number in its file."""
    of: int = 1
    """How many pictures of pages its file has."""

"""What is worth measuring before spending: how much the first train hangs on what is not known.

A hundred waters that the sheet and the site leave possible go through the same choice and sizing;
then each cheap test is tried alone. A sheet that needs no treatment costs nothing here.
"""

from __future__ import annotations

from .counting import DRAWS, Measured, measure, with_measuring
from .inputs import Unsure, unsure_in
from .possible import Case

__all__ = ["DRAWS", "Case", "Measured", "Unsure", "measure", "unsure_in", "with_measuring"]

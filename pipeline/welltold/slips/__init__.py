"""Which number is wrong? Where checks disagree, the one slip that would explain it.

`suspects` tries single edits of the sheet; `told` says what was found beside the checks and the
findings. Nothing is ever applied: the printed number counts until a person has looked.
"""

from __future__ import annotations

from .search import Suspect, suspects
from .telling import told

__all__ = ["Suspect", "suspects", "told"]

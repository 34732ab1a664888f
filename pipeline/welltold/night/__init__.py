"""The worst night by the clock: every bed is washed, and a toilet is flushed meanwhile."""

from __future__ import annotations

from .night import night_of

__all__ = ("night_of",)

"""From a reading to verdicts: what each result means beside the published levels."""

from .interpret import interpret

__all__ = ["interpret"]

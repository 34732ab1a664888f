"""The dealer's work sheet: what to check, to ask and to write down on the doorstep."""

from .build import WorkSheet, build_worksheet

__all__ = ["WorkSheet", "build_worksheet"]

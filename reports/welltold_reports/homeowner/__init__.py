"""What the homeowner's report says, before it becomes a page: pure functions, no files."""

from .build import build
from .model import HomeownerReport

__all__ = ["HomeownerReport", "build"]

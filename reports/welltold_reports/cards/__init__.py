"""The printable cards for the next sample: pure functions, no files."""

from .build import CardsPage, build_cards

__all__ = ["CardsPage", "build_cards"]

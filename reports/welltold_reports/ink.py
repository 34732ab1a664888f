"""What every drawn picture shares: its frame, its letters and its hatching, in one ink.

All text is escaped here.
"""

from __future__ import annotations

from html import escape
from typing import Protocol


class Drawn(Protocol):
    """A picture with its words for those who cannot see it."""

    @property
    def alt(self) -> str:
        """The text alternative."""
        ...

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which its letters would be too small or leave it."""
        ...


def opening(picture: Drawn, space: str, size: int, *, width: str, family: str) -> str:
    """Return the head of an SVG; ``space`` is its height or its view box, ``size`` its letters'."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="line" role="img" width="{width}" '
        f'style="min-width:{picture.needs}px" {space} color="#1a1a1a" '
        f'font-family="{escape(family)}" font-size="{size}" aria-label="{escape(picture.alt)}">'
    )


def hatching(uid: str) -> str:
    """Return the definition of the diagonal hatching, to be used as ``url(#uid)``."""
    return (
        f'<defs><pattern id="{uid}" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M1 0v6" stroke="currentColor" '
        'stroke-width="1.6"/></pattern></defs>'
    )


def letters(x: float | str, y: float, text: str, anchor: str = "", weight: str = "400") -> str:
    """Return a line of text; ``x`` in the picture's units, or as text in percent of its width."""
    held = f' text-anchor="{anchor}"' if anchor else ""
    return (
        f'<text x="{x}" y="{y}"{held} font-weight="{weight}" fill="currentColor">'
        f"{escape(text)}</text>"
    )

"""The sign of each verdict: a shape of its own, never a colour alone."""

from __future__ import annotations

from html import escape

from welltold.interpretation import Verdict

_PATHS: dict[str, str] = {
    "health_concern": (
        '<path fill="currentColor" fill-rule="evenodd" '
        'd="M1 1h18v18H1zM8.7 3.8h2.6l-.4 8H9.1zM8.6 13.6h2.8v2.6H8.6z"/>'
    ),
    "watch": (
        '<circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" stroke-width="2"/>'
        '<path fill="currentColor" d="M10 2a8 8 0 0 1 0 16z"/>'
    ),
    "nuisance_only": (
        '<path fill="none" stroke="currentColor" stroke-width="2" '
        'd="M10 1.5L18.5 10 10 18.5 1.5 10z"/>'
    ),
    "no_concern_found": (
        '<circle cx="10" cy="10" r="8" fill="none" stroke="currentColor" stroke-width="2"/>'
    ),
    "cant_tell": (
        '<path fill="none" stroke="currentColor" stroke-width="2" stroke-dasharray="4 2.4" '
        'd="M2 2h16v16H2z"/><path fill="none" stroke="currentColor" stroke-width="1.9" '
        'd="M7.4 7.6c.2-3.4 5.4-3.2 5.2 0-.1 2-2.6 2-2.6 4.2"/>'
        '<path fill="currentColor" d="M8.9 13.3h2.2v2.2H8.9z"/>'
    ),
    "not_tested": (
        '<path fill="none" stroke="currentColor" stroke-width="2" stroke-dasharray="1.6 2.4" '
        'd="M2 2h16v16H2z"/>'
    ),
}


def shape_svg(verdict: Verdict | str, label: str) -> str:
    """Return the sign as a picture of 20 by 20 that takes the colour of the text around it."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign" role="img" width="20" height="20" '
        f'viewBox="0 0 20 20" aria-label="{escape(label)}">{_PATHS[verdict]}</svg>'
    )

"""Raised small characters, told apart from the digits before them."""

from __future__ import annotations

import re

_SUPERSCRIPT = str.maketrans(
    "0123456789+-−=()abcdefghijklmnoprstuvwxyz", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁻⁼⁽⁾ᵃᵇᶜᵈᵉᶠᵍʰⁱʲᵏˡᵐⁿᵒᵖʳˢᵗᵘᵛʷˣʸᶻ"
)
_POWER = re.compile(r"[-−+]?\d{1,2}$")
_BASE = re.compile(r"(?:^|[x×·*])10$", re.IGNORECASE)
_TIMES = re.compile(r"[x×·*]$", re.IGNORECASE)


def superscript(text: str) -> str:
    """Write ``text`` in superscript characters, as far as there are such."""
    return text.translate(_SUPERSCRIPT)


def behind_number(before: str, base: str, mark: str) -> str | None:
    """Return ``base`` with ``mark`` as its power of ten, or None when the mark is a footnote.

    ``before`` is the word before the base. A power needs a ten behind a sign of multiplication
    ("3.1 x 10"), or a sign of its own.
    """
    if not _POWER.match(mark) or not _BASE.search(base):
        return None
    if base == "10" and mark[0].isdigit() and not _TIMES.search(before):
        return None
    return f"{base}^{mark.replace('−', '-')}"

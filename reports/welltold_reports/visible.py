"""Takes out of a lab's text what a reader cannot see but a page or a terminal would obey."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

Part = TypeVar("Part")
_OBEYED = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff]"
)
"""Control characters (a terminal's escape among them), invisible marks and turns of direction."""


def visible(text: str) -> str:
    """Return the text without control characters and marks that turn its direction."""
    return _OBEYED.sub("", text)


def only_visible(part: Part) -> Part:
    """Return a part of a report with every text in it made `visible`."""
    return _walk(part)  # type: ignore[no-any-return]  # a part comes back as what it was


def _walk(part: Any) -> Any:
    if isinstance(part, str):
        return visible(part)
    if isinstance(part, tuple):
        return tuple(_walk(one) for one in part)
    if is_dataclass(part) and not isinstance(part, type):
        return type(part)(**{one.name: _walk(getattr(part, one.name)) for one in fields(part)})
    return part

"""A reading's messages told again in the language that is spoken now.

A reading may have been made, or saved, in another language than the report that is made of it.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

from .messages import Message, rooms, say
from .reading import Reading
from .speech import name_again


def retold(reading: Reading) -> Reading:
    """Return the reading with every message in the language spoken now.

    Analytes get their name in that language; what else was set in stays as it was. A code of
    another version keeps its text.
    """
    told: Reading = _retold(reading)
    return told


def _retold(part: Any) -> Any:
    """Return a part of a reading; the same object where nothing in it has to change."""
    if isinstance(part, Message):
        return _message(part)
    if isinstance(part, tuple):
        again = tuple(_retold(one) for one in part)
        return part if all(a is b for a, b in zip(again, part, strict=True)) else again
    if not is_dataclass(part) or isinstance(part, type):
        return part
    changed = {}
    for field in fields(part):
        before = getattr(part, field.name)
        after = _retold(before)
        if after is not before:
            changed[field.name] = after
    return replace(part, **changed) if changed else part


def _args(message: Message) -> dict[str, str]:
    return {
        key: name_again(text) if key == "analyte" else text for key, text in message.args.items()
    }


def _message(message: Message) -> Message:
    room = message.code.partition(".")[0]
    if room not in rooms():
        return message
    try:
        again = say(message.code, **_args(message))
    except (KeyError, IndexError, ValueError):
        return message
    return message if again.text == message.text else again

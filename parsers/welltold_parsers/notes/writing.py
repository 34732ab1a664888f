"""Writes what was found on a sheet as a commented lab note, for a person to correct."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from importlib.resources import files

from .finding import Found
from .note import IGNORE, NO_MEANING, UNKNOWN, flag_meanings, roles

_WIDE = 96
_MOST_UNREAD = 12


def write_note(found: Found, file: str) -> str:
    """Return the text of a note: everything found, what is not known to be filled in."""
    source = files("welltold") / "data" / "lab_template.toml"
    lines: list[str] = []
    for line in source.read_text("utf-8").splitlines():
        mark = line.removeprefix("#@ ") if line.startswith("#@ ") else None
        lines += [line] if mark is None else _section(mark, found, file)
    return "\n".join(lines) + "\n"


def _section(mark: str, found: Found, file: str) -> Iterable[str]:
    written: Mapping[str, Iterable[str]] = {
        "file": _remark("Written from ", [file]),
        "name": [f"name = {quoted(found.lab or 'the name of the lab')}"],
        "phrases": [f"phrases = [{', '.join(map(quoted, found.phrases or (file,)))}]"],
        "roles": _listed({name: role.means for name, role in roles().items()}),
        "headings": _entries(found.headings, found.below),
        "known_units": _remark("Known units on this sheet: ", found.known_units),
        "units": _entries(dict.fromkeys(found.odd_units, UNKNOWN), {}),
        "labels": _entries(dict.fromkeys(found.labels, UNKNOWN), found.below),
        "meanings": _listed({name: means for name, (_, means) in flag_meanings().items()}),
        "flags": _entries(dict.fromkeys(found.flags, UNKNOWN), {}),
        "unread": _remark("Not understood on this sheet: ", found.unread[:_MOST_UNREAD]),
    }
    return written[mark]


def quoted(text: str) -> str:
    """Return a text as TOML writes it, in one line."""
    return json.dumps(text, ensure_ascii=False)


def _entries(words: Mapping[str, str], below: Mapping[str, str]) -> Iterator[str]:
    for word, meaning in words.items():
        shown = _clean(below.get(word, ""))
        remark = f"   # on the sheet: {shown}" if shown and meaning == UNKNOWN else ""
        yield f"{quoted(word)} = {quoted(meaning)}{remark}"


def _listed(words: Mapping[str, str]) -> Iterator[str]:
    """Yield the words that may stand, each with what it means, as remarks."""
    for word, means in {**words, **_also(words)}.items():
        yield f"#   {word:<16} {means}"


def _also(words: Mapping[str, str]) -> Mapping[str, str]:
    nothing = {} if IGNORE in words else {NO_MEANING: "changes nothing"}
    return {**nothing, UNKNOWN: "not found out yet; the line says nothing"}


def _remark(start: str, words: Iterable[str]) -> Iterator[str]:
    """Yield a remark that lists words, broken into lines."""
    line = f"# {start}"
    for word in words:
        piece = _clean(word)
        if len(line) + len(piece) > _WIDE and line.strip("# "):
            yield line.rstrip()
            line = "#   "
        line += f"{piece}, "
    if line.strip("# ") != start.strip():
        yield line.rstrip(", ")


def _clean(text: str) -> str:
    shown = "".join(c if c.isprintable() else " " for c in " ".join(text.split()))
    return shown if len(shown) <= _WIDE else f"{shown[: _WIDE - 3]}..."

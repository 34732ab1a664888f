"""The list of finished files, kept beside the reports, so that a batch can go on."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..summary import Row

NAME = "done.jsonl"


@dataclass(frozen=True, slots=True)
class Done:
    """What a finished file gave: rows of the summary, and the files written below the output."""

    rows: list[Row]
    written: list[str]


class Journal:
    """One JSON line a finished file. A line that is not ours, or cut off, is passed over."""

    def __init__(self, folder: Path, stamp: str, asked: Mapping[str, str] | None = None) -> None:
        self._folder = folder
        self._stamp = stamp
        self._asked = dict(asked or {})
        self._last: dict[str, str] | None = None
        """What the last run was asked for; None: there was none, or it did not say."""
        self._others = False
        """Files are written down that were done with another stamp."""
        self._done: dict[str, Done] = {}
        path = folder / NAME
        if path.exists():
            for line in path.read_text("utf-8", "replace").splitlines():
                self._take(line)

    def _take(self, line: str) -> None:
        try:
            entry: Any = json.loads(line)
            if "asked" in entry:
                self._last = dict(entry["asked"])
            if entry["stamp"] != self._stamp:
                self._others = True
            else:
                self._done[entry["key"]] = Done(list(entry["rows"]), list(entry["written"]))
        except (ValueError, KeyError, TypeError, RecursionError):
            return

    def differs(self) -> tuple[str, ...] | None:
        """Return what is not as in the last run, where nothing of any run can be kept.

        None: something can be kept, or nothing was done before. Empty: nobody wrote down how.
        """
        if self._done or not self._others:
            return None
        last = self._last if self._last is not None else self._asked
        names = dict.fromkeys((*last, *self._asked))
        return tuple(name for name in names if last.get(name) != self._asked.get(name))

    def finished(self, inside: str, sha256: str) -> Done | None:
        """Return what a file gave before; None if it changed or a report of it is gone."""
        done = self._done.get(f"{inside}:{sha256}")
        there = done and all((self._folder / name).exists() for name in done.written)
        return done if there else None

    def add(self, inside: str, sha256: str, done: Done) -> None:
        """Write down that a file is finished; with the first of a run, what the run was asked."""
        entry: dict[str, Any] = {
            "stamp": self._stamp,
            "key": f"{inside}:{sha256}",
            "rows": done.rows,
            "written": done.written,
        }
        if self._asked and self._last != self._asked:
            self._last = entry["asked"] = self._asked
        with (self._folder / NAME).open("a", encoding="utf-8") as out:
            out.write(json.dumps(entry, ensure_ascii=False) + "\n")

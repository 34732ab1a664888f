"""Progress on stderr, on a terminal only: a bar of files, and one of the pages of a scan."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.progress import Progress, TaskID


class Bars:
    """Bars of one command, each from when there is something to count."""

    def __init__(self, closing: ExitStack) -> None:
        self._closing = closing
        self._drawn: Progress | None = None
        self._tasks: dict[str, TaskID] = {}

    def files(self, title: str, done: int, total: int) -> None:
        """Tell how many files are done; one alone needs no bar."""
        if "pages" in self._tasks:
            self._bar().update(self._tasks["pages"], visible=False)
        if total > 1:
            self._show("files", title, done, total)

    def pages(self, done: int, total: int) -> None:
        """Tell how many pages of the present file are read, and how many it has."""
        self._show("pages", "Pages", done, total)

    def _show(self, name: str, title: str, done: int, total: int) -> None:
        if not sys.stderr.isatty():
            return
        bar = self._bar()
        if name not in self._tasks:
            self._tasks[name] = bar.add_task(title, completed=done, total=total)
        bar.update(self._tasks[name], completed=done, total=total, visible=True)

    def _bar(self) -> Progress:
        if self._drawn is None:
            self._drawn = self._closing.enter_context(_progress())
        return self._drawn


@contextmanager
def bars() -> Iterator[Bars]:
    """Give bars that are taken away behind the block."""
    with ExitStack() as closing:
        yield Bars(closing)


@contextmanager
def pages_shown(jobs: int | None) -> Iterator[Bars]:
    """Read scans inside with so many pages at the same time, and show how far each file is."""
    from welltold_parsers.working import working

    with bars() as shown, working(jobs, shown.pages):
        yield shown


def _progress() -> Progress:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn
    from rich.progress import TimeElapsedColumn as Elapsed

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), Elapsed())
    # What is written to a file or a pipe must not be taken along to the bar's own place.
    taken = sys.stdout.isatty()
    return Progress(*columns, console=Console(stderr=True), redirect_stdout=taken, transient=True)

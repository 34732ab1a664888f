"""A whole batch: finds the files, does what is not done yet, collects what came of it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from .. import __version__
from ..errors import FileMissingError, WelltoldError
from ..look import Paper
from ..messages import Language
from ..summary import COLUMNS, Row, in_order
from .files import digest, find_files, report_folder
from .journal import Done, Journal
from .worker import Task, work

_OPTIONS = {"formats": "--format", "packs": "--levels"}
"""Options whose name on the command line is another."""


@dataclass(frozen=True, slots=True)
class Options:
    """What is the same for every file of a batch."""

    out: str
    formats: tuple[str, ...]
    as_of: str
    """ISO 8601, fixed when the batch begins, so that midnight does not change the levels."""
    as_of_asked: bool = False
    """Whether the day was asked for; else files done on another day stay as they are."""
    packs: tuple[str, ...] | None = None
    site: str | None = None
    """Path of a site file that holds for every sheet."""
    shelf: str | None = None
    """Path of a file of what the dealer sells."""
    notes: str | None = None
    """Path of a folder of lab notes."""
    language: Language | None = None
    letterhead: str | None = None
    """Path of the letterhead of every report."""
    paper: Paper = "letter"
    inputs: tuple[str, ...] = ()
    """Files whose content shapes the reports: site file, shelf, files of levels, lab notes."""
    jobs: int = 2
    memory_mb: int = 2048
    seconds: int = 120

    def stamp(self) -> str:
        """Return a text that differs when a finished file would have to be done again."""
        told = self._shaping()
        contents = [digest(Path(name)) for name in self.inputs]
        text = json.dumps([__version__, COLUMNS, told, contents], sort_keys=True)
        return hashlib.sha256(text.encode()).hexdigest()

    def asked(self) -> dict[str, str]:
        """Return by name what shapes the reports: options as typed, and the files beside them."""
        told = self._shaping()
        del told["inputs"]
        options = {
            _OPTIONS.get(name, f"--{name.replace('_', '-')}"): json.dumps(value)
            for name, value in told.items()
        }
        contents = {Path(name).name: digest(Path(name)) for name in self.inputs}
        return {"welltold": __version__, **options, **contents}

    def _shaping(self) -> dict[str, Any]:
        told = asdict(self)
        for name in ("out", "jobs", "memory_mb", "seconds", "as_of_asked"):
            del told[name]
        if not self.as_of_asked:
            del told["as_of"]
        return told


@dataclass(frozen=True, slots=True)
class SetAside:
    """A file that could not be reported on, and why."""

    file: str
    reason: str
    next_step: str
    exit_code: int


@dataclass(slots=True)
class Outcome:
    """What became of a batch; every file given is done, set aside or left."""

    files: int
    rows: list[Row] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    resumed: int = 0
    """Files whose report was already there from an earlier run."""
    reported: int = 0
    """Files with a report, those of an earlier run among them."""

    @property
    def left(self) -> int:
        """Files that were not come to, because the batch was stopped."""
        return self.files - self.reported - len(self.set_aside)

    def put_aside(self, inside: str, error: WelltoldError, path: str = "") -> None:
        """Set a file aside with the reason and the next step.

        ``path`` is the file's as it was opened; the reason names it below the batch's folder.
        """
        reason = str(error)
        reason = reason.replace(path, inside) if path else reason
        self.set_aside.append(SetAside(inside, reason, error.hint, int(error.exit_code)))

    def take(self, done: Done) -> None:
        """Take in what a finished file gave."""
        self.rows += done.rows
        self.reported += 1


def run(folder: Path, options: Options, tell: Callable[[int], Callable[[], None]]) -> Outcome:
    """Report on every file below ``folder``.

    ``tell`` is given the number of files and returns what to call after each of them. Ctrl-C stops
    the workers and returns what is done; the next run goes on from there.
    """
    out = Path(options.out)
    files = find_files(folder, out)
    advance = tell(len(files))
    journal = _journal(options)
    outcome = Outcome(len(files))
    tasks: list[Task] = []
    for path in files:
        task = _task(path, path.relative_to(folder), options, outcome)
        done = journal.finished(task.inside, task.sha256) if task else None
        if task and not done:
            tasks.append(task)
            continue
        if done:
            outcome.take(done)
            outcome.resumed += 1
        advance()
    _do(tasks, options, journal, outcome, advance)
    outcome.rows = in_order(outcome.rows)
    outcome.set_aside.sort(key=lambda aside: aside.file)
    return outcome


def why_anew(options: Options) -> tuple[str, ...] | None:
    """Return what differs from the last run if every sheet has to be done again for it.

    None: something of an earlier run can be kept, or there was none. Empty: nobody knows what.
    """
    return _journal(options).differs()


def _journal(options: Options) -> Journal:
    return Journal(Path(options.out), options.stamp(), options.asked())


def _task(path: Path, inside: Path, options: Options, outcome: Outcome) -> Task | None:
    """Return what is to be done with a file; None when it cannot be read and was set aside."""
    try:
        sha256 = digest(path)
    except OSError as error:
        missing = FileMissingError(inside.as_posix(), error.strerror or "cannot be read")
        outcome.put_aside(inside.as_posix(), missing)
        return None
    return Task(
        path=str(path),
        inside=inside.as_posix(),
        sha256=sha256,
        folder=str(report_folder(Path(options.out), inside)),
        out=options.out,
        formats=options.formats,
        as_of=options.as_of,
        packs=options.packs,
        site=options.site,
        shelf=options.shelf,
        notes=options.notes,
        language=options.language,
        letterhead=options.letterhead,
        paper=options.paper,
    )


def _do(
    tasks: list[Task],
    options: Options,
    journal: Journal,
    outcome: Outcome,
    advance: Callable[[], None],
) -> None:
    """Do the tasks; each finished file goes into the journal at once."""
    limits = {"memory_mb": options.memory_mb, "seconds": options.seconds}
    try:
        for task, result in work(tasks, jobs=options.jobs, **limits):
            if isinstance(result, WelltoldError):
                outcome.put_aside(task.inside, result, task.path)
            else:
                journal.add(task.inside, task.sha256, result)
                outcome.take(result)
            advance()
    except KeyboardInterrupt:
        return  # the workers are stopped; what is done is kept, and `Outcome.left` counts the rest

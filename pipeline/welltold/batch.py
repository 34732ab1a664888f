"""Many files, each read in a child process that may die without hurting another.

What travels to a worker is plain data; what comes back is rows of the summary, or one of our own
errors. A worker has a limit of memory and of time; pdfium is not thread safe, so each worker is a
process with one thread. Finished files are kept in a journal, so that a batch can go on where it
was stopped.
"""

from __future__ import annotations

import hashlib
import json
import multiprocessing
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any

from . import __version__
from .errors import EmptyFolderError, FileMissingError, ReaderDiedError, WelltoldError
from .summary import Row, in_order

JOURNAL = "done.jsonl"


@dataclass(frozen=True, slots=True)
class Options:
    """What is the same for every file of a batch."""

    out: str
    formats: tuple[str, ...]
    as_of: str
    """ISO 8601, fixed when the batch begins, so that a night does not change the levels."""
    packs: tuple[str, ...] | None = None
    site: str | None = None
    """Path of a site file that holds for every sheet."""
    memory_mb: int = 2048
    seconds: int = 120

    def stamp(self) -> str:
        """Return a text that differs when a finished file would have to be done again."""
        site = Path(self.site).read_text("utf-8") if self.site else ""
        told = json.dumps([__version__, asdict(self), site], sort_keys=True)
        return hashlib.sha256(told.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class SetAside:
    """A file that could not be reported on, and why."""

    file: str
    reason: str
    next_step: str
    exit_code: int


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a batch; every file given is in one of the three counts."""

    rows: list[Row]
    set_aside: list[SetAside]
    files: int
    resumed: int
    """Files whose report was already there from an earlier run."""


def find_files(folder: Path, skip: Path) -> list[Path]:
    """Return the files below a folder in order of name, hidden ones and ``skip`` left out."""
    if not folder.is_dir():
        raise FileMissingError(str(folder), "no such folder")
    skipped = skip.resolve()
    found = [
        path
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and not any(part.startswith(".") for part in path.relative_to(folder).parts)
        and skipped not in path.resolve().parents
    ]
    if not found:
        raise EmptyFolderError(str(folder))
    return found


def unique_names(folder: Path, files: Sequence[Path]) -> dict[Path, str]:
    """Return a report name for each file, in which no two files share one."""
    names: dict[Path, str] = {}
    for path in files:
        inside = path.relative_to(folder)
        stem = "_".join(inside.with_suffix("").parts)
        name, taken = stem, set(names.values())
        if name in taken:
            name = "_".join(inside.parts)
        number = 2
        while name in taken:
            name, number = f"{stem}_{number}", number + 1
        names[path] = name
    return names


def run(
    folder: Path,
    options: Options,
    jobs: int,
    tell: Callable[[int], Callable[[], None]],
) -> Outcome:
    """Report on every file below ``folder`` with ``jobs`` worker processes.

    ``tell`` is given the number of files and returns what to call after each of them.
    """
    files = find_files(folder, Path(options.out))
    names = unique_names(folder, files)
    advance = tell(len(files))
    journal = Journal(Path(options.out) / JOURNAL, options.stamp())
    rows: list[Row] = []
    aside: list[SetAside] = []
    open_files: list[Path] = []
    for path in files:
        done = journal.rows_of(path)
        if done is None:
            open_files.append(path)
        else:
            rows += done
            advance()
    for path, result in work(open_files, names, options, jobs):
        if isinstance(result, WelltoldError):
            inside = str(path.relative_to(folder))
            aside.append(SetAside(inside, str(result), result.hint, int(result.exit_code)))
        else:
            rows += result
            journal.add(path, result)
        advance()
    return Outcome(in_order(rows), aside, len(files), len(files) - len(open_files))


def work(
    files: Sequence[Path], names: dict[Path, str], options: Options, jobs: int
) -> Iterator[tuple[Path, list[Row] | WelltoldError]]:
    """Yield what became of each file, in the order of the files."""
    from pebble import ProcessPool

    context = multiprocessing.get_context("spawn")
    with ProcessPool(
        jobs, initializer=limit_memory, initargs=(options.memory_mb,), context=context
    ) as pool:
        waiting = [
            pool.schedule(
                report_on, args=(str(path), names[path], options), timeout=options.seconds
            )
            for path in files
        ]
        for path, future in zip(files, waiting, strict=True):
            yield path, _outcome_of(path, future)


def _outcome_of(path: Path, future: Any) -> list[Row] | WelltoldError:
    from pebble import ProcessExpired

    try:
        rows: list[Row] = future.result()
    except WelltoldError as error:
        return error
    except TimeoutError:
        return ReaderDiedError(str(path), "it took too long")
    except MemoryError:
        return ReaderDiedError(str(path), "it needed too much memory")
    except ProcessExpired:
        return ReaderDiedError(str(path), "the reading process died")
    except Exception as error:  # noqa: BLE001 - one file's fault of ours must not stop the batch
        return ReaderDiedError(str(path), f"a fault of welltold itself: {error!r}")
    return rows


def limit_memory(megabytes: int) -> None:
    """Limit this process's memory, where the system can."""
    try:
        import resource
    except ImportError:  # not on Windows; the limit of time still holds there
        return
    resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, megabytes << 20))


def report_on(path: str, name: str, options: Options) -> list[Row]:
    """Read, interpret and write one file; runs in a worker process."""
    from . import face
    from .site import load_site
    from .summary import sample_rows

    site = load_site(Path(options.site)) if options.site else None
    reading = face.read(path)
    view = face.interpret(
        reading, site=site, as_of=date.fromisoformat(options.as_of), packs=options.packs
    )
    written = face.write(view, options.out, options.formats, name=name)
    return sample_rows(view, report_files(written, len(view.samples)))


def report_files(written: Sequence[Path], samples: int) -> list[str]:
    """Return for each sample the name of the file that a person would open."""
    for ending in (".homeowner.pdf", ".homeowner.html"):
        found = [path.name for path in written if path.name.endswith(ending)]
        if len(found) == samples:
            return found
    return [written[0].name if written else "none"] * samples


class Journal:
    """The list of finished files, one JSON line each, kept beside the reports."""

    def __init__(self, path: Path, stamp: str) -> None:
        self._path = path
        self._stamp = stamp
        self._done: dict[str, list[Row]] = {}
        if path.exists():
            for line in path.read_text("utf-8").splitlines():
                self._take(line)

    def _take(self, line: str) -> None:
        try:
            entry = json.loads(line)
        except ValueError:  # the last line of a run that was stopped while writing it
            return
        if entry["stamp"] == self._stamp:
            self._done[entry["key"]] = entry["rows"]

    def rows_of(self, path: Path) -> list[Row] | None:
        """Return the rows of a file that was finished before, unchanged since; else None."""
        return self._done.get(_key(path))

    def add(self, path: Path, rows: list[Row]) -> None:
        """Write down that a file is finished."""
        entry = {"stamp": self._stamp, "key": _key(path), "rows": rows}
        with self._path.open("a", encoding="utf-8") as out:
            out.write(json.dumps(entry, ensure_ascii=False) + "\n")


def _key(path: Path) -> str:
    return f"{path}:{hashlib.sha256(path.read_bytes()).hexdigest()}"

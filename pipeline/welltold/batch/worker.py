"""One file in a child process with a limit of memory and of time.

What travels to a worker is plain data; what comes back is rows of the summary, or one of our own
errors. pdfium is not thread safe, so each worker is a process with one thread.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator, Sequence
from concurrent.futures import as_completed
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from ..errors import (
    InternalFaultError,
    OutOfMemoryError,
    OutOfTimeError,
    ReaderDiedError,
    WelltoldError,
)
from ..look import Look, Paper
from ..messages import Language
from .journal import Done


@dataclass(frozen=True, slots=True)
class Task:
    """Everything a worker must know about one file."""

    path: str
    inside: str
    """The file's path below the batch's folder."""
    sha256: str
    folder: str
    """Where its reports go."""
    out: str
    formats: tuple[str, ...]
    as_of: str
    packs: tuple[str, ...] | None
    site: str | None
    shelf: str | None = None
    notes: str | None = None
    language: Language | None = None
    letterhead: str | None = None
    paper: Paper = "letter"


def work(
    tasks: Sequence[Task], *, jobs: int, memory_mb: int, seconds: int
) -> Iterator[tuple[Task, Done | WelltoldError]]:
    """Yield what became of each file, as soon as it is done.

    When the caller stops listening, or Ctrl-C is pressed, the workers are stopped at once.
    """
    from pebble import ProcessPool

    context = multiprocessing.get_context("spawn")
    pool: Any = ProcessPool(jobs, initializer=limit_memory, initargs=(memory_mb,), context=context)
    try:
        waiting: dict[Any, Task] = {
            pool.schedule(report_on, args=(task,), timeout=seconds): task for task in tasks
        }
        for future in as_completed(waiting):
            yield waiting[future], outcome_of(waiting[future], future)
    finally:
        pool.stop()
        pool.join()


def outcome_of(task: Task, future: Any) -> Done | WelltoldError:
    """Return what a worker gave, or the error that tells why it gave nothing."""
    from pebble import ProcessExpired

    try:
        done: Done = future.result()
    except WelltoldError as error:
        return error
    except TimeoutError:
        return OutOfTimeError(task.inside)
    except MemoryError:
        return OutOfMemoryError(task.inside)
    except ProcessExpired:
        return ReaderDiedError(task.inside)
    except Exception as error:  # noqa: BLE001 - one file's fault of ours must not stop the batch
        return InternalFaultError(task.inside, repr(error))
    return done


def limit_memory(megabytes: int) -> None:
    """Limit this process's memory, where the system can; a lower limit that is there stays."""
    try:
        import resource
    except ImportError:  # not on Windows; the limit of time still holds there
        return
    wanted = megabytes << 20
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    if hard != resource.RLIM_INFINITY:
        wanted = min(wanted, hard)
    try:
        resource.setrlimit(resource.RLIMIT_AS, (wanted, hard))
    except (ValueError, OSError):  # some systems refuse any limit of this kind
        return


def report_on(task: Task) -> Done:
    """Read, interpret and write one file; runs in a worker process."""
    from .. import face
    from ..letterhead import load_letterhead
    from ..site import load_site
    from ..sizing import load_shelf
    from ..summary import sample_rows

    site = load_site(Path(task.site)) if task.site else None
    day = date.fromisoformat(task.as_of)
    reading = face.read(task.path, notes=task.notes, language=task.language)
    shelf = load_shelf(task.shelf) if task.shelf else None
    about: dict[str, Any] = {"site": site, "as_of": day, "packs": task.packs, "shelf": shelf}
    view = face.interpret(reading, language=task.language, **about)
    folder = Path(task.folder)
    folder.mkdir(parents=True, exist_ok=True)
    head = load_letterhead(task.letterhead) if task.letterhead else None
    name, look = Path(task.inside).stem, Look(head, task.paper)
    written = face.write(view, folder, task.formats, name=name, look=look)
    names = [path.relative_to(task.out).as_posix() for path in written]
    return Done(sample_rows(view, task.inside, main_reports(names, len(view.samples))), names)


def main_reports(written: Sequence[str], samples: int) -> list[str]:
    """Return for each sample the name of the file that a person would open."""
    for ending in (".homeowner.pdf", ".homeowner.html"):
        found = [name for name in written if name.endswith(ending)]
        if len(found) == samples:
            return found
    return [written[0] if written else "none"] * samples

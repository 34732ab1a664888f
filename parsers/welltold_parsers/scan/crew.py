"""Processes that read pictures of pages, each with one thread and networks of its own.

Each is Python started anew, so that a program which uses the library needs no guard round its main
part, and no thread of the networks is torn by a fork. Pictures go in and pages come out by its
standard streams. One that dies is not started again: what it had is read where it was asked for.
"""

from __future__ import annotations

import multiprocessing
import os
import pickle
import subprocess
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from queue import SimpleQueue
from threading import Lock

from welltold.messages import Language, Message, spoken
from welltold_parsers.geometry import Page

from .models import THREADS
from .shot import Shot

Answer = Page | Message
"""A page, or why it cannot be read."""
ROOM = 1_500_000_000
"""Bytes that one process may take at its peak; about half of it is usual."""
_AHEAD = 3
"""So many pictures a process are drawn before they are needed, and no more."""
_START = (
    "import sys; sys.path[:] = sys.argv[1:]; from welltold_parsers.scan.helper import main; main()"
)


def usual_size() -> int:
    """Return how many processes this machine has cores and memory for, from 1.

    A process that is itself one of many, as in a batch, reads its pages alone.
    """
    if multiprocessing.parent_process() is not None or not sys.executable:
        return 1
    able = getattr(os, "sched_getaffinity", None)
    cores = len(able(0)) if able else os.cpu_count() or 1
    free = _free_memory()
    return max(min(cores, cores if free is None else free // ROOM), 1)


def _free_memory() -> int | None:
    """Return the bytes of memory that nobody needs; None where the system does not tell."""
    with suppress(OSError, ValueError):
        for line in Path("/proc/meminfo").read_text("ascii").splitlines():
            if line.startswith("MemAvailable:"):
                return int(line.split()[1]) * 1024
    return None


class _Helper:
    """One process, started when the first picture comes."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._ended = False

    def ask(self, job: tuple[Language, Shot]) -> Answer | None:
        """Return what comes of a picture; None where the process cannot do it, or has died."""
        try:
            if self._process is None and not self._ended:
                self._process = _started()
            if self._ended:  # while it started
                self.end()
            if self._process is None or not self._process.stdin or not self._process.stdout:
                return None
            pickle.dump(job, self._process.stdin, protocol=5)
            self._process.stdin.flush()
            answer: Answer | None = pickle.load(self._process.stdout)  # noqa: S301 - from ourselves
        except (OSError, EOFError, ValueError, pickle.UnpicklingError):
            return None
        return answer

    def end(self) -> None:
        """Stop the process, whatever it is at."""
        self._ended = True
        if self._process is None:
            return
        self._process.terminate()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe:
                with suppress(OSError):
                    pipe.close()


def _started() -> subprocess.Popen[bytes]:
    path = [str(Path(one).absolute()) for one in sys.path]
    return subprocess.Popen(  # noqa: S603 - our own interpreter, with the paths we have ourselves
        [sys.executable, "-c", _START, *path],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, THREADS: "1"},
    )


class Crew:
    """Processes that read pictures, each started at need."""

    def __init__(self, size: int) -> None:
        self.size = size
        self._helpers = [_Helper() for _ in range(size)]
        self._threads = ThreadPoolExecutor(size, thread_name_prefix="welltold-scan")
        self._idle: SimpleQueue[_Helper | None] = SimpleQueue()
        self._lock, self._lost = Lock(), 0
        for one in self._helpers:
            self._idle.put(one)

    def in_order(
        self, shots: Iterable[Shot], known: Callable[[Shot], Page | None]
    ) -> Iterator[tuple[Shot, Answer | None]]:
        """Yield what comes of each picture, in their order; None: nobody here could do it.

        ``known`` returns the page of a picture that was read before.
        """
        waiting: deque[tuple[Shot, Future[Answer | None]]] = deque()
        for shot in shots:
            waiting.append((shot, self._asked(shot, known(shot))))
            if len(waiting) > _AHEAD * self.size:
                first, told = waiting.popleft()
                yield first, told.result()
        while waiting:
            first, told = waiting.popleft()
            yield first, told.result()

    def end(self) -> None:
        """Stop all processes."""
        self._threads.shutdown(wait=False, cancel_futures=True)
        for one in self._helpers:
            one.end()
        self._threads.shutdown()

    def _asked(self, shot: Shot, page: Page | None) -> Future[Answer | None]:
        if page is None:
            return self._threads.submit(self._ask, (spoken(), shot))
        ready: Future[Answer | None] = Future()
        ready.set_result(page)
        return ready

    def _ask(self, job: tuple[Language, Shot]) -> Answer | None:
        helper = self._idle.get()
        answer = helper.ask(job) if helper else None
        if answer is not None:
            self._idle.put(helper)
            return answer
        with self._lock:
            self._lost += helper is not None
        if self._lost >= self.size:
            self._idle.put(None)  # nobody is left: whoever waits goes on
        return None

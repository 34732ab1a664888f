"""How the pages of a file are worked on: by how many processes, and who is told of each page.

The work at hand is known inside a block, as the language is: ``with working(jobs=2): ...``. What
takes long to start, such as the processes that read pictures, is kept until the block ends.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any

Tell = Callable[[int, int], None]
"""Is told how many pages of a file are read, and how many there are."""


def _nobody(done: int, total: int) -> None:
    """Tell nobody."""


@dataclass(slots=True)
class Work:
    """What holds for all files that are read in one block."""

    jobs: int | None = None
    """Pages read at the same time; None: what the machine has room for."""
    tell: Tell = _nobody
    closing: ExitStack = field(default_factory=ExitStack)
    """What is to be ended with the block."""
    crew: Any = None
    """The processes that read pictures, once there are some; see ``scan.crew``."""


_WORK: ContextVar[Work | None] = ContextVar("work", default=None)


@contextmanager
def working(jobs: int | None = None, tell: Tell = _nobody) -> Iterator[None]:
    """Read pages of pictures in so many processes inside the block, and tell of each page.

    ``jobs`` 1 reads in this very process; None takes what the machine has room for. The readings
    are the same for any number.
    """
    work = Work(jobs, tell)
    token = _WORK.set(work)
    try:
        with work.closing:
            yield
    finally:
        _WORK.reset(token)


@contextmanager
def at_hand() -> Iterator[Work]:
    """Give the work of the block around, or a work of its own that ends with this block."""
    around = _WORK.get()
    if around is not None:
        yield around
        return
    with (work := Work()).closing:
        yield work

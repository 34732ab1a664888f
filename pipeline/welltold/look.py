"""How the pages of a report look: what changes no finding."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from .letterhead import Letterhead

Paper = Literal["letter", "a4"]
PAPERS: tuple[Paper, ...] = get_args(Paper)


@dataclass(frozen=True, slots=True)
class Look:
    """Who hands the pages over, and the paper that they are set for."""

    letterhead: Letterhead | None = None
    paper: Paper = "letter"

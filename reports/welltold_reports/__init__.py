"""An interpretation in; HTML, PDF, XLSX, JSON and text out.

Renderers decide nothing: every verdict is in the interpretation, every sentence in a catalogue.
This package imports welltold's core modules and never ``welltold_parsers``.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import Console

    from welltold.interpretation import Interpretation
    from welltold.look import Look

__all__ = ["print_terminal", "render_text", "write"]


def write(
    view: Interpretation,
    out: Path,
    formats: Sequence[str] = ("html", "pdf", "xlsx", "json", "text"),
    *,
    name: str,
    look: Look | None = None,
) -> tuple[Path, ...]:
    """Write the report files into ``out`` and return them; see `welltold_reports.writer.write`."""
    from .writer import write as write_files

    return write_files(view, out, formats, name=name, look=look)


def render_text(view: Interpretation) -> str:
    """Return the reports of all samples as plain text."""
    from .terminal import render_text as render

    return render(view)


def print_terminal(view: Interpretation, console: Console | None = None) -> None:
    """Print the reports of all samples on the terminal."""
    from .terminal import print_terminal as show

    show(view, console)

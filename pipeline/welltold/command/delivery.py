"""Where a report goes: into files, to the screen as JSON, or as the reasons that were asked for."""

from __future__ import annotations

import json as jsonlib
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import typer

from .. import face
from ..errors import NameTakenError, UnknownAnalyteError
from ..interpretation import Interpretation
from ..jsonform import to_jsonable
from ..look import Look
from ..messages import Message, say, speaking
from .console import note_written

Why = Callable[[Interpretation, int], tuple[Message, ...]]
"""Tells why, for one sample of a report."""


@dataclass(frozen=True, slots=True)
class Delivery:
    """What is done with each report of one command."""

    folder: Path | None
    """Of the files; None: the report is printed."""
    formats: tuple[str, ...]
    look: Look
    why: Why | None
    """Given, only the reasons are printed."""
    alone: bool
    """There is no other sheet."""
    owners: dict[str, Path] = field(default_factory=dict)
    """By the names of files without their endings: the sheet that each belongs to."""

    def give(self, path: Path, view: Interpretation) -> None:
        """Give out the report on one sheet as was asked; NameTakenError, OutputError."""
        if self.why is not None:
            print_why(view, self.why)
        elif self.folder is None:
            print_json(view, alone=self.alone)
        else:
            claim_outputs(path, view, self.owners)
            deliver(view, self.folder, path.stem, self.formats, self.look, alone=self.alone)


def claim_outputs(path: Path, view: Interpretation, owners: dict[str, Path]) -> None:
    """Claim the names of all files that a report writes; NameTakenError before any is written.

    A sheet ``a.csv`` with a sample X1 and a sheet ``a.X1.csv`` would share a file.
    """
    from welltold_reports.names import stems

    for name in {path.stem, *stems(path.stem, view.samples)}:
        owner = owners.setdefault(name.casefold(), path)
        if owner is not path:
            raise NameTakenError(str(owner), str(path), name)


def asked_for(name: str) -> Why:
    """Return what tells why: of an analyte, of a stage or of all sizes; UnknownAnalyteError."""
    from ..analytes import analyte, identify
    from ..explain import explain
    from ..explain_sizes import explain_sizes, nearest_asked, stage_asked

    what = stage_asked(name)
    if what is not None:
        return lambda view, index: explain_sizes(view, index, what)
    match = identify(name)
    try:
        slug = analyte(match.slug if match else name).slug
    except UnknownAnalyteError as error:
        # what is no analyte may be meant for a stage
        names = ", ".join(nearest_asked(name)) or error.args[1]
        raise UnknownAnalyteError(name, say("explain.nearest", names=names).text) from None
    return lambda view, index: explain(view, index, slug)


def print_why(view: Interpretation, why: Why) -> None:
    """Print the chain that leads to what is said, for every sample of the sheet."""
    typer.echo(f"{view.reading.source.file}:")
    for index, sample in enumerate(view.samples):
        if len(view.samples) > 1:
            typer.echo(f"\n{sample.id or sample.point or index + 1}:")
        for message in why(view, index):
            typer.echo(f"  {message.text}")


def print_json(view: Interpretation, *, alone: bool) -> None:
    """Print the report as JSON: indented when it is the only one, else on one line."""
    indent = 1 if alone else None
    typer.echo(jsonlib.dumps(to_jsonable(view), ensure_ascii=False, indent=indent))


def deliver(
    view: Interpretation,
    folder: Path,
    name: str,
    formats: tuple[str, ...],
    look: Look,
    *,
    alone: bool,
) -> None:
    """Write the report files and name them; on the terminal, show the first page too."""
    written = face.write(view, folder, formats, name=name, look=look)
    if alone and formats != ("json",):
        from welltold_reports import print_terminal

        print_terminal(view)
    with speaking(view.language):
        for path in written:
            note_written(path)

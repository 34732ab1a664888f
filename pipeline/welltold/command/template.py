"""``welltold template``: files to fill in."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Annotated

import typer

from ..errors import OutputError
from ..messages import say
from .beside import notes_folder
from .console import make_folder, note, note_written, write_text

app = typer.Typer(
    help="Write a file to fill in: site, reading, levels, letterhead, shelf, lab note.",
    no_args_is_help=True,
)

Out = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write there instead of the screen.")
]


@app.command("site")
def site(out: Out = None) -> None:
    """Write a commented site file: what a dealer asks on the doorstep.

    Example:  welltold template site --out site.toml
    """
    _deliver("site_template.toml", out)


@app.command("reading")
def reading(out: Out = None) -> None:
    """Write a small table for results told by phone, shown on a portal or written by hand.

    Example:  welltold template reading --out typed.csv
    """
    _deliver("reading_template.csv", out)


@app.command("levels")
def levels(out: Out = None) -> None:
    """Write a commented file of levels: those of a county or a lab, for --levels.

    Example:  welltold template levels --out my-county.toml
    """
    _deliver("levels_template.toml", out)


@app.command("letterhead")
def letterhead(out: Out = None) -> None:
    """Write a commented letterhead: name, address, logo and closing words, for --letterhead.

    Example:  welltold template letterhead --out letterhead.toml
    """
    _deliver("letterhead_template.toml", out)


@app.command("shelf")
def shelf(out: Out = None) -> None:
    """Write a table for what a dealer sells: tanks, media, flows and the limits claimed for them.

    Example:  welltold template shelf --out shelf.csv
    """
    _deliver("shelf_template.csv", out)


@app.command("lab")
def lab(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A sheet of the lab that is not read well.")
    ],
    out: Out = None,
) -> None:
    """Write a commented lab note from what is found in a sheet: its headings, units, names, flags.

    Corrected and kept in the folder of lab notes, it lets every sheet of that lab be read right.

    Example:  welltold template lab sheet.pdf --out labs/brindle.toml
    """
    from welltold_parsers.notes import claimed_by, propose

    _give(propose(file), out)
    for other in claimed_by(file, _notes_beside(out)):
        note(say("note.claimed", note=other.path, name=Path(other.path).name).text)


def _notes_beside(out: Path | None) -> list[Path]:
    """Return what may be notes beside a new one: in its own folder, and in the user's."""
    folders = (notes_folder(None), out.parent if out else None)
    found = {path.resolve() for folder in folders if folder for path in folder.glob("*.toml")}
    return sorted(found - ({out.resolve()} if out else set()))


def _deliver(name: str, out: Path | None) -> None:
    _give((files("welltold") / "data" / name).read_text("utf-8"), out)


def _give(text: str, out: Path | None) -> None:
    if out is None:
        typer.echo(text, nl=False)
        return
    make_folder(out.parent)
    if out.exists() and out.stat().st_size and out.read_bytes() != text.encode():
        raise OutputError(str(out), "it is there already, and may be filled in")
    write_text(out, text)
    note_written(out)

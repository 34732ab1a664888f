"""Writes the pages that show a reading: one HTML file a sheet, pictures beside it, an index."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from welltold.errors import FileMissingError, OutputError, ReadingFileError
from welltold.messages import spoken
from welltold.reading import Reading, Where
from welltold_parsers.doors import open_document
from welltold_parsers.limits import Limits

from .marks import KINDS, VALUES, Kind, Mark, marks_of, visible, word
from .parts import MOST_PICTURES, Part, parts_of
from .svg import overlay

TEMPLATES = Path(__file__).parent / "templates"
_DEFAULT = Limits()


def show(reading: Reading, path: Path, folder: Path, name: str, limits: Limits = _DEFAULT) -> Path:
    """Write ``NAME.html`` into the folder, and ``NAME.page-N.png`` for each page of a PDF.

    ``path`` is the sheet itself, or the file of a saved reading, beside which the sheet lies.
    Returns the HTML file. Raises the doors' errors; FileMissingError or ReadingFileError when the
    sheet is not there or is another one; OutputError.
    """
    sheet = sheet_of(reading, path)
    document = open_document(sheet, limits)
    if document.sha256 != reading.source.sha256:
        why = word("sheet_other", file=reading.source.file)
        raise ReadingFileError(str(path), "source.sha256", why)
    shown = marks_of(reading)
    page = folder / f"{name}.html"
    try:
        parts, left = parts_of(document, sheet, shown, folder / name)
        text = _render("sheet.html.j2", reading=reading, shown=shown, parts=parts, left=left)
        page.write_text(text, "utf-8")
    except OSError as error:
        raise OutputError(str(page), error.strerror or str(error)) from error
    return page


def sheet_of(reading: Reading, path: Path) -> Path:
    """Return the sheet that a reading was made from: the file itself, or one beside it.

    Raises FileMissingError.
    """
    if path.name == reading.source.file:
        return path
    beside = path.with_name(Path(reading.source.file).name)
    if not beside.is_file():
        raise FileMissingError(str(path), word("sheet_missing", file=reading.source.file))
    return beside


def write_index(folder: Path, shown: Sequence[tuple[Reading, Path]]) -> Path:
    """Write ``index.html`` with one line for each sheet; OutputError when it cannot be written."""
    lines = [(reading.source.file, page.name, marks_of(reading)) for reading, page in shown]
    page = folder / "index.html"
    try:
        page.write_text(_render("index.html.j2", lines=lines), "utf-8")
    except OSError as error:
        raise OutputError(str(page), error.strerror or str(error)) from error
    return page


def _render(template: str, **fields: object) -> str:
    css = Markup((TEMPLATES / "show.css").read_text("utf-8"))  # noqa: S704 our own file
    page = _environment().get_template(template)
    return page.render(css=css, language=spoken(), **fields).strip() + "\n"


def _legend_frame(kind: Kind) -> Markup:
    place = Where("value", box=(6.0, 6.0, 40.0, 16.0))
    number = {"look": "1", "unread": "U1"}.get(kind, "")
    mark = Mark(kind, replace(place, box=(16.0, 6.0, 40.0, 16.0)) if number else place, "", number)
    return Markup(overlay([mark], links=False))  # noqa: S704 overlay() escapes all text


def _frames(part: Part) -> Markup:
    return Markup(overlay(part.marks))  # noqa: S704 overlay() escapes all text


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(
        w=word,
        frames=_frames,
        legend_frame=_legend_frame,
        kinds=(*VALUES[::-1], *KINDS[len(VALUES) :]),
        values=VALUES[::-1],
        most=MOST_PICTURES,
    )
    environment.filters["visible"] = visible
    return environment

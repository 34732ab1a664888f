"""The three calls of the library: read, interpret, write."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from .interpretation import Interpretation
from .messages import Language, speaking
from .reading import Reading

if TYPE_CHECKING:
    from welltold_parsers.limits import Limits

    from .look import Look
    from .site import Site
    from .sizing import Shelf

FORMATS = ("html", "pdf", "xlsx", "json", "text")


def read(
    path: str | Path,
    *,
    limits: Limits | None = None,
    notes: str | Path | None = None,
    language: Language | None = None,
) -> Reading:
    """Read one file: a lab's sheet, a typed table, or a reading saved as JSON or CSV.

    What the file is, is decided by its content. A saved reading comes with its corrections.
    ``notes`` is a folder of lab notes, which `welltold template lab` writes; without it there are
    none. ``language``, "en" or "es", is that of the remarks; what the lab printed stays as it is.

    Raises a `welltold.WelltoldError` that names the file and the next step when the file cannot be
    read, or when no result of a water test is found in it.
    """
    path = Path(path)
    from welltold_parsers.limits import Limits as DefaultLimits

    from .content import content_of
    from .reading_json import is_reading_json, load_reading

    limits = limits or DefaultLimits()
    data = content_of(path, limits.file_bytes)
    with speaking(language):
        if is_reading_json(data):
            return load_reading(path, data)
        from welltold_parsers import read as read_sheet

        return read_sheet(path, limits, None if notes is None else Path(notes), data=data)


def interpret(  # noqa: PLR0913 - all but one may be left out
    reading: Reading,
    *,
    site: Site | None = None,
    as_of: date | None = None,
    packs: Sequence[str] | None = None,
    language: Language | None = None,
    earlier: Sequence[Reading] = (),
    shelf: Shelf | None = None,
    measure_first: bool = False,
    after: Sequence[Reading] = (),
) -> Interpretation:
    """Say what a reading means, compared with the levels known as of a date (today's if None).

    What ``as_of`` and ``packs`` leave open is taken from the site file's ``[levels]``, and the
    ``language`` ("en" or "es") from its ``[home]``; else it is English. ``earlier`` are sheets of
    the same well from other days; they stand beside the results and decide nothing.
    ``shelf`` is what a dealer sells (`welltold.sizing.load_shelf`), to pick sizes from.
    ``measure_first`` tries what is not known exactly, and ranks the cheap tests worth making before
    any money is spent; that takes seconds.
    ``after`` are sheets of the same well taken behind the equipment; each stage of it is compared
    with what was predicted. Samples of the sheet itself are, where the site file says what stood
    ahead of them.
    """
    from .earlier import with_earlier
    from .site import Site
    from .verdicts import interpret as judge

    site = site or Site()
    day = as_of or site.levels.as_of or date.today()  # noqa: DTZ011 - the reader's own calendar day
    packs = packs or site.levels.packs or ("us_federal",)
    with speaking(language or site.home.language):
        view = judge(
            reading,
            site=site,
            as_of=day,
            packs=packs,
            shelf=shelf,
            measure_first=measure_first,
        )
        others = [judge(one, site=Site(), as_of=day, packs=packs) for one in earlier]
        return _with_outlets(with_earlier(view, others), after, site, packs)


def _with_outlets(
    view: Interpretation, after: Sequence[Reading], site: Site, packs: Sequence[str]
) -> Interpretation:
    """Return the view with what bottles behind equipment say; as it is where there are none."""
    if not after and not any(facts.after for facts in site.samples.values()):
        return view
    from .outlet import with_after

    return with_after(view, after, site, packs)


def write(  # noqa: PLR0913 - all but two may be left out
    view: Interpretation,
    out: str | Path,
    formats: Sequence[str] = FORMATS,
    *,
    name: str | None = None,
    language: Language | None = None,
    look: Look | None = None,
) -> tuple[Path, ...]:
    """Write the report files into the folder ``out`` and return their paths.

    ``name`` begins every file name; it defaults to the sheet's own name without its suffix. The
    pages speak the language of the interpretation; ValueError when another is asked for here.
    ``look`` has the letterhead and the size of the paper.
    """
    from welltold_reports import write as write_files

    if language not in {None, view.language}:
        raise ValueError(f"this interpretation speaks {view.language!r}, not {language!r}")
    stem = name or Path(view.reading.source.file).stem
    return write_files(view, Path(out), formats, name=stem, look=look)

"""Files of pictures: scans, faxes and photos of a sheet, read with the extra ``welltold[scan]``."""

from __future__ import annotations

from welltold.errors import PicturesOnlyError, PoorPictureError
from welltold.messages import Message, say
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.doors.telling import ranges
from welltold_parsers.geometry import Page
from welltold_parsers.limits import Limits
from welltold_parsers.scan import available


def read(source: Source, limits: Limits) -> Opened:
    """Return the pages of a file of pictures; those that cannot be read are told, or refused."""
    if not available():
        raise PicturesOnlyError(source.name, 1)
    from welltold_parsers.scan.pages import read_shots
    from welltold_parsers.scan.pictures import shots_of

    pages: list[Page] = []
    poor: list[Message] = []
    for number, told in read_shots(shots_of(source.name, source.data, limits)):
        if isinstance(told, Page):
            pages.append(told)
        else:
            poor.append(say("scan.page_left_out", page=number, reason=told.text))
    if not pages:
        raise PoorPictureError(source.name, poor[-1].args["reason"])
    read_all = say("door.picture_read", pages=ranges([page.number for page in pages]))
    noticed = [one for page in pages if page.scan for one in page.scan.told]
    return Opened(pages=tuple(pages), warnings=(read_all, *noticed, *poor))

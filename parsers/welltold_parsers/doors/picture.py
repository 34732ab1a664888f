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
    from welltold_parsers.scan.pages import read_page
    from welltold_parsers.scan.pictures import shots_of
    from welltold_parsers.scan.poor import Poor

    pages: list[Page] = []
    poor: list[Message] = []
    for number, shot in enumerate(shots_of(source.name, source.data, limits), start=1):
        try:
            pages.append(read_page(shot.picture, number, shot.points, coarse=shot.coarse))
        except Poor as error:
            poor.append(say("scan.page_left_out", page=number, reason=error.reason.text))
            first = error.reason.text
    if not pages:
        raise PoorPictureError(source.name, first)
    told = say("door.picture_read", pages=ranges([page.number for page in pages]))
    noticed = [one for page in pages if page.scan for one in page.scan.told]
    return Opened(pages=tuple(pages), warnings=(told, *noticed, *poor))

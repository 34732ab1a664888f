"""Every picture of the pages, drawn by the one that knows how."""

from __future__ import annotations

from .change_bars import ChangeBars, bars_svg
from .history_chart import HistoryChart, history_svg
from .night_chart import NightChart, night_svg
from .number_line import NumberLine, svg
from .train_picture import TrainPicture, train_svg

Picture = NumberLine | HistoryChart | TrainPicture | ChangeBars | NightChart


def drawn(picture: Picture, uid: str, *, width: str = "100%", family: str = "inherit") -> str:
    """Return a picture as SVG; ``uid`` makes the ids inside it unique on the page."""
    match picture:
        case HistoryChart():
            return history_svg(picture, uid, width=width, family=family)
        case TrainPicture():
            return train_svg(picture, uid, width=width, family=family)
        case ChangeBars():
            return bars_svg(picture, uid, width=width, family=family)
        case NightChart():
            return night_svg(picture, width=width, family=family)
        case NumberLine():
            return svg(picture, uid, width=width, family=family)

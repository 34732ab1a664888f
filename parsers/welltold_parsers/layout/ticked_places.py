"""A place that is chosen among several with boxes: "Sample point: ☒ Kitchen ☐ Bath"."""

from __future__ import annotations

from .boxes import BOX

_OFFERED = 2
_BETWEEN = " ,;:/|.-–"


def ticked_place(text: str) -> str:
    """Return the only ticked of several words with boxes, "" where that is not clear.

    A text that offers nothing stays as it is.
    """
    boxes = list(BOX.finditer(text))
    if len(boxes) < _OFFERED:
        return text
    starts, ends = boxes[0].start() == 0, boxes[-1].end() == len(text)
    ticked = [at for at, box in enumerate(boxes) if box["full"]]
    if starts == ends or len(ticked) != 1 or any(box["unclear"] for box in boxes):
        return ""
    at = ticked[0]
    if starts:
        stop = boxes[at + 1].start() if at + 1 < len(boxes) else len(text)
        return text[boxes[at].end() : stop].strip(_BETWEEN)
    return text[boxes[at - 1].end() if at else 0 : boxes[at].start()].strip(_BETWEEN)

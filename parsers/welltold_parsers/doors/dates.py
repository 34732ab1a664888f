"""Serial day numbers of spreadsheets as ISO 8601."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

_EPOCH = datetime(1899, 12, 30)  # noqa: DTZ001 - a sheet's date has no time zone
_EPOCH_1904 = datetime(1904, 1, 1)  # noqa: DTZ001 - likewise
_LAST = 2_958_466
"""The day after 9999-12-31."""


def iso_of_serial(serial: Decimal, *, from_1904: bool) -> str | None:
    """Return the date, the date and time, or (below one day) the time; None if out of range.

    Day 60 of the 1900 system is a 29 February 1900 that never was; days before it count from one
    day later.
    """
    if not 0 <= serial < _LAST:
        return None
    epoch = _EPOCH_1904 if from_1904 else _EPOCH
    if not from_1904 and 1 <= serial < 60:
        epoch += timedelta(days=1)
    seconds = int((serial * 86_400).to_integral_value())
    moment = epoch + timedelta(seconds=seconds)
    if serial < 1 and not from_1904:
        return clock(moment)
    if seconds % 86_400 == 0:
        return moment.date().isoformat()
    return f"{moment.date().isoformat()}T{clock(moment)}"


def clock(moment: datetime) -> str:
    """Return hours and minutes, and seconds where there are any."""
    return moment.strftime("%H:%M:%S" if moment.second else "%H:%M")


def iso_of_text(text: str) -> str:
    """Return an ISO 8601 date as this project writes it: no empty time, no empty seconds."""
    try:
        moment = datetime.fromisoformat(text.strip().removesuffix("Z"))
    except ValueError:
        return text.strip()
    day = moment.date().isoformat()
    if not (moment.hour or moment.minute or moment.second):
        return day
    return f"{day}T{clock(moment)}"

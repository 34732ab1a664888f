"""Loads a reading that was saved as JSON (``welltold read --json``), checked field by field.

A person may have added a ``correction`` (``text``, ``by``, ``at``) to a result: it is put in place
of the printed result, as in `welltold.corrections`.
"""

from __future__ import annotations

import codecs
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .correcting import WrongEntryError, corrected
from .errors import FileMissingError, ReadingFileError
from .messages import say
from .reading import SCHEMA, Reading, Result
from .reading_checks import LONGEST_NUMBER, checked, unknown_keys

if TYPE_CHECKING:
    from pydantic import TypeAdapter


def is_reading_json(data: bytes) -> bool:
    """Whether the content of a file begins like JSON: no other file that can be read does."""
    return re.match(r'\s*[{\[]\s*(?:"|$)', _decoded(data[:64], errors="ignore")) is not None


def load_reading(path: Path, data: bytes | None = None) -> Reading:
    """Return the reading in a JSON file, with the corrections that a person added.

    ``data`` is the file's content, where it was read before. Raises FileMissingError, or
    ReadingFileError that names the place in the file which does not keep the contract
    ``welltold.reading/1``.
    """
    try:
        text = _decoded(path.read_bytes() if data is None else data)
        found = json.loads(text, parse_float=_decimal, parse_int=_whole, parse_constant=_whole)
        if not isinstance(found, dict) or found.get("schema") != SCHEMA:
            raise ReadingFileError(str(path), "schema", f"is not {SCHEMA}")
        return _settled(str(path), _checked(path, found))
    except OSError as error:
        reason = "no such file" if isinstance(error, FileNotFoundError) else error.strerror
        raise FileMissingError(str(path), reason or "cannot be opened") from error
    except UnicodeDecodeError as error:
        raise ReadingFileError(str(path), f"byte {error.start}", "is not UTF-8 text") from error
    except json.JSONDecodeError as error:
        raise ReadingFileError(str(path), f"line {error.lineno}", error.msg) from error
    except RecursionError as error:
        raise ReadingFileError(str(path), "brackets", say("correct.too_deep").text) from error
    except _NumberError as error:
        line = text.count("\n", 0, text.find(error.args[0])) + 1
        told = say("correct.too_long_number", text=error.args[0][:20])
        raise ReadingFileError(str(path), f"line {line}", told.text) from error


class _NumberError(Exception):
    """A number that no sheet can hold. Fields: its text."""


def _decimal(text: str) -> Decimal:
    number = Decimal(text) if len(text) <= LONGEST_NUMBER else None
    if number is None or abs(number.adjusted()) > LONGEST_NUMBER:
        raise _NumberError(text)
    return number


def _whole(text: str) -> int:
    if len(text) > LONGEST_NUMBER or not text.lstrip("-").isdecimal():
        raise _NumberError(text)
    return int(text)


def _decoded(data: bytes, errors: str = "strict") -> str:
    """Return the text of a JSON file; a shell on Windows may have written it as UTF-16."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", errors)
    return data.decode("utf-8-sig", errors)


def _corrections(found: Any) -> Iterator[dict[str, Any]]:
    """Yield every ``correction`` in what was loaded, wherever it stands."""
    if isinstance(found, dict):
        if isinstance(found.get("correction"), dict):
            yield found["correction"]
        found = list(found.values())
    if isinstance(found, list):
        for part in found:
            yield from _corrections(part)


def _checked(path: Path, found: dict[str, Any]) -> Reading:
    from pydantic import ValidationError

    for entry in _corrections(found.get("samples")):
        entry.setdefault("value", None)  # nobody has to type the number a second time
    for place, name in unknown_keys(found, Reading):
        told = say("correct.key_unknown", name=name).text
        raise ReadingFileError(str(path), f"{place}{name}", told)
    try:
        reading = _adapter().validate_python(found)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(step) for step in first["loc"])
        raise ReadingFileError(str(path), place, first["msg"]) from error
    _same_use(str(path), found, reading)
    return reading


def _same_use(file: str, found: dict[str, Any], reading: Reading) -> None:
    """Raise an error where "use" says something else than the reasons to look."""
    for at, sample in enumerate(reading.samples):
        for number, result in enumerate(sample.results):
            stated = found["samples"][at]["results"][number].get("use", result.use)
            if stated != result.use:
                told = say("correct.use_follows", use=result.use).text
                raise ReadingFileError(file, f"samples.{at}.results.{number}.use", told)


def _settled(file: str, reading: Reading) -> Reading:
    """Return the reading with its printed digits, and with the corrections put in place."""
    samples = tuple(
        replace(
            sample,
            results=tuple(
                _result(file, f"samples.{at}.results.{number}", result)
                for number, result in enumerate(sample.results)
            ),
        )
        for at, sample in enumerate(reading.samples)
    )
    return replace(reading, samples=samples)


def _result(file: str, place: str, result: Result) -> Result:
    step = ""
    try:
        whole = checked(result)
        step = ".correction"
        return corrected(whole, whole.correction) if whole.correction else whole
    except WrongEntryError as error:
        where = f"{place}{step}.{error.column}".rstrip(".")
        raise ReadingFileError(file, where, error.why) from error


@cache
def _adapter() -> TypeAdapter[Reading]:
    from pydantic import TypeAdapter

    return TypeAdapter(Reading)

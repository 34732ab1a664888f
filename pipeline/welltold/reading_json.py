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

from .correcting import WrongEntryError, corrected, says
from .errors import FileMissingError, ReadingFileError
from .messages import say
from .printed_numbers import PLAIN
from .reading import SCHEMA, Reading, Result

if TYPE_CHECKING:
    from pydantic import TypeAdapter


def is_reading_json(path: Path) -> bool:
    """Whether the file begins like JSON: no other file that can be read does."""
    try:
        with path.open("rb") as file:
            head = file.read(64)
    except OSError:
        return False
    return re.match(r'\s*[{\[]\s*(?:"|$)', _decoded(head, errors="ignore")) is not None


def load_reading(path: Path) -> Reading:
    """Return the reading in a JSON file, with the corrections that a person added.

    Raises FileMissingError, or ReadingFileError that names the place in the file which does not
    keep the contract ``welltold.reading/1``.
    """
    try:
        text = _decoded(path.read_bytes())
    except FileNotFoundError as error:
        raise FileMissingError(str(path), "no such file") from error
    except OSError as error:
        raise FileMissingError(str(path), error.strerror or "cannot be opened") from error
    except UnicodeDecodeError as error:
        raise ReadingFileError(str(path), f"byte {error.start}", "is not UTF-8 text") from error
    try:
        found = json.loads(text, parse_float=Decimal)
    except json.JSONDecodeError as error:
        raise ReadingFileError(str(path), f"line {error.lineno}", error.msg) from error
    if not isinstance(found, dict) or found.get("schema") != SCHEMA:
        raise ReadingFileError(str(path), "schema", f"is not {SCHEMA}")
    return _settled(str(path), _checked(path, found))


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
    try:
        return _adapter().validate_python(found)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(step) for step in first["loc"])
        raise ReadingFileError(str(path), place, first["msg"]) from error


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
    if result.correction is None and result.state == "value" and PLAIN.fullmatch(result.text):
        ways = (says(result.text, result.value, comma=comma) for comma in (False, True))
        if not any(ways):
            told = say("correct.text_differs", text=result.text, value=result.value)
            raise ReadingFileError(file, place, told.text)
    digits = with_digits(result)
    if digits.correction is None:
        return digits
    try:
        return corrected(digits, digits.correction)
    except WrongEntryError as error:
        raise ReadingFileError(file, f"{place}.correction.{error.column}", error.why) from error


def with_digits(result: Result) -> Result:
    """Return the result with the zeros behind the point that JSON's numbers have lost."""
    value = result.value
    if value is None or not result.decimals:
        return result
    digits = value.quantize(Decimal(1).scaleb(-result.decimals))
    if digits != value:
        return result
    normal = result.normalized
    if normal is not None and normal.value == value:
        normal = replace(normal, value=digits)
    return replace(result, value=digits, normalized=normal)


@cache
def _adapter() -> TypeAdapter[Reading]:
    from pydantic import TypeAdapter

    return TypeAdapter(Reading)

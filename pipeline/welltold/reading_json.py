"""Loads a reading that was saved as JSON (``welltold read --json``), checked field by field."""

from __future__ import annotations

import json
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .errors import FileMissingError, ReadingFileError
from .reading import SCHEMA, Reading

if TYPE_CHECKING:
    from pydantic import TypeAdapter


def load_reading(path: Path) -> Reading:
    """Return the reading in a JSON file.

    Raises FileMissingError, or ReadingFileError that names the place in the file which does not
    keep the contract ``welltold.reading/1``.
    """
    try:
        text = path.read_text("utf-8-sig")
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
    return _checked(path, found)


def _checked(path: Path, found: dict[str, Any]) -> Reading:
    from pydantic import ValidationError

    try:
        return _adapter().validate_python(found)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(step) for step in first["loc"])
        raise ReadingFileError(str(path), place, first["msg"]) from error


@cache
def _adapter() -> TypeAdapter[Reading]:
    from pydantic import TypeAdapter

    return TypeAdapter(Reading)

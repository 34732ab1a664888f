"""JSON Schemas of the two published documents, made from the dataclasses that they publish.

``python -m welltold.json_schema`` writes them into ``data/schemas/``. The files are part of the
contract: a test fails when they differ from what this module makes, so that a change is seen.
"""

from __future__ import annotations

import ast
import inspect
import json
import textwrap
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from functools import cache
from importlib.resources import files
from itertools import pairwise
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from .doubts import Doubt
from .interpretation import SCHEMA as REPORT_SCHEMA
from .interpretation import SampleView
from .jsonform import json_name
from .messages import LANGUAGES, Message
from .reading import SCHEMA as READING_SCHEMA
from .reading import Correction, Reading, Result, Source, Unread, Where

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_PLAIN = {str: "string", float: "number", int: "integer", bool: "boolean", Decimal: "number"}
Schema = dict[str, Any]


def reading_schema() -> Schema:
    """Return the schema of ``welltold.reading/1``."""
    defs: dict[str, Schema] = {}
    body = _record(Reading, defs)
    body["properties"]["doubts"] = _array(_of(Doubt, defs))
    body["required"].append("doubts")
    return _document(READING_SCHEMA, body, defs)


def report_schema() -> Schema:
    """Return the schema of ``welltold.report/1``."""
    defs: dict[str, Schema] = {}
    text: Schema = {"type": "string"}
    places = {
        "source": _of(Source, defs),
        "site": {"type": "object", "description": "The site file in its own names."},
        "unread": _array(_of(Unread, defs)),
        "doubts": _array(_of(Doubt, defs)),
        "warnings": _array(_of(Message, defs)),
        "corrections": _array(_correction(defs)),
        "as_of": {**text, "description": "ISO 8601 date of the levels compared with."},
        "levels_packs": _array(text),
        "language": {"enum": list(LANGUAGES), "description": "Of every sentence in it."},
        "samples": _array(_of(SampleView, defs)),
    }
    return _document(REPORT_SCHEMA, _object(places), defs)


def schema_text(schema: Schema) -> str:
    """Return a schema as it stands in its file."""
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def schema_files() -> dict[str, str]:
    """Return the text of each committed file by its name."""
    return {
        "welltold.reading-1.json": schema_text(reading_schema()),
        "welltold.report-1.json": schema_text(report_schema()),
    }


def _document(name: str, body: Schema, defs: dict[str, Schema]) -> Schema:
    """Return a whole schema: the version first, then the fields, then the parts."""
    body["properties"] = {"schema": {"const": name}, **body["properties"]}
    body["required"] = ["schema", *body["required"]]
    return {"$schema": DIALECT, "title": name, **body, "$defs": dict(sorted(defs.items()))}


def _object(properties: dict[str, Schema], required: list[str] | None = None) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties) if required is None else required,
        "additionalProperties": False,
    }


def _array(items: Schema) -> Schema:
    return {"type": "array", "items": items}


def _of(kind: Any, defs: dict[str, Schema]) -> Schema:
    """Return the schema of a type; dataclasses go into ``defs`` and are referred to."""
    simple = _plain(kind, defs)
    if simple is not None:
        return simple
    if not (isinstance(kind, type) and is_dataclass(kind)):
        raise TypeError(f"{kind} has no published JSON form")
    name = kind.__name__
    if name not in defs:
        defs[name] = {}
        defs[name] = _record(kind, defs)
    return {"$ref": f"#/$defs/{name}"}


def _plain(kind: Any, defs: dict[str, Schema]) -> Schema | None:
    """Return the schema of a type that is no dataclass, or None."""
    origin, args = get_origin(kind), get_args(kind)
    if kind in _PLAIN or kind is NoneType:
        return {"type": "null" if kind is NoneType else _PLAIN[kind]}
    if origin is Literal:
        return {"enum": list(args)}
    if origin in {UnionType, Union}:
        return _either([_of(part, defs) for part in args])
    if origin is tuple:
        return _tuple(args, defs)
    return _mapping(args) if origin is Mapping else None


def _mapping(args: tuple[Any, ...]) -> Schema:
    """Return an object of strings where it is declared so, else any object."""
    strings: Schema = {"additionalProperties": {"type": "string"}} if args == (str, str) else {}
    return {"type": "object", **strings}


def _tuple(args: tuple[Any, ...], defs: dict[str, Schema]) -> Schema:
    """Return a list of any length, or of a fixed one (a box has four numbers)."""
    if args[1:] == (Ellipsis,):
        return _array(_of(args[0], defs))
    return {**_array(_of(args[0], defs)), "minItems": len(args), "maxItems": len(args)}


def _either(parts: list[Schema]) -> Schema:
    """Return "one of these", short where all parts are plain types or a closed list and null."""
    if all(set(part) == {"type"} for part in parts):
        return {"type": [part["type"] for part in parts]}
    if set(parts[0]) == {"enum"} and parts[1:] == [{"type": "null"}]:
        return {"enum": [*parts[0]["enum"], None]}
    return {"anyOf": parts}


def _record(kind: Any, defs: dict[str, Schema]) -> Schema:
    """Return the schema of a dataclass as it is published."""
    hints, notes = get_type_hints(kind), _notes(kind)
    properties: dict[str, Schema] = {}
    required: list[str] = []
    for field in fields(kind):
        name = json_name(field.name)
        body = _of(hints[field.name], defs)
        left_out = bool(field.metadata.get("omit")) or kind is Where
        properties[name] = _without_null(body) if left_out and field.default is None else body
        if field.name in notes:
            properties[name] = {**properties[name], "description": notes[field.name]}
        if not (left_out and field.default is None):
            required.append(name)
        if kind is Result and name == "confidence":
            properties["use"] = {"enum": ["as_is", "look"]}
            required.append("use")
    return {"description": inspect.cleandoc(kind.__doc__ or ""), **_object(properties, required)}


def _without_null(body: Schema) -> Schema:
    """Return the schema of a field that is left out instead of being null."""
    kinds = body.get("type")
    if isinstance(kinds, list):
        rest = [kind for kind in kinds if kind != "null"]
        return {**body, "type": rest[0] if len(rest) == 1 else rest}
    parts = [part for part in body["anyOf"] if part != {"type": "null"}]
    return parts[0] if len(parts) == 1 else {**body, "anyOf": parts}


def _correction(defs: dict[str, Schema]) -> Schema:
    """Return a correction in a report, which names the result that it belongs to."""
    either: Schema = {"type": ["string", "null"]}
    text: Schema = {"type": "string"}
    corrected = {"sample": either, "analyte": either, "label": text, "printed": text}
    record = _record(Correction, defs)
    return _object({**corrected, **record["properties"]}, [*corrected, *record["required"]])


@cache
def _notes(kind: Any) -> dict[str, str]:
    """Return the sentences that stand under the fields of a dataclass in its source."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(kind))).body[0]
    body = tree.body if isinstance(tree, ast.ClassDef) else []
    notes: dict[str, str] = {}
    for field, note in pairwise(body):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
            text = note.value if isinstance(note, ast.Expr) else None
            if isinstance(text, ast.Constant) and isinstance(text.value, str):
                notes[field.target.id] = " ".join(text.value.split())
    return notes


def main() -> None:
    """Write the schemas into the package's own data folder."""
    folder = Path(str(files("welltold") / "data" / "schemas"))
    folder.mkdir(exist_ok=True)
    for name, text in schema_files().items():
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    main()

"""The published JSON shape of the reading and of the report.

Names and meaning are the contracts ``welltold.reading/1`` and ``welltold.report/1``; their JSON
Schemas stand in ``data/schemas/`` and are made from the same dataclasses.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

from .doubts import doubts_of
from .interpretation import SCHEMA as REPORT_SCHEMA
from .interpretation import Interpretation
from .reading import SCHEMA as READING_SCHEMA
from .reading import Reading, Result, Where

Form = Callable[[Any], Any]


def to_jsonable(obj: Any) -> Any:
    """Return ``obj`` as dictionaries, lists, strings, numbers, booleans and None.

    Dataclasses become dictionaries in declared order, numbers stay numbers (whole ones without a
    decimal point), ``for_`` becomes ``for``. TypeError for anything without a published form.
    """
    kind = type(obj)
    form = _FORMS.get(kind)
    if form is None:
        form = _FORMS[kind] = _form_of(kind)
    return form(obj)


def dump_json(obj: Any) -> str:
    """Return ``obj`` as indented JSON text, ending with a line break; same input, same text."""
    return json.dumps(to_jsonable(obj), ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def json_name(field_name: str) -> str:
    """Return the name under which a dataclass field is published (``for_`` is ``for``)."""
    return field_name.rstrip("_")


def _form_of(kind: type) -> Form:
    """Return the function that turns a value of this type into its published form."""
    if kind in {str, int, float, bool, type(None)}:
        return lambda value: value
    if is_dataclass(kind):
        return _record(kind)
    if issubclass(kind, Mapping):
        return lambda mapping: {str(key): to_jsonable(value) for key, value in mapping.items()}
    if issubclass(kind, tuple | list):
        return lambda items: [to_jsonable(item) for item in items]
    raise TypeError(f"{kind.__name__} has no published JSON form")


def _record(kind: type) -> Form:
    """Return the form of a dataclass: its fields in order, without those left out while None."""
    plan = tuple(
        (field.name, json_name(field.name), bool(field.metadata.get("omit")))
        for field in fields(kind)
    )

    def form(obj: Any) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for name, published, omitted in plan:
            value = getattr(obj, name)
            if value is not None or not omitted:
                out[published] = to_jsonable(value)
        return out

    return form


def _number(value: Decimal) -> int | float:
    """Return a whole number as int, any other as the nearest float."""
    whole = value == value.to_integral_value() and value.adjusted() < 16
    return int(value) if whole else float(value)


def _where(where: Where) -> dict[str, Any]:
    """Return a place with only the keys that apply to its kind of file."""
    return {key: value for key, value in _PLAIN_WHERE(where).items() if value is not None}


def _result(result: Result) -> dict[str, Any]:
    """Return a result with ``use``, which follows from its reasons for review."""
    out: dict[str, Any] = {}
    for key, value in _PLAIN_RESULT(result).items():
        out[key] = value
        if key == "confidence":
            out["use"] = result.use
    return out


def _reading(reading: Reading) -> dict[str, Any]:
    told = to_jsonable(doubts_of(reading))
    return {"schema": READING_SCHEMA, **_PLAIN_READING(reading), "doubts": told}


def _report(view: Interpretation) -> dict[str, Any]:
    reading = view.reading
    return {
        "schema": REPORT_SCHEMA,
        "source": to_jsonable(reading.source),
        "site": to_jsonable(view.site),
        "unread": to_jsonable(reading.unread),
        "doubts": to_jsonable(doubts_of(reading)),
        "warnings": to_jsonable(reading.warnings),
        "corrections": _corrections(reading),
        "as_of": view.as_of,
        "levels_packs": to_jsonable(view.levels_packs),
        "language": view.language,
        "samples": to_jsonable(view.samples),
    }


def _corrections(reading: Reading) -> list[dict[str, Any]]:
    """Return what a person put in place of printed results, with the sample and the label."""
    return [
        {
            "sample": sample.id,
            "analyte": result.analyte,
            "label": result.label,
            "printed": result.text,
            **to_jsonable(result.correction),
        }
        for sample in reading.samples
        for result in sample.results
        if result.correction is not None
    ]


_PLAIN_WHERE, _PLAIN_RESULT, _PLAIN_READING = _record(Where), _record(Result), _record(Reading)

_FORMS: dict[type, Form] = {
    Decimal: _number,
    Interpretation: _report,
    Reading: _reading,
    Result: _result,
    Where: _where,
}
"""The form of each type; types without a special one are added when first met."""

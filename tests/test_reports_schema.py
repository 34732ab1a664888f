"""The committed JSON Schemas are the contract of the two published documents."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import pytest
import report_cases as cases
from jsonschema import Draft202012Validator
from test_jsonform import READING, VIEW

from welltold.interpretation import Interpretation
from welltold.json_schema import schema_files
from welltold.jsonform import to_jsonable


def committed(name: str) -> str:
    return (files("welltold") / "data" / "schemas" / name).read_text("utf-8")


def validator(name: str) -> Draft202012Validator:
    schema = json.loads(committed(name))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("name", ["welltold.reading-1.json", "welltold.report-1.json"])
def test_committed_schema_is_what_the_types_publish(name: str) -> None:
    assert committed(name) == schema_files()[name], (
        "the published shape changed: give it a new version, or run python -m welltold.json_schema"
    )


def test_a_reading_with_every_field_filled_is_valid() -> None:
    assert not list(validator("welltold.reading-1.json").iter_errors(to_jsonable(READING)))


@pytest.mark.parametrize("view", [VIEW, *(make() for make in cases.CASES.values())])
def test_reports_and_their_readings_are_valid(view: Interpretation) -> None:
    report = list(validator("welltold.report-1.json").iter_errors(to_jsonable(view)))
    reading = list(validator("welltold.reading-1.json").iter_errors(to_jsonable(view.reading)))
    assert not report
    assert not reading


def _break(path: tuple[Any, ...], value: Any) -> Any:
    form = to_jsonable(READING)
    place = form
    for step in path[:-1]:
        place = place[step]
    if value is KeyError:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return form


RESULT = ("samples", 0, "results", 0)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("schema",), "welltold.reading/2"),
        (("extra",), 1),
        (("lab", "report_id"), KeyError),
        ((*RESULT, "state"), "zero"),
        ((*RESULT, "value"), "12.0"),
        ((*RESULT, "use"), KeyError),
        ((*RESULT, "qualifiers"), None),
        ((*RESULT, "where", 0, "sheet"), None),
        ((*RESULT, "where", 0, "box"), [1, 2, 3]),
        ((*RESULT, "review", 0, "text"), KeyError),
    ],
)
def test_what_is_not_in_the_contract_is_refused(path: tuple[Any, ...], value: Any) -> None:
    assert list(validator("welltold.reading-1.json").iter_errors(_break(path, value)))


def test_what_is_not_built_is_left_out_and_never_null() -> None:
    form = to_jsonable(VIEW)
    form["samples"][0]["checks"] = None
    assert list(validator("welltold.report-1.json").iter_errors(form))

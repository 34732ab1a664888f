"""The published JSON shape of readings and reports."""

from __future__ import annotations

import json
from dataclasses import fields
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from welltold.interpretation import (
    Condition,
    Finding,
    Interpretation,
    LevelUsed,
    Need,
    SampleView,
    Stage,
    Train,
)
from welltold.jsonform import dump_json, to_jsonable
from welltold.messages import Message
from welltold.reading import (
    Alternative,
    Correction,
    Lab,
    Normalized,
    Reading,
    Result,
    Sample,
    Source,
    Unread,
    Where,
)

NOTE = Message("reading.basis_open", {"label": "Nitrate"}, "The sheet does not say how.")
PLACE = Where("value", page=1, box=(10.0, 20.5, 30.0, 40.0))
RESULT = Result(
    "nitrate",
    "Nitrate",
    "12.0",
    "value",
    value=Decimal("12.0"),
    unit="mg/L",
    qualifiers=("H",),
    reporting_limit=Decimal("0.05"),
    normalized=Normalized(Decimal("12.0"), "mg/L", "N"),
    decimals=1,
    alternatives=(Alternative("12.9", Decimal("12.9"), "smudged"),),
    correction=Correction("12.5", Decimal("12.5"), "J. Doe", "2026-11-25T10:00:00"),
    confidence=0.75,
    review=(NOTE,),
    where=(PLACE, Where("unit", sheet="Results", cell="C7")),
)
READING = Reading(
    Source("sheet.pdf", "ab" * 32, "pdf", 2),
    Lab("Tamarack Water Lab", None),
    (Sample("A-1", results=(RESULT,)),),
    (Unread("Iron ???", Where("label", sheet="", cell="A9"), NOTE),),
    (NOTE,),
)
FINDING = Finding(
    "ph",
    "pH",
    "6.1",
    "nuisance_only",
    value=Decimal("6.1"),
    unit="SU",
    levels=(
        LevelUsed(
            "us_federal",
            "secondary",
            Decimal("8.5"),
            "SU",
            None,
            "in_force",
            "40 CFR 143.3",
            Decimal("6.5"),
        ),
        LevelUsed("us_federal", "goal", None, "mg/L", None, "in_force", "40 CFR 141.51"),
    ),
)
STAGE = Stage(
    "calcite_neutralizer",
    "whole_house",
    ("ph",),
    (NOTE,),
    (Condition("pH at least 6.0", "pH 6.1", holds=True, citation="common practice, no source"),),
)
VIEW = Interpretation(
    READING,
    "2026-11-25",
    ("us_federal",),
    {"home": {"people": 4, "elevation_ft": Decimal("900.0")}, "well": {"pressure_psi": (40, 60)}},
    (
        SampleView(
            "A-1",
            None,
            "2026-11-20",
            None,
            (FINDING,),
            needs=(Need(("ph",), "equipment", None, (NOTE,)),),
            trains=(Train((STAGE,), left=("nitrate",), for_=(NOTE,)),),
        ),
    ),
)


def test_reading_begins_with_its_schema_and_keeps_declared_order() -> None:
    form = to_jsonable(READING)
    assert list(form) == ["schema", "source", "lab", "samples", "unread", "warnings", "doubts"]
    assert form["schema"] == "welltold.reading/1"
    assert form["lab"] == {"name": "Tamarack Water Lab", "report_id": None}


def test_use_stands_after_confidence_and_follows_from_review() -> None:
    form = to_jsonable(RESULT)
    declared = [field.name for field in fields(Result)]
    at = declared.index("confidence") + 1
    assert list(form) == [*declared[:at], "use", *declared[at:]]
    assert form["use"] == "look"
    assert to_jsonable(Result("iron", "Iron", "ND", "below"))["use"] == "as_is"


def test_numbers_stay_numbers_and_text_keeps_the_digits() -> None:
    form = to_jsonable(RESULT)
    assert form["value"] == 12
    assert isinstance(form["value"], int)
    assert (form["text"], form["decimals"]) == ("12.0", 1)
    assert form["reporting_limit"] == 0.05
    assert to_jsonable(Decimal("1E+2")) == 100


def test_places_name_only_what_their_file_has() -> None:
    assert to_jsonable(PLACE) == {"of": "value", "page": 1, "box": [10.0, 20.5, 30.0, 40.0]}
    assert to_jsonable(Where("unit", sheet="", cell="C7")) == {
        "of": "unit",
        "sheet": "",
        "cell": "C7",
    }


def test_messages_carry_code_args_and_text() -> None:
    assert to_jsonable(NOTE) == {
        "code": "reading.basis_open",
        "args": {"label": "Nitrate"},
        "text": "The sheet does not say how.",
    }


def test_report_has_the_published_names() -> None:
    form = to_jsonable(VIEW)
    assert list(form) == [
        "schema",
        "source",
        "site",
        "unread",
        "doubts",
        "warnings",
        "corrections",
        "as_of",
        "levels_packs",
        "language",
        "samples",
    ]
    assert form["site"] == {
        "home": {"people": 4, "elevation_ft": 900},
        "well": {"pressure_psi": [40, 60]},
    }
    sample = form["samples"][0]
    assert "checks" not in sample, "what was not built is left out"
    assert sample["needs"][0]["for"] == "equipment"
    assert sample["trains"][0]["for"] == [to_jsonable(NOTE)]
    assert sample["trains"][0]["stages"][0]["for"] == ["ph"]
    assert sample["trains"][0]["stages"][0]["conditions"][0]["holds"] is True


def test_only_a_range_has_a_lower_level() -> None:
    of_range, of_goal = to_jsonable(FINDING)["levels"]
    assert of_range["low"] == 6.5
    assert "low" not in of_goal
    assert of_goal["value"] is None


def test_corrections_say_who_and_what_was_printed() -> None:
    assert to_jsonable(VIEW)["corrections"] == [
        {
            "sample": "A-1",
            "analyte": "nitrate",
            "label": "Nitrate",
            "printed": "12.0",
            "text": "12.5",
            "value": 12.5,
            "by": "J. Doe",
            "at": "2026-11-25T10:00:00",
        }
    ]


def test_text_form_is_stable_and_ends_with_a_line_break() -> None:
    text = dump_json(VIEW)
    assert text == dump_json(VIEW)
    assert text.endswith("}\n")
    assert json.loads(text) == to_jsonable(VIEW)


@given(
    st.decimals(
        allow_nan=False, allow_infinity=False, places=6, min_value=-(10**9), max_value=10**9
    )
)
def test_every_printed_number_survives(number: Decimal) -> None:
    assert Decimal(str(json.loads(json.dumps(to_jsonable(number))))) == number


@pytest.mark.parametrize("odd", [{1, 2}, b"x", object(), 1j])
def test_what_has_no_published_form_is_refused(odd: Any) -> None:
    with pytest.raises(TypeError, match="no published JSON form"):
        to_jsonable(odd)

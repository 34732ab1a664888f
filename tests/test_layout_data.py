"""The engine's data files: every row is usable, every doubt has its sentence."""

from __future__ import annotations

from decimal import Decimal

from welltold.analytes import analyte
from welltold.messages import catalogue
from welltold.tables import read_table
from welltold_parsers.layout.dates import settles_day_first, stamp
from welltold_parsers.layout.doubt import asked, judge, share_of, sure_enough, weights
from welltold_parsers.layout.words import head_key, head_of, segments


def test_no_head_phrase_belongs_to_two_roles() -> None:
    roles: dict[str, set[str]] = {}
    for row in read_table("header_words.csv"):
        roles.setdefault(head_key(row.text("phrase")), set()).add(row.text("role"))
    assert {phrase: found for phrase, found in roles.items() if len(found) > 1} == {}


def test_columns_of_the_water_quality_exchange_are_known() -> None:
    # names as published in the Water Quality Portal user guide (www.waterqualitydata.us)
    expected = {
        "CharacteristicName": "analyte",
        "ResultMeasureValue": "result",
        "ResultMeasure/MeasureUnitCode": "unit",
        "MeasureQualifierCode": "qualifier",
        "ResultSampleFractionText": "fraction",
        "ResultDetectionConditionText": "condition",
        "DetectionQuantitationLimitMeasure/MeasureValue": "reporting_limit",
        "ActivityIdentifier": "sample_id",
        "MonitoringLocationIdentifier": "point",
        "ActivityStartDate": "collected",
    }
    assert {name: h.role for name in expected if (h := head_of(name))} == expected


def test_every_signal_has_a_sentence_and_lowers_the_confidence() -> None:
    sentences = catalogue("read")
    for name, weight in weights().items():
        assert name in sentences
        assert weight <= 0
        assert share_of(weight) <= share_of(0)
    assert asked() <= weights().keys()


_FIELDS = (
    "label",
    "analyte",
    "unit",
    "other",
    "limit",
    "text",
    "basis",
    "flag",
    "formula",
    "letter",
)


def test_a_result_needs_a_look_exactly_when_there_is_a_reason() -> None:
    assert judge({}) == (share_of(0), ())
    for name, weight in weights().items():
        confidence, reasons = judge({name: dict.fromkeys((*_FIELDS, "higher", "lower"), "x")})
        assert confidence == share_of(weight)
        assert bool(reasons) == (confidence < sure_enough() or name in asked())


def test_two_doubts_leave_less_confidence_than_either() -> None:
    fields = dict.fromkeys(_FIELDS, "x")
    one, _ = judge({"label_joined": fields})
    both, _ = judge({"label_joined": fields, "unit_far": fields})
    assert both < one < share_of(0)


def test_limits_that_give_a_basis_away_name_known_analytes() -> None:
    for row in read_table("basis_limits.csv"):
        assert analyte(row.text("slug")).unit == "mg/L"
        limit = row.number("limit")
        assert limit is not None
        assert limit > Decimal(0)


def test_glued_heads_are_cut_at_known_phrases() -> None:
    assert [role for _, _, role in segments("Date Sampled Date Received")] == [
        "collected",
        "received",
    ]
    assert [role for _, _, role in segments("Level Detected Flag")] == ["result", "qualifier"]
    assert segments("Lab Sample ID") == ()


def test_dates_in_every_usual_form() -> None:
    for text in (
        "03/08/2019",
        "3/8/19",
        "8-Mar-19",
        "March 8, 2019",
        "2019-03-08",
        "08.03.2019",
        "8 de marzo de 2019",
    ):
        found = stamp(text)
        assert found is not None, text
        assert found.iso == "2019-03-08", text
    assert stamp("03/08/2019 @ 1:20 PM").iso == "2019-03-08T13:20"  # type: ignore[union-attr]  # the date is there
    assert stamp("190308", packed=True).iso == "2019-03-08"  # type: ignore[union-attr]  # as above
    assert stamp("13/08/2019").ambiguous is False  # type: ignore[union-attr]  # as above
    assert stamp("2340") is None


def test_only_a_day_above_twelve_settles_the_order() -> None:
    assert settles_day_first("25/08/2019") is True
    assert settles_day_first("08/25/2019") is False
    assert settles_day_first("08/05/2019") is None

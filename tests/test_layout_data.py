"""The engine's data files: every row is usable, every doubt has its sentence."""

from __future__ import annotations

from decimal import Decimal

from welltold.analytes import analyte
from welltold.messages import catalogue
from welltold.tables import read_table
from welltold_parsers.layout.dates import settles_day_first, stamp
from welltold_parsers.layout.doubt import SURE_ENOUGH, judge, signals
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


def test_every_signal_has_a_sentence_and_a_share() -> None:
    sentences = catalogue("read")
    for name, share in signals().items():
        assert name in sentences
        assert 0 < share < 1


def test_a_result_needs_a_look_exactly_when_there_is_a_reason() -> None:
    assert judge({}) == (1.0, ())
    for name, share in signals().items():
        fields = dict.fromkeys(
            "label analyte unit other limit text basis flag formula higher lower".split(), "x"
        )
        confidence, reasons = judge({name: fields})
        assert confidence == share
        assert bool(reasons) == (share < SURE_ENOUGH)


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

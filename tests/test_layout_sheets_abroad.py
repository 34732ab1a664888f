"""Data files as other countries and agencies write them: heads, days, names and limits."""

from __future__ import annotations

import pytest
from tests.layout_sheets import brief, read_csv

GERMAN = """
Messstellennummer,Datum,Parameter,Einheit,Messwert
7701,2004-03-11,Chlorid,mg/l,"41,00"
7701,2004-03-11,Nitrat (N),mg/l N,"2,10"
7701,2004-03-11,Hydrogenkarbonat,mg/l,"250,00"
7701,2004-03-11,Quellstoff Sieben,mg/l,"3,00"
7701,2004-03-11,Blei,µg/l,"-4,00"
7701,2004-09-30,Chlorid,mg/l,"43,00"
"""


def test_two_days_of_one_german_well_are_two_samples_and_no_name_is_dropped() -> None:
    reading = read_csv(GERMAN)
    assert [(s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("7701", "2004-03-11", 5),
        ("7701", "2004-09-30", 1),
    ]
    assert [brief(r) for r in reading.samples[0].results] == [
        ("chloride", "41.00", "mg/l", None),
        ("nitrate", "2.10", "mg/l N", "N"),
        ("bicarbonate", "250.00", "mg/l", None),
        (None, "3.00", "mg/l", None),
        ("lead", "-4.00", "µg/l", None),
    ]


def test_less_than_nothing_of_a_metal_is_doubted() -> None:
    reading = read_csv(
        "Site,Analyte,Result,Units\nA,Lead,-4,ug/L\nA,Iron,0.2,mg/L\nA,Water temperature,-0.2,°C\n"
        "A,Radium-226,-0.1,pCi/L\nA,Oxidation reduction potential,-45,mV"
    )
    asked = {r.analyte: [m.code for m in r.review] for r in reading.results}
    assert asked["lead"] == ["read.value_negative"]
    others = {slug: told for slug, told in asked.items() if slug != "lead"}
    assert len(others) == 4
    assert not any("read.value_negative" in told for told in others.values())


def test_a_plain_date_parts_the_rows_of_one_test() -> None:
    reading = read_csv(
        "Date,Variable,Value,Units\n2001-03-04,Iron,0.3,mg/L\n2001-05-06,Iron,0.4,mg/L\n"
        "2001-03-04,Zinc,1.1,mg/L\n2001-05-06,Zinc,1.2,mg/L"
    )
    assert [(s.collected, [str(r.value) for r in s.results]) for s in reading.samples] == [
        ("2001-03-04", ["0.3", "1.1"]),
        ("2001-05-06", ["0.4", "1.2"]),
    ]


def test_one_plain_date_over_all_rows_stays_open() -> None:
    reading = read_csv(
        "Date,Variable,Value,Units\n2001-03-04,Iron,0.3,mg/L\n2001-03-04,Zinc,1,mg/L"
    )
    assert [(s.collected, len(s.results)) for s in reading.samples] == [(None, 2)]


def test_the_summary_of_a_supply_is_shown_with_a_question() -> None:
    reading = read_csv(
        "PWS ID,PWS Name,Contaminant Name,Sample Measure (mg/L),Owner Type Description,"
        "Service Connections Count\n"
        "990101,Tamarack Court,LEAD SUMMARY,.004,Private,33\n"
        "990102,Otter Bend School,LEAD SUMMARY,.011,Local,1"
    )
    assert [(s.point, [brief(r) for r in s.results]) for s in reading.samples] == [
        ("Tamarack Court", [("lead", "0.004", "mg/L", None)]),
        ("Otter Bend School", [("lead", "0.011", "mg/L", None)]),
    ]
    assert [r.use for r in reading.results] == ["look", "look"]

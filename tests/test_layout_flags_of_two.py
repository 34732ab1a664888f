"""Flags in columns of their own: none of them may be lost, whoever set it, wherever it stands.

A number beside U was not found, and one beside R was rejected; without its flag it reads as found.
"""

from __future__ import annotations

from layout_sheets import read_csv, read_page, table

from welltold.reading import Reading


def test_the_flag_of_a_validator_counts_beside_the_flag_of_the_laboratory() -> None:
    reading = read_csv(
        "Sample ID,Date,Analyte,Result,Lab Qualifier,Validation Qualifier,Units,RL\n"
        "S-1,2026-01-05,Arsenic,1.2,,U,ug/L,1\n"
        "S-1,2026-01-05,Lead,0.8,J,,ug/L,1\n"
        "S-1,2026-01-05,Copper,12,,J,ug/L,1\n"
        "S-1,2026-01-05,Iron,30,B,R,ug/L,10\n"
    )
    (sample,) = reading.samples
    assert [(r.text, r.operator, r.qualifiers) for r in sample.results] == [
        ("1.2", "<", ("U",)),
        ("0.8", "=", ("J",)),
        ("12", "=", ("J",)),
        ("30", "=", ("B", "R")),
    ]


def test_no_flag_is_lost_however_many_columns_of_flags_there_are() -> None:
    reading = read_csv(
        "Sample ID,Date,Analyte,Result,Lab Qualifier,Data Flag,Val Qual,Final Qualifier,"
        "Units\n"
        "S-1,2026-01-05,Arsenic,1.2,J,,,R,ug/L\n"
        "S-1,2026-01-05,Lead,0.8,,B,J,,ug/L\n"
    )
    (sample,) = reading.samples
    assert [r.qualifiers for r in sample.results] == [("J", "R"), ("B", "J")]


def test_two_flags_beside_each_column_of_a_wide_sheet_count() -> None:
    reading = read_csv(
        "Sample ID,Date,Arsenic (ug/L),Qual,Val Qual,Lead (ug/L),Qual,Val Qual\n"
        "S-1,2026-01-05,1.2,,U,0.8,J,\n"
        "S-2,2026-01-06,3.1,J,,2.4,,R\n"
    )
    told = [[(r.text, r.operator, r.qualifiers) for r in s.results] for s in reading.samples]
    assert told == [
        [("1.2", "<", ("U",)), ("0.8", "=", ("J",))],
        [("3.1", "=", ("J",)), ("2.4", "=", ("R",))],
    ]


_LEFTS = (40.0, 200.0, 280.0, 330.0, 400.0, 450.0)


def test_a_column_of_nothing_but_u_belongs_to_the_numbers_before_it() -> None:
    reading = read_page(
        *table(
            _LEFTS,
            "Parameter | Units | DW-1 | 26-01 | DW-2 | \n"
            "Benzene | ug/L | 0.50 | U | 0.71 | \n"
            "Toluene | ug/L | 0.50 | U | 0.34 | J\n"
            "MTBE | ug/L | 0.50 | U | 0.50 | U\n"
            "Vinyl chloride | ug/L | 0.20 | U | 4.9 | D",
        )
    )
    first, second = reading.samples
    assert [r.operator for r in first.results] == ["<", "<", "<", "<"]
    assert [(r.operator, r.qualifiers) for r in second.results] == [
        ("=", ()),
        ("=", ("J",)),
        ("<", ("U",)),
        ("=", ("D",)),
    ]


def _told(reading: Reading) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(r.text, r.operator, r.qualifiers) for s in reading.samples for r in s.results]


def test_flags_that_stand_before_each_number_are_not_given_to_the_number_before_them() -> None:
    reading = read_csv(
        "Well,Date,Flag,Arsenic (ug/L),Flag,Lead (ug/L)\n"
        "W-1,2026-01-05,U,1.0,,2.2\n"
        "W-2,2026-01-05,,3.0,U,1.0\n"
    )
    assert _told(reading) == [
        ("1.0", "<", ("U",)),
        ("2.2", "=", ()),
        ("3.0", "=", ()),
        ("1.0", "<", ("U",)),
    ]


def test_flags_before_the_numbers_of_samples_side_by_side_go_to_the_numbers_behind() -> None:
    reading = read_csv(
        "Analyte,Units,Qual,W-1,Qual,W-2\n"
        "Benzene,ug/L,U,0.50,,0.71\n"
        "Toluene,ug/L,,0.62,U,0.50\n"
        "Lead,ug/L,U,1.0,J,1.4\n"
    )
    assert _told(reading) == [
        ("0.50", "<", ("U",)),
        ("0.62", "=", ()),
        ("1.0", "<", ("U",)),
        ("0.71", "=", ()),
        ("0.50", "<", ("U",)),
        ("1.4", "=", ("J",)),
    ]


def test_not_found_under_a_head_for_remarks_counts() -> None:
    reading = read_csv(
        "Sample,Analyte,Result,Units,Remark\n"
        "S,Lead,1.0,ug/L,ND\n"
        "S,Iron,30,ug/L,\n"
        "S,Zinc,12,ug/L,below detection limit\n"
        "S,Copper,15,ug/L,below the action level\n"
    )
    assert _told(reading) == [
        ("1.0", "<", ("ND",)),
        ("30", "=", ()),
        ("12", "<", ()),
        ("15", "=", ()),
    ]


def test_a_head_cut_in_two_loses_no_flag() -> None:
    reading = read_page(
        *table(
            (40.0, 200.0, 260.0, 300.0, 360.0),
            "Analyte|Result|Lab Q|DV Q|Units\n"
            "Benzene|0.50||U|ug/L\n"
            "Toluene|0.71|J|UJ|ug/L\n"
            "Iron|30|B|U|ug/L\n"
            "Lead|1.1|||ug/L",
        )
    )
    assert _told(reading) == [
        ("0.50", "<", ("U",)),
        ("0.71", "<", ("J", "UJ")),
        ("30", "<", ("B", "U")),
        ("1.1", "=", ()),
    ]


def test_a_flag_that_wraps_below_its_number_stays_with_it() -> None:
    lines = table(
        (40.0, 200.0, 300.0),
        "Analyte|Result|Units\nBenzene|0.50|ug/L\nToluene|0.71|ug/L\nLead|1.0|ug/L",
        pitch=25.0,
    )
    reading = read_page(*lines[:2], (134.0, {200.0: "U"}), *lines[2:], (184.0, {200.0: "U"}))
    assert [(r.label, r.operator) for s in reading.samples for r in s.results] == [
        ("Benzene", "<"),
        ("Toluene", "="),
        ("Lead", "<"),
    ]


def test_a_column_that_says_whether_each_test_was_found_counts() -> None:
    reading = read_csv(
        "Well,Date,Arsenic (ug/L),Arsenic Detected,Lead (ug/L),Lead non-detect\n"
        "W-1,2026-01-05,1.0,N,2.2,N\n"
        "W-2,2026-01-05,3.0,Y,1.0,Y\n"
    )
    assert _told(reading) == [
        ("1.0", "<", ()),
        ("2.2", "=", ()),
        ("3.0", "=", ()),
        ("1.0", "<", ()),
    ]
    assert reading.unread == ()


def test_yes_under_nd_means_that_nothing_was_found() -> None:
    reading = read_csv(
        "Sample,Analyte,Result,Units,ND?\nS,Lead,1.0,ug/L,Y\nS,Iron,30,ug/L,N\nS,Zinc,12,ug/L,N\n"
    )
    assert [(r.text, r.operator) for s in reading.samples for r in s.results] == [
        ("1.0", "<"),
        ("30", "="),
        ("12", "="),
    ]


def test_below_the_limit_beside_a_column_of_limits_is_asked_about() -> None:
    """Is 2.5 where the laboratory stops, or what a rule allows? 15 for lead is the rule's."""
    reading = read_csv(
        "Sample,Analyte,Result,Units,Limit\n"
        "S,Lead,BRL,ug/L,15\nS,Copper,BRL,ug/L,2.5\nS,Iron,40,ug/L,300\n"
    )
    told = {r.label: [m.code for m in r.review] for s in reading.samples for r in s.results}
    assert told == {"Lead": [], "Copper": ["read.limit_not_found"], "Iron": []}

"""Flags in columns of their own: none of them may be lost, whoever set it, wherever it stands.

A number beside U was not found, and one beside R was rejected; without its flag it reads as found.
"""

from __future__ import annotations

from layout_sheets import read_csv, read_page, table


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

"""Tables without a head of words: rows of keys over samples, days alone, units as heads."""

from __future__ import annotations

from layout_sheets import brief, read_csv, read_page, table

_KEYS = "Lab no. | | T-501 | T-502 | T-503\nSource | | Spring box | Lake intake | Bore 2\n"
_DAYS = "Collected | | 09/01/2026 | 09/01/2026 | 09/02/2026\n"
_ROWS = (
    "Calcium | mg/L | 41 | 12 | 58\nSulfide | mg/L | <0.05 | 0.31 | <0.05\nColor | CU | 5 | 25 | <5"
)
_LEFTS = (40.0, 130.0, 190.0, 280.0, 370.0)


def test_rows_of_keys_alone_head_every_sample_under_them() -> None:
    reading = read_page(*table(_LEFTS, _KEYS + _DAYS + _ROWS))
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("T-501", "Spring box", "2026-09-01"),
        ("T-502", "Lake intake", "2026-09-01"),
        ("T-503", "Bore 2", "2026-09-02"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["41", "<0.05", "5"],
        ["12", "0.31", "25"],
        ["58", "<0.05", "<5"],
    ]
    assert {brief(r)[2] for s in reading.samples for r in s.results} == {"mg/L", "CU"}


def test_keys_that_stand_over_the_units_head_none_of_them() -> None:
    lines = table((130.0, *_LEFTS[2:]), (_KEYS + _DAYS).replace("| |", "|"))
    reading = read_page(*lines, *table(_LEFTS, _ROWS, top=145.0))
    assert [len(s.results) for s in reading.samples] == [3, 3, 3]
    assert [brief(r)[2] for r in reading.samples[2].results] == ["mg/L", "mg/L", "CU"]
    assert not any(r.review for s in reading.samples for r in s.results)


def test_one_row_of_keys_is_enough() -> None:
    reading = read_page(*table(_LEFTS, "Sample ID | | A-1 | A-2 | A-3\n" + _ROWS))
    assert [s.id for s in reading.samples] == ["A-1", "A-2", "A-3"]
    assert sum(len(s.results) for s in reading.samples) == 9


_EARLIER = (
    "Parameter | Apr 2026 | Jan 2026 | This sample | SMCL\n"
    "Iron | 0.55 | 0.48 | 0.62 | 0.3\n"
    "Zinc | 0.03 | <0.02 | <0.02 | 5\n"
    "Chloride | 88 | 79 | 92 | 250"
)


def test_a_line_of_keys_right_above_a_head_tells_the_sample_and_the_unit() -> None:
    keys = {40.0: "Well 4 raw tap", 150.0: "Lab ref GC-2207", 240.0: "Sampled 07/08/2026"}
    reading = read_page(
        (60.0, {40.0: "Gannet Cove Utility District"}),
        (82.0, keys | {350.0: "all mg/L"}),
        *table((40.0, 150.0, 220.0, 290.0, 370.0), _EARLIER, top=96.0),
    )
    (sample,) = reading.samples
    assert (sample.id, sample.point, sample.collected) == (
        "GC-2207",
        "Well 4 raw tap",
        "2026-07-08",
    )
    assert [brief(r)[1:3] for r in sample.results] == [
        ("0.62", "mg/L"),
        ("<0.02", "mg/L"),
        ("92", "mg/L"),
    ]


def test_samples_with_numbers_over_a_head_still_are_its_upper_part() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 240.0, 330.0),
            " | | Sample 1 | Sample 2\nParameter | Units | Result | Result\n"
            "Iron | mg/L | 0.55 | 0.48\nZinc | mg/L | 0.03 | 0.02",
            pitch=12.0,
        )
    )
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["0.55", "0.03"],
        ["0.48", "0.02"],
    ]


def test_a_log_of_days_has_the_place_of_its_title_behind_the_owner() -> None:
    reading = read_csv(
        "Village of Osk - Entry Point 001 operating log\n"
        "Date,Free Cl2,pH,Operator\n,mg/L,s.u.,\n"
        "2026-04-01,0.82,7.3,RB\n2026-04-02,0.79,7.4,RB"
    )
    assert [(s.point, s.collected) for s in reading.samples] == [
        ("Entry Point 001", "2026-04-01"),
        ("Entry Point 001", "2026-04-02"),
    ]
    assert not any(r.review for s in reading.samples for r in s.results)


def test_a_log_whose_title_names_only_the_owner_keeps_its_doubt() -> None:
    reading = read_csv(
        "Village of Osk - operating log\nDate,Free Cl2,pH\n,mg/L,s.u.\n"
        "2026-04-01,0.82,7.3\n2026-04-02,0.79,7.4"
    )
    assert {s.point for s in reading.samples} == {None}
    assert all(r.review for s in reading.samples for r in s.results)


_UNITS = (60.0, 200.0, 290.0, 380.0)
_IONS = (
    "CATIONS | mg/L (ppm) | meq/L | acre-foot\n"
    "Calcium (Ca) | 88.2 | 4.40 | 240\nSodium (Na) | 142 | 6.18 | 386\n"
    "Boron (B) | 0.62 | — | 1.7"
)


def test_a_groups_word_over_units_heads_a_list_of_its_own_below_a_table() -> None:
    reading = read_page(
        *table(
            (60.0, 200.0, 250.0, 320.0),
            "Measurement | Result | | Rating\npH | 7.8 | | Slight\n"
            "Hardness | 350 | mg/L | Very hard\nIron (Fe) | 0.04 | mg/L | Low",
        ),
        (175.0, {380.0: "lbs per"}),
        *table(_UNITS, _IONS, top=187.0),
    )
    (sample,) = reading.samples
    assert [brief(r)[:3] for r in sample.results] == [
        ("ph", "7.8", None),
        ("hardness", "350", "mg/L"),
        ("iron", "0.04", "mg/L"),
        ("calcium", "88.2", "mg/L"),
        ("sodium", "142", "mg/L"),
        ("boron", "0.62", "mg/L"),
    ]
    assert not reading.unread


def test_a_key_behind_an_address_tells_of_the_sample() -> None:
    reading = read_page(
        (60.0, {40.0: "WATER REPORT", 300.0: "Lab No.", 400.0: "W-26-00871"}),
        (75.0, {40.0: "Grower: Tollefsrud Farms", 300.0: "Sample ID", 400.0: "Pivot 3"}),
        (90.0, {40.0: "12877 Range Rd 8, Sedge", 300.0: "Sampled", 400.0: "06/02/2026"}),
        *table(_UNITS, "Measurement | Result | Unit\nIron | 0.04 | mg/L\npH | 7.8 |", top=120.0),
    )
    (sample,) = reading.samples
    assert (sample.id, sample.collected) == ("W-26-00871", "2026-06-02")


def test_a_guide_for_livestock_is_no_result() -> None:
    reading = read_page(
        *table(_UNITS, "Measurement | Result | Unit\nIron | 0.04 | mg/L\npH | 7.8 |"),
        (160.0, {40.0: "Livestock guide: TDS under 3,000 mg/L is satisfactory for all classes."}),
    )
    assert [brief(r)[0] for s in reading.samples for r in s.results] == ["iron", "ph"]

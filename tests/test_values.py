"""The grammar of a printed result. Every row of these tables was typed and judged by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest
from printed_values import read

from welltold.values import ParsedValue, parse_value


@pytest.mark.parametrize(
    ("text", "value", "decimals"),
    [
        ("0.31", "0.31", 2),
        ("7", "7", 0),
        (" 12.50 ", "12.50", 2),
        ("5.", "5", 0),
        (".05", "0.05", 2),
        ("0", "0", 0),
        ("0.000", "0.000", 3),
        ("1,234", "1234", 0),
        ("1,234.5", "1234.5", 1),
        ("1,234,567", "1234567", 0),
        ("1 234", "1234", 0),
        ("1\u00a0234", "1234", 0),
        ("1\u2009234.5", "1234.5", 1),
        ("1.2E-3", "0.0012", 4),
        ("1.2e+03", "1200", 0),
        ("1.25E1", "12.5", 1),
        ("3.4 E-02", "0.034", 3),
        ("1.2 x 10^3", "1200", 0),
        ("1.2x10-3", "0.0012", 4),
        ("1.2 × 10³", "1200", 0),
        ("1.2×10⁻³", "0.0012", 4),
        ("-0.73", "-0.73", 2),
        ("−0.7", "-0.7", 1),
        ("–0.7", "-0.7", 1),
        ("+5", "5", 0),
        ("200.8", "200.8", 1),
    ],
)
def test_a_number_is_read_with_its_digits(text: str, value: str, decimals: int) -> None:
    found = read(text)
    assert (found.state, found.operator) == ("value", "=")
    assert str(found.value) == value
    assert found.decimals == decimals
    assert found.qualifiers == ()
    assert found.unit_text is None
    assert found.present is None


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("0,5", "0.5"),
        (",5", "0.5"),
        ("1 250,5", "1250.5"),
        ("1.234,5", "1234.5"),
        ("1.234.567,8", "1234567.8"),
        ("1.234", "1234"),
        ("1,234", "1.234"),
        ("12", "12"),
        ("0,05 mg/L", "0.05"),
        ("<0,5", "0.5"),
        ("ND (0,5)", "0.5"),
    ],
)
def test_decimal_commas_where_the_sheet_uses_them(text: str, value: str) -> None:
    assert str(read(text, decimal_comma=True).value) == value


@pytest.mark.parametrize("text", ["0,5", "1,23", "12,34", "0,123", "1.234,5", "1 250,5", "1,2345"])
def test_a_comma_is_never_guessed_to_be_a_decimal_comma(text: str) -> None:
    assert parse_value(text) is None


@pytest.mark.parametrize("text", ["0.5", "1.23", "0.123", "1,234.5"])
def test_a_point_is_never_guessed_where_commas_are_decimal(text: str) -> None:
    assert parse_value(text, decimal_comma=True) is None


@pytest.mark.parametrize(
    ("text", "limit"),
    [
        ("<0.5", "0.5"),
        ("< 0.5", "0.5"),
        ("<.5", "0.5"),
        ("<  0.50", "0.50"),
        ("‹0.5", "0.5"),
        ("＜0.5", "0.5"),
        ("〈 0.5", "0.5"),
        ("≤0.5", "0.5"),
        ("<=0.5", "0.5"),
        ("˂2.0", "2.0"),
        ("&lt;0.5", "0.5"),
        ("&lt;&nbsp;0.5", "0.5"),
        ("LT 0.5", "0.5"),
        ("LT0.5", "0.5"),
        ("less than 0.5", "0.5"),
        ("Less Than 0.5", "0.5"),
        ("<1,000", "1000"),
        ("0.5 U", "0.5"),
        ("0.5U", "0.5"),
        ("0.5 u", "0.5"),
        ("0.5 (U)", "0.5"),
        ("<0.120 U", "0.120"),
        ("0.5 UJ", "0.5"),
        ("0.5 U J", "0.5"),
        ("0.5 H/U", "0.5"),
        ("U 0.5", "0.5"),
        ("ND (0.5)", "0.5"),
        ("ND<0.5", "0.5"),
        ("ND < 0.5", "0.5"),
        ("ND @ 0.5", "0.5"),
        ("ND at 0.5", "0.5"),
        ("ND 0.5", "0.5"),
        ("ND (RL 0.5)", "0.5"),
        ("ND (<0.5)", "0.5"),
        ("N.D. (0.5)", "0.5"),
        ("ND(5)", "5"),
        ("BDL (MDL=0.05)", "0.05"),
        ("<MDL (0.5)", "0.5"),
        ("< RL (0.5)", "0.5"),
        ("Not Detected (<0.5)", "0.5"),
        ("not detected at 0.5", "0.5"),
        ("0.5 ND", "0.5"),
        ("0.5 (ND)", "0.5"),
        ("<0.5 (ND)", "0.5"),
        ("* <0.5", "0.5"),
        ("J <0.5", "0.5"),
        ("menor que 0.5", "0.5"),
    ],
)
def test_below_a_printed_limit(text: str, limit: str) -> None:
    found = read(text)
    assert (found.state, found.operator) == ("below", "<")
    assert str(found.value) == limit


@pytest.mark.parametrize(
    "text",
    [
        "ND", "nd", "N.D.", "n/d", "U", "BDL", "BQL", "BRL", "<MDL", "< MDL", "<RL", "<LOD",
        "Not Detected", "NOT DETECTED", "Not detected.", "None Detected", "Non Detect",
        "Non-detect", "Nil", "None found", "Not found", "ND*", "ND ¹", "ND U", "ND mg/L",
        "Below Detection Limit", "not detected in 100 mL", "<0", "<0.00", "0 U", "0.000 U",
        "0 ND", "-0.12 U", "0.4 ± 0.2 U", "ND 1", "No detectado",
    ],
)  # fmt: skip
def test_not_detected_without_a_limit_is_no_number(text: str) -> None:
    found = read(text)
    assert (found.state, found.operator, found.value) == ("below", "<", None)
    assert found.decimals is None


@pytest.mark.parametrize(
    ("text", "value"),
    [
        (">2419.6", "2419.6"), ("> 200", "200"), ("> 200.5", "200.5"), ("≥200", "200"),
        ("&gt;2419.6", "2419.6"), ("GT 200", "200"), ("greater than 200", "200"),
        ("more than 200", "200"), (">2,419.6", "2419.6"), (">200 E", "200"),
    ],
)  # fmt: skip
def test_above_a_printed_limit(text: str, value: str) -> None:
    found = read(text)
    assert (found.state, found.operator, str(found.value)) == ("above", ">", value)


@pytest.mark.parametrize(
    ("text", "state"),
    [
        ("OR", "above"), ("over range", "above"), ("Over Range", "above"),
        ("TNTC", "too_many"), ("Too numerous to count", "too_many"), ("Confluent", "too_many"),
        ("Confluent growth", "too_many"), ("Trace", "trace"), ("DNQ", "trace"),
        ("Between Inst Detect and Quant Limit", "trace"),
        ("Detected, below quantitation limit", "trace"),
        ("Absent", "absent"), ("ABSENT", "absent"), ("Negative", "absent"), ("NEG", "absent"),
        ("Absent in 100 mL", "absent"), ("ABSENT/100mL", "absent"), ("absent per 100 ml", "absent"),
        ("Absent (100 mL)", "absent"), ("Coliform absent", "absent"), ("Absent *", "absent"),
        ("Absent (<1)", "absent"), ("Ausente", "absent"),
        ("Present", "present"), ("PRESENT/100 mL", "present"), ("Positive", "present"),
        ("Detected", "present"), ("E. coli present", "present"), ("Presente", "present"),
        ("illegible", "unreadable"), ("#####", "unreadable"), ("#VALUE!", "unreadable"),
    ],
)  # fmt: skip
def test_words(text: str, state: str) -> None:
    found = read(text)
    assert found.state == state
    assert found.value is None
    assert found.present is {"absent": False, "present": True}.get(state)


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "-", "--", "---", "—", "–", "_", "*", "...", "N/A", "n/a", "NA", "NT", "NR", "NS",
        "not tested", "Not Tested", "not requested", "Not analyzed", "\u00a0",
    ],
)  # fmt: skip
def test_not_tested_is_blank(text: str) -> None:
    found = read(text)
    assert (found.state, found.value, found.present) == ("blank", None, None)


@pytest.mark.parametrize(
    ("text", "present"),
    [
        ("A", False),
        ("P", True),
        ("a", False),
        ("N", False),
        ("D", True),
        ("none", False),
        ("+", True),
    ],
)
def test_single_letters_count_only_when_asked_for(text: str, present: bool) -> None:
    assert parse_value(text) is None
    assert read(text, presence_letters=True).present is present


@pytest.mark.parametrize(
    ("text", "value", "flags"),
    [
        ("1.2 J", "1.2", ("J",)), ("0.31J", "0.31", ("J",)), ("0.31 (J)", "0.31", ("J",)),
        ("0.31 [J]", "0.31", ("J",)), ("4.02  J", "4.02", ("J",)), ("0.31 JB", "0.31", ("J", "B")),
        ("0.31 B,J", "0.31", ("B", "J")), ("20 H", "20", ("H",)), ("200 E", "200", ("E",)),
        ("12 D", "12", ("D",)), ("5 Q", "5", ("Q",)), ("5 M", "5", ("M",)), ("5 N", "5", ("N",)),
        ("5 R", "5", ("R",)), ("5 X", "5", ("X",)), ("5.2*", "5.2", ("*",)),
        ("5.2 **", "5.2", ("**",)), ("*5.2", "5.2", ("*",)), ("0.31 a", "0.31", ("a",)),
        ("0.31b", "0.31", ("b",)), ("0.31 (1)", "0.31", ("1",)), ("0.31¹", "0.31", ("1",)),
        ("5.0²", "5.0", ("2",)), ("0.31 J+", "0.31", ("J+",)), ("0.31 J*", "0.31", ("J", "*")),
        ("0.31 mg/L J", "0.31", ("J",)), ("0.31 J mg/L", "0.31", ("J",)),
        ("0.31 mg/L N", "0.31", ("N",)), ("J 0.31", "0.31", ("J",)), ("0.31 mg/L*", "0.31", ("*",)),
        ("0.31 ↑", "0.31", ("↑",)), ("~12", "12", ("~",)), ("est. 120", "120", ("est.",)),
    ],
)  # fmt: skip
def test_flags_are_kept_and_the_number_stays(text: str, value: str, flags: tuple[str, ...]) -> None:
    found = read(text)
    assert (found.state, str(found.value), found.qualifiers) == ("value", value, flags)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("0.31 mg/L", "0.31", "mg/L"), ("0.31mg/L", "0.31", "mg/L"), ("12 ppm", "12", "ppm"),
        ("7.2 pH", "7.2", "pH"), ("7.2 S.U.", "7.2", "S.U."), ("7.2 units", "7.2", "units"),
        ("15 CU", "15", "CU"), ("98 %", "98", "%"), ("98%", "98", "%"), ("21.3 °C", "21.3", "°C"),
        ("150 mg/L as CaCO3", "150", "mg/L as CaCO3"), ("3 µg/L", "3", "µg/L"),
        ("12 MPN/100 mL", "12", "MPN/100 mL"), ("12/100 mL", "12", "/100 mL"),
        ("4.5 (mg/L)", "4.5", "mg/L"), ("415 µS/cm @ 25 °C", "415", "µS/cm @ 25 °C"),
    ],
)  # fmt: skip
def test_a_unit_in_the_cell(text: str, value: str, unit: str) -> None:
    found = read(text)
    assert (found.state, str(found.value), found.unit_text) == ("value", value, unit)
    assert found.qualifiers == ()


def test_a_unit_beside_other_things() -> None:
    assert read("<1 MPN/100mL") == ParsedValue(
        "below", "<", Decimal(1), decimals=0, unit_text="MPN/100mL", text="<1 MPN/100mL"
    )
    assert read("> 2419.6 MPN/100mL").unit_text == "MPN/100mL"
    assert read("ND (0.5 ug/L)").unit_text == "ug/L"
    assert read("ND ug/L").unit_text == "ug/L"
    assert read("<0.5 mg/L U").qualifiers == ("U",)


@pytest.mark.parametrize(
    ("text", "value", "uncertainty"),
    [
        ("5.0 ± 0.4", "5.0", "0.4"), ("5.0 +/- 0.4", "5.0", "0.4"), ("0.4 +- 0.2", "0.4", "0.2"),
        ("5.0±0.4 pCi/L", "5.0", "0.4"), ("5.0 pCi/L ± 0.4", "5.0", "0.4"),
        ("1.0 (±0.4)", "1.0", "0.4"), ("12 &plusmn; 3", "12", "3"), ("-0.1 ± 0.3", "-0.1", "0.3"),
    ],
)  # fmt: skip
def test_an_uncertainty(text: str, value: str, uncertainty: str) -> None:
    found = read(text)
    assert (str(found.value), str(found.uncertainty)) == (value, uncertainty)


@pytest.mark.parametrize(
    ("text", "state", "value", "present"),
    [
        ("0 (Absent)", "value", "0", False), ("<1 (Absent)", "below", "1", False),
        ("<1 Absent", "below", "1", False), ("12 (Present)", "value", "12", True),
    ],
)  # fmt: skip
def test_a_count_with_its_answer_beside_it(
    text: str, state: str, value: str, present: bool
) -> None:
    found = read(text)
    assert (found.state, str(found.value), found.present) == (state, value, present)


def test_plates_too_full_to_count_keep_the_number_beside_them() -> None:
    found = read("TNTC (>200)")
    assert (found.state, found.operator, found.value) == ("too_many", ">", Decimal(200))


@pytest.mark.parametrize(
    "text",
    [
        "5 (3-8)", "7.4 / 21.3", "6.5-8.5", "6.5 - 8.5", "02/03/2026", "2/3/26", "2026-03-02",
        "02.03.2026", "8-Mar-19", "March 8, 2019", "10:40", "10:40 AM", "1.2.3", "SM 2340B",
        "EPA 200.8", "(555) 555-0123", "555-0123", "7440-50-8", "5 Absent", "0 Present",
        "<1 Present", ">200 ND", ">200 U", "10³", "25²", "1.2x103", "5 1", "12 34", "1 2345",
        "1'234", "24 HRS", "10 MIN", "5 IN", "5 JUN", "12 DEC", "12 C", "12 F", "15 HU", "0.5 K",
        "3 L", "100 mL", "clear", "see comment", "slight", "none", "J", "E. coli", "Lead", "E 200",
        "1E999", "1e31", "12 %REC", "5 ±", "± 0.4", "<-1", "- 0.7", "0x10", "½", "٣", "1_000",
        "nan", "inf", "Infinity", "NaN", "pass", "Safe", "Satisfactory", "0.5 foo", "1/2", "Yes",
        "<", ">", "<0.5 ± 0.1", "4 of 5", "ND >0.5",
        "TNTC (<200)", "- J", "5 ± -1", "5 ± 1 ± 2", "or", "5 MB", "2 HR", "6 DB",
        "1.2 1.3", "0.5 mg", "LT", "mg/L", "A", "P", "2 x 4",
    ],
)  # fmt: skip
def test_what_is_no_plain_result_is_left_to_a_person(text: str) -> None:
    assert parse_value(text) is None


def test_a_dash_with_its_unit_is_blank() -> None:
    assert (read("-- mg/L").state, read("NA mg/L").unit_text) == ("blank", "mg/L")

"""A printed number over a level does not vanish without a word when a person puts in another."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from welltold.correcting import corrected
from welltold.interpretation import Finding
from welltold.reading import Correction

if TYPE_CHECKING:
    from .conftest import Bench

ASIDE = "verdict.put_aside"


def judged(bench: Bench, slug: str, printed: str, unit: str, typed: str) -> Finding:
    row = bench.result(slug, printed, unit, "N" if slug == "nitrate" else None)
    return bench.judge(corrected(row, Correction(typed, None, "K. Larch", "2026-11-25")))


def codes(finding: Finding) -> set[str]:
    return {message.code for message in (*finding.why, *finding.do)}


@pytest.mark.parametrize(
    ("slug", "printed", "unit", "typed", "shown"),
    [
        ("nitrate", "18", "mg/L", "1.8", "18 mg/L"),
        ("arsenic", "120", "ug/L", "<12", "120 ug/L"),
        (
            "arsenic",
            "12",
            "mg/L",
            "8 ug/L",
            "12 mg/L",
        ),  # the typed unit takes the printed one's place
        ("lead", "0.05", "mg/L", "ND", "0.05 mg/L"),
        ("e_coli", "Present", "P/A", "absent", "Present P/A"),
    ],
)
def test_an_entry_that_lowers_a_health_value_is_named(
    bench: Bench, slug: str, printed: str, unit: str, typed: str, shown: str
) -> None:
    # levels: nitrate 10 mg/L as N, arsenic 10 ug/L, lead 10 ug/L, no E. coli (40 CFR 141)
    finding = judged(bench, slug, printed, unit, typed)
    assert finding.verdict != "health_concern"
    told = next(message for message in finding.why if message.code == ASIDE)
    assert (told.args["printed"], told.args["by"]) == (shown, "K. Larch")
    assert "verdict.do_check_sheet" in codes(finding)


@pytest.mark.parametrize(
    ("printed", "typed"), [("18", "12"), ("18", "18"), ("2", "18"), ("2", "1"), ("6", "2")]
)
def test_any_other_entry_needs_no_word(bench: Bench, printed: str, typed: str) -> None:
    assert ASIDE not in codes(judged(bench, "nitrate", printed, "mg/L", typed))


def test_the_printed_unit_is_kept_however_often_the_entry_is_applied(bench: Bench) -> None:
    row = bench.result("arsenic", "12", "mg/L")
    entry = Correction("8 ug/L", None, "K. Larch", "2026-11-25")
    once = corrected(row, entry)
    assert once.correction is not None
    assert once.correction.printed_unit == "mg/L"
    assert corrected(once, once.correction) == once
    same = corrected(row, Correction("8", None, "K. Larch", "2026-11-25"))
    assert same.correction is not None
    assert same.correction.printed_unit is None

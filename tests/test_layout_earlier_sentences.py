"""Sentences that tell of an earlier test of the well, beside what was found this time."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf

from welltold_parsers.layout import read_document


def _read(*lines: str) -> tuple[list[tuple[str | None, str, str | None, str | None]], int]:
    """Read a letter of August 2026; return its results, and the earlier ones left out."""
    body = [(80.0 + 13 * at, {40.0: text}) for at, text in enumerate(lines)]
    reading = read_document(pdf(page((40.0, {40.0: "August 3, 2026"}), *body)))
    left = sum(int(m.args["count"]) for m in reading.warnings if m.code == "read.history_left_out")
    return [brief(r) for r in reading.results], left


_NOW = ("nitrate", "6.8", "mg/L", "N")


@pytest.mark.parametrize(
    "lines",
    [
        (
            "Nitrate nitrogen was 6.8 mg/L, which is below the limit of 10 mg/L.",
            "The 2019 transfer sample from this well was satisfactory, with a",
            "nitrate nitrogen of 5.1 mg/L.",
        ),
        ("Nitrate nitrogen was 6.8 mg/L, while the 2019 sample had 5.1 mg/L.",),
        ("Nitrate nitrogen was 6.8 mg/L. 2017 result was 5.1 mg/L nitrate nitrogen.",),
        (
            "Nitrate nitrogen was 6.8 mg/L. The seller had the well tested in 2021;",
            "the nitrate nitrogen was 5.1 mg/L.",
        ),
        ("Nitrate nitrogen, which was 5.1 mg/L in 2019, was found at 6.8 mg/L.",),
        (
            "In 2019, nitrate nitrogen was 5.1 mg/L and iron was 0.2 mg/L.",
            "Now the nitrate nitrogen is 6.8 mg/L.",
        ),
        (
            "The nitrate nitrogen was 6.8 mg/L. Prior sample 5/2017 nitrate",
            "nitrogen 5.1 mg/L.",
        ),
    ],
)
def test_what_an_earlier_sample_had_is_no_result_of_this_one(lines: tuple[str, ...]) -> None:
    assert _read(*lines) == ([_NOW], 1)


def test_a_remark_on_a_prior_sample_is_no_result_though_its_line_ends_before_the_number() -> None:
    assert _read("Retest arsenic after treatment. Prior sample 5/2017", "arsenic 11 ug/L.") == (
        [],
        1,
    )


@pytest.mark.parametrize(
    "line",
    [
        "Your well, drilled in 2009, has nitrate nitrogen of 6.8 mg/L.",
        "The results of July 28, 2026 showed nitrate nitrogen at 6.8 mg/L.",
        "The sample of December 30, 2025 showed nitrate nitrogen at 6.8 mg/L.",
        "The well was drilled in 2009; nitrate nitrogen was 6.8 mg/L.",
        "Results of 2026 showed nitrate nitrogen at 6.8 mg/L.",
        "By the rule of 2001 the water is good, and nitrate nitrogen was 6.8 mg/L.",
    ],
)
def test_a_year_that_is_of_no_earlier_test_cuts_nothing(line: str) -> None:
    assert _read(line) == ([_NOW], 0)


def test_a_germ_of_an_earlier_test_is_left_out() -> None:
    found, left = _read(
        "In 2019 total coliform bacteria were present in the sample.",
        "In this sample total coliform bacteria were absent.",
    )
    assert (found, left) == ([("total_coliform", "absent", None, None)], 1)

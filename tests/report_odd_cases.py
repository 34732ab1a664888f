"""Interpretations that would break a careless report: odd names, many rows, none at all."""

from __future__ import annotations

from decimal import Decimal

from report_making import AS_OF, Sheet, nitrate, notes, quiet_germs, sample, view_of

from welltold.interpretation import (
    Interpretation,
)
from welltold.reading import Reading, Source


def many_samples() -> Interpretation:
    ids = ("Well 1", "well-1", "Well/1", None, "Küche #2")
    return view_of(
        *(sample(nitrate(quiet_germs(Sheet()), "1.0", "no_concern_found"), one) for one in ids)
    )


def hostile() -> Interpretation:
    sheet = quiet_germs(Sheet())
    sheet.row(
        None,
        "#set page(fill: red) $x$ *bold* _it_ @ref <tag> \\",
        "=1+1",
        "cant_tell",
        why=notes("We do not know this test."),
    )
    sheet.row(
        None,
        "Verylong" * 40,
        "5",
        "cant_tell",
        value=Decimal(5),
        unit="mg/L",
        why=notes("We do not know this test."),
    )
    id_ = '<script>alert(1)</script> & "q" \u202eevil\u202c \x07'
    return view_of(sample(sheet, id_, '=HYPERLINK("x") {{ 7*7 }} \u5317\u4eac \U0001f6b0'))


def four_hundred() -> Interpretation:
    sheet = Sheet()
    for number in range(400):
        sheet.row(
            None,
            f"Compound {number}",
            f"0.{number:03}",
            "no_concern_found",
            value=Decimal(number) / 1000,
            unit="ug/L",
        )
    return view_of(sample(sheet))


def nothing() -> Interpretation:
    return Interpretation(Reading(Source("empty.csv", "00" * 32, "csv", 1)), AS_OF, ("us_federal",))

"""Builds interpretations by hand, row by row, for the report tests."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from welltold.interpretation import (
    Condition,
    Finding,
    Interpretation,
    LevelUsed,
    SampleView,
    Stage,
    Train,
)
from welltold.messages import Message
from welltold.reading import (
    Lab,
    Reading,
    Result,
    Sample,
    Source,
    Taken,
    Where,
)

AS_OF = "2026-11-25"


def note(text: str) -> Message:
    return Message("test.note", {}, text)


def notes(*sentences: str) -> tuple[Message, ...]:
    return tuple(note(sentence) for sentence in sentences)


def level(
    kind: str,
    value: str | None,
    unit: str = "mg/L",
    basis: str | None = None,
    citation: str = "40 CFR 141.62(b)",
    low: str | None = None,
    programme: str = "EPA limit",
) -> LevelUsed:
    return LevelUsed(
        programme,
        kind,  # type: ignore[arg-type]  # a test passes plain text
        Decimal(value) if value else None,
        unit,
        basis,
        "in_force",
        citation,
        Decimal(low) if low else None,
    )


class Sheet:
    """Collects results and their findings, row by row, as a lab would print them."""

    def __init__(self) -> None:
        self.results: list[Result] = []
        self.findings: list[Finding] = []

    def row(self, slug: str | None, label: str, text: str, verdict: str, **more: Any) -> Sheet:
        """Add one printed line and the verdict on it."""
        number = len(self.results) + 1
        place = (
            Where("value", page=1, box=(300.0, 150.0 + 14 * number, 340.0, 160.0 + 14 * number)),
        )
        value = more.get("value")
        printed_unit = more.pop("printed_unit", more.get("unit"))
        review = more.pop("review", ())
        qualifiers = more.pop("qualifiers", ())
        digits = text.lstrip("<> ")
        self.results.append(
            Result(
                slug,
                label,
                text,
                "value",
                value=Decimal(digits) if digits.replace(".", "").isdigit() else value,
                unit=printed_unit,
                review=review,
                qualifiers=qualifiers,
                where=place,
                confidence=0.6 if review else 0.999,
            )
        )
        self.findings.append(
            Finding(
                slug,
                label,
                text,
                verdict,  # type: ignore[arg-type]  # a test passes plain text
                where=place,
                confidence=0.6 if review else 0.999,
                operator=more.pop("operator", "=" if value is not None else None),
                **more,
            )
        )
        return self

    def untested(self, *slugs: str) -> Sheet:
        """Add tests that the sheet lacks."""
        for slug in slugs:
            name = slug.replace("_", " ").capitalize()
            why = notes(f"{name} is a test that most private wells should have.")
            self.findings.append(Finding(slug, name, "", "not_tested", why=why))
        return self


def view_of(
    *samples: tuple[SampleView, Sheet], site: Any = None, unread: Any = ()
) -> Interpretation:
    reading = Reading(
        Source("sheet.pdf", "5f" * 32, "pdf", 1),
        Lab("Tamarack County Water Lab", "TC-26-0417"),
        tuple(
            Sample(s.id, s.point, s.collected, taken=s.taken, results=tuple(sheet.results))
            for s, sheet in samples
        ),
        unread,
    )
    return Interpretation(reading, AS_OF, ("us_federal",), site or {}, tuple(s for s, _ in samples))


def sample(
    sheet: Sheet,
    id_: str | None = "TC-26-0417-1",
    point: str | None = "Kitchen tap",
    taken: Taken | None = None,
    **more: Any,
) -> tuple[SampleView, Sheet]:
    return SampleView(id_, point, "2026-11-16", taken, tuple(sheet.findings), **more), sheet


def quiet_germs(sheet: Sheet) -> Sheet:
    sheet.row(
        "total_coliform",
        "Total Coliform",
        "Absent",
        "no_concern_found",
        present=False,
        levels=(level("treatment_technique", None, "P/A", citation="40 CFR 141.63"),),
    )
    return sheet.row("e_coli", "E. coli", "Absent", "no_concern_found", present=False)


def nitrate(sheet: Sheet, text: str, verdict: str, **more: Any) -> Sheet:
    return sheet.row(
        "nitrate",
        "Nitrate as N",
        text,
        verdict,
        value=Decimal(text.lstrip("<")),
        unit="mg/L",
        basis="N",
        levels=(level("primary_limit", "10", "mg/L", "N"),),
        **more,
    )


TRAIN = Train(
    (
        Stage(
            "air_injection_filter",
            "whole_house",
            ("iron", "manganese"),
            notes("Air turns the dissolved iron into rust, and the filter holds it back."),
            (
                Condition(
                    "pH 6.8 or more", "pH 7.1", holds=True, citation="common practice, no source"
                ),
                Condition(
                    "iron 10 mg/L or less",
                    "2.8 mg/L",
                    holds=True,
                    citation="common practice, no source",
                ),
                Condition(
                    "pump gives 8 gpm for the backwash",
                    "not measured",
                    holds=None,
                    citation="common practice, no source",
                ),
            ),
            cautions=notes("Have the pump's flow measured first."),
        ),
        Stage(
            "softener",
            "whole_house",
            ("hardness",),
            notes("It takes out the hardness that leaves scale."),
            (
                Condition(
                    "iron 3 mg/L or less",
                    "less than 0.3 mg/L after the filter",
                    holds=True,
                    citation="common practice, no source",
                ),
            ),
            cautions=notes(
                "A softener adds sodium to the water.",
                "Ask your doctor if you are on a low-sodium diet.",
            ),
        ),
    ),
    left=("total_dissolved_solids",),
    for_=notes("It needs no stored chlorine."),
    against=notes("The pump must be strong enough to rinse the filter."),
)

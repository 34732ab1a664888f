"""Interpretations built by hand for the report tests: invented wells of Tamarack County."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from welltold.interpretation import (
    Condition,
    Finding,
    Interpretation,
    LevelUsed,
    Need,
    Refused,
    Retest,
    SampleView,
    Stage,
    Step,
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
    Unread,
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
        place = (Where("value", page=1, box=(300.0, 150.0 + 14 * number, 340.0, 160.0 + 14 * number)),)
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


def view_of(*samples: tuple[SampleView, Sheet], site: Any = None, unread: Any = ()) -> Interpretation:
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


def _quiet_germs(sheet: Sheet) -> Sheet:
    sheet.row("total_coliform", "Total Coliform", "Absent", "no_concern_found", present=False,
              levels=(level("treatment_technique", None, "P/A", citation="40 CFR 141.63"),))  # fmt: skip
    return sheet.row("e_coli", "E. coli", "Absent", "no_concern_found", present=False)


def _nitrate(sheet: Sheet, text: str, verdict: str, **more: Any) -> Sheet:
    return sheet.row("nitrate", "Nitrate as N", text, verdict, value=Decimal(text.lstrip("<")),
                     unit="mg/L", basis="N", levels=(level("primary_limit", "10", "mg/L", "N"),), **more)  # fmt: skip


YEARLY = (
    Retest("total_coliform", "2027-11-16", notes("Germs can get into any well.")),
    Retest("nitrate", "2027-11-16", notes("Nitrate can change with the seasons.")),
)


def clean_well() -> Interpretation:
    sheet = _quiet_germs(Sheet())
    _nitrate(sheet, "1.2", "no_concern_found")
    sheet.row("arsenic", "Arsenic", "<0.001", "no_concern_found", value=Decimal("0.001"), operator="<",
              unit="mg/L", levels=(level("primary_limit", "0.010"),))  # fmt: skip
    sheet.row("lead", "Lead, Total", "<1.0", "no_concern_found", value=Decimal("0.0010"), operator="<",
              unit="mg/L", printed_unit="ug/L", levels=(level("action_level", "0.010"),))  # fmt: skip
    sheet.row("hardness", "Hardness (as CaCO3)", "64", "no_concern_found", value=Decimal(64),
              unit="mg/L", basis="CaCO3")  # fmt: skip
    sheet.row("ph", "pH", "7.4", "no_concern_found", value=Decimal("7.4"), unit="SU",
              levels=(level("secondary", "8.5", "SU", low="6.5", citation="40 CFR 143.3"),))  # fmt: skip
    sheet.untested("uranium", "manganese", "radon")
    return view_of(sample(sheet, taken="raw", retest=YEARLY))


def nitrate_and_germs() -> Interpretation:
    sheet = Sheet()
    sheet.row("total_coliform", "Total Coliform", "Present", "health_concern", present=True, urgency="soon",
              persons=("everyone",), why=notes("Coliform bacteria were found in your water."),
              do=notes("Have a licensed well contractor look at the well cap and the casing."),
              levels=(level("treatment_technique", None, "P/A", citation="40 CFR 141.63"),))  # fmt: skip
    sheet.row("e_coli", "E. coli", "Present", "health_concern", present=True, urgency="now",
              persons=("everyone", "infant"), why=notes("E. coli was found in your water."),
              do=notes("Call your county health department.", "Have the well disinfected, then test again."))  # fmt: skip
    _nitrate(sheet, "14.2", "health_concern", urgency="now", persons=("infant", "pregnant"),
             why=notes("Nitrate in your water is above the level for babies.", "It can keep the blood from carrying enough oxygen."),
             do=notes("Use bottled water for babies and for pregnant people.", "Test nitrate and nitrite again."))  # fmt: skip
    sheet.row("iron", "Iron", "0.42", "nuisance_only", value=Decimal("0.42"), unit="mg/L",
              why=notes("Iron can leave rusty stains."), levels=(level("secondary", "0.3", citation="40 CFR 143.3"),))  # fmt: skip
    sheet.row("chloride", "Chloride", "22", "no_concern_found", value=Decimal(22), unit="mg/L",
              levels=(level("secondary", "250", citation="40 CFR 143.3"),))  # fmt: skip
    sheet.untested("arsenic", "lead")
    site = {"home": {"people": 4, "persons": ("infant", "pregnant"), "waste": "septic"}}
    steps = (Step("shock_chlorination", notes("It kills germs in the well. It does not stop new ones from getting in.")),)
    return view_of(sample(sheet, steps=steps, retest=YEARLY), site=site)


def germs_only() -> Interpretation:
    sheet = Sheet()
    sheet.row("total_coliform", "Total Coliform", "8", "health_concern", value=Decimal(8), unit="MPN/100mL",
              urgency="soon", persons=("everyone",), why=notes("Coliform bacteria were found in your water."),
              do=notes("Test again before you rely on this water."))  # fmt: skip
    sheet.row("e_coli", "E. coli", "<1", "no_concern_found", value=Decimal(1), operator="<", unit="MPN/100mL")
    _nitrate(sheet, "0.8", "no_concern_found")
    sheet.row("nitrite", "Nitrite as N", "<0.05", "no_concern_found", value=Decimal("0.05"), operator="<",
              unit="mg/L", basis="N", levels=(level("primary_limit", "1", "mg/L", "N"),))  # fmt: skip
    return view_of(sample(sheet))


TRAIN = Train(
    (
        Stage(
            "air_injection_filter",
            "whole_house",
            ("iron", "manganese"),
            notes("Air turns the dissolved iron into rust, and the filter holds it back."),
            (
                Condition("pH 6.8 or more", "pH 7.1", holds=True, citation="common practice, no source"),
                Condition("iron 10 mg/L or less", "2.8 mg/L", holds=True, citation="common practice, no source"),
                Condition("pump gives 8 gpm for the backwash", "not measured", holds=None, citation="common practice, no source"),
            ),
            notes("Have the pump's flow measured first."),
        ),
        Stage(
            "softener",
            "whole_house",
            ("hardness",),
            notes("It takes out the hardness that leaves scale."),
            (Condition("iron 3 mg/L or less", "less than 0.3 mg/L after the filter", holds=True, citation="common practice, no source"),),
            notes("A softener adds sodium to the water.", "Ask your doctor if you are on a low-sodium diet."),
        ),
    ),
    left=("total_dissolved_solids",),
    for_=notes("It needs no stored chlorine."),
    against=notes("The pump must be strong enough to rinse the filter."),
)  # fmt: skip


def hard_and_rusty() -> Interpretation:
    sheet = _quiet_germs(Sheet())
    _nitrate(sheet, "<0.5", "no_concern_found", operator="<")
    sheet.row("iron", "Iron, Total", "2.80", "nuisance_only", value=Decimal("2.80"), unit="mg/L",
              why=notes("Iron can leave rusty stains and a metal taste."), do=notes("Look at the water when it comes from the tap: is it clear, then rusty?"),
              levels=(level("secondary", "0.3", citation="40 CFR 143.3"),))  # fmt: skip
    sheet.row("manganese", "Manganese", "0.081", "nuisance_only", value=Decimal("0.081"), unit="mg/L",
              why=notes("Manganese can leave black stains."),
              levels=(level("advisory", "0.3", citation="EPA 822-R-04-003", programme="EPA health advisory"), level("secondary", "0.05", citation="40 CFR 143.3")))  # fmt: skip
    sheet.row("hardness", "Hardness, Total", "342", "nuisance_only", value=Decimal(342), unit="mg/L", basis="CaCO3",
              why=notes("Hard water leaves scale in heaters and on taps."))  # fmt: skip
    sheet.row("ph", "pH", "6.2", "nuisance_only", value=Decimal("6.2"), unit="SU",
              why=notes("Acid water can wear out pipes."), do=notes("Test the pH at the well, not only in the lab."),
              levels=(level("secondary", "8.5", "SU", low="6.5", citation="40 CFR 143.3"),))  # fmt: skip
    sheet.untested("arsenic", "lead", "uranium")
    return view_of(
        sample(
            sheet,
            trains=(TRAIN,),
            needs=(Need(("iron",), "nuisance", None, notes("Iron is above the level for stains.")),),
            refused=(Refused("reverse_osmosis", notes("Nothing that was tested calls for it.")),),
            retest=YEARLY,
        ),
        site={
            "home": {"people": 4, "bathrooms": 2, "waste": "septic", "piping": "copper"},
            "well": {"kind": "drilled", "pump_gpm": Decimal("7.0"), "pressure_psi": (40, 60)},
            "tap": {"observations": ("clear_then_rusty", "scale")},
        },
    )


def arsenic_just_above() -> Interpretation:
    sheet = _quiet_germs(Sheet())
    _nitrate(sheet, "6.1", "watch", persons=("infant", "pregnant"), why=notes("Nitrate is below the level, but close to it."),
             do=notes("Test nitrate again in the spring."))  # fmt: skip
    sheet.row("arsenic", "Arsenic, Total", "0.0104", "health_concern", value=Decimal("0.0104"), unit="mg/L",
              urgency="soon", persons=("everyone", "infant", "pregnant"),
              why=notes("Arsenic can raise the chance of some cancers over many years."),
              do=notes("Use bottled or treated water to drink, cook and make formula.", "Test again to be sure."),
              levels=(level("primary_limit", "0.010"), level("goal", "0")))  # fmt: skip
    sheet.row("lead", "Lead", "23", "health_concern", value=Decimal("0.023"), unit="mg/L", printed_unit="ug/L",
              urgency="soon", persons=("child", "pregnant"), qualifiers=("J",), why=notes("Lead can harm how a child learns and grows."),
              do=notes("Take two samples: one first thing, one after the tap has run."),
              levels=(level("action_level", "0.010", citation="40 CFR 141.80"),))  # fmt: skip
    sheet.row("fluoride", "Fluoride", "2.6", "watch", value=Decimal("2.6"), unit="mg/L", persons=("child",),
              why=notes("Above 2 mg/L, fluoride can mark children's teeth."),
              levels=(level("primary_limit", "4.0"), level("secondary", "2.0", citation="40 CFR 143.3")))  # fmt: skip
    return view_of(sample(sheet, taken="first_draw", retest=YEARLY))


def cant_tell_nitrate() -> Interpretation:
    sheet = _quiet_germs(Sheet())
    doubt = notes("The sheet does not say how nitrate was counted.")
    sheet.row("nitrate", "Nitrate", "21", "cant_tell", value=Decimal(21), unit="mg/L", urgency="now", persons=("infant", "pregnant"),
              why=notes("The sheet does not say how nitrate was counted.", "Counted one way it is above the level, counted the other way it is not."),
              do=notes("Ask the lab: is it “as N” or “as NO3”?", "Until you know, use bottled water for babies."),
              levels=(level("primary_limit", "10", "mg/L", "N"),), review=doubt)  # fmt: skip
    sheet.row("arsenic", "Arsenic", "<0.05", "cant_tell", value=Decimal("0.05"), operator="<", low=Decimal(0), high=Decimal("0.05"),
              unit="mg/L", persons=("everyone",), why=notes("The lab's test cannot see low enough to tell."),
              do=notes("Ask for a test that can see 10 parts per billion or less."), levels=(level("primary_limit", "0.010"),))  # fmt: skip
    unread = (Unread("Ir0n ??? mg/L", Where("label", page=1, box=(72.0, 400.0, 200.0, 410.0)), note("The result could not be understood.")),)
    return view_of(sample(sheet), unread=unread)


def many_samples() -> Interpretation:
    ids = ("Well 1", "well-1", "Well/1", None, "Küche #2")
    return view_of(*(sample(_nitrate(_quiet_germs(Sheet()), "1.0", "no_concern_found"), one) for one in ids))


def hostile() -> Interpretation:
    sheet = _quiet_germs(Sheet())
    sheet.row(None, "#set page(fill: red) $x$ *bold* _it_ @ref <tag> \\", "=1+1", "cant_tell", why=notes("We do not know this test."))
    sheet.row(None, "Verylong" * 40, "5", "cant_tell", value=Decimal(5), unit="mg/L", why=notes("We do not know this test."))
    id_ = "<script>alert(1)</script> & \"q\" \u202eevil\u202c \x07"
    return view_of(sample(sheet, id_, "=HYPERLINK(\"x\") {{ 7*7 }} \u5317\u4eac \U0001f6b0"))


def four_hundred() -> Interpretation:
    sheet = Sheet()
    for number in range(400):
        sheet.row(None, f"Compound {number}", f"0.{number:03}", "no_concern_found", value=Decimal(number) / 1000, unit="ug/L")
    return view_of(sample(sheet))


def nothing() -> Interpretation:
    return Interpretation(Reading(Source("empty.csv", "00" * 32, "csv", 1)), AS_OF, ("us_federal",))


CASES = {
    "clean": clean_well,
    "nitrate_and_germs": nitrate_and_germs,
    "germs_only": germs_only,
    "hard_and_rusty": hard_and_rusty,
    "arsenic": arsenic_just_above,
    "cant_tell": cant_tell_nitrate,
    "many": many_samples,
    "hostile": hostile,
    "four_hundred": four_hundred,
    "nothing": nothing,
}

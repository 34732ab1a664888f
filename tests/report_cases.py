"""Interpretations built by hand for the report tests: invented wells of Tamarack County."""

from __future__ import annotations

from decimal import Decimal

from report_making import TRAIN, Sheet, level, nitrate, note, notes, quiet_germs, sample, view_of
from report_odd_cases import four_hundred, hostile, many_samples, nothing

from welltold.interpretation import (
    Interpretation,
    Need,
    Refused,
    Retest,
    Step,
)
from welltold.reading import Unread, Where

YEARLY = (
    Retest("total_coliform", "2027-11-16", notes("Germs can get into any well.")),
    Retest("nitrate", "2027-11-16", notes("Nitrate can change with the seasons.")),
)


def clean_well() -> Interpretation:
    sheet = quiet_germs(Sheet())
    nitrate(sheet, "1.2", "no_concern_found")
    sheet.row(
        "arsenic",
        "Arsenic",
        "<0.001",
        "no_concern_found",
        value=Decimal("0.001"),
        operator="<",
        unit="mg/L",
        levels=(level("primary_limit", "0.010"),),
    )
    sheet.row(
        "lead",
        "Lead, Total",
        "<1.0",
        "no_concern_found",
        value=Decimal("0.0010"),
        operator="<",
        unit="mg/L",
        printed_unit="ug/L",
        levels=(level("action_level", "0.010"),),
    )
    sheet.row(
        "hardness",
        "Hardness (as CaCO3)",
        "64",
        "no_concern_found",
        value=Decimal(64),
        unit="mg/L",
        basis="CaCO3",
    )
    sheet.row(
        "ph",
        "pH",
        "7.4",
        "no_concern_found",
        value=Decimal("7.4"),
        unit="SU",
        levels=(level("secondary", "8.5", "SU", low="6.5", citation="40 CFR 143.3"),),
    )
    sheet.untested("uranium", "manganese", "radon")
    return view_of(sample(sheet, taken="raw", retest=YEARLY))


def nitrate_and_germs() -> Interpretation:
    sheet = Sheet()
    sheet.row(
        "total_coliform",
        "Total Coliform",
        "Present",
        "health_concern",
        present=True,
        urgency="soon",
        persons=("everyone",),
        why=notes("Coliform bacteria were found in your water."),
        do=notes("Have a licensed well contractor look at the well cap and the casing."),
        levels=(level("treatment_technique", None, "P/A", citation="40 CFR 141.63"),),
    )
    sheet.row(
        "e_coli",
        "E. coli",
        "Present",
        "health_concern",
        present=True,
        urgency="now",
        persons=("everyone", "infant"),
        why=notes("E. coli was found in your water."),
        do=notes(
            "Call your county health department.", "Have the well disinfected, then test again."
        ),
    )
    nitrate(
        sheet,
        "14.2",
        "health_concern",
        urgency="now",
        persons=("infant", "pregnant"),
        why=notes(
            "Nitrate in your water is above the level for babies.",
            "It can keep the blood from carrying enough oxygen.",
        ),
        do=notes(
            "Use bottled water for babies and for pregnant people.",
            "Test nitrate and nitrite again.",
        ),
    )
    sheet.row(
        "iron",
        "Iron",
        "0.42",
        "nuisance_only",
        value=Decimal("0.42"),
        unit="mg/L",
        why=notes("Iron can leave rusty stains."),
        levels=(level("secondary", "0.3", citation="40 CFR 143.3"),),
    )
    sheet.row(
        "chloride",
        "Chloride",
        "22",
        "no_concern_found",
        value=Decimal(22),
        unit="mg/L",
        levels=(level("secondary", "250", citation="40 CFR 143.3"),),
    )
    sheet.untested("arsenic", "lead")
    site = {"home": {"people": 4, "persons": ("infant", "pregnant"), "waste": "septic"}}
    steps = (
        Step(
            "shock_chlorination",
            notes("It kills germs in the well. It does not stop new ones from getting in."),
        ),
    )
    return view_of(sample(sheet, steps=steps, retest=YEARLY), site=site)


def germs_only() -> Interpretation:
    sheet = Sheet()
    sheet.row(
        "total_coliform",
        "Total Coliform",
        "8",
        "health_concern",
        value=Decimal(8),
        unit="MPN/100mL",
        urgency="soon",
        persons=("everyone",),
        why=notes("Coliform bacteria were found in your water."),
        do=notes("Test again before you rely on this water."),
    )
    sheet.row(
        "e_coli",
        "E. coli",
        "<1",
        "no_concern_found",
        value=Decimal(1),
        operator="<",
        unit="MPN/100mL",
    )
    nitrate(sheet, "0.8", "no_concern_found")
    sheet.row(
        "nitrite",
        "Nitrite as N",
        "<0.05",
        "no_concern_found",
        value=Decimal("0.05"),
        operator="<",
        unit="mg/L",
        basis="N",
        levels=(level("primary_limit", "1", "mg/L", "N"),),
    )
    return view_of(sample(sheet))


def hard_and_rusty() -> Interpretation:
    sheet = quiet_germs(Sheet())
    nitrate(sheet, "<0.5", "no_concern_found", operator="<")
    sheet.row(
        "iron",
        "Iron, Total",
        "2.80",
        "nuisance_only",
        value=Decimal("2.80"),
        unit="mg/L",
        why=notes("Iron can leave rusty stains and a metal taste."),
        do=notes("Look at the water when it comes from the tap: is it clear, then rusty?"),
        levels=(level("secondary", "0.3", citation="40 CFR 143.3"),),
    )
    sheet.row(
        "manganese",
        "Manganese",
        "0.081",
        "nuisance_only",
        value=Decimal("0.081"),
        unit="mg/L",
        why=notes("Manganese can leave black stains."),
        levels=(
            level("advisory", "0.3", citation="EPA 822-R-04-003", programme="EPA health advisory"),
            level("secondary", "0.05", citation="40 CFR 143.3"),
        ),
    )
    sheet.row(
        "hardness",
        "Hardness, Total",
        "342",
        "nuisance_only",
        value=Decimal(342),
        unit="mg/L",
        basis="CaCO3",
        why=notes("Hard water leaves scale in heaters and on taps."),
    )
    sheet.row(
        "ph",
        "pH",
        "6.2",
        "nuisance_only",
        value=Decimal("6.2"),
        unit="SU",
        why=notes("Acid water can wear out pipes."),
        do=notes("Test the pH at the well, not only in the lab."),
        levels=(level("secondary", "8.5", "SU", low="6.5", citation="40 CFR 143.3"),),
    )
    sheet.untested("arsenic", "lead", "uranium")
    return view_of(
        sample(
            sheet,
            trains=(TRAIN,),
            needs=(
                Need(("iron",), "nuisance", None, notes("Iron is above the level for stains.")),
            ),
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
    sheet = quiet_germs(Sheet())
    nitrate(
        sheet,
        "6.1",
        "watch",
        persons=("infant", "pregnant"),
        why=notes("Nitrate is below the level, but close to it."),
        do=notes("Test nitrate again in the spring."),
    )
    sheet.row(
        "arsenic",
        "Arsenic, Total",
        "0.0104",
        "health_concern",
        value=Decimal("0.0104"),
        unit="mg/L",
        urgency="soon",
        persons=("everyone", "infant", "pregnant"),
        why=notes("Arsenic can raise the chance of some cancers over many years."),
        do=notes(
            "Use bottled or treated water to drink, cook and make formula.",
            "Test again to be sure.",
        ),
        levels=(level("primary_limit", "0.010"), level("goal", "0")),
    )
    sheet.row(
        "lead",
        "Lead",
        "23",
        "health_concern",
        value=Decimal("0.023"),
        unit="mg/L",
        printed_unit="ug/L",
        urgency="soon",
        persons=("child", "pregnant"),
        qualifiers=("J",),
        why=notes("Lead can harm how a child learns and grows."),
        do=notes("Take two samples: one first thing, one after the tap has run."),
        levels=(level("action_level", "0.010", citation="40 CFR 141.80"),),
    )
    sheet.row(
        "fluoride",
        "Fluoride",
        "2.6",
        "watch",
        value=Decimal("2.6"),
        unit="mg/L",
        persons=("child",),
        why=notes("Above 2 mg/L, fluoride can mark children's teeth."),
        levels=(level("primary_limit", "4.0"), level("secondary", "2.0", citation="40 CFR 143.3")),
    )
    return view_of(sample(sheet, taken="first_draw", retest=YEARLY))


def cant_tell_nitrate() -> Interpretation:
    sheet = quiet_germs(Sheet())
    doubt = notes("The sheet does not say how nitrate was counted.")
    sheet.row(
        "nitrate",
        "Nitrate",
        "21",
        "cant_tell",
        value=Decimal(21),
        unit="mg/L",
        urgency="now",
        persons=("infant", "pregnant"),
        why=notes(
            "The sheet does not say how nitrate was counted.",
            "Counted one way it is above the level, counted the other way it is not.",
        ),
        do=notes(
            "Ask the lab: is it “as N” or “as NO3”?",
            "Until you know, use bottled water for babies.",
        ),
        levels=(level("primary_limit", "10", "mg/L", "N"),),
        review=doubt,
    )
    sheet.row(
        "arsenic",
        "Arsenic",
        "<0.05",
        "cant_tell",
        value=Decimal("0.05"),
        operator="<",
        low=Decimal(0),
        high=Decimal("0.05"),
        unit="mg/L",
        persons=("everyone",),
        why=notes("The lab's test cannot see low enough to tell."),
        do=notes("Ask for a test that can see 10 parts per billion or less."),
        levels=(level("primary_limit", "0.010"),),
    )
    unread = (
        Unread(
            "Ir0n ??? mg/L",
            Where("label", page=1, box=(72.0, 400.0, 200.0, 410.0)),
            note("The result could not be understood."),
        ),
    )
    return view_of(sample(sheet), unread=unread)


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

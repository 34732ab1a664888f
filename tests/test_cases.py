"""Runs the cases that were worked out from publications; see ``tests/cases/README.md``."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from welltold.analytes import registry
from welltold.errors import UnknownLevelsError
from welltold.interpretation import Check, Finding, SampleView
from welltold.messages import Message
from welltold.reading import Reading, Result, Sample, Source
from welltold.site import Equipment, Home, LevelsChoice, SampleFacts, Site, Tap, Well
from welltold.units import normalize
from welltold.verdicts import interpret

CASES = Path(__file__).parent / "cases"

# What each tag of the README means in the catalogues: pieces of the codes that say it.
# A tag is told when one of them is among the messages of the sample.
TOLD: Mapping[str, str] = {
    "boil": r"do_germs_boil(_3)?$",
    "boil_ok_for_others": r"do_germs_others_boil",
    "no_boil": r"never_boil|do_not_boil|do_fumes|germs_babies|fuel_now",
    "bottled_water": r"do_bottled|step_bottled_water|germs_bottled|do_fumes|flood_bottled|fuel_now",
    "bottled_water_infants": r"no_formula|baby_bottled|lead_bottled|_formula|germs_babies"
    r"|fluoride_children|bottled_nitrate",
    "bottled_water_pregnant": r"no_formula|lead_bottled|germs_babies|bottled_nitrate|pregnant",
    "bottled_water_children": r"lead_bottled|fluoride_children",
    "bottled_water_diet": r"sodium_doctor|low_sodium",
    "no_shower": r"do_fumes|fuel_now",
    "ventilate": r"gas_now|gas_vent|vent_methane|radon_shower",
    "no_flame": r"gas_now|stop_fumes|fuel_now",
    "call_health_department": r"call_health|call_radon|stop_fumes",
    "doctor": r"doctor|dentist",
    "dialysis_unit": r"dialysis_unit",
    "retest": r"test_again|test_yearly|new_germ_sample|two_samples|first_draw|do_sample_|retest_"
    r"|flood_test|sulfide_on_site|test_before|test_whole",
    "wait_then_retest": r"sample_after_shock|sample_without_chlorine|retest_after_shock",
    "first_draw": r"first_draw|two_samples",
    "flush": r"copper_run|flush_taps",
    "cold_water_only": r"lead_cold|copper_run|flush_taps",
    "lower_limit": r"ask_lab_limit",
    "ask_lab": r"ask_lab|check_sheet|check_doubt|which_alpha|settle_unit|slip",
    "ask_lab_basis": r"ask_lab_basis",
    "test_raw": r"test_before|raw_sample",
    "test_uranium": r"alpha_uranium|which_alpha|untested_uranium",
    "test_radium": r"test_radon_radium|untested_radium|which_alpha",
    "test_air": r"radon_air",
    "disinfect_well": r"find_way_in|mend_well|shock_chlorinate|flood_test",
    "check_heater": r"look_at_heater|cause.test_heater",
    "chlorine_care": r"do_chlorine_(iron|manganese|iron_manganese|ammonia)",
}
STANDS_FOR = frozenset(tag for tag in TOLD if tag.startswith("bottled_water_"))
ABOUT: Mapping[str, tuple[str, ...]] = {
    "ion_balance": ("calcium", "magnesium", "sodium", "alkalinity", "chloride", "sulfate"),
    "solids_of_ions": ("total_dissolved_solids", "calcium", "sodium", "alkalinity"),
    "solids_of_conductance": ("total_dissolved_solids", "specific_conductance"),
}
"""What the checks need that name no analyte in their words."""
TOO_EARLY = frozenset({"uranium_40_2004"})
"""Cases of a day before the federal pack begins (2006-01-23): nothing may be said of them."""


def case_files() -> Iterator[tuple[str, dict[str, Any]]]:
    for path in sorted(CASES.glob("*.toml")):
        for case in tomllib.loads(path.read_text("utf-8"))["case"]:
            yield case["id"], case


ALL = dict(case_files())


@cache
def view_of(name: str) -> SampleView:
    """Return the interpretation of one case."""
    case = ALL[name]
    facts = case.get("sample", {})
    sample = Sample(**facts, results=tuple(map(result_of, case["results"])))
    reading = Reading(Source("case.csv", "0" * 64, "csv", 1), samples=(sample,))
    day = case.get("as_of", date(2026, 11, 25))
    packs = case.get("packs", ["us_federal"])
    return interpret(reading, site=site_of(case.get("site", {})), as_of=day, packs=packs).samples[0]


def result_of(row: dict[str, Any]) -> Result:
    """Return one row as the reading layer gives it."""
    value = Decimal(row["value"]) if "value" in row else None
    operator = row.get("operator", "=")
    text = row["text"] + (f" ± {row['uncertainty']}" if "uncertainty" in row else "")
    settled = None
    if value is not None and row.get("unit"):
        settled = normalize(row["analyte"], value, row["unit"], row.get("basis"))

    def limit(name: str) -> Decimal | None:
        return Decimal(row[name]) if name in row else None

    return Result(
        analyte=row["analyte"],
        label=registry()[row["analyte"]].name,
        text=text,
        state=row.get("state") or state_of(operator, row.get("present")),
        operator=operator,
        value=value,
        present=row.get("present"),
        unit=row.get("unit"),
        basis=row.get("basis"),
        fraction=row.get("fraction"),
        qualifiers=tuple(row.get("qualifiers", ())),
        method=row.get("method"),
        analyzed=row.get("analyzed"),
        reporting_limit=limit("reporting_limit"),
        detection_limit=limit("detection_limit"),
        printed_limit=row.get("printed_limit"),
        normalized=settled,
    )


def state_of(operator: str, present: bool | None) -> Any:
    """Return the state that follows from the sign, or from the answer of a presence test."""
    if operator != "=":
        return {"<": "below", ">": "above"}[operator]
    return {True: "present", False: "absent", None: "value"}[present]


def site_of(raw: dict[str, Any]) -> Site:
    """Return a site as a site file gives it."""
    return Site(
        home=part(Home, raw.get("home", {})),
        well=part(Well, raw.get("well", {})),
        tap=part(Tap, raw.get("tap", {})),
        equipment=part(Equipment, raw.get("equipment", {})),
        levels=part(LevelsChoice, raw.get("levels", {})),
        samples={key: part(SampleFacts, one) for key, one in raw.get("samples", {}).items()},
    )


def part(kind: Any, table: dict[str, Any]) -> Any:
    """Return one section; measured numbers are Decimal, lists are tuples."""
    measured = ("elevation_ft", "depth_ft", "static_ft", "casing_in", "bathrooms")
    given = {key: tuple(v) if isinstance(v, list) else v for key, v in table.items()}
    return kind(**{k: Decimal(str(v)) if k in measured else v for k, v in given.items()})


def messages(view: SampleView) -> Iterator[Message]:
    for finding in view.findings:
        yield from (*finding.why, *finding.do)
    for step in view.steps:
        yield from step.why
    for again in view.retest:
        yield from again.why
    for check in view.checks or ():
        yield from check.why
    for cause in view.causes or ():
        yield from (*cause.for_, *cause.against)
        yield cause.next_test


def codes(view: SampleView) -> set[str]:
    """Return the codes of everything told; a retest by its event."""
    return {message.code for message in messages(view)}


def is_told(tag: str, told: set[str]) -> bool:
    tags = [tag]
    if tag in STANDS_FOR:
        tags.append("bottled_water")
    return any(re.search(TOLD[one], code) for one in tags for code in told)


def found(view: SampleView, slug: str) -> list[Finding]:
    return [f for f in view.findings if f.analyte == slug]


def listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def fits(finding: Finding, row: dict[str, Any]) -> str:
    """Return what is wrong with a finding; "" when it is as expected."""
    if "verdict" in row and finding.verdict not in listed(row["verdict"]):
        return f"verdict {finding.verdict}, not {row['verdict']}"
    if finding.verdict in listed(row.get("verdict_never", [])):
        return f"verdict {finding.verdict}"
    if "urgency" in row and (finding.urgency or "none") not in listed(row["urgency"]):
        return f"urgency {finding.urgency}, not {row['urgency']}"
    missing = set(row.get("persons", ())) - set(finding.persons)
    if missing:
        return f"persons {finding.persons} without {missing}"
    for end in ("low", "high"):
        if end in row and not same(getattr(finding, end), Decimal(row[end])):
            return f"{end} {getattr(finding, end)}, not {row[end]}"
    kinds = {level.kind for level in finding.levels} & set(row.get("kinds_never", ()))
    return f"levels of kind {kinds}" if kinds else ""


def same(value: Decimal | None, wanted: Decimal) -> bool:
    """Whether a value is the wanted one to the digits given."""
    return value is not None and value.quantize(wanted) == wanted


def wrong_findings(view: SampleView, case: dict[str, Any]) -> Iterator[str]:
    for row in case.get("expect", ()):
        problems = [fits(one, row) for one in found(view, row["analyte"])] or ["no finding"]
        if "" not in problems:
            yield f"{row['analyte']}: {problems}"


def wrongly_told(view: SampleView, case: dict[str, Any]) -> Iterator[str]:
    told = codes(view)
    for tags in case.get("told", ()):
        if not any(is_told(tag, told) for tag in tags.split("|")):
            yield f"not told: {tags} in {sorted(told)}"
    for tag in case.get("not_told", ()):
        if any(re.search(TOLD[tag], code) for code in told):
            yield f"told: {tag}"


def wrongly_untested(view: SampleView, case: dict[str, Any]) -> Iterator[str]:
    untested = {f.analyte for f in view.findings if f.verdict == "not_tested"}
    blank = {row["analyte"] for row in case["results"] if row.get("state") == "blank"}
    if len(untested - blank) > 8:
        yield "more than eight not tested"
    for slugs in case.get("not_tested", ()):
        if not set(slugs.split("|")) & untested:
            yield f"not listed: {slugs}"
    anyone = set(case.get("not_tested_any", ()))
    if anyone and not anyone & untested:
        yield f"none listed: {anyone}"
    for slug in set(case.get("not_tested_never", ())) & untested:
        yield f"listed: {slug}"


def wrong_causes(view: SampleView, case: dict[str, Any]) -> Iterator[str]:
    causes = {cause.cause for cause in view.causes or ()}
    for names in case.get("causes", ()):
        if not set(names.split("|")) & causes:
            yield f"not a cause: {names}"
    for name in set(case.get("causes_never", ())) & causes:
        yield f"a cause: {name}"


def wrong_checks(view: SampleView, case: dict[str, Any]) -> Iterator[str]:
    for row in case.get("checks", ()):
        outcomes = {c.outcome for c in view.checks or () if is_about(c, row["about"])}
        if "outcome" in row and row["outcome"] not in outcomes:
            yield f"check of {row['about']}: {outcomes}"
        if row.get("outcome_not") in outcomes:
            yield f"check of {row['about']}: {outcomes}"


def is_about(check: Check, slugs: list[str]) -> bool:
    """Whether a check is about these analytes: by what it needs, its name or its words."""
    if check.check in ABOUT:
        return set(slugs) <= set(ABOUT[check.check])
    if any(slug in check.check for slug in slugs):
        return True
    words = [registry()[slug].name.lower() for slug in slugs]
    return any(word in message.text.lower() for message in check.why for word in words)


@pytest.mark.parametrize(
    "name",
    [name for name in ALL if name not in TOO_EARLY],
)
def test_what_is_said_is_what_was_worked_out(name: str) -> None:
    view, case = view_of(name), ALL[name]
    looks = (wrong_findings, wrongly_told, wrongly_untested, wrong_causes, wrong_checks)
    assert [problem for look in looks for problem in look(view, case)] == [], case["worked"]


@pytest.mark.parametrize("name", sorted(TOO_EARLY))
def test_a_day_before_the_levels_begin_is_refused_by_name(name: str) -> None:
    with pytest.raises(UnknownLevelsError, match=str(ALL[name]["as_of"])):
        view_of(name)

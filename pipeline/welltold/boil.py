"""May this report tell anybody to boil the water? One rule, in one place.

Boiling kills germs and makes everything that does not boil away stronger, so one kitchen gets one
instruction. The rule is stricter than the advice that most health departments print: where
anything but germs is above its level, nobody is told to boil.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from .interpretation import Finding
from .tables import read_table
from .thresholds import sure

Known = Literal["low", "high", "unknown"]
KnownOrNear = Literal["low", "near", "high", "unknown"]
BoilAdvice = Literal["silent", "boil", "babies_unknown", "babies_near", "never"]
"""``silent``: no germs found, boiling is no topic. ``boil``: everybody may boil or use bottled.
``babies_unknown``, ``babies_near``: bottled for babies and pregnant people (nitrate not known, or
close to its level), others may boil. ``never``: bottled for everyone, "boil" only after "do not".
"""

GERMS = frozenset(
    row.text("germ")
    for row in read_table("germs.csv")
    if row.choice("boiling", frozenset({"kills", "stays"})) == "kills"
)
"""Germs that a rolling boil kills. Others (Legionella is breathed in) count as what stays."""
NITROGEN = frozenset({"nitrate", "nitrite", "nitrate_nitrite"})
BABIES: frozenset[BoilAdvice] = frozenset({"babies_unknown", "babies_near"})
LETS_BOIL: Mapping[str, frozenset[BoilAdvice]] = {
    "verdict.do_germs_boil": frozenset({"boil"}),
    "verdict.do_germs_boil_3": frozenset({"boil"}),
    "verdict.do_germs_others_boil": BABIES,
    "verdict.do_germs_others_boil_3": BABIES,
    "verdict.do_germs_boil_high": BABIES | {"boil"},
}
"""Every message that lets somebody boil, with the advice under which it may be said."""


@dataclass(frozen=True, slots=True)
class BoilFacts:
    """What is known; "high" means found, or above the level for health."""

    germs: Known
    nitrate: KnownOrNear
    nitrite: KnownOrNear
    stays: Known
    """Anything else that boiling does not remove: metals, fluoride, PFAS, solvents ..."""
    fuel_smell: Known


def boil_advice(facts: BoilFacts) -> BoilAdvice:
    """Return what may be said about boiling."""
    if "high" in {facts.nitrate, facts.nitrite, facts.stays, facts.fuel_smell}:
        return "never"
    if facts.germs != "high":
        return "silent"
    if "near" in {facts.nitrate, facts.nitrite}:
        return "babies_near"
    return "babies_unknown" if "unknown" in {facts.nitrate, facts.nitrite} else "boil"


def may_say(code: str, advice: BoilAdvice) -> bool:
    """Whether a message may be said under this advice; one that lets nobody boil always may."""
    return advice in LETS_BOIL.get(code, (advice,))


def boil_facts(findings: Iterable[Finding], observations: Iterable[str] = ()) -> BoilFacts:
    """Return what one sample's findings, and what was noticed at the tap, say for the rule."""
    by_slug: dict[str, list[Finding]] = {}
    for finding in findings:
        by_slug.setdefault(finding.analyte or "", []).append(finding)
    total = _nitrogen(by_slug.get("nitrate_nitrite", ()))
    nitrate = _nitrogen(by_slug.get("nitrate", ()))
    nitrite = _nitrogen(by_slug.get("nitrite", ()))
    if total in {"high", "near"} or nitrate == "unknown":
        nitrate = total if nitrate != "high" else nitrate
    if nitrite == "unknown" and _total_shows_nitrite_low(by_slug.get("nitrate_nitrite", ())):
        nitrite = "low"
    return BoilFacts(
        germs=_germs(by_slug),
        nitrate=nitrate,
        nitrite=nitrite,
        stays=_stays(by_slug),
        fuel_smell="high" if "fuel_or_solvent_smell" in observations else "unknown",
    )


def observations(site: Any) -> tuple[str, ...]:
    """Return what was noticed at the tap, from a site given in the site file's own names."""
    return tuple(site.get("tap", {}).get("observations", ()))


def _nitrogen(findings: Iterable[Finding]) -> KnownOrNear:
    """Return the gravest of several results of one nitrogen form; no result is "unknown"."""
    verdicts = [
        finding.verdict if sure(finding.confidence) else "cant_tell"
        for finding in findings
        if finding.verdict != "not_tested"
    ]
    if any(finding.verdict == "health_concern" for finding in findings):
        return "high"
    if not verdicts or "cant_tell" in verdicts:
        return "unknown"
    return "near" if "watch" in verdicts else "low"


def _total_shows_nitrite_low(findings: Iterable[Finding]) -> bool:
    """Whether nitrate and nitrite together are at or below nitrite's own level, 1 mg/L as N."""
    return any(
        finding.value is not None
        and finding.value <= Decimal(1)
        and (finding.unit, finding.basis) == ("mg/L", "N")
        and finding.operator != ">"
        and sure(finding.confidence)
        for finding in findings
    )


def _germs(by_slug: dict[str, list[Finding]]) -> Known:
    found = [f for slug in GERMS & by_slug.keys() for f in by_slug[slug]]
    if any(f.present or f.verdict == "health_concern" for f in found):
        return "high"
    return "low" if any(f.verdict == "no_concern_found" for f in found) else "unknown"


def _stays(by_slug: dict[str, list[Finding]]) -> Known:
    """Return what else may stay: a concern, or what asks for other water while it is open."""
    others = by_slug.keys() - GERMS - NITROGEN
    grave = (
        f.verdict == "health_concern" or (f.verdict == "cant_tell" and f.urgency is not None)
        for slug in others
        for f in by_slug[slug]
    )
    return "high" if any(grave) else "unknown"

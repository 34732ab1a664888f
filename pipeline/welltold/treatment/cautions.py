"""What is said beside every stage: upkeep, waste, listing, and what nobody can promise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..interpretation import Condition
from ..messages import Message, say
from ..speech import in_sentence, listed
from ..thresholds import sure
from .drafts import Draft
from .knowledge import NOT_EQUIPMENT, stages
from .wanted import Wanted
from .water import Water
from .words import name_of, stage_name, text

_CLAIMS = frozenset({"42", "44", "53", "55", "58", "62"})
"""Standards with claims for one contaminant; 60 and 61 only speak of what parts give off."""
_FOR_COMFORT = {"53": "42"}
"""NSF/ANSI 53 is for health, 42 for taste, chlorine and particles."""
_TAP_CLAIMS = frozenset({"53", "58"})
"""Standards of filters at one tap that a homeowner asks for by number on a health matter."""
_BY_NAME = "53"
"""Claimed for each contaminant; whether 58 has a claim for each is not in our tables."""
_MOST_NAMES = 3
_TOLD_WASTE = frozenset({"backwash", "brine", "concentrate", "media", "off_gas"})
_NSF = "NSF, Residential Drinking Water Treatment Standards"


def more_conditions(draft: Draft, wants: Sequence[Wanted]) -> Iterator[Condition]:
    """Yield what must be checked before a stage is chosen for a health matter or on a doubt."""
    standard = stages()[draft.stage].standard
    not_known = text("treatment.has_check")
    for want in wants:
        if want.for_ == "health" and standard in _CLAIMS:
            for slug in want.analytes:
                asks = text("treatment.ask_listing", standard=standard, name=name_of(slug))
                yield Condition(asks, not_known, None, _NSF)
        for finding in want.findings:
            if not sure(finding.confidence):
                name = name_of(finding.analyte or "", finding.label)
                asks = text("treatment.ask_number", name=name)
                has = text("treatment.has_read", text=finding.text or finding.label)
                yield Condition(asks, has, None, text("treatment.source_sheet"))


def cautions(draft: Draft, wants: Sequence[Wanted], water: Water) -> tuple[Message, ...]:
    """Return the cautions of one stage, the gravest first."""
    return tuple(_cautions(draft, wants, water))


def _cautions(draft: Draft, wants: Sequence[Wanted], water: Water) -> Iterator[Message]:
    row = stages()[draft.stage]
    health = any(want.for_ == "health" for want in wants)
    bought = draft.stage != NOT_EQUIPMENT
    if health:
        yield say("treatment.caution_health_department")
    if health and bought:
        yield say("treatment.caution_outlet")
        yield from _tap_listing(draft, wants)
    elif row.standard in _CLAIMS:
        standard = _FOR_COMFORT.get(row.standard or "", row.standard)
        yield say("treatment.caution_listing", standard=standard)
    if bought and draft.place == "point_of_use" and any(w.need == "nitrate" for w in wants):
        yield say("treatment.caution_overdue")
    for code in row.cautions:
        yield say(f"treatment.caution_{code}", stage=stage_name(draft.stage))
    if "sodium" in row.raises and "low_sodium_diet" in water.site.home.persons:
        yield say("treatment.caution_sodium_diet")
    to_sewer = row.waste in {"backwash", "brine"} and water.site.home.waste == "sewer"
    spent = row.waste == "media" and not health  # nothing that a health department asks about
    if row.waste in _TOLD_WASTE and not to_sewer and not spent:
        yield say(f"treatment.waste_{row.waste}")
    if draft.stage in water.site.equipment.in_place:
        yield say("treatment.caution_in_place", stage=stage_name(draft.stage))
    if bought:
        upkeep = text(f"treatment.upkeep_{draft.stage}")
        yield say("treatment.caution_upkeep", upkeep=upkeep)


def _tap_listing(draft: Draft, wants: Sequence[Wanted]) -> Iterator[Message]:
    """Yield the listing to ask for, where a filter at one tap serves a health matter."""
    standard = stages()[draft.stage].standard
    if draft.place != "point_of_use" or standard not in _TAP_CLAIMS:
        return
    slugs = [slug for want in wants if want.for_ == "health" for slug in want.analytes]
    if standard == _BY_NAME and 0 < len(slugs) <= _MOST_NAMES:
        names = listed([in_sentence(name_of(slug)) for slug in slugs])
        yield say("treatment.caution_listing_named", standard=standard, names=names)
    else:
        yield say("treatment.caution_listing", standard=standard)

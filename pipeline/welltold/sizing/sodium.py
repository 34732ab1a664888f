"""The sodium that a softener adds, and what it means on a low-sodium diet."""

from __future__ import annotations

from decimal import Decimal

from .job import Job
from .rules import number, rule


def write_sodium(job: Job, plain_gpg: Decimal) -> None:
    """Write the sodium that softening adds, and what it means on a low-sodium diet."""
    page, each = job.page, rule("sodium_mg_l_gpg")
    added = each.value * plain_gpg
    page.put(
        "size.sodium_added_mg_l", added, "mg/L", "sodium", each, gpg=plain_gpg, each=each.value
    )
    daily = added * number("drunk_litres")
    page.put(
        "size.sodium_mg_day",
        daily,
        "mg",
        "sodium_day",
        rule("drunk_litres"),
        added=added,
        litres=number("drunk_litres"),
    )
    instead = rule("potassium_mg_l_gpg")
    page.put(
        "size.potassium_instead_mg_l",
        instead.value * plain_gpg,
        "mg/L",
        "potassium",
        instead,
        gpg=plain_gpg,
        each=instead.value,
    )
    if {"kidney_disease", "home_dialysis"} & set(job.site.home.persons):
        page.warn("potassium_ask")
    if "low_sodium_diet" in job.site.home.persons:
        advised = rule("sodium_advised_mg_l")
        held = None if added > advised.value else True
        page.ask("low_sodium", advised.citation, holds=held, added=added, advised=advised.value)

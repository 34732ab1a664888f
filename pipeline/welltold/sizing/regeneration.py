"""The minutes of one regeneration of a softener."""

from __future__ import annotations

from .bed import Bed
from .job import Job
from .rules import number, rule
from .salt import Dose
from .washing import Cycle
from .written import up


def regeneration(job: Job, bed: Bed, salt: Dose) -> Cycle:
    """Write the minutes of one regeneration and return its rhythm; figures of one tank."""
    page, each = job.page, salt.lb / bed.tanks
    per_gal, refill = rule("salt_lb_gal"), rule("refill_gpm")
    refill_gal = each / per_gal.value
    page.put(
        "settings.refill_minutes",
        up(refill_gal / refill.value),
        "min",
        "refill",
        per_gal,
        refill,
        salt=each,
        per=per_gal.value,
        gpm=refill.value,
    )
    brine = number("softener_brine_minutes")
    page.put(
        "settings.brine_minutes", brine, "min", "fixed_minutes", rule("softener_brine_minutes")
    )
    page.put(
        "settings.rinse_minutes",
        number("softener_rinse_minutes"),
        "min",
        "fixed_minutes",
        rule("softener_rinse_minutes"),
    )
    slow = number("slow_rinse_gpm_ft3") * bed.fill_ft3 * brine
    return Cycle(
        salt.days,
        number("softener_backwash_minutes"),
        number("softener_rinse_minutes"),
        slow,
    )

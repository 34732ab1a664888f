"""The minutes and the water of one regeneration with brine."""

from __future__ import annotations

from decimal import Decimal

from .bed import Bed
from .job import Job
from .rules import number, rule
from .washing import Cycle
from .written import up


def regeneration(job: Job, bed: Bed, salt_lb: Decimal, days: Decimal) -> Cycle:
    """Write refill and brine of one tank, and return the rhythm; ``salt_lb`` is for all tanks."""
    page, each = job.page, salt_lb / bed.tanks
    per_gal, refill = rule("salt_lb_gal"), rule("refill_gpm")
    refill_gal = each / per_gal.value
    minutes = up(refill_gal / refill.value)
    told = {"salt": each, "per": per_gal.value, "gpm": refill.value}
    page.put("settings.refill_minutes", minutes, "min", "refill", per_gal, refill, **told)
    page.put("settings.refill_gpm", refill.value, "gpm", "refill_flow", refill)
    brine, slow = rule("softener_brine_minutes"), rule("slow_rinse_gpm_ft3")
    page.put("settings.brine_minutes", brine.value, "min", "fixed_minutes", brine)
    flow = slow.value * bed.fill_ft3
    draw = {"each": slow.value, "ft3": bed.fill_ft3}
    page.put("settings.brine_gpm", flow, "gpm", "brine_flow", slow, **draw)
    return Cycle(
        days,
        number("softener_backwash_minutes"),
        number("softener_rinse_minutes"),
        flow * brine.value + refill_gal,
        "softener",
    )

"""What the names of the worked wells mean in the program: steps, conditions, quantities."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from welltold.interpretation import Interpretation, SampleView

STEPS: Mapping[str, tuple[str, ...]] = {
    "mend_well": ("mend_well", "find_way_in"),
    "shock_chlorinate": ("shock_chlorinate", "find_way_in"),
    "retest": ("retest_bacteria", "test_again", "test_again_plain", "test_yearly", "retest",
               "sample_after_shock", "new_germ_sample"),
    "retest_before_equipment": ("retest_bacteria",),
    "boil_or_bottled": ("germs_bottled", "germs_boil", "germs_boil_3", "germs_others_boil",
                        "germs_others_boil_3", "bottled_water", "flood_bottled"),
    "bottled_water_for_infant": ("bottled_nitrate", "no_formula", "baby_bottled",
                                 "germs_babies_unknown", "germs_babies_near", "manganese_formula",
                                 "sulfate_formula", "bottled"),
    "do_not_boil": ("never_boil_nitrate", "do_not_boil", "germs_never_boil", "fumes", "fuel_now"),
    "test_outlet": ("caution_outlet", "service_equipment"),
    "test_outlet_before_use": ("caution_outlet", "bottled_nitrate"),
    "stop_using": ("stop_fumes", "fuel_now"),
    "health_department": ("call_health", "call_health_today", "call_health_department"),
    "ask_specialist": ("specialist", "gas_specialist", "vent_methane"),
    "ask_lab": ("ask_lab", "ask_lab_sheet", "ask_lab_number", "check_sheet", "test_again_plain"),
    "ask_dialysis_unit": ("dialysis_unit",),
    "vent": ("vent_methane", "gas_vent"),
    "sample_raw": ("raw_sample", "test_before", "raw_sample_doubt"),
    "test_more": ("test_missing", "not_tested"),
    "field_ph": ("field_ph", "measure_ph", "how_on_site"),
    "test_sulfide_on_site": ("measure_sulfide", "sulfide_on_site"),
    "arsenic_speciation": ("arsenic_species",),
    "test_radium_uranium": ("which_alpha", "alpha_uranium"),
    "test_air_for_radon": ("radon_air",),
    "first_draw_lead_copper": ("first_draw_pair", "pipes_first_draw", "lead_two_samples",
                               "copper_two_samples"),
    "flushed_sample": ("first_draw_pair", "lead_two_samples", "copper_two_samples",
                       "pipes_first_draw"),
    "bucket_test": ("bucket_test",),
    "gauge_or_drawdown_test": ("pressure_test",),
    "storage_and_booster": ("storage_booster",),
    "heater_anode": ("look_at_heater",),
    "unsoftened_tap_or_potassium": ("caution_sodium_diet", "unsoftened_line"),
}  # fmt: skip
"""By name in a case: the codes, any one of which tells it."""

ABOUT: Mapping[str, str] = {
    "alkalinity": r"Alkalinity at",
    "arsenic_species": r"All arsenic is|The listing names both",
    "coliform": r"No bacteria in",
    "hardness": r"Hardness at",
    "hydrogen_sulfide": r"Hydrogen sulfide at",
    "iron": r"Iron (\+ Manganese )?at most",
    "iron_bacteria": r"No iron bacteria",
    "iron_form": r"The iron is still dissolved",
    "manganese": r"Manganese at",
    "nitrate": r"Nitrate at",
    "ph": r"pH at|The pH was measured",
    "pressure": r"At least \d+ psi",
    "pump": r"The pump carries",
    "pump_pressure": r"The pump gives .* psi too",
    "radon": r"Radon at",
    "sulfate": r"Sulfate at",
    "tannin": r"Tannin at",
    "tds": r"Total dissolved solids at",
    "turbidity": r"Turbidity at",
    "uv_transmittance": r"(UV|Ultraviolet) transmittance",
    "yield": r"The well (itself gives|holds)",
}
"""How a condition about something begins."""

QUANTITIES: Mapping[str, tuple[str, ...]] = {
    "hardness_gpg": ("plain_gpg",),
    "compensated_gpg": ("compensated_gpg",),
    "load_grains_per_day": ("load_grains_day",),
    "salt_lb_per_year": ("salt_lb_per_year",),
    "media_lb_per_year": ("media_lb_per_year",),
    "service_gpm": ("service_gpm", "uv_gpm"),
}
"""Where our own name is another one."""


def told_codes(view: Interpretation, sample: SampleView) -> frozenset[str]:
    """Return the codes of everything that is told, without their rooms."""
    return frozenset(_codes(view, sample))


def _codes(view: Interpretation, sample: SampleView) -> Iterator[str]:
    yield from (step.step for step in sample.steps)
    for finding in sample.findings:
        yield from (re.sub(r"^\w+\.(do_)?", "", message.code) for message in finding.do)
        if finding.verdict == "not_tested":
            yield "not_tested"
    yield from (cause.next_test.code.partition(".")[2] for cause in sample.causes or ())
    for train in sample.trains:
        for stage in train.stages:
            yield from (caution.code.partition(".")[2] for caution in stage.cautions)
            if any("measured at the well" in c.asks and c.holds is None for c in stage.conditions):
                yield "field_ph"
    if sample.retest:
        yield "retest"
    yield from (check.check for check in sample.checks or () if check.outcome == "doubt")


def is_about(about: str, asks: str) -> bool:
    """Return whether a condition is about something."""
    return re.match(ABOUT[about], asks) is not None

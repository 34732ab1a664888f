"""What to do first: all of it, and nothing else, for each analyte that has steps of its own.

Sources stand beside the steps in ``first_steps.csv``; here they are typed again from what a
careful health adviser would say of each result.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from welltold.interpretation import Finding
from welltold.site import Equipment, Site
from welltold.verdicts.scene import Scene

if TYPE_CHECKING:
    from .conftest import Bench

Row = tuple[str, ...]
GERMS = {"germs", "call_health_today", "find_way_in"}
NITROGEN = {"no_formula", "never_boil_nitrate", "call_health_today"}
CHEMICAL = {"bottled", "do_not_boil", "call_health", "test_again"}
FUMES = {"fumes", "call_health_today", "test_again"}
N = ("mg/L", "N")

# EPA private well answers (germs); Washington State Group B notice (nitrate); EPA on lead;
# extension pages on copper; Maine and New Hampshire on radon; 40 CFR 141.208 (fluoride); EPA 2004
# (manganese); New York State (boiling is no answer to chemicals); Office of Surface Mining (gas)
STEPS: list[tuple[Row, set[str]]] = [
    *(((slug, "Present"), GERMS) for slug in (
        "e_coli", "fecal_coliform", "enterococci", "coliphage", "giardia", "cryptosporidium",
        "enteric_viruses")),
    (("total_coliform", "Present"), {"germs", "new_germ_sample", "find_way_in"}),
    (("total_coliform", "TNTC"), {"germs", "new_germ_sample", "find_way_in"}),
    (("total_coliform", "Present", "P/A"), {"germs", "new_germ_sample", "find_way_in"}),
    (("legionella", "Present"), {"mist", "call_health_today", "test_again"}),
    (("legionella_pneumophila", "Present"),  # without a level of its own
     {"mist", "call_health_today", "test_again", "ask_health"}),
    (("nitrate", "12", *N), NITROGEN),
    (("nitrite", "2", *N), NITROGEN),
    (("nitrate_nitrite", "12", *N), NITROGEN),
    (("nitrate", "6", *N), {"baby_bottled", "test_yearly"}),
    (("nitrite", "0.95", *N), {"baby_bottled", "test_yearly"}),
    (("nitrate_nitrite", "6", *N), {"baby_bottled", "test_yearly"}),
    (("lead", "12", "ug/L"),
     {"lead_bottled", "lead_cold", "do_not_boil", "lead_two_samples", "lead_doctor"}),
    (("lead", "3", "ug/L"), {"lead_cold", "lead_two_samples"}),
    (("copper", "1.4", "mg/L"),
     {"copper_formula", "do_not_boil", "copper_two_samples", "call_health"}),
    (("arsenic", "12", "ug/L"), {"bottled_bath_known", "do_not_boil", "call_health", "test_again"}),
    (("arsenic", "6", "ug/L"), {"test_yearly", "arsenic_formula"}),
    (("uranium", "40", "ug/L"), {"bottled", "do_not_boil", "call_health", "test_radon_radium"}),
    (("radon", "5000", "pCi/L"), {"radon_air", "radon_shower", "call_radon", "test_again"}),
    (("radon", "500", "pCi/L"), {"radon_air", "radon_shower", "call_radon"}),
    (("fluoride", "5", "mg/L"),
     {"bottled", "do_not_boil", "fluoride_children", "fluoride_dentist", "test_again"}),
    (("fluoride", "3", "mg/L"), {"fluoride_children", "fluoride_dentist", "test_yearly"}),
    (("manganese", "0.5", "mg/L"), {"manganese_formula", "bottled", "do_not_boil", "call_health"}),
    (("sulfate", "600", "mg/L"), {"sulfate_formula"}),
    (("sodium", "30", "mg/L"), {"sodium_doctor"}),
    (("chlorine", "5", "mg/L"), {"bottled", "call_health", "test_again"}),
    (("total_trihalomethanes", "90", "ug/L"), {"bottled", "call_health", "test_again"}),
    (("edb", "1", "ug/L"), FUMES),
    (("dbcp", "1", "ug/L"), FUMES),
    (("benzene", "9", "ug/L"), FUMES),
    (("methane", "30", "mg/L"), {"gas_now", "gas_specialist"}),
    (("methane", "12", "mg/L"), {"gas_vent", "gas_specialist"}),
    (("gross_alpha", "20", "pCi/L"), CHEMICAL | {"alpha_uranium"}),
    # everything without a row of its own
    (("barium", "3", "mg/L"), CHEMICAL),
    (("atrazine", "5", "ug/L"), CHEMICAL),
    (("nickel", "150", "ug/L"), {"test_yearly"}),
    (("barium", "Trace", "mg/L"), CHEMICAL | {"ask_lab"}),
    (("nitrate", "Trace", *N), NITROGEN | {"ask_lab"}),
]  # fmt: skip


def asked(finding: Finding) -> set[str]:
    """Return the names of the steps; what the boil rule allows counts as one."""
    names = {step.code.removeprefix("verdict.do_") for step in finding.do}
    germs = {name for name in names if name.startswith("germs_")}
    return (names - germs) | ({"germs"} if germs else set())


@pytest.mark.parametrize(("row", "steps"), STEPS, ids=["-".join(row) for row, _ in STEPS])
def test_the_first_steps_are_these_and_no_others(bench: Bench, row: Row, steps: set[str]) -> None:
    assert asked(bench.judge(bench.result(*row))) == steps


def test_the_new_sample_for_germs_has_its_day_and_comes_before_the_chlorine(bench: Bench) -> None:
    """Chlorine that is left hides germs; a county health officer asked when to take the bottle."""
    found = bench.judge(bench.result("total_coliform", "Present"))
    (step,) = (one for one in found.do if one.code == "verdict.do_new_germ_sample")
    assert step.text.startswith("This week, before any chlorine goes in, take a new sample")


# --- what each piece of equipment can hide (sources in equipment_hides.csv), typed again

IRON = {"iron", "manganese", "sulfide", "hydrogen_sulfide"}
GERM = {"total_coliform", "e_coli"}
ACID = {"ph", "copper", "lead", "iron", "manganese"}
RADIUM = {"radium_226", "radium_228", "radium_226_228"}
ORGANIC = {"benzene", "atrazine", "pfoa", "total_trihalomethanes", "pfas_hazard_index", "mtbe"}
EVERYTHING = {"arsenic", "nitrate", "hardness", "lead", "e_coli", "radon", "ph", "pfoa"}
HIDDEN: dict[str, set[str]] = {
    "sediment_filter": {"turbidity", "iron", "manganese", "total_suspended_solids", "lead"},
    "aerator": {"radon", "methane", "sulfide", "hydrogen_sulfide", "iron", "ph", "benzene"},
    "chlorine_feed": GERM | IRON | {"ammonia"},
    "peroxide_feed": GERM | IRON - {"manganese"},
    "permanganate_feed": GERM | IRON,
    "retention_tank": GERM | IRON,
    "soda_ash_feed": ACID,
    "calcite_neutralizer": ACID | {"turbidity"},
    "calcite_magnesia_neutralizer": ACID | {"turbidity"},
    "air_injection_filter": IRON | {"arsenic", "turbidity"},
    "oxidizing_filter": IRON | {"arsenic", "turbidity"},
    "greensand_filter": IRON | RADIUM | {"arsenic", "turbidity"},
    "arsenic_adsorber": {"arsenic", "arsenic_iii", "arsenic_v", "lead", "uranium"},
    "fluoride_adsorber": {"fluoride", "arsenic"},
    "softener": RADIUM | {
        "hardness", "calcium", "magnesium", "iron", "manganese", "gross_alpha", "barium",
        "strontium", "copper", "lead", "zinc", "cadmium",
    },
    "anion_exchanger": {
        "nitrate", "nitrite", "nitrate_nitrite", "sulfate", "uranium", "gross_alpha", "arsenic",
        "chromium", "chromium_vi", "selenium", "alkalinity", "perchlorate",
    },
    "tannin_exchanger": {
        "tannin", "color", "sulfate", "nitrate", "nitrate_nitrite", "uranium", "alkalinity",
    },
    "carbon_filter": ORGANIC | {
        "sulfide", "hydrogen_sulfide", "radon", "odor", "color", "chlorine", "free_chlorine",
        "total_chlorine",
    },
    "copper_zinc_filter": {
        "lead", "mercury", "iron", "sulfide", "hydrogen_sulfide", "chlorine", "free_chlorine",
        "total_chlorine",
    },
    "ultrafilter": GERM | {"turbidity", "iron"},
    "uv": GERM,
    "reverse_osmosis": EVERYTHING,
    "distiller": EVERYTHING,
    "carbon_block_tap": ORGANIC | {"lead", "mercury", "odor"},
    "lead_cartridge": {"lead", "copper"},
}  # fmt: skip
PASSES = {
    "sediment_filter": "nitrate", "aerator": "nitrate", "chlorine_feed": "arsenic",
    "softener": "nitrate", "uv": "nitrate", "carbon_filter": "nitrate", "lead_cartridge": "nitrate",
    "anion_exchanger": "hardness", "calcite_neutralizer": "nitrate", "arsenic_adsorber": "nitrate",
}  # fmt: skip
"""Something that goes through each of them as if it were not there."""


def doubts(bench: Bench, stage: str, slug: str) -> set[str]:
    site = Site(equipment=Equipment(after=(stage,)))
    from welltold.reading import Sample

    scene = Scene(Sample(), site)
    return {doubt.name for doubt, _ in scene.doubts(bench.result(slug, "1", "mg/L"))}


@pytest.mark.parametrize("stage", HIDDEN)
def test_equipment_hides_what_it_takes_out_and_no_more(bench: Bench, stage: str) -> None:
    missed = {
        slug for slug in HIDDEN[stage] if "behind_equipment" not in doubts(bench, stage, slug)
    }
    assert missed == set()
    if stage in PASSES:
        assert "behind_equipment" not in doubts(bench, stage, PASSES[stage])


def test_equipment_that_nobody_named_may_hide_anything(bench: Bench) -> None:
    for slug in EVERYTHING:
        text, unit = (
            ("Absent", None)
            if slug == "e_coli"
            else ("7.2" if slug == "ph" else "<0.0001", "SU" if slug == "ph" else "mg/L")
        )
        row = bench.result(slug, text, unit, "N" if slug == "nitrate" else None)
        if slug != "radon":
            told = {m.code for m in bench.judge(row, taken="treated").why}
            assert "doubt.behind_unknown" in told, slug


# --- how a nitrogen result is counted: 40 CFR 141.62(b)(7) to (9); EPA 353.2 counts nitrogen


@pytest.mark.parametrize(
    ("slug", "text", "printed", "method", "counts"),
    [
        ("nitrate", "8", "10", None, "N"),
        ("nitrate", "30", "45", None, "NO3"),
        ("nitrate", "30", "44.3", None, "NO3"),
        ("nitrate", "30", "50", None, "NO3"),
        ("nitrite", "0.8", "1", None, "N"),
        ("nitrite", "2", "3.3", None, "NO2"),
        ("nitrate_nitrite", "8", "10", None, "N"),
        ("nitrate", "8", None, "EPA 353.2", "N"),
        ("nitrite", "0.8", None, "EPA 353.2", "N"),
        ("nitrate_nitrite", "8", None, "EPA 353.2", "N"),
    ],
)
def test_what_the_sheet_shows_settles_how_nitrogen_counts(
    bench: Bench, slug: str, text: str, printed: str | None, method: str | None, counts: str
) -> None:
    bare = bench.result(slug, text, "mg/L", printed_limit=printed, method=method)
    settled, named = bench.judge(bare), bench.judge(bench.result(slug, text, "mg/L", counts))
    assert (settled.low, settled.high) == (named.low, named.high)
    opened = bench.judge(bench.result(slug, text, "mg/L"))
    assert opened.low != opened.high

"""Rows of the tables that no single sheet shows, typed again from their publications."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from welltold.checks.hold_times import holds
from welltold.interpretation import Finding
from welltold.site import Site, Well
from welltold.verdicts.doubt_tables import precision, waiting_limits
from welltold.verdicts.tables import totals

if TYPE_CHECKING:
    from .conftest import Bench

# 40 CFR 141.62(b)(9); 141.66(b); 141.64(b)(1) and (2) with 141.2; 141.61(a)(18), (c)(2);
# Standard Methods 2340 B (hardness as CaCO3 = 2.497 Ca + 4.118 Mg); 141.62(b)(16), (5);
# 310 CMR 22.07G; Vermont Water Supply Rule 6.12
SUMS: Mapping[str, set[str]] = {
    "nitrate_nitrite": {"nitrate", "nitrite"},
    "radium_226_228": {"radium_226", "radium_228"},
    "total_trihalomethanes": {
        "chloroform", "bromodichloromethane", "dibromochloromethane", "bromoform",
    },
    "haloacetic_acids_five": {
        "monochloroacetic_acid", "dichloroacetic_acid", "trichloroacetic_acid",
        "monobromoacetic_acid", "dibromoacetic_acid",
    },
    "xylenes_total": {"m_p_xylene", "m_xylene", "p_xylene", "o_xylene"},
    "pfas_hazard_index": {"pfhxs", "pfna", "hfpo_da", "pfbs"},
    "pfas_6": {"pfoa", "pfos", "pfhxs", "pfna", "pfhpa", "pfda"},
    "pfas_5": {"pfoa", "pfos", "pfhxs", "pfhpa", "pfna"},
    "hardness": {"calcium", "magnesium"},
    "arsenic": {"arsenic_iii", "arsenic_v"},
    "chromium": {"chromium_iii", "chromium_vi"},
}  # fmt: skip
ALWAYS_TOLD = {"radium_226_228", "pfas_hazard_index", "pfas_6", "pfas_5", "arsenic", "chromium"}
"""Totals that are told as a lower bound where a part was not tested."""


def test_every_sum_has_the_parts_of_its_rule() -> None:
    assert {total.slug: {part.slug for part in total.parts} for total in totals()} == SUMS
    assert {total.slug for total in totals() if total.missing == "cant_tell"} == ALWAYS_TOLD
    assert {t.slug: t.found for t in totals()} == dict.fromkeys(SUMS, 1) | {"pfas_hazard_index": 2}


def test_a_part_counts_as_itself_but_in_the_index_and_in_hardness() -> None:
    plain = [
        p for t in totals() if t.slug not in {"pfas_hazard_index", "hardness"} for p in t.parts
    ]
    assert {part.divide_by for part in plain} == {Decimal(1)}
    hardness = next(total for total in totals() if total.slug == "hardness")
    times = {part.slug: round(1 / part.divide_by, 3) for part in hardness.parts}
    assert times == {"calcium": Decimal("2.497"), "magnesium": Decimal("4.118")}
    bases = {p.slug: p.basis for t in totals() if t.slug == "nitrate_nitrite" for p in t.parts}
    assert bases == {"nitrate": "N", "nitrite": "N"}


def test_xylene_measured_as_a_pair_is_not_counted_twice() -> None:
    xylenes = next(total for total in totals() if total.slug == "xylenes_total")
    covers = {part.slug: set(part.covers) for part in xylenes.parts if part.covers}
    assert covers == {"m_p_xylene": {"m_xylene", "p_xylene"}}


# hours. Bacteria: EPA answer on 40 CFR 141.21(f)(3); nitrate, nitrite, mercury: Maine Environmental
# Laboratory 2024; pH, alkalinity: 40 CFR 136 table II by Florida DEP 2014; turbidity, color,
# sulfide, solids: table II of 1995; VOC: 40 CFR 141.24; radon: Standard Methods 7500-Rn
HOLDS = {
    "total_coliform": "30", "e_coli": "30", "fecal_coliform": "30", "nitrate": "48",
    "nitrate_nitrite": "48", "nitrite": "48", "ph": "0.25", "benzene": "336",
    "sulfide": "168", "hydrogen_sulfide": "168", "radon": "96", "turbidity": "48", "color": "48",
    "total_dissolved_solids": "168", "alkalinity": "336", "mercury": "672",
}  # fmt: skip


def test_every_waiting_time_is_the_published_one() -> None:
    ours = {slug: str(hold.hours) for hold in holds() for slug in hold.slugs}
    assert {slug: ours[slug] for slug in HOLDS} == HOLDS
    others = {slug for hold in holds() for slug in hold.slugs if hold.name != "voc"} - set(HOLDS)
    assert others == set()
    kept = {hold.name: str(hold.kept_hours) for hold in holds() if hold.kept_hours is not None}
    assert kept == {"nitrate": "672"}  # 28 days with sulfuric acid


@pytest.mark.parametrize(
    ("slug", "hours"),
    [("total_coliform", 30), ("radon", 96), ("benzene", 336), ("mtbe", 336), ("sulfide", 168),
     ("hydrogen_sulfide", 168), ("mercury", 672)],
)  # fmt: skip
def test_what_waiting_can_hide_is_open_after_the_same_time(slug: str, hours: int) -> None:
    found = {most for doubt, most in waiting_limits() if doubt.about(slug)}
    assert found == {hours}


def test_late_germs_ask_soon_and_not_today() -> None:
    germs = next(doubt for doubt, _ in waiting_limits() if doubt.about("e_coli"))
    assert (germs.urgency, germs.steps) == ("soon", ("new_germ_sample",))


# 40 CFR 141.23(k)(3)(ii) (acceptance limits), 141.89(a)(1)(ii) for lead and copper
PRECISION = {
    "antimony": ("30", "0.006"), "arsenic": ("30", "0.003"), "barium": ("15", "0.15"),
    "beryllium": ("15", "0.001"), "cadmium": ("20", "0.002"), "chromium": ("15", "0.01"),
    "cyanide": ("25", "0.1"), "fluoride": ("10", "1"), "mercury": ("30", "0.0005"),
    "nickel": ("15", "0.01"), "nitrate": ("10", "0.4"), "nitrite": ("15", "0.4"),
    "selenium": ("20", "0.01"), "thallium": ("30", "0.002"), "lead": ("30", "0.005"),
    "copper": ("10", "0.05"),
}  # fmt: skip


def test_what_a_certified_lab_may_be_off_is_the_rules_own() -> None:
    ours = {slug: (str(row[0]), str(row[1])) for slug, row in precision().items()}
    assert ours == PRECISION
    assert {unit for _, _, unit in precision().values()} == {"mg/L"}


# --- doubts, one analyte after the other: what may hide it (40 CFR 141.21, 141.24, 141.62, 136.3)


def text_of(slug: str) -> tuple[str, str | None]:
    """Return a quiet result: nothing found, with a limit low enough."""
    germs = {"total_coliform", "e_coli", "fecal_coliform", "enterococci", "coliphage"}
    return ("Absent", None) if slug in germs else ("<0.000001", "mg/L")


GERMS = ("total_coliform", "e_coli", "fecal_coliform", "enterococci", "coliphage")
METALS = (
    "arsenic", "lead", "copper", "antimony", "barium", "beryllium", "cadmium", "chromium",
    "mercury", "selenium", "thallium", "uranium", "iron", "manganese", "nickel", "aluminum",
    "zinc", "silver", "cobalt", "vanadium", "molybdenum",
)  # fmt: skip


def quiet(bench: Bench, slug: str, **more: object) -> Finding:
    text, unit = text_of(slug)
    row = {key: more.pop(key) for key in ("qualifiers", "fraction") if key in more}
    return bench.judge(bench.result(slug, text, unit, **row), **more)


@pytest.mark.parametrize("slug", GERMS)
def test_no_germ_is_cleared_after_a_flood_or_a_shock_or_with_chlorine(
    bench: Bench, slug: str
) -> None:
    assert quiet(bench, slug).verdict == "no_concern_found"
    flooded = quiet(bench, slug, site=Site(well=Well(flooded=True)))
    assert (flooded.verdict, flooded.urgency) == ("cant_tell", "now")
    assert {"verdict.do_germs_bottled", "verdict.do_flood_test"} <= {
        m.code for m in flooded.do
    } or ("verdict.do_germs_never_boil" in {m.code for m in flooded.do})
    shocked = quiet(bench, slug, site=Site(well=Well(shocked_days_ago=3)))
    assert (shocked.verdict, shocked.urgency) == ("cant_tell", "soon")
    codes = {m.code for m in shocked.do}
    assert {"verdict.do_germs_bottled", "verdict.do_sample_after_shock"} <= codes
    late = quiet(bench, slug, qualifiers=("H",))
    assert (late.verdict, late.urgency, late.confidence) == ("cant_tell", "soon", 0.5)
    chlorine = bench.result("free_chlorine", "0.5", "mg/L")
    text, unit = text_of(slug)
    hidden = bench.judge(bench.result(slug, text, unit), chlorine)
    assert (hidden.verdict, hidden.urgency) == ("cant_tell", None)
    assert "verdict.do_sample_without_chlorine" in {m.code for m in hidden.do}


def test_the_flood_asks_for_two_tests_of_the_well(bench: Bench) -> None:
    flooded = quiet(bench, "e_coli", site=Site(well=Well(flooded=True)))
    assert "verdict.do_flood_test" in {m.code for m in flooded.do}


@pytest.mark.parametrize("slug", METALS)
def test_the_dissolved_part_alone_clears_no_metal(bench: Bench, slug: str) -> None:
    # 40 CFR 141.62 and 141.80 count all of the metal
    finding = quiet(bench, slug, fraction="dissolved")
    assert finding.verdict == "cant_tell"
    assert "verdict.do_test_whole" in {m.code for m in finding.do}


@pytest.mark.parametrize(
    "slug", ["radon", "methane", "sulfide", "hydrogen_sulfide", "mercury", "mtbe", "benzene"]
)
def test_a_late_gas_is_not_cleared(bench: Bench, slug: str) -> None:
    # 40 CFR 136.3 table II; what was found late stays found
    late = quiet(bench, slug, qualifiers=("H",))
    assert (late.verdict, late.confidence) == ("cant_tell", 0.6)
    over = bench.judge(bench.result("benzene", "9", "ug/L", qualifiers=("H",)))
    assert over.verdict == "health_concern"


@pytest.mark.parametrize("slug", ["benzene", "radon", "methane", "mtbe"])
def test_a_bubble_clears_no_gas(bench: Bench, slug: str) -> None:
    assert quiet(bench, slug, qualifiers=("headspace",)).verdict == "cant_tell"


@pytest.mark.parametrize("slug", ["iron", "manganese", "ferrous_iron"])
def test_a_bottle_without_acid_clears_no_iron(bench: Bench, slug: str) -> None:
    assert quiet(bench, slug, qualifiers=("not acidified",)).verdict == "cant_tell"


@pytest.mark.parametrize("slug", ["sulfide", "hydrogen_sulfide"])
def test_a_mailed_gas_is_not_cleared(bench: Bench, slug: str) -> None:
    assert quiet(bench, slug).verdict == "cant_tell"


@pytest.mark.parametrize("slug", ["nitrate", "nitrite", "nitrate_nitrite", "chlorine_dioxide"])
def test_what_acts_within_days_is_open_today_above_the_range(bench: Bench, slug: str) -> None:
    basis = None if slug == "chlorine_dioxide" else "N"
    finding = bench.judge(bench.result(slug, "0.1", "mg/L", basis, qualifiers=("E",)))
    assert (finding.verdict, finding.urgency, finding.confidence) == ("cant_tell", "now", 0.6)
    assert "verdict.do_test_again_plain" in {m.code for m in finding.do}


def test_what_acts_over_years_is_open_soon_above_the_range(bench: Bench) -> None:
    finding = bench.judge(bench.result("barium", "0.1", "mg/L", qualifiers=("E",)))
    assert (finding.verdict, finding.urgency, finding.confidence) == ("cant_tell", "soon", 0.6)
    codes = {m.code for m in finding.do}
    assert {"verdict.do_bottled", "verdict.do_test_again_plain"} <= codes


def test_an_estimated_limit_is_less_sure(bench: Bench) -> None:
    finding = quiet(bench, "arsenic", qualifiers=("UJ",))
    assert (finding.verdict, finding.confidence) == ("no_concern_found", 0.8)
    assert "doubt.flag_limit_estimated" in {m.code for m in finding.why}

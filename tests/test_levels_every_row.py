"""Every federal row that decides, and every goal, typed again from its publication.

What `test_levels_cfr` types from the code's tables is joined here with everything else, so that
no row can be added, lost or turned round without this file: what it asks (``op``), what it means
to be over it (``role``), whether it acts within days, and on which days it holds.
"""

from __future__ import annotations

from collections import Counter
from datetime import date
from decimal import Decimal

import pytest
from test_levels_cfr import (
    BYPRODUCTS,
    DAY,
    HAZARD_DIVISORS,
    INORGANIC,
    PFAS,
    RADIONUCLIDES,
    RESIDUALS,
    SECONDARY,
    SYNTHETIC,
    VOLATILE,
)

from welltold.levels import Level, load_levels
from welltold.verdicts.tables import totals

# 40 CFR 141.202(a), table 1: violations that ask for a public notice within 24 hours (tier 1)
WITHIN_DAYS = {
    "e_coli", "fecal_coliform", "enterococci", "coliphage", "male_specific_coliphage",
    "somatic_coliphage", "nitrate", "nitrite", "nitrate_nitrite", "chlorine_dioxide",
    # 40 CFR 141.52: the germs for which surface water is treated, outbreaks being tier 1 too
    "giardia", "cryptosporidium", "enteric_viruses",
    # Office of Surface Mining 2001: above 28 mg/L of methane, act at once
    "methane",
}  # fmt: skip

# other forms of what 40 CFR 141.62(b)(13), 141.65(a) and 141.66(c) limit, and 141.66(d) table A
FORMS = {
    "free_cyanide": ("0.2", "mg/L"),
    "free_chlorine": ("4.0", "mg/L"),
    "total_chlorine": ("4.0", "mg/L"),
    "monochloramine": ("4.0", "mg/L"),
    "gross_alpha_adjusted": ("15", "pCi/L"),
    "tritium": ("20000", "pCi/L"),
    "strontium_90": ("8", "pCi/L"),
}
# 40 CFR 141.80(c): action levels; both of lead are shown in 2026
ACTION = [("lead", "0.010"), ("lead", "0.015"), ("copper", "1.3")]
# advisories of EPA that decide about health: manganese EPA-822-R-04-003; June 2022 (HFPO-DA,
# PFBS); the table of March 2018 (molybdenum, strontium); EPA 822-R-08-013 (boron)
ADVICE = {
    "manganese": ("0.3", "mg/L"),
    "hfpo_da": ("10", "ng/L"),
    "pfbs": ("2000", "ng/L"),
    "molybdenum": ("0.04", "mg/L"),
    "strontium": ("4", "mg/L"),
    "boron": ("5", "mg/L"),
    # Maine CDC: guideline for radon in the water of private wells
    "radon": ("4000", "pCi/L"),
    # Office of Surface Mining 2001
    "methane": ("28", "mg/L"),
}
# germs that must not be there: 40 CFR 141.63(c), subpart Y, 141.402, 141.52
GERMS = {
    "e_coli", "total_coliform", "fecal_coliform", "enterococci", "coliphage",
    "male_specific_coliphage", "somatic_coliphage", "giardia", "cryptosporidium",
    "enteric_viruses", "legionella",
}  # fmt: skip
# to be watched: 40 CFR 141.208; 141.154(b) and (c); 141.26(b); 141.111; 64 FR 59246 (proposed);
# EPA 811-F-94-007 (proposed); 2026-00021 (proposed); EPA on MTBE, December 1997; USGS screening
# levels of July 2024; Office of Surface Mining 2001
WATCHED = [
    ("fluoride", "2.0", "mg/L"), ("nitrate", "5", "mg/L"), ("nitrate_nitrite", "5", "mg/L"),
    ("arsenic", "0.005", "mg/L"), ("gross_beta", "50", "pCi/L"), ("acrylamide", "0.0005", "mg/L"),
    ("epichlorohydrin", "0.002", "mg/L"), ("radon", "300", "pCi/L"), ("radon", "4000", "pCi/L"),
    ("sulfate", "500", "mg/L"), ("perchlorate", "0.02", "mg/L"), ("mtbe", "20", "ug/L"),
    ("aluminum", "6000", "ug/L"), ("zinc", "2000", "ug/L"), ("molybdenum", "30", "ug/L"),
    ("strontium", "4000", "ug/L"), ("boron", "5000", "ug/L"), ("nickel", "100", "ug/L"),
    ("naphthalene", "100", "ug/L"), ("cobalt", "2", "ug/L"), ("lithium", "10", "ug/L"),
    ("1_1_dichloroethane", "1000", "ug/L"), ("1_2_4_trimethylbenzene", "60", "ug/L"),
    ("1_3_5_trimethylbenzene", "60", "ug/L"), ("isopropylbenzene", "600", "ug/L"),
    ("dichlorodifluoromethane", "1000", "ug/L"), ("trichlorofluoromethane", "2000", "ug/L"),
    ("methane", "10", "mg/L"),
]  # fmt: skip
# nuisances beside 40 CFR 143.3: 141.73 (turbidity), EPA 822-R-03-006 (sodium by taste), USGS
# hardness classes, what most people smell
NUISANCES = {
    "turbidity": ("5", "NTU"),
    "sodium": ("60", "mg/L"),
    "hardness": ("120", "mg/L"),
    "hydrogen_sulfide": ("0.1", "mg/L"),
    "sulfide": ("0.1", "mg/L"),
}
SIGNS = {"iron_bacteria", "sulfate_reducing_bacteria", "slime_forming_bacteria"}


def typed() -> Counter[tuple[object, ...]]:
    """Return every row that decides today: slug, role, op, numbers, unit."""
    limits = {s: (row[1], "mg/L") for s, row in VOLATILE.items()}
    limits |= {s: (value, "mg/L") for s, value in SYNTHETIC.items()} | PFAS
    limits |= {s: (row[1], row[2]) for s, row in INORGANIC.items()}
    limits |= {s: (row[1], "mg/L") for s, row in BYPRODUCTS.items()}
    limits |= {s: (value, "mg/L") for s, value in RESIDUALS.items()} | FORMS
    limits |= {s: (row[1], row[2]) for s, row in RADIONUCLIDES.items()}
    rows: list[tuple[object, ...]] = [
        (s, "health", "max", None, Decimal(v), u) for s, (v, u) in limits.items()
    ]
    rows += [(s, "health", "max", None, Decimal(v), "mg/L") for s, v in ACTION]
    rows += [(s, "health", "max", None, Decimal(v), u) for s, (v, u) in ADVICE.items()]
    rows += [(s, "health", "absent", None, None, "germs") for s in GERMS]
    rows += [(s, "watch", "max", None, Decimal(v), u) for s, v, u in WATCHED]
    rows.append(("lead", "watch", "absent", None, None, "mg/L"))  # 141.51(b): the goal is zero
    rows.append(("sodium", "person", "max", None, Decimal(20), "mg/L"))  # EPA 822-R-03-006
    for slug, (low, value, unit) in SECONDARY.items():
        if slug == "ph":
            rows.append((slug, "nuisance", "range", Decimal(low or 0), Decimal(value), unit))
        else:  # aluminum is over its range above the upper end only
            rows.append((slug, "nuisance", "max", None, Decimal(value), unit))
    rows += [(s, "nuisance", "max", None, Decimal(v), u) for s, (v, u) in NUISANCES.items()]
    rows += [(s, "nuisance", "absent", None, None, "germs") for s in SIGNS]
    return Counter(rows)


def told(level: Level) -> tuple[object, ...]:
    germs = level.unit.startswith("count")
    low = level.low if level.op == "range" else None
    value = None if germs or level.op == "absent" else level.value
    return level.slug, level.role, level.op, low, value, "germs" if germs else level.unit


def deciding(day: date) -> list[Level]:
    table = load_levels(("us_federal",), day)
    return [lv for rows in table.by_slug.values() for lv in rows if lv.role != "none"]


def test_every_row_that_decides_is_what_its_publication_says() -> None:
    ours = Counter(told(level) for level in deciding(DAY))
    assert ours - typed() == Counter(), "in the table only"
    assert typed() - ours == Counter(), "in the publications only"


def test_what_acts_within_days_is_marked_so_and_nothing_else() -> None:
    marked = {level.slug for level in deciding(DAY) if level.acute and level.role == "health"}
    assert marked == WITHIN_DAYS
    assert all(level.acute == (level.slug in WITHIN_DAYS) for level in deciding(DAY)
               if level.role == "health")  # fmt: skip
    assert not [level for level in deciding(DAY) if level.acute and level.role != "health"]


@pytest.mark.parametrize("slug", ["nitrate", "nitrite", "nitrate_nitrite"])
def test_nitrogen_is_counted_as_nitrogen(slug: str) -> None:
    rows = [level for level in deciding(DAY) if level.slug == slug]
    assert {level.basis for level in rows} == {"N"}  # 40 CFR 141.62(b): "(as Nitrogen)"


# 89 FR 32532: limits in the code from 2024-06-25, to be met by 2029-04-26; those of PFHxS, PFNA,
# HFPO-DA and the index proposed for withdrawal on 2026-05-18. 40 CFR 141.80(c): lead 0.010 mg/L
# in the code from 2024-12-30, to be met from 2027-11-01. 141.63: E. coli alone from 2016-04-01.
SPANS = [
    ("pfoa", "2024-06-24", []),
    ("pfoa", "2024-06-25", [("4.0", "adopted_not_applying")]),
    ("pfoa", "2029-04-25", [("4.0", "adopted_not_applying")]),
    ("pfoa", "2029-04-26", [("4.0", "in_force")]),
    ("pfoa", "2031-01-01", [("4.0", "in_force")]),
    ("pfos", "2024-06-24", []),
    ("pfos", "2024-06-25", [("4.0", "adopted_not_applying")]),
    ("pfos", "2029-04-26", [("4.0", "in_force")]),
    ("pfhxs", "2024-06-24", []),
    ("pfhxs", "2026-05-17", [("10", "adopted_not_applying")]),
    ("pfhxs", "2026-05-18", [("10", "proposed_withdrawal")]),
    ("pfna", "2024-06-24", []),
    ("pfna", "2026-05-17", [("10", "adopted_not_applying")]),
    ("pfna", "2026-05-18", [("10", "proposed_withdrawal")]),
    ("hfpo_da", "2022-06-14", []),
    ("hfpo_da", "2022-06-15", [("10", "advisory")]),
    ("hfpo_da", "2026-05-17", [("10", "adopted_not_applying"), ("10", "advisory")]),
    ("hfpo_da", "2026-05-18", [("10", "advisory"), ("10", "proposed_withdrawal")]),
    ("pfas_hazard_index", "2024-06-24", []),
    ("pfas_hazard_index", "2026-05-17", [("1", "adopted_not_applying")]),
    ("pfas_hazard_index", "2026-05-18", [("1", "proposed_withdrawal")]),
    ("lead", "2024-12-29", [("0.015", "in_force")]),
    ("lead", "2024-12-30", [("0.010", "adopted_not_applying"), ("0.015", "in_force")]),
    ("lead", "2027-10-31", [("0.010", "adopted_not_applying"), ("0.015", "in_force")]),
    ("lead", "2027-11-01", [("0.010", "in_force")]),
    ("lead", "2031-01-01", [("0.010", "in_force")]),
]


@pytest.mark.parametrize(("slug", "day", "rows"), SPANS)
def test_a_limit_holds_on_its_days(slug: str, day: str, rows: list[tuple[str, str]]) -> None:
    held = [lv for lv in deciding(date.fromisoformat(day)) if lv.slug == slug]
    ours = [(lv.value, lv.status) for lv in held if lv.role == "health"]
    assert sorted(ours) == sorted((Decimal(value), status) for value, status in rows)
    assert not [lv for lv in held if lv.acute or lv.op not in {"max", "absent"}]


@pytest.mark.parametrize("day", ["2006-01-23", "2016-03-31", "2016-04-01", "2031-01-01"])
def test_germs_are_never_allowed_on_any_day(day: str) -> None:
    # 40 CFR 141.63 before and after the revised coliform rule of 2016-04-01; 141.402 from 2007
    rows = {lv.slug: lv for lv in deciding(date.fromisoformat(day)) if lv.slug in GERMS}
    since_2007 = {"enterococci", "coliphage", "male_specific_coliphage", "somatic_coliphage"}
    assert set(rows) == (GERMS - since_2007 if day < "2007" else GERMS)
    for slug, level in rows.items():
        acute = slug in WITHIN_DAYS
        assert (level.op, level.role, level.acute) == ("absent", "health", acute), slug


# 40 CFR 141.50(a), 141.51(b), 141.53, 141.55: goals of zero
NONE_AT_ALL = {
    "benzene", "vinyl_chloride", "carbon_tetrachloride", "1_2_dichloroethane",
    "trichloroethylene", "acrylamide", "alachlor", "chlordane", "dbcp", "1_2_dichloropropane",
    "epichlorohydrin", "edb", "heptachlor", "heptachlor_epoxide", "pentachlorophenol", "pcbs",
    "tetrachloroethylene", "toxaphene", "benzo_a_pyrene", "dichloromethane",
    "di_2_ethylhexyl_phthalate", "hexachlorobenzene", "dioxin", "pfoa", "pfos",
    "arsenic", "lead", "bromodichloromethane", "bromoform", "bromate", "dichloroacetic_acid",
    "radium_226_228", "gross_alpha", "beta_photon_emitters", "uranium",
}  # fmt: skip
# 40 CFR 141.50(b), 141.51(b), 141.53, 141.54: goals above zero, mg/L unless a unit is named
GOALS = {
    "1_1_dichloroethylene": "0.007", "1_1_1_trichloroethane": "0.20",
    "p_dichlorobenzene": "0.075", "aldicarb": "0.001", "aldicarb_sulfoxide": "0.001",
    "aldicarb_sulfone": "0.001", "atrazine": "0.003", "carbofuran": "0.04",
    "o_dichlorobenzene": "0.6", "cis_1_2_dichloroethylene": "0.07",
    "trans_1_2_dichloroethylene": "0.1", "2_4_d": "0.07", "ethylbenzene": "0.7",
    "lindane": "0.0002", "methoxychlor": "0.04", "chlorobenzene": "0.1", "styrene": "0.1",
    "toluene": "1", "silvex": "0.05", "xylenes_total": "10", "dalapon": "0.2",
    "di_2_ethylhexyl_adipate": "0.4", "dinoseb": "0.007", "diquat": "0.02", "endothall": "0.1",
    "endrin": "0.002", "glyphosate": "0.7", "hexachlorocyclopentadiene": "0.05",
    "oxamyl": "0.2", "picloram": "0.5", "simazine": "0.004", "1_2_4_trichlorobenzene": "0.07",
    "1_1_2_trichloroethane": "0.003", "pfhxs": "10 ng/L", "pfna": "10 ng/L",
    "hfpo_da": "10 ng/L", "pfas_hazard_index": "1 ratio",
    "antimony": "0.006", "asbestos": "7 MFL", "barium": "2", "beryllium": "0.004",
    "cadmium": "0.005", "chromium": "0.1", "copper": "1.3", "cyanide": "0.2", "fluoride": "4.0",
    "mercury": "0.002", "nitrate": "10", "nitrite": "1", "nitrate_nitrite": "10",
    "selenium": "0.05", "thallium": "0.0005",
    "chlorite": "0.8", "chloroform": "0.07", "dibromochloromethane": "0.06",
    "monochloroacetic_acid": "0.07", "trichloroacetic_acid": "0.02",
    "chlorine": "4.0", "chloramines": "4.0", "chlorine_dioxide": "0.8",
}  # fmt: skip


def test_every_goal_is_the_codes_own() -> None:
    table = load_levels(("us_federal",), DAY)
    ours = {
        level.slug: (level.value, level.unit)
        for rows in table.by_slug.values()
        for level in rows
        if level.kind == "goal" and level.op == "max" and level.status == "goal"
    }
    above = {slug: text.split() for slug, text in GOALS.items()}
    wanted = {s: (Decimal(t[0]), t[1] if len(t) > 1 else "mg/L") for s, t in above.items()}
    assert {slug: row for slug, row in ours.items() if row[0]} == wanted
    assert {slug for slug, row in ours.items() if not row[0]} == NONE_AT_ALL


def test_the_hazard_index_divides_by_the_rules_own_numbers() -> None:
    # 40 CFR 141.61(c)(2)(i); the index counts where two or more of them are there (89 FR 32532)
    index = next(total for total in totals() if total.slug == "pfas_hazard_index")
    assert {p.slug: (p.divide_by, p.unit) for p in index.parts} == {
        slug: (Decimal(number), "ng/L") for slug, number in HAZARD_DIVISORS.items()
    }
    assert (index.found, index.missing) == (2, "cant_tell")

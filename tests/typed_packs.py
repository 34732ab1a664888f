"""The levels of states, of Canada and of the WHO, typed again from what each of them publishes."""

from __future__ import annotations

from datetime import date

from welltold.level_packs import known_packs

Typed = dict[str, tuple[str, str, str]]
"""By analyte: number, unit, role; a second level of one analyte has a # and a digit behind it."""

# N.J.A.C. 7:10-5.2: (a)3 arsenic; (a)4 table 1, volatile organics, ug/L; PFOA 14, PFOS 13 and PFNA
# 13 ng/L, 1,2,3-trichloropropane 0.030 and chlordane 0.5 ug/L (state notices; list of June 2020)
NEW_JERSEY: Typed = {
    "arsenic": ("5", "ug/L", "health"),
    "benzene": ("1", "ug/L", "health"),
    "carbon_tetrachloride": ("2", "ug/L", "health"),
    "chlorobenzene": ("50", "ug/L", "health"),
    "m_dichlorobenzene": ("600", "ug/L", "health"),
    "1_2_dichloroethane": ("2", "ug/L", "health"),
    "1_1_dichloroethylene": ("2", "ug/L", "health"),
    "dichloromethane": ("3", "ug/L", "health"),
    "tetrachloroethylene": ("1", "ug/L", "health"),
    "1_2_4_trichlorobenzene": ("9", "ug/L", "health"),
    "1_1_1_trichloroethane": ("30", "ug/L", "health"),
    "trichloroethylene": ("1", "ug/L", "health"),
    "xylenes_total": ("1000", "ug/L", "health"),
    "1_1_dichloroethane": ("50", "ug/L", "health"),
    "1_1_2_trichloroethane": ("3", "ug/L", "health"),
    "1_1_2_2_tetrachloroethane": ("1", "ug/L", "health"),
    "naphthalene": ("300", "ug/L", "health"),
    "mtbe": ("70", "ug/L", "health"),
    "chlordane": ("0.5", "ug/L", "health"),
    "1_2_3_trichloropropane": ("0.030", "ug/L", "health"),
    "pfna": ("0.013", "ug/L", "health"),
    "pfoa": ("0.014", "ug/L", "health"),
    "pfos": ("0.013", "ug/L", "health"),
}

# 22 CCR 64431 (inorganic) and 64444 (organic), as the State Water Board's records of 2017 carry
# them; hexavalent chromium of 2024-10-01; 22 CCR 64449 tables A and B for taste and stains
CALIFORNIA: Typed = {
    "chromium_vi": ("0.010", "mg/L", "health"),
    "perchlorate": ("6", "ug/L", "health"),
    "chromium": ("50", "ug/L", "health"),
    "barium": ("1", "mg/L", "health"),
    "aluminum": ("1", "mg/L", "health"),
    "nickel": ("0.1", "mg/L", "health"),
    "cyanide": ("0.15", "mg/L", "health"),
    "fluoride": ("2.0", "mg/L", "health"),
    "1_2_3_trichloropropane": ("0.000005", "mg/L", "health"),
    "mtbe": ("0.013", "mg/L", "health"),
    "mtbe#2": ("0.005", "mg/L", "nuisance"),
    "benzene": ("0.001", "mg/L", "health"),
    "carbon_tetrachloride": ("0.0005", "mg/L", "health"),
    "1_2_dichloroethane": ("0.0005", "mg/L", "health"),
    "vinyl_chloride": ("0.0005", "mg/L", "health"),
    "cis_1_2_dichloroethylene": ("0.006", "mg/L", "health"),
    "trans_1_2_dichloroethylene": ("0.01", "mg/L", "health"),
    "1_1_dichloroethylene": ("0.006", "mg/L", "health"),
    "1_1_dichloroethane": ("0.005", "mg/L", "health"),
    "ethylbenzene": ("0.3", "mg/L", "health"),
    "toluene": ("0.15", "mg/L", "health"),
    "xylenes_total": ("1.750", "mg/L", "health"),
    "p_dichlorobenzene": ("0.005", "mg/L", "health"),
    "1_2_4_trichlorobenzene": ("0.005", "mg/L", "health"),
    "chlorobenzene": ("0.07", "mg/L", "health"),
    "1_1_2_2_tetrachloroethane": ("0.001", "mg/L", "health"),
    "trichlorofluoromethane": ("0.15", "mg/L", "health"),
    "atrazine": ("0.001", "mg/L", "health"),
    "carbofuran": ("0.018", "mg/L", "health"),
    "chlordane": ("0.0001", "mg/L", "health"),
    "di_2_ethylhexyl_phthalate": ("0.004", "mg/L", "health"),
    "heptachlor": ("0.00001", "mg/L", "health"),
    "heptachlor_epoxide": ("0.00001", "mg/L", "health"),
    "methoxychlor": ("0.03", "mg/L", "health"),
    "oxamyl": ("0.05", "mg/L", "health"),
    "bentazon": ("0.018", "mg/L", "health"),
    "molinate": ("0.02", "mg/L", "health"),
    "thiobencarb": ("0.07", "mg/L", "health"),
    "thiobencarb#2": ("0.001", "mg/L", "nuisance"),
    "turbidity": ("5", "NTU", "nuisance"),
    "specific_conductance": ("900", "uS/cm", "nuisance"),
}

# New Hampshire: law of 2019 on arsenic (5 ug/L); House Bill 1264 of 2020 (ng/L); Env-Dw 705.01
NEW_HAMPSHIRE: Typed = {
    "arsenic": ("5", "ug/L", "health"),
    "pfoa": ("12", "ng/L", "health"),
    "pfos": ("15", "ng/L", "health"),
    "pfhxs": ("18", "ng/L", "health"),
    "pfna": ("11", "ng/L", "health"),
    "mtbe": ("0.013", "mg/L", "health"),
}

# Massachusetts: 310 CMR 22.00, PFAS6 of 2020-10-02 and perchlorate of 2006-07-28 (2 ppb)
MASSACHUSETTS: Typed = {
    "pfas_6": ("20", "ng/L", "health"),
    "perchlorate": ("2", "ug/L", "health"),
}

# Michigan: R 325.10604g, table 1, ng/L
MICHIGAN: Typed = {
    "hfpo_da": ("370", "ng/L", "health"),
    "pfbs": ("420", "ng/L", "health"),
    "pfhxs": ("51", "ng/L", "health"),
    "pfhxa": ("400000", "ng/L", "health"),
    "pfna": ("6", "ng/L", "health"),
    "pfos": ("16", "ng/L", "health"),
    "pfoa": ("8", "ng/L", "health"),
}

# New York: 10 NYCRR 5-1.52 as changed in July 2020
NEW_YORK: Typed = {
    "pfoa": ("10.0", "ng/L", "health"),
    "pfos": ("10.0", "ng/L", "health"),
    "1_4_dioxane": ("1.0", "ug/L", "health"),
}

# Pennsylvania: 25 Pa. Code chapter 109, in force 2023-01-14
PENNSYLVANIA: Typed = {"pfoa": ("14", "ng/L", "health"), "pfos": ("18", "ng/L", "health")}

# Vermont Water Supply Rule of March 2020: PFOA + PFOS + PFHxS + PFHpA + PFNA
VERMONT: Typed = {"pfas_5": ("20", "ng/L", "health")}

# Maine: Resolve 2021 c. 82 (20 ppt for six); the rule of 2025-12-01 (the federal one of April 2024)
MAINE: Typed = {
    "pfas_6": ("20", "ng/L", "health"),
    "pfoa": ("4", "ng/L", "health"),
    "pfos": ("4", "ng/L", "health"),
    "pfhxs": ("10", "ng/L", "health"),
    "pfna": ("10", "ng/L", "health"),
    "hfpo_da": ("10", "ng/L", "health"),
    "pfas_hazard_index": ("1", "ratio", "health"),
}

# Minnesota Department of Health: manganese of 2018 (300 ug/L; 100 for babies); PFHxS 47 ng/L
MINNESOTA: Typed = {
    "manganese": ("300", "ug/L", "health"),
    "manganese#2": ("100", "ug/L", "watch"),
    "pfhxs": ("47", "ng/L", "health"),
}

# Guidelines for Canadian Drinking Water Quality; the source of each stands in the table
CANADA: Typed = {
    "nitrate": ("45", "mg/L", "health"),
    "lead": ("0.005", "mg/L", "health"),
    "arsenic": ("0.010", "mg/L", "health"),
    "manganese": ("0.12", "mg/L", "health"),
    "manganese#2": ("0.02", "mg/L", "nuisance"),
    "mercury": ("0.001", "mg/L", "health"),
    "boron": ("5", "mg/L", "health"),
    "strontium": ("7.0", "mg/L", "health"),
    "aluminum": ("2.9", "mg/L", "health"),
    "total_trihalomethanes": ("0.100", "mg/L", "health"),
    "chlorite": ("1", "mg/L", "health"),
    "chlorate": ("1", "mg/L", "health"),
    "trichloroethylene": ("0.005", "mg/L", "health"),
    "toluene": ("0.06", "mg/L", "health"),
    "ethylbenzene": ("0.14", "mg/L", "health"),
    "xylenes_total": ("0.09", "mg/L", "health"),
    "1_4_dioxane": ("0.050", "mg/L", "health"),
    "fluoride": ("1.5", "mg/L", "health"),
    "uranium": ("0.020", "mg/L", "health"),
    "pfas_25": ("30", "ng/L", "health"),
    "e_coli": ("0", "count/100mL", "health"),
    "total_coliform": ("0", "count/100mL", "health"),
    "iron": ("0.1", "mg/L", "nuisance"),
    "chloride": ("250", "mg/L", "nuisance"),
    "sulfate": ("500", "mg/L", "nuisance"),
    "color": ("15", "CU", "nuisance"),
    "copper": ("1.0", "mg/L", "nuisance"),
}

# WHO Guidelines for drinking-water quality, 4th edition with two addenda, table of 2022, mg/L;
# uranium: Environ. Sci.: Processes Impacts 15 (2013), "increased to 30 ug/L" in the 4th edition
WHO: Typed = {
    "antimony": ("0.02", "mg/L", "health"),
    "arsenic": ("0.01", "mg/L", "health"),
    "barium": ("1.3", "mg/L", "health"),
    "boron": ("2.4", "mg/L", "health"),
    "cadmium": ("0.003", "mg/L", "health"),
    "chromium": ("0.05", "mg/L", "health"),
    "copper": ("2", "mg/L", "health"),
    "lead": ("0.01", "mg/L", "health"),
    "manganese": ("0.08", "mg/L", "health"),
    "mercury": ("0.006", "mg/L", "health"),
    "uranium": ("30", "ug/L", "health"),
}

PUBLISHED: dict[str, tuple[str, Typed]] = {
    "california": ("California limit", CALIFORNIA),
    "maine": ("Maine", MAINE),
    "massachusetts": ("Massachusetts limit", MASSACHUSETTS),
    "michigan": ("Michigan limit", MICHIGAN),
    "minnesota": ("Minnesota guidance value", MINNESOTA),
    "new_hampshire": ("New Hampshire limit", NEW_HAMPSHIRE),
    "new_jersey": ("New Jersey limit", NEW_JERSEY),
    "new_york": ("New York limit", NEW_YORK),
    "pennsylvania": ("Pennsylvania limit", PENNSYLVANIA),
    "vermont": ("Vermont limit", VERMONT),
    "canada": ("Canadian", CANADA),
    "who": ("WHO guideline value", WHO),
}


NOW = date(2026, 11, 25)
ADVICE = {"canada", "who", "minnesota"}
"""Packs that hold advice only; nothing in them may read as a limit."""
OTHER_PACKS = sorted(set(known_packs()) - {"us_federal"})

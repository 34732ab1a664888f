"""Verdicts worked out from published guidance: rule by rule, below, at, above, censored, open.

Each block names the publication. The expected verdicts were written down from it, not from the
code. What reaches nine tenths of a level for health is watched (common practice, no source; the
cases in ``tests/cases`` ask for it). ``h!`` health concern, act now; ``h`` health concern, act
soon; ``w`` watch; ``n`` nuisance only; ``-`` no concern found; ``?`` can't tell; ``?!`` can't
tell, act now; ``?.`` can't tell, soon.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from .conftest import Bench

MEANS = {
    "h!": ("health_concern", "now"),
    "h": ("health_concern", "soon"),
    "w": ("watch", None),
    "n": ("nuisance_only", None),
    "-": ("no_concern_found", None),
    "?": ("cant_tell", None),
    "?!": ("cant_tell", "now"),
    "?.": ("cant_tell", "soon"),
}

# 40 CFR 141.62(b)(16): arsenic 0.010 mg/L; 141.154(b): notice above 0.005 up to and including 0.010
ARSENIC = """
arsenic  0.005    mg/L  -
arsenic  0.0051   mg/L  w
arsenic  5.1      ug/L  w
arsenic  0.010    mg/L  w
arsenic  10       ug/L  w
arsenic  10.04    ug/L  h
arsenic  0.0101   mg/L  h
arsenic  50       ug/L  h
arsenic  <0.001   mg/L  -
arsenic  <0.010   mg/L  -
arsenic  <0.011   mg/L  ?
arsenic  <5       mg/L  ?
arsenic  ND       mg/L  ?
arsenic  >0.004   mg/L  ?.
arsenic  >0.010   mg/L  h
arsenic  >0.100   mg/L  h
"""

# 40 CFR 141.62(b)(7),(8),(9), as N; 141.154(c): nitrate notice above 5 up to 10 mg/L;
# 40 CFR 141.202(a)(2): nitrate and nitrite are notices within 24 hours
NITROGEN = """
nitrate          5      mg/L:N    -
nitrate          5.1    mg/L:N    w
nitrate          10     mg/L:N    w
nitrate          10.1   mg/L:N    h!
nitrate          44.2   mg/L:NO3  w
nitrate          45     mg/L:NO3  h!
nitrate          12     mg/L      ?!
nitrate          3      mg/L      -
nitrate          8      mg/L      ?
nitrate          60     mg/L      h!
nitrate          <0.5   mg/L      -
nitrate          <10    mg/L:N    -
nitrate          <20    mg/L:N    ?!
nitrate          ND     mg/L:N    ?.
nitrate          >10    mg/L:N    h!
nitrate          >5     mg/L:N    ?!
nitrite          1      mg/L:N    w
nitrite          1.01   mg/L:N    h!
nitrite          3.2    mg/L:NO2  w
nitrite          3.3    mg/L:NO2  h!
nitrite          2      mg/L      ?!
nitrite          0.5    mg/L      -
nitrate_nitrite  10     mg/L:N    w
nitrate_nitrite  10.2   mg/L:N    h!
nitrate_nitrite  4      mg/L:N    -
"""

# 40 CFR 141.80(c): lead 0.010 mg/L (2024 rule), copper 1.3 mg/L; 141.51(b): lead goal zero; EPA
# lead page: no known harmless level, so found at all is at least watch. 143.3: copper 1.0 mg/L
LEAD_AND_COPPER = """
lead    <0.001  mg/L  -
lead    <0.010  mg/L  -
lead    <0.015  mg/L  ?
lead    ND      ug/L  ?
lead    0.5     ug/L  w
lead    10      ug/L  w
lead    10.1    ug/L  h
lead    15      ug/L  h
lead    >5      ug/L  ?.
lead    Trace   ug/L  ?.
copper  1.0     mg/L  -
copper  1.01    mg/L  n
copper  1.3     mg/L  w
copper  1.31    mg/L  h
copper  1400    ug/L  h
copper  <1.2    mg/L  ?
copper  <0.05   mg/L  -
"""

# 40 CFR 141.62(b)(1): fluoride 4.0; 143.3 and 141.208: 2.0 (children's teeth)
FLUORIDE = """
fluoride  2.0   mg/L  -
fluoride  2.01  mg/L  w
fluoride  4.0   mg/L  w
fluoride  4.01  mg/L  h
fluoride  <5    mg/L  ?
fluoride  <3    mg/L  ?
fluoride  <0.2  mg/L  -
"""

# 40 CFR 143.3: manganese 0.05; EPA lifetime health advisory (EPA-822-R-04-003): 0.3 mg/L
MANGANESE = """
manganese  0.05   mg/L  -
manganese  0.051  mg/L  n
manganese  0.3    mg/L  w
manganese  0.301  mg/L  h
manganese  310    ug/L  h
manganese  <0.1   mg/L  ?
manganese  <0.5   mg/L  ?
"""

# 40 CFR 143.3 only: never a health concern, however high
NUISANCES = """
iron                    0.3    mg/L   -
iron                    0.31   mg/L   n
iron                    30     mg/L   n
iron                    <0.3   mg/L   -
iron                    <0.5   mg/L   ?
chloride                250    mg/L   -
chloride                251    mg/L   n
total_dissolved_solids  500    mg/L   -
total_dissolved_solids  501    mg/L   n
zinc                    5.1    mg/L   w
sulfate                 250    mg/L   -
sulfate                 251    mg/L   n
sulfate                 500    mg/L   n
sulfate                 501    mg/L   w
aluminum                0.2    mg/L   -
aluminum                0.21   mg/L   n
silver                  0.11   mg/L   n
color                   16     CU     n
odor                    4      TON    n
foaming_agents          0.6    mg/L   n
ph                      6.5    none   -
ph                      6.4    none   n
ph                      8.5    SU     -
ph                      8.6    SU     n
ph                      5.0    S.U.   n
"""

# USGS hardness classes: hard above 120 mg/L as CaCO3 (7.01 grains per US gallon)
HARDNESS = """
hardness  120  mg/L  -
hardness  121  mg/L  n
hardness  7    gpg   -
hardness  7.1  gpg   n
"""

# 40 CFR 141.63(c) and 141.402: E. coli, enterococci and coliphage are acute; subpart Y: total
# coliform asks to find and fix; coliform rule of 1989: a crowded plate asks for a new sample
GERMS = """
e_coli          Absent   none       -
e_coli          <1       CFU/100mL  -
e_coli          0        CFU/100mL  -
e_coli          ND       none       -
e_coli          1        MPN/100mL  h!
e_coli          Present  none       h!
e_coli          >2419.6  MPN/100mL  h!
e_coli          TNTC     CFU/100mL  h!
fecal_coliform  Present  none       h!
enterococci     3        CFU/100mL  h!
total_coliform  Absent   none       -
total_coliform  <1.1     MPN/100mL  -
total_coliform  <10      CFU/100mL  ?.
e_coli          <10      CFU/100mL  ?!
total_coliform  Present  none       h
total_coliform  12       CFU/100mL  h
total_coliform  >200.5   MPN/100mL  h
total_coliform  TNTC     CFU/100mL  ?.
iron_bacteria   Present  none       n
salmonella      Present  none       ?.
salmonella      Absent   none       -
heterotrophic_plate_count  50  CFU/mL  -
"""

# 40 CFR 141.61(a),(c): a few of each table, and the wide units labs use
ORGANICS = """
benzene              5       ug/L  w
benzene              5.1     ug/L  h
benzene              <0.5    ug/L  -
benzene              <10     ug/L  ?
atrazine             3       ug/L  w
atrazine             0.0031  mg/L  h
pfoa                 4.0     ng/L  w
pfoa                 4.1     ng/L  h
pfos                 <2      ng/L  -
pfos                 <10     ng/L  ?
pfhxs                10.5    ng/L  h
hfpo_da              10      ng/L  w
pfbs                 2001    ng/L  h
"""

# 40 CFR 141.66; 64 FR 59246 (radon was only proposed); 141.66(c): uranium is not counted
RADIONUCLIDES = """
uranium           30    ug/L   w
uranium           30.1  ug/L   h
uranium           0.031 mg/L   h
uranium           25    pCi/L  ?.
uranium           12    pCi/L  -
gross_alpha       15    pCi/L  -
gross_alpha       16    pCi/L  ?.
gross_alpha_adjusted  16  pCi/L  h
radium_226_228    5     pCi/L  w
radium_226_228    5.1   pCi/L  h
radon             299   pCi/L  -
radon             4000  pCi/L  w
radon             4001  pCi/L  h
radon             149   Bq/L   h
"""

# EPA 822-R-03-006: sodium 20 mg/L for low-salt diets only, taste above 60; HBSL of the USGS;
# 1,4-dioxane: the advisory was not read, so it decides nothing; diuron: no federal level
OTHERS = """
sodium       20     mg/L  -
sodium       60     mg/L  -
sodium       61     mg/L  n
nickel       101    ug/L  w
nickel       100    ug/L  -
strontium    4.1    mg/L  h
boron        5.1    mg/L  h
1_4_dioxane  300    ug/L  ?
1_4_dioxane  5      ug/L  ?
1_4_dioxane  <1     ug/L  -
chromium_vi  0.5    ug/L  ?
gross_beta   51     pCi/L w
gross_beta   >20    pCi/L ?
ph           15     SU    ?
diuron       5      ug/L  ?
diuron       <0.1   ug/L  -
calcium      80     mg/L  -
chlorine     4.1    mg/L  h
asbestos     7.1    MFL   h
"""

# a sheet that cannot be compared
OPEN = """
arsenic  5        none     ?
arsenic  5        bananas  ?
arsenic  5        pCi/L    ?
arsenic  ???      mg/L     ?
arsenic  -5       ug/L     ?
nitrate  Present  none     ?!
nitrate  50       none     ?!
nitrate  0.5      none     ?
nitrate  50       bananas  ?!
nitrate  ???      mg/L     ?!
nitrate  -12      mg/L     ?!
e_coli   ???      none     ?!
ph       7.2      -        -
arsenic  5        -        ?
arsenic  ND       none     ?
calcium  ND       none     -
pfas_hazard_index  0.5  none  -
pfas_hazard_index  1.1  none  h
lead     Present  none     ?.
"""


def cases(*tables: str) -> list[tuple[str, str, str, str]]:
    rows = [line.split() for table in tables for line in table.splitlines() if line]
    return [(row[0], row[1], row[2], row[3]) for row in rows]


@pytest.mark.parametrize(
    ("slug", "text", "unit", "wanted"),
    cases(
        ARSENIC,
        NITROGEN,
        LEAD_AND_COPPER,
        FLUORIDE,
        MANGANESE,
        NUISANCES,
        HARDNESS,
        GERMS,
        ORGANICS,
        RADIONUCLIDES,
        OTHERS,
        OPEN,
    ),
)
def test_the_verdict_follows_the_publication(
    bench: Bench, slug: str, text: str, unit: str, wanted: str
) -> None:
    spelling, _, basis = unit.partition(":")
    printed = None if spelling == "none" else spelling
    finding = bench.judge(bench.result(slug, text, printed, basis or None))
    assert (finding.verdict, finding.urgency) == MEANS[wanted]


def test_before_the_2024_rule_lead_is_judged_by_the_older_level(bench: Bench) -> None:
    from datetime import date

    twelve = bench.result("lead", "12", "ug/L")
    assert bench.judge(twelve, as_of=date(2024, 6, 1)).verdict == "watch"
    assert bench.judge(twelve, as_of=date(2025, 6, 1)).verdict == "health_concern"


def test_both_lead_levels_are_shown_with_their_status_the_deciding_one_first(bench: Bench) -> None:
    used = bench.judge(bench.result("lead", "12", "ug/L")).levels
    action = [(str(lv.value), lv.status) for lv in used if lv.kind == "action_level"]
    assert action == [("0.01", "adopted_not_applying"), ("0.015", "in_force")]
    assert used[0].value is not None
    assert str(used[0].value) == "0.01"


def test_a_level_that_may_be_withdrawn_says_so(bench: Bench) -> None:
    finding = bench.judge(bench.result("pfna", "12", "ng/L"))
    assert finding.levels[0].status == "proposed_withdrawal"
    assert "proposed to withdraw" in " ".join(m.text for m in finding.why)


def test_the_numbers_of_a_finding_are_in_the_levels_own_unit(bench: Bench) -> None:
    finding = bench.judge(bench.result("arsenic", "16", "ug/L"))
    assert (str(finding.value), finding.unit, finding.basis) == ("0.016", "mg/L", None)
    assert (finding.low, finding.high) == (finding.value, finding.value)
    hard = bench.judge(bench.result("hardness", "10", "gpg"))
    assert hard.value is not None
    assert f"{hard.value:.2f}" == "171.18"  # 1 gpg = 17.118 mg/L as CaCO3 (NIST SP 811)
    assert (hard.unit, hard.basis) == ("mg/L", "CaCO3")


@pytest.mark.parametrize(
    ("text", "value", "low", "high"),
    [
        ("<0.5", "0.5", "0", "0.5"),
        (">5", "5", "5", None),
        ("ND", None, "0", None),
        ("2", "2", "2", "2"),
    ],
)
def test_what_is_possible_is_an_interval(
    bench: Bench, text: str, value: str | None, low: str, high: str | None
) -> None:
    finding = bench.judge(bench.result("nitrate", text, "mg/L", "N"))
    told = [None if x is None else f"{x:f}" for x in (finding.value, finding.low, finding.high)]
    assert told == [value, low, high]


def test_the_limit_beside_a_non_detect_is_used(bench: Bench) -> None:
    from decimal import Decimal

    by_report = bench.result("arsenic", "ND", "ug/L", reporting_limit=Decimal(2))
    by_detection = bench.result("arsenic", "ND", "ug/L", detection_limit=Decimal(12))
    assert bench.judge(by_report).verdict == "no_concern_found"
    assert bench.judge(by_detection).verdict == "cant_tell"


def test_a_blank_cell_is_not_tested_and_an_unknown_test_cannot_be_told(bench: Bench) -> None:
    assert bench.judge(bench.result("arsenic", "", "ug/L")).verdict == "not_tested"
    assert bench.judge(bench.result(None, "5", "ug/L")).verdict == "cant_tell"


def test_a_value_settled_while_reading_needs_no_printed_unit(bench: Bench) -> None:
    from decimal import Decimal

    from welltold.reading import Normalized

    settled = Normalized(Decimal("0.02"), "mg/L", None)
    finding = bench.judge(bench.result("arsenic", "0.02", normalized=settled))
    assert finding.verdict == "health_concern"


def test_a_basis_settled_while_reading_closes_the_question(bench: Bench) -> None:
    from decimal import Decimal

    from welltold.reading import Normalized

    settled = Normalized(Decimal(12), "mg/L", "N")
    finding = bench.judge(bench.result("nitrate", "12", "mg/L", normalized=settled))
    assert (finding.verdict, finding.urgency) == ("health_concern", "now")

"""The packs of states, of Canada and of the WHO, typed again from what they publish.

Numbers stand here in the unit of the publication, with the publication beside them; the tables may
hold them in another unit of the same kind.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from welltold import messages
from welltold.analytes import analyte, registry
from welltold.command.app import app
from welltold.errors import UnknownLevelsError
from welltold.interpretation import Finding, Interpretation
from welltold.level_rows import Level
from welltold.levels import all_rows, in_own_unit, known_packs, load_levels, strictest_first
from welltold.reading import Reading, Result, Sample, Source
from welltold.tables import read_table
from welltold.units import convert, unit
from welltold.verdicts import interpret
from welltold.verdicts.compare import GRAVITY

NOW = date(2026, 11, 25)
DATA = Path(messages.__file__).parent / "data"
PER_MG = {"mg/L": Decimal(1), "ug/L": Decimal(1000), "ng/L": Decimal(1000000)}
DECIDING = {"health", "watch", "nuisance", "person"}
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
ADVICE = {"canada", "who", "minnesota"}
"""Packs that hold advice only; nothing in them may read as a limit."""
OTHER_PACKS = sorted(set(known_packs()) - {"us_federal"})


def today(pack: str) -> list[Level]:
    return [lv for lv in all_rows(pack) if lv.role in DECIDING and lv.holds(NOW)]


def as_typed(level: Level, wanted: str) -> tuple[Decimal | None, str]:
    """The level's number in the unit of the publication; by factors of 1000 only."""
    if level.value is None or level.unit not in PER_MG or wanted not in PER_MG:
        return level.value, level.unit
    return level.value / PER_MG[level.unit] * PER_MG[wanted], wanted


def differences(pack: str, rows: list[Level]) -> list[str]:
    """Where the deciding rows of a pack differ from what is typed above."""
    programme, typed = PUBLISHED[pack]
    left, found = dict(typed), []
    for level in rows:
        keys = [key for key in left if key.partition("#")[0] == level.slug]
        same = [key for key in keys if left[key][2] == level.role]
        number = as_typed(level, left[same[0]][1]) if same else (None, "")
        if not same or number != (Decimal(left[same[0]][0]), left[same[0]][1]):
            found.append(f"{level.slug}: {level.value} {level.unit} as {level.role}")
            continue
        left.pop(same[0])
        if level.basis != {"nitrate": "NO3"}.get(level.slug):
            found.append(f"{level.slug}: basis {level.basis}")
        if level.op != ("absent" if level.unit == "count/100mL" else "max"):
            found.append(f"{level.slug}: op {level.op}")
        if not level.programme.startswith(programme):
            found.append(f"{level.slug}: programme {level.programme}")
        if level.acute != (level.slug in {"nitrate", "e_coli"}):
            found.append(f"{level.slug}: acute {level.acute}")
        if (level.status == "advisory") != (pack in ADVICE):
            found.append(f"{level.slug}: status {level.status}")
    return found + [f"{key} is missing" for key in left]


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_a_pack_holds_what_is_published_and_nothing_else(pack: str) -> None:
    assert differences(pack, today(pack)) == []


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_every_flipped_row_is_noticed(pack: str) -> None:
    rows = today(pack)
    assert rows
    for index, row in enumerate(rows):
        value = (row.value or Decimal(0)) + Decimal("0.001")
        role = "nuisance" if row.role == "health" else "health"
        status = "in_force" if row.status == "advisory" else "advisory"
        flipped = (
            replace(row, value=value),
            replace(row, op="min"),
            replace(row, role=role),
            replace(row, status=status),
            replace(row, acute=not row.acute),
            replace(row, basis="N"),
            replace(row, programme="EPA limit"),
            replace(row, unit="ug/L" if row.unit == "mg/L" else "mg/L"),
        )
        for wrong in flipped:
            changed = [*rows[:index], wrong, *rows[index + 1 :]]
            assert differences(pack, changed) != [], wrong


@pytest.mark.parametrize("pack", known_packs())
def test_every_row_can_be_compared_with_a_result(pack: str) -> None:
    for level in all_rows(pack):
        assert level.slug in registry(), level
        assert level.op == "none" or unit(level.unit) is not None, level
        if level.role in DECIDING and level.op not in {"absent", "none"} and level.value:
            assert in_own_unit(level), level


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_nothing_from_memory_decides_and_advice_is_never_a_limit(pack: str) -> None:
    for level in all_rows(pack):
        assert level.verified == (not level.source.startswith("from memory")), level
        assert level.citation, level
        assert level.role == "none" or level.verified, level
        if pack in ADVICE:
            assert level.kind in {"advisory", "secondary"}, level
            assert level.status in {"advisory", "withdrawn"}, level
        assert level.form != "watch_band", level
        assert level.persons == (), level


@pytest.mark.parametrize("pack", OTHER_PACKS)
def test_no_two_rows_of_one_level_hold_on_the_same_day(pack: str) -> None:
    rows = all_rows(pack)
    for day in {row.effective for row in rows}:
        keys = [(r.slug, r.programme, r.kind, r.form, r.basis) for r in rows if r.holds(day)]
        assert len(keys) == len(set(keys)), day


@pytest.mark.parametrize("pack", known_packs().values(), ids=lambda pack: pack.name)
def test_a_pack_says_whose_it_is_and_of_when(pack: object) -> None:
    assert pack.whose  # type: ignore[attr-defined]  # pytest names parameters as objects
    assert pack.edition  # type: ignore[attr-defined]  # the same
    assert pack.covers  # type: ignore[attr-defined]  # the same
    head = (DATA / pack.table).read_text("utf-8").split("\nslug,")[0]  # type: ignore[attr-defined]  # the same
    assert all(line.startswith("#") for line in head.splitlines())
    assert "2026-11-25" in head
    if pack.name != "us_federal":  # type: ignore[attr-defined]  # the same
        assert f"Whose: {pack.whose}" in head  # type: ignore[attr-defined]  # the same


def test_every_table_of_levels_is_a_pack() -> None:
    tables = {path.name for path in DATA.glob("levels_*.csv")}
    assert tables == {row.text("table") for row in read_table("level_packs.csv")}


def test_nitrate_by_any_name_is_the_same_level() -> None:
    # Health Canada: 45 mg/L as nitrate "is equivalent to 10 mg/L measured as nitrate-nitrogen";
    # WHO: 50 mg/L as nitrate, 11.3 as nitrogen (50 x 14.007 / 62.004)
    as_n = {}
    for pack in ("canada", "who"):
        (level,) = (lv for lv in all_rows(pack) if lv.slug == "nitrate")
        assert level.basis == "NO3"
        assert level.value is not None
        as_n[pack] = convert(level.value, "nitrate", level.unit, level.basis, "mg/L", "N")
    assert round(as_n["canada"], 1) == Decimal("10.2")
    assert round(as_n["who"], 1) == Decimal("11.3")


# --- joined packs


def told(slug: str, text: str, unit_name: str, *packs: str) -> Finding:
    return view(slug, text, unit_name, *packs).samples[0].findings[0]


def view(slug: str, text: str, unit_name: str, *packs: str) -> Interpretation:
    result = Result(slug, slug, text, "value", operator="=", value=Decimal(text), unit=unit_name)
    if analyte(slug).basis:
        result = replace(result, basis=analyte(slug).basis)
    source = Source("sheet.csv", "0" * 64, "csv", 1)
    return interpret(Reading(source, samples=(Sample(results=(result,)),)), as_of=NOW, packs=packs)


def test_the_federal_levels_are_always_there() -> None:
    known = load_levels(("new_jersey",), NOW)
    assert known.packs == ("us_federal", "new_jersey")
    assert known.of("nitrate")[0].programme == "EPA limit"
    assert load_levels(("us_federal", "new_jersey", "new_jersey"), NOW).packs == known.packs
    assert view("arsenic", "0.007", "mg/L", "new_jersey").levels_packs == known.packs


def test_the_strictest_decides_and_is_named() -> None:
    # N.J.A.C. 7:10-5.2(a)3: 5 ug/L; 40 CFR 141.62(b)(16): 10 ug/L
    federal = told("arsenic", "0.007", "mg/L")
    both = told("arsenic", "0.007", "mg/L", "new_jersey")
    assert federal.verdict == "watch"
    assert both.verdict == "health_concern"
    assert [lv.programme for lv in both.levels][:2] == ["New Jersey limit", "EPA limit"]
    words = " ".join(message.text for message in both.why)
    assert "The New Jersey limit for public water" in words
    assert "EPA" not in words


def test_the_federal_decides_where_it_is_the_strictest() -> None:
    # 89 FR 32532: 4.0 ng/L; New York 10, Michigan 8
    found = told("pfoa", "9", "ng/L", "new_york", "michigan")
    assert [lv.programme for lv in found.levels][:3] == [
        "EPA limit (PFAS rule of 2024)",
        "Michigan limit",
        "New York limit",
    ]


def test_the_strictest_is_found_across_units_and_bases() -> None:
    # 3 ug/L is stricter than 0.005 mg/L; 45 mg/L as NO3 is laxer than 10 mg/L as N, 40 stricter
    metal = next(lv for lv in all_rows("new_jersey") if lv.slug == "arsenic")
    fine = replace(metal, value=Decimal(3), unit="ug/L")
    assert strictest_first([metal, fine])[0] is fine
    as_n = load_levels((), NOW).of("nitrate")[0]
    as_ion = replace(as_n, value=Decimal(45), basis="NO3")
    assert strictest_first([as_ion, as_n])[0] is as_n
    stricter = replace(as_ion, value=Decimal(40))
    assert strictest_first([as_n, stricter])[0] is stricter
    assert load_levels(("canada",), NOW).of("nitrate")[0].pack == "us_federal"


@pytest.mark.parametrize(
    ("slug", "text", "unit_name", "pack", "words"),
    [
        ("lead", "0.007", "mg/L", "canada", "The Canadian guideline"),
        ("manganese", "0.1", "mg/L", "who", "The WHO guideline value"),
        ("pfas_6", "25", "ng/L", "massachusetts", "The Massachusetts limit for public water"),
    ],
)
def test_who_set_a_level_is_said_in_words(
    slug: str, text: str, unit_name: str, pack: str, words: str
) -> None:
    finding = told(slug, text, unit_name, pack)
    assert finding.verdict == "health_concern"
    sentences = [message.text for message in finding.why]
    assert any(words in sentence for sentence in sentences), sentences
    advice = any("This is advice, not a rule." in sentence for sentence in sentences)
    assert advice == (pack in ADVICE)


@given(
    slug=st.sampled_from(["arsenic", "manganese", "benzene", "pfoa", "lead", "nitrate", "copper"]),
    amount=st.decimals("0.0001", "200", places=4),
    packs=st.sets(st.sampled_from(OTHER_PACKS), max_size=3),
)
def test_more_packs_never_make_a_milder_verdict(
    slug: str, amount: Decimal, packs: set[str]
) -> None:
    own = analyte(slug).unit
    alone, joined = told(slug, str(amount), own), told(slug, str(amount), own, *sorted(packs))
    assert GRAVITY.index((joined.verdict, joined.urgency)) <= GRAVITY.index(
        (alone.verdict, alone.urgency)
    )


# --- the command


def run(*words: str) -> str:
    done = CliRunner().invoke(app, words, catch_exceptions=False)
    assert done.exit_code == 0
    return " ".join(done.output.split())


def test_the_command_names_the_packs() -> None:
    printed = run("levels", "--list")
    for pack in known_packs().values():
        assert pack.name in printed
        assert pack.edition.split()[0] in printed


def test_the_command_shows_a_pack_beside_the_federal_levels() -> None:
    printed = run("levels", "--levels", "new_jersey", "arsenic")
    assert printed.index("New Jersey limit") < printed.index("EPA limit")
    assert "N.J.A.C. 7:10-5.2(a)3" in printed
    assert "40 CFR 141.62(b)(16)" in printed


def test_the_command_says_where_nothing_is_published() -> None:
    assert "no level is published in us_federal, vermont" in run(
        "levels", "--levels", "vermont", "caffeine"
    )


def test_a_misspelt_pack_is_told_with_the_nearest() -> None:
    with pytest.raises(UnknownLevelsError, match=r'did you mean "new_jersey"\?') as caught:
        load_levels(("new jersy",), NOW)
    assert "massachusetts" in str(caught.value)

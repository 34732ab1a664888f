"""Packs of levels beside the federal ones: which level decides, and what the command says."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed_packs import ADVICE, NOW, OTHER_PACKS
from typer.testing import CliRunner

from welltold.analytes import analyte
from welltold.command.app import app
from welltold.errors import UnknownLevelsError
from welltold.interpretation import Finding, Interpretation
from welltold.levels import all_rows, known_packs, load_levels, strictest_first
from welltold.reading import Reading, Result, Sample, Source
from welltold.verdicts import interpret
from welltold.verdicts.compare import GRAVITY

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

"""Every sentence has its twin, says nothing forbidden, and is short enough."""

from __future__ import annotations

import re
import string
from collections.abc import Iterable, Iterator
from importlib.resources import files
from typing import get_args

import pytest

from welltold import site_keys
from welltold.analytes import registry
from welltold.interpretation import Person
from welltold.messages import LANGUAGES, Language, catalogue, rooms, speaking, untranslated
from welltold.reviews import TABLES, digest, is_draft
from welltold.speech import phrase, plain_name
from welltold.tables import read_table
from welltold_reports import xlsx

SPANISH: Language = "es"
FORBIDDEN = re.compile(
    r"\b(segur[oa]s?|insegur[oa]s?|apta para consumo|pur[oa]s?|potables?|aprobad[oa]s?|"
    r"reprobad[oa]s?|aceptables?|normal(?:es)?|garantizad[oa]s?|100 ?%|sin riesgos?|"
    r"inofensiv[oa]s?|tóxic[oa]s?|veneno|venenos[oa]|límite legal|violaci[oó]n|puntaje|"
    r"obligatorio comprar|calificaci[oó]n|parte por billón para ppb|trazas|ND|N/A|BDL)\b",
    re.IGNORECASE,
)
"""/plain language list of the project, section on forbidden words: the Spanish half."""
AS_LABS_PRINT = {"correct.not_a_result"}
LONGEST, MEAN = 25, 14
OTHER = {"report.share_other", "report.other_language", "report.draft_mark", "report.about_draft"}
"""Sentences that hold the other language on purpose."""
ENGLISH = re.compile(
    r"\b(the|of|and|is|are|was|were|not|with|from|this|that|your|you|for|water|level|levels|or|by|"
    r"been|tested|found|below|above|than|less|more|lab|sheet|to|at|on|in|it|which|when|may|does|"
    r"what|who|how|has|have|any|if|its|but|they|their|there|here|only|limit|advice|rule|page)\b",
    re.IGNORECASE,
)
"""Words that English cannot do without and Spanish does not have; "has" is checked by hand."""
BOTH = {"has"}
SAME_NAMES = {
    "pH", "Color", "Zinc", "Pseudomonas aeruginosa", "Staphylococcus aureus", "Salmonella",
    "Campylobacter", "Clostridium perfringens", "Aeromonas", "Mycobacterium", "Legionella",
    "Legionella pneumophila", "Cryptosporidium", "Giardia", "BTEX, total", "Aldicarb", "2,4-D",
    "2,4-DB", "2,4,5-T", "2,4,5-TP (Silvex)", "Dinoseb", "Diquat", "beta-BHC", "delta-BHC",
    "Picloram", "Aroclor 1016", "Aroclor 1221", "Aroclor 1232", "Aroclor 1242", "Aroclor 1248",
    "Aroclor 1254", "Aroclor 1260", "DCPA (Dacthal)", "4,4'-DDD", "4,4'-DDE", "4,4'-DDT",
    "Dicamba", "EPTC", "Imidacloprid", "MCPA", "Mecoprop (MCPP)", "Mirex", "Paraquat", "Propoxur",
    "Quinclorac", "RDX", "HMX", "HFPO-DA (GenX)", "ADONA", "9Cl-PF3ONS", "11Cl-PF3OUdS",
}  # fmt: skip
"""Latin names of germs, letters and numbers, and pesticides whose common name is international."""
LEVELS = [row.text("table") for row in read_table("level_packs.csv")]


def fields(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def sentences(text: str) -> list[str]:
    quiet = text.replace("E. coli", "E coli").replace("EE. UU.", "EEUU")
    return [one for one in re.split(r"(?<=[.!?])[»”\"]?\s+", quiet) if one.strip()]


def english_words(text: str) -> list[str]:
    return [word for word in ENGLISH.findall(text) if word.lower() not in BOTH]


@pytest.mark.parametrize("room", rooms())
def test_every_sentence_has_its_twin_with_the_same_fields(room: str) -> None:
    assert untranslated(room, SPANISH) == frozenset()
    english, spanish = catalogue(room, "en"), catalogue(room, SPANISH)
    assert spanish.keys() == english.keys(), "nothing is said in Spanish alone"
    assert all(spanish.values())
    for name, text in english.items():
        assert fields(spanish[name]) == fields(text), name


@pytest.mark.parametrize("room", rooms())
def test_no_spanish_sentence_holds_a_forbidden_or_an_english_word(room: str) -> None:
    for name, text in catalogue(room, SPANISH).items():
        code = f"{room}.{name}"
        if code not in AS_LABS_PRINT:
            assert not FORBIDDEN.findall(text), (name, text)
        if code not in OTHER:
            plain = re.sub(r"`[^`]*`|\"[^\"]*\"|\{\w+\}( as \{\w+\})?", "", text)
            assert not english_words(plain), (name, text)


@pytest.mark.parametrize("room", rooms())
def test_spanish_sentences_are_short(room: str) -> None:
    lengths = [
        (len(one.split()), name, one)
        for name, text in catalogue(room, SPANISH).items()
        if text.endswith((".", "?", "!"))
        for one in sentences(text)
    ]
    assert max(lengths, default=(0,))[0] <= LONGEST, max(lengths)
    if lengths:
        assert sum(length for length, *_ in lengths) / len(lengths) <= MEAN


def test_the_search_for_forbidden_and_english_words_finds_them() -> None:
    for bad in ("Su agua es segura.", "Un nivel Normal.", "No es tóxica.", "100 % pura"):
        assert FORBIDDEN.search(bad)
    assert not FORBIDDEN.search("No es un riesgo conocido. Un laboratorio certificado.")
    assert english_words("Nitrato: 12 mg/L. The EPA level is 10.") == ["The", "level", "is"]
    assert not english_words("No beba esta agua, ni se duche con ella. ¿Has bebido?")


def test_every_analyte_has_a_spanish_name_of_its_own() -> None:
    with speaking(SPANISH):
        names = {slug: plain_name(slug) for slug in registry()}
    assert len(set(names.values())) == len(names) == len(registry())
    assert [row.text("slug") for row in read_table("analyte_names_es.csv")] == list(registry())
    assert not [name for name in names.values() if english_words(name or "")]


def test_names_that_are_the_same_in_both_languages_are_meant_to_be() -> None:
    with speaking(SPANISH):
        same = {one.name for slug, one in registry().items() if plain_name(slug) == one.name}
    assert same == SAME_NAMES


def test_spanish_names_that_are_easily_mixed_up() -> None:
    """After the Spanish pages of EPA and CDC, and common chemistry teaching."""
    expected = {
        "magnesium": "Magnesio",
        "manganese": "Manganeso",
        "nitrate": "Nitrato",
        "nitrite": "Nitrito",
        "chloride": "Cloruro",
        "chlorite": "Clorito",
        "chlorate": "Clorato",
        "sulfate": "Sulfato",
        "sulfide": "Sulfuro",
        "sulfite": "Sulfito",
        "bromide": "Bromuro",
        "bromate": "Bromato",
        "lead": "Plomo",
        "arsenic": "Arsénico",
        "tin": "Estaño",
        "radium_226": "Radio 226",
        "radon": "Radón",
        "trichloroethylene": "Tricloroetileno",
        "tetrachloroethylene": "Tetracloroetileno",
        "vinyl_chloride": "Cloruro de vinilo",
        "hydrogen_sulfide": "Sulfuro de hidrógeno",
        "pfoa": "Ácido perfluorooctanoico (PFOA)",
    }
    with speaking(SPANISH):
        assert {slug: plain_name(slug) for slug in expected} == expected


def printed_phrases() -> Iterator[tuple[str, str]]:
    """Every phrase of a table of ours that a report can print, with where it stands."""
    for table in LEVELS:
        for row in read_table(table):
            yield from ((table, row.cells[name]) for name in ("programme", "effect", "status"))
    for row in read_table("level_packs.csv"):
        yield "level_packs.csv", row.text("whose")
    for heads in (xlsx.RESULT_HEADS, xlsx.FINDING_HEADS, xlsx.SOURCE_HEADS, xlsx.STAGE_HEADS):
        yield from (("xlsx", head) for head in heads)
    told: Iterable[str] = (
        *xlsx.DOUBT_HEADS, *site_keys.OBSERVATIONS, *get_args(Person)[1:], "septic", "sewer",
        "copper", "galvanized", "plastic", "drilled", "bored", "dug", "driven", "spring",
        "common practice, no source", "from memory, unverified", "whole_house", "point_of_use",
    )  # fmt: skip
    yield from (("site file", word) for word in told)


def test_every_phrase_of_our_tables_is_translated() -> None:
    """ "no" is the same word in both languages."""
    known = {row.text("text") for row in read_table("phrases_es.csv")}
    missing = {
        (where, text)
        for where, text in printed_phrases()
        if text and text.replace("_", " ") not in known
    }
    assert not missing
    with speaking(SPANISH):
        for text in known:
            assert not english_words(phrase(text)), text
            assert not FORBIDDEN.findall(phrase(text)), text


def test_a_phrase_of_a_users_own_file_stays_as_it_is() -> None:
    with speaking(SPANISH):
        assert phrase("County well rule") == "County well rule"


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_list_of_reviews_names_every_room(language: Language) -> None:
    rows = [r for r in read_table("messages/reviews.csv") if r.text("language") == language]
    named = {row.text("room") for row in rows}
    assert named >= {*rooms(), *(() if language == "en" else TABLES)}
    for row in rows:
        signed = row.optional("reviewer")
        assert bool(signed) == bool(row.optional("date")) == bool(row.optional("digest"))
        if signed:
            assert row.text("digest") == digest(row.text("room"), language), "changed since"


def test_spanish_is_a_draft_as_long_as_a_part_is_unsigned() -> None:
    rows = [r for r in read_table("messages/reviews.csv") if r.text("language") == SPANISH]
    assert is_draft(SPANISH) == any(not row.optional("reviewer") for row in rows)
    assert not is_draft("en"), "English is the original"


def test_no_catalogue_of_another_language_lies_about() -> None:
    folder = files("welltold") / "data" / "messages"
    assert {entry.name for entry in folder.iterdir() if entry.is_dir()} == set(LANGUAGES)
